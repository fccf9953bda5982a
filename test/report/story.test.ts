/** What a story says, and that it is so: small evenings whose figures are worked in test/story/by-hand.test.ts. */
import { describe, expect, it } from 'vitest';
import { type Report, readHistory, reports, story } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const RANGE = '{ low: 9, likely: 9, high: 9, falls: 0.5 }';
const MEET = `
discipline: wag
scoring: open
ceiling: 10
fall: 1
panel: { counting: 1, step: 0.5 }
contests: [{ kind: apparatus, on: VT, ties: [], medals: 1 }]
gymnasts:
  - { id: ann, name: Ann Ashdown, ranges: { VT: ${RANGE} } }
  - { id: bea, name: Bea Birkwell, ranges: { VT: ${RANGE} } }`;

function reportOf(yaml: string, rows: readonly string[], options = {}, all = false): Report {
  const text = logFrom(...rows);
  const meet = meetFrom(yaml, text);
  return reports.story(meet, story(meet, { file: 'log', text }, options), { all });
}

const linesOf = (report: Report) =>
  report.flat().flatMap((block) => ('text' in block ? [block.text] : []));

const tablesOf = (report: Report) => report.flat().filter((b) => b.kind === 'table');

const FOUR = `
discipline: wag
scoring: open
fall: 1
panel: { counting: 1, step: 0.5 }
contests: [{ kind: apparatus, on: VT, ties: [difficulty], medals: 2 }]
gymnasts:
${['Ann Ashdown', 'Bea Birkwell', 'Cleo Carden', 'Dot Dunmore']
  .map((name) => {
    const id = name.split(' ')[0]?.toLowerCase();
    return `  - { id: ${id}, name: ${name}, ranges: { VT: ${RANGE} } }`;
  })
  .join('\n')}`;

it('who lost on a rule is level on total, and a medal that is shared goes to all who share it', () => {
  const broken = ['ann,VT,8.500,5.0', 'bea,VT,8.500,4.5', 'cleo,VT,8.000,5.0', 'dot,VT,7.000,5.0'];
  expect(linesOf(reportOf(FOUR, broken))).toContain(
    'Ann Ashdown wins with 8.500. Then Bea Birkwell, level on total.',
  );
  const shared = ['ann,VT,9.000,5.0', 'bea,VT,8.500,5.0', 'cleo,VT,8.500,5.0', 'dot,VT,7.000,5.0'];
  const said = linesOf(reportOf(FOUR, shared)).find((line) => line.startsWith('The last medal'));
  expect(said).toBe(
    'The last medal went to Birkwell and Carden by 1.500, ahead of Dunmore. Dunmore needed 9.000 for a medal on vault and got 7.000, 2.000 short.',
  );
});

it('who withdrew has no routine to come, and is not counted among those that are', () => {
  const lines = linesOf(reportOf(FOUR, ['ann,VT,8.500,5.0', 'bea,VT,DNS']));
  expect(lines.some((line) => line.startsWith('1 of 3 routines are done.'))).toBe(true);
});

describe('an evening that is over', () => {
  const report = reportOf(MEET, ['ann,VT,8', 'bea,VT,8.5']);
  const lines = linesOf(report);

  it('says who won, how it began and who has had the best chance', () => {
    expect(lines[0]).toBe('vault, the story');
    expect(lines[1]).toBe('Bea Birkwell wins with 8.500.');
    expect(lines[2]).toBe('Before the first score both had the same chance to win, 68.8%.');
  });

  it('shows how everyone’s chances went, start to end', () => {
    const [courses] = tablesOf(report);
    expect(courses?.columns.map((c) => c.head)).toEqual([
      ...['name', 'at first', 'lowest', 'highest', 'in the end', 'over the evening'],
    ]);
    expect(courses?.rows.map((row) => row.cells.map((c) => c.spark ?? c.text))).toEqual([
      ['Bea Birkwell', '68.8%', '68.8%', '100%', '100%', [expect.closeTo(11 / 16), 0.75, 1]],
      ['Ann Ashdown', '68.8%', '0%', '68.8%', '0%', [expect.closeTo(11 / 16), 0.5, 0]],
    ]);
    expect(courses?.notes.map((n) => n.text)).toEqual([
      'a first place that is shared counts for all who share it',
    ]);
  });

  it('says where it turned', () => {
    expect(lines).toContain(
      'Ann Ashdown, vault, rotation 1: 8.000, 0.250 below her average. Chance to win: Ashdown down from 68.8% to 50.0%, Birkwell up to 75.0%.',
    );
    expect(lines).toContain(
      'Bea Birkwell, vault, rotation 1: 8.500, 0.250 above her average. Chance to win: Birkwell up from 75.0% to 100%, Ashdown down to 0%.',
    );
  });

  it('says how close it came', () => {
    expect(lines).toContain(
      'The title went to Birkwell by 0.500, ahead of Ashdown. Birkwell, last up of the two, needed 8.500 to win on vault and got 8.500, with nothing to spare.',
    );
    expect(linesOf(reportOf(MEET, ['ann,VT,8', 'bea,VT,7.5']))).toContain(
      'The title went to Ashdown by 0.500, ahead of Birkwell. Birkwell, last up of the two, needed 8.500 to win on vault and got 7.500, 1.000 short.',
    );
  });

  it('says less than a tenth in thousandths', () => {
    const yaml = MEET.replace(
      'panel: { counting: 1, step: 0.5 }',
      'panel: { counting: 3, step: 0.1 }',
    );
    const said = linesOf(reportOf(yaml, ['ann,VT,8', 'bea,VT,8.033'])).join('\n');
    expect(said).toContain(
      'The title went to Birkwell by 33 thousandths, ahead of Ashdown. Birkwell, last up of the two, needed 8.033 to win on vault and got 8.033, with nothing to spare.',
    );
    const off = linesOf(reportOf(yaml, ['ann,VT,8.001', 'bea,VT,8'])).join('\n');
    expect(off).toContain(
      'by one thousandth, ahead of Birkwell. Birkwell, last up of the two, needed 8.033 to win on vault and got 8.000, 33 thousandths short.',
    );
  });

  it('lists every score only where all are asked for', () => {
    expect(tablesOf(report).length).toBe(1);
    const all = tablesOf(reportOf(MEET, ['ann,VT,8', 'ann,VT,void', 'bea,VT,DNS'], {}, true))[1];
    expect(all?.rows.map((row) => row.cells.map((c) => c.text))).toEqual([
      ['1', 'Ann Ashdown', 'VT', '8.000', '-0.250', '25 of 100', '68.8% → 50.0%'],
      ['2', 'Ann Ashdown', 'VT', 'taken back', '', '', '50.0% → 68.8%'],
      ['3', 'Bea Birkwell', 'VT', 'DNS', '', '', '68.8% → 0%'],
    ]);
  });
});

describe('what else can happen', () => {
  const saying = (rows: readonly string[], yaml = MEET) => linesOf(reportOf(yaml, rows)).join('\n');

  it('nothing yet', () => {
    expect(linesOf(reportOf(MEET, []))).toEqual([
      'vault, the story so far',
      'Nothing has been scored yet.',
    ]);
  });

  it('a title that is shared', () => {
    expect(saying(['ann,VT,8', 'bea,VT,8'])).toContain(
      'Ann Ashdown and Bea Birkwell share the title with 8.000.',
    );
  });

  it('the evening is still on', () => {
    const said = saying(['ann,VT,8']);
    expect(said).toContain(
      'vault, the story so far\n1 of 2 routines are done. Ann Ashdown leads with 8.000 so far.',
    );
    expect(said).not.toContain('How close it came');
  });

  it('a correction, a score taken back, a withdrawal', () => {
    expect(saying(['ann,VT,8', 'ann,VT,9'])).toContain(
      'Ann Ashdown, vault, rotation 1: 9.000, corrected from 8.000. Chance to win: Ashdown up from 50.0% to 100%, Birkwell down to 50.0%.',
    );
    expect(saying(['ann,VT,8', 'ann,VT,void'])).toContain(
      'Ann Ashdown, vault, rotation 1: 8.000 taken back. Chance',
    );
    expect(saying(['ann,VT,8', 'ann,VT,9', 'ann,VT,void'])).toContain(
      'vault, rotation 1: 9.000 taken back, 8.000 counts again.',
    );
    expect(saying(['ann,VT,DNS'])).toContain(
      'Ann Ashdown, vault, rotation 1: DNS. Chance to win: ',
    );
  });

  it('a long shot that won, a rare score, and since when she has not been as good', () => {
    const yaml = MEET.replace(`bea, name: Bea Birkwell, ranges: { VT: ${RANGE}`, (text) =>
      text.replace('falls: 0.5', 'falls: 0.8'),
    );
    const text =
      'gymnast,discipline,date,competition,round,apparatus,score\nBea Birkwell,wag,2024-05-01,Cup,final,VT,9.2\n';
    const history = readHistory({ file: 'results.csv', text });
    const lines = linesOf(reportOf(yaml, ['ann,VT,9', 'bea,VT,9.5'], { history }));
    expect(lines).toContain(
      'After Ashdown’s 9.000 on vault, Birkwell had a chance to win of 20.0%.',
    );
    expect(lines.find((l) => l.includes('9.500 is'))).toMatch(
      /^Bea Birkwell, vault, rotation 1: 9\.500 is .* better than she is ever expected to do; her best of 2 known\.$/,
    );
  });

  it('where nobody can win more than there is to go through, it speaks of going through', () => {
    const yaml = MEET.replace('medals: 1', 'advance: { places: 1 }');
    const said = saying(['ann,VT,8', 'bea,VT,8.5'], yaml);
    expect(said).toContain('Bea Birkwell is first with 8.500.');
    expect(said).toContain('Chance of going through: Ashdown down from 68.8% to 50.0%');
    expect(said).toContain('The last place went to Birkwell by 0.500, ahead of Ashdown.');
    expect(said).not.toMatch(/title|medal|win/);
  });

  it('where no score moved much, it says so', () => {
    const calm = MEET.replaceAll('falls: 0.5', 'falls: 0.04');
    expect(saying(['ann,VT,9', 'bea,VT,9'], calm)).toContain(
      'No single score moved a tenth of the title.',
    );
  });

  it('chances of a moment say no more digits than it warrants', () => {
    const rows = ['ann,VT,8', 'bea,VT,8.5'];
    const text = logFrom(...rows);
    const meet = meetFrom(MEET, text);
    const exact = story(meet, { file: 'log', text });
    const rough = {
      ...exact,
      error: 0.004,
      start: { ...exact.start, error: 0.004 },
      points: exact.points.map((p) => ({ ...p, error: 0.004 })),
    };
    const said = linesOf(reports.story(meet, rough)).join('\n');
    expect(said).toContain('Ashdown down from 69% to 50%, Birkwell up to 75%');
    expect(said).toContain('to within 0.4%');
    expect(said).not.toContain('68.8%');
  });
});
