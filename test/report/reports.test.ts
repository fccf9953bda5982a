/** An answer as a report: plain data that says all there is to say, whoever shows it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  chances,
  check,
  claim,
  claimOfTwo,
  type Meet,
  needChances,
  needs,
  needsOfAll,
  outcomes,
  type Report,
  readMeet,
  reports,
  standings,
  suppose,
} from '../../lib/index.js';
import { EXAMPLES } from '../support/cli.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** Five, each on all four apparatus one after another, with what is usual for a range. */
const MEET = `
title: Quay Cup
discipline: wag
scoring: open
usual: { ${['VT', 'UB', 'BB', 'FX']
  .map((code) => `${code}: { low: 12.0, likely: 13.0, high: 13.6, falls: 0.1 }`)
  .join(', ')} }
gymnasts:
  - { id: ada, name: Ada Quill }
  - { id: bea, name: Bea Harrow }
  - { id: cleo, name: Cleo Marsh }
  - { id: dov, name: Dova Lunt }
  - { id: eli, name: Elin Pell }
rotations: [${['VT', 'UB', 'BB', 'FX']
  .map((code) => `{ ${code}: [ada, bea, cleo, dov, eli] }`)
  .join(', ')}]
`;

/** The first three rotations; floor is to come. */
const DONE = ['VT', 'UB', 'BB'].flatMap((on) =>
  ['ada', 'bea', 'cleo', 'dov', 'eli'].map((id, i) => `${id},${on},1${3 - (i >> 1)}.${i}00`),
);

const meet = meetFrom(MEET, logFrom(...DONE));
const over = meetFrom(
  MEET,
  logFrom(...DONE, ...['ada', 'bea', 'cleo', 'dov', 'eli'].map((id) => `${id},FX,13.000`)),
);

function everyReport(of: Meet): Record<string, Report> {
  const field = chances(of);
  return {
    standings: reports.standings(of, standings(of)),
    needsOfAll: reports.needsOfAll(of, needsOfAll(of, { why: true })),
    chances: reports.chances(of, field),
    check: reports.check(of, check({ plan: of, problems: [] })),
    nextUp: reports.nextUp(of, 'all-around'),
    news: reports.news(meetFrom(MEET), of),
    claimOfTwo: reports.claimOfTwo(
      claimOfTwo({ behind: '0.8', remaining: 2 }),
      { behind: '0.8', remaining: '2' },
      null,
    ),
  };
}

function reportsOnAda(of: Meet): Record<string, Report> {
  const sheet = needs(of, 'ada', { why: true });
  const often = needChances(of, sheet);
  return {
    needs: reports.needs(of, sheet, { often }),
    outcomes: reports.outcomes(of, outcomes(of, 'ada')),
    curve: reports.chances(of, chances(of, 'ada'), 'ada'),
    suppose: reports.suppose(of, suppose(of, [{ gymnast: 'ada', apparatus: 'FX', score: '13' }])),
    claim: reports.claim(of, claim(of, 'ada', { phrase: 'unlikely' }), null),
  };
}

const all: [name: string, report: Report][] = [
  ...Object.entries(everyReport(meet)),
  ...Object.entries(reportsOnAda(meet)),
  ...Object.entries(everyReport(over)).map(([name, r]): [string, Report] => [`${name}, over`, r]),
];

const blocksOf = (report: Report) => report.flat();
const tablesOf = (report: Report) =>
  blocksOf(report).flatMap((block) => (block.kind === 'table' ? [block] : []));

describe.each(all)('%s', (_, report) => {
  it('is plain data: it comes through JSON as it was', () => {
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  it('knows no terminal: no control characters, and bars only as chances', () => {
    // JSON writes a control character out.
    expect(JSON.stringify(report).replaceAll('\\n', '')).not.toMatch(/\\u00|[█▏▎▍▌▋▊▉]/);
    for (const { rows } of tablesOf(report)) {
      for (const { bar = 0 } of rows.flatMap((row) => row.cells)) {
        expect(bar).toBeGreaterThanOrEqual(0);
        expect(bar).toBeLessThanOrEqual(1);
      }
    }
  });

  it('has no empty section, a cell for every column, and no column without content', () => {
    expect(report.length).toBeGreaterThan(0);
    for (const section of report) expect(section.length).toBeGreaterThan(0);
    for (const { columns, rows } of tablesOf(report)) {
      for (const { cells } of rows) expect(cells).toHaveLength(columns.length);
      columns.forEach((_, i) => {
        const cells = rows.flatMap(({ cells }) => cells[i] ?? []);
        expect(cells.some((c) => c.text !== '' || 'bar' in c || 'items' in c)).toBe(true);
      });
    }
  });
});

describe('how far a total may go', () => {
  it('is one figure for who has finished, and two for who has not', () => {
    const some = meetFrom(MEET, logFrom(...DONE, 'ada,FX,13.000'));
    const [field] = tablesOf(reports.chances(some, chances(some)));
    const at = field?.columns.findIndex(({ head }) => head === '9 times in 10') ?? -1;
    const cells = new Map(field?.rows.map(({ cells }) => [cells[0]?.text, cells[at]?.text]));
    expect(cells.get('Ada Quill')).toBe('52.000');
    expect(cells.get('Bea Harrow')).toMatch(/^\d\d\.\d{3} to \d\d\.\d{3}$/);
  });
});

describe('what is left to whoever shows it', () => {
  const [board] = tablesOf(reports.standings(meet, standings(meet)));
  const [field] = tablesOf(reports.chances(meet, chances(meet)));
  if (board === undefined || field === undefined) throw new Error('no tables');

  it('the single scores may go before the team and the total never', () => {
    const spare = new Map(board.columns.map(({ head, spare }) => [head, spare]));
    expect(spare.get('done')).toBeGreaterThan(spare.get('VT') ?? 99);
    expect([spare.get('name'), spare.get('total'), spare.get('behind')]).toEqual([
      null,
      null,
      null,
    ]);
  });

  it('columns of a board that had no room are named', () => {
    const [notes = '', left] = reports.notesUnder(board, ['done', 'VT'], 40);
    expect(notes).toContain(
      'projected finish: the total if all that is to come scores as expected',
    );
    expect(left).toBe('Not shown in 40 columns: done, VT.');
    expect(reports.notesUnder(board)).toEqual([notes]);
  });

  it('places that had no room are told as a series, and what is not shown is not explained', () => {
    const [whole = ''] = reports.notesUnder(field);
    expect(whole).toContain('a place left blank: less than one chance in a thousand');
    const [some = ''] = reports.notesUnder(field, ['5th', '4th']);
    expect(
      some.endsWith(
        'a place left blank: less than one chance in a thousand · not shown: 4th to 5th',
      ),
    ).toBe(true);
    const [none = ''] = reports.notesUnder(field, ['5th', '4th', '3rd', '2nd']);
    expect(none).not.toContain('a place left blank');
    expect(none).toContain('not shown: 2nd to 5th');
  });

  it('a chance has its length beside it, and what is settled has none', () => {
    const win = field.columns.findIndex(({ head }) => head === 'to win');
    const cells = field.rows.map(({ cells }) => cells[win]);
    const answer = chances(meet).contenders;
    const open = answer.filter((c) => !c.settled.some((s) => s.target === 'win'));
    expect(cells.filter((cell) => cell?.bar !== undefined)).toHaveLength(open.length);
    const likeliest = Math.max(...open.map((c) => c.win));
    expect(cells[0]?.bar).toBeCloseTo(likeliest, 12);
  });
});

describe('tones', () => {
  it('the leader is strong on a board, and a meet that is not sound is an error', () => {
    const [board] = tablesOf(reports.standings(meet, standings(meet)));
    const name = board?.columns.findIndex(({ head }) => head === 'name') ?? -1;
    expect(board?.rows.map(({ cells }) => cells[name]?.tone)).toEqual([
      'strong',
      ...new Array(4).fill(null),
    ]);
    const read = readMeet({ meet: { file: 'meet.yaml', text: `${MEET}\nwhat: 3\n` }, log: null });
    const report = reports.check(read.meet, check(read));
    const [problem] = blocksOf(report);
    expect(problem).toMatchObject({ kind: 'problem', severity: 'error', where: 'meet.yaml:14' });
    expect(blocksOf(report).at(-1)).toMatchObject({ kind: 'title', tone: 'error' });
  });
});

it('what another desk wrote is told, and not what this one wrote itself', () => {
  const before = meetFrom(MEET);
  const now = meetFrom(MEET, logFrom('ada,VT,13.000', 'bea,VT,DNS'));
  const texts = (report: Report) =>
    blocksOf(report).map((block) => (block.kind === 'sentence' ? block.text : block.kind));
  expect(texts(reports.news(before, now))).toEqual([
    'From another desk: Ada Quill, VT 13.000',
    'From another desk: Bea Harrow, VT DNS',
  ]);
  expect(texts(reports.news(before, now, [{ gymnast: 'ada', apparatus: 'VT' }]))).toEqual([
    'From another desk: Bea Harrow, VT DNS',
  ]);
  expect(texts(reports.news(now, before))).toContain(
    'From another desk: Ada Quill, VT 13.000 taken back',
  );
});

it('the 24 of the demo meet are told with what each needs', () => {
  const text = (name: string) => readFileSync(join(EXAMPLES, name), 'utf8');
  const read = readMeet({
    meet: { file: 'harbour.yaml', text: text('harbour.yaml') },
    log: { file: 'harbour.scores.csv', text: text('harbour.scores.csv') },
  });
  if (read.meet === null) throw new Error('the demo meet cannot be read');
  const answer = needsOfAll(read.meet);
  const [table] = tablesOf(reports.needsOfAll(read.meet, answer));
  expect(table?.rows).toHaveLength(answer.gymnasts.length);
  expect(answer.gymnasts.length).toBeGreaterThan(20);
  expect(table?.columns.map(({ head }) => head)).toEqual([
    'rotation',
    'on',
    'name',
    // In the middle of a rotation: the place by projection.
    'projected',
    'total',
    'to lead now',
    'for a medal',
    'to win',
    'to hold\nthe place',
  ]);
});
