/** What is said of the scores of a team that count; every figure by hand. */
import { describe, expect, it } from 'vitest';
import { brief, type Meet, needs, reports, standings } from '../../lib/index.js';
import { countingLines } from '../../lib/report/counting.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** Beam alone, four up and three count; a rival team that has finished on `rival`. Grid 0.025, a fall 0.500. */
const meetOf = (
  rows: readonly string[],
  { up = 4, count = 3, rival = '29.500', words = 'wag' } = {},
): Meet =>
  meetFrom(
    `
discipline: ${words}
scoring: ten
contests: [{ kind: team, up: ${up}, count: ${count} }]
teams: [{ id: NQY, name: North Quay }, { id: HBR, name: Harbour Row, carried: ${rival} }]
usual: { ${words === 'wag' ? 'BB' : 'HB'}: { low: 9.400, likely: 9.700, high: 9.900, falls: 0.1 } }
gymnasts:
${['Ada Kestrel', 'Bea Moor', 'Cora Lind', 'Dita Orr', 'Eve Tansy']
  .slice(0, up)
  .map(
    (name) =>
      `  - { id: ${name.slice(0, 3).toLowerCase()}, name: ${name}, team: NQY, on: [${words === 'wag' ? 'BB' : 'HB'}] }`,
  )
  .join('\n')}
`,
    rows.length === 0 ? '' : `gymnast,apparatus,score,status\n${rows.join('\n')}\n`,
  );

const linesOf = (meet: Meet, who = 'NQY'): string[] => {
  const sheet = needs(meet, who, { contest: 'team' });
  if (sheet.finished !== null) throw new Error('nothing to come');
  return countingLines(meet, sheet);
};

describe('what counts, for the next up', () => {
  it('the first of four: nothing is certain, and a fall need not count', () => {
    // The others at 9.700: 29.100 with hers and without.
    expect(linesOf(meetOf([]))).toEqual([
      'Three of four scores count on beam; Moor, Lind and Orr to come.',
      'A fall from her expected 9.700 costs the team the whole 0.500 as it stands, but nothing if the others there score as expected: Orr’s 9.700 would count anyway. If all else goes as expected, North Quay finishes 2nd whatever she scores here.',
    ]);
  });

  it('the second counts for certain above the first, since only one is dropped', () => {
    const [counts, fall] = linesOf(meetOf(['ada,BB,9.600']));
    expect(counts).toMatch(
      /^Three of four scores count on beam: so far 9\.600 Kestrel; Lind and Orr to come\. From 9\.625, her chance of it \d+%, hers counts whatever Lind and Orr score\.$/,
    );
    // 9.700 + 9.700 + 9.700 against 9.700 + 9.700 + 9.600.
    expect(fall).toMatch(
      /^A fall from her expected 9\.700 costs the team the whole 0\.500 as it stands, but 0\.100 if Lind and Orr score as expected: Kestrel’s 9\.600 would count instead\./,
    );
  });

  it('the last pushes out the lowest, or changes nothing', () => {
    const meet = meetOf(['ada,BB,9.850', 'bea,BB,9.600', 'cor,BB,9.800'], { rival: '29.300' });
    const [counts, fall] = linesOf(meet);
    expect(counts).toMatch(
      /^Three of four scores count on beam: so far 9\.850 Kestrel, 9\.800 Lind, 9\.600 Moor; she is the last\. Hers counts from 9\.625, her chance of it \d+%, and pushes out Moor’s 9\.600; up to 9\.600 nothing changes\.$/,
    );
    // 9.700 for 9.200: of it 9.600 would have counted anyway. A 9.650 is level with 29.300.
    expect(fall).toBe(
      'A fall from her expected 9.700 costs the team 0.100: Moor’s 9.600 would count instead.',
    );
  });

  it('whose expected score is no more than the lowest that counts loses nothing by a fall', () => {
    // 29.400 already, and the rival has 29.200.
    expect(
      linesOf(meetOf(['ada,BB,9.850', 'bea,BB,9.700', 'cor,BB,9.850'], { rival: '29.200' }))[1],
    ).toBe(
      'A fall costs nothing while Moor’s 9.700 counts: even her expected 9.700 is no more. North Quay finishes 1st whatever she scores here, even without her score.',
    );
  });

  it('a fall that still counts costs all of it', () => {
    expect(linesOf(meetOf(['ada,BB,9.850', 'bea,BB,9.100', 'cor,BB,9.800']))[1]).toBe(
      'A fall from her expected 9.700 costs the team the whole 0.500: 9.200 still counts.',
    );
  });

  it('a fall that is level with the lowest is dropped, as on the board: she goes up later', () => {
    expect(linesOf(meetOf(['ada,BB,9.850', 'bea,BB,9.200', 'cor,BB,9.800']))[1]).toBe(
      'A fall from her expected 9.700 costs the team the whole 0.500: Moor’s 9.200 would count instead.',
    );
  });

  it('above her realistic best is said to be that', () => {
    expect(linesOf(meetOf(['ada,BB,9.950', 'bea,BB,9.900', 'cor,BB,9.925']))[0]).toContain(
      'Hers counts from 9.925, above her realistic best, and pushes out Moor’s 9.900',
    );
  });

  it('nothing pushes out the limit', () => {
    expect(linesOf(meetOf(['ada,BB,10', 'bea,BB,10', 'cor,BB,10']))[0]).toBe(
      'Three of four scores count on beam: so far 10.000 Kestrel, 10.000 Moor, 10.000 Lind; she is the last. Nothing she can score changes the total: Lind’s 10.000 counts.',
    );
  });

  it('after a withdrawal every score counts', () => {
    expect(linesOf(meetOf(['ada,BB,9.600', 'bea,BB,DNS']))).toEqual([
      'Every score counts on beam: so far 9.600 Kestrel; Orr to come.',
      'A fall from her expected 9.700 costs the team the whole 0.500. If all else goes as expected, North Quay finishes 2nd whatever she scores here.',
    ]);
  });

  it('with two to drop: what counts as it stands, and what counts whatever follows', () => {
    const rows = ['ada,BB,9.850', 'bea,BB,9.600', 'cor,BB,9.650'];
    const [counts] = linesOf(meetOf(rows, { up: 5 }));
    // Whatever Tansy scores, two places are left to the others: she must be above the second of them.
    expect(counts).toMatch(
      /As it stands hers counts from 9\.625, her chance of it \d+%, and pushes out Moor’s 9\.600; from 9\.675, her chance of it \d+%, hers counts whatever Tansy scores\.$/,
    );
  });

  it('a score under inquiry may yet end above hers', () => {
    const rows = ['ada,BB,9.600', 'bea,BB,9.800,inquiry'];
    // 9.600 stands; Moor’s may become anything, and so may Orr’s: only above 9.600 hers is third at worst.
    expect(linesOf(meetOf(rows))[0]).toMatch(/From 9\.625, .* hers counts whatever follows\.$/);
  });

  it('those to come in the order they go up, whatever the list', () => {
    const meet = meetFrom(
      `
discipline: wag
scoring: ten
contests: [{ kind: team, up: 4, count: 3 }]
usual: { BB: { low: 9.400, likely: 9.700, high: 9.900, falls: 0.1 } }
gymnasts:
${['Ada Kestrel', 'Bea Moor', 'Cora Lind', 'Dita Orr']
  .map(
    (name) => `  - { id: ${name.slice(0, 3).toLowerCase()}, name: ${name}, team: NQY, on: [BB] }`,
  )
  .join('\n')}
rotations: [{ BB: [dit, cor, bea, ada] }]
`,
      logFrom('dit,BB,9.600'),
    );
    expect(linesOf(meet)[0]).toContain('so far 9.600 Orr; Moor and Kestrel to come.');
  });

  it('words for men', () => {
    const rows = ['ada,HB,9.850', 'bea,HB,9.600', 'cor,HB,9.800'];
    const [counts, fall] = linesOf(meetOf(rows, { words: 'mag' }));
    expect(counts).toContain('he is the last. His counts from 9.625');
    expect(fall).toContain('his expected 9.700');
  });

  it('nothing where every score counts by the rules, nor of a gymnast for herself', () => {
    const meet = meetOf([], { up: 3 });
    expect(linesOf(meet)).toEqual([]);
    expect(needs(meetOf([]), 'ada', { contest: 'BB' }).counting).toBeNull();
  });

  it('briefly, at the prompt', () => {
    const meet = meetOf(['ada,BB,9.600', 'bea,BB,9.800']);
    const answer = brief(meet, 'cor', { contest: 'team' });
    const said = answer === null ? [] : reports.brief(meet, answer).flat();
    const last = said.at(-1);
    expect(last?.kind === 'sentence' ? last.text : '').toMatch(
      /^From 9\.625, her chance of it \d+%, hers counts whatever Orr scores\. A fall costs the team 0\.100 if Orr scores as expected: Kestrel’s 9\.600 would count instead\.$/,
    );
  });
});

describe('what counts, on a board', () => {
  const tableOf = (meet: Meet) => {
    const board = standings(meet, { contest: 'team' });
    const table = reports
      .standings(meet, board)
      .flat()
      .filter((b) => b.kind === 'table')
      .find((t) => t.columns.some((c) => c.head === 'scores'));
    return table?.rows.map((r) => r.cells.map((c) => (c.items ?? [c.text]).join(', ')).join(' | '));
  };

  it('the highest first, and who is dropped', () => {
    const rows = ['ada,BB,9.850', 'bea,BB,9.600', 'cor,BB,9.800', 'dit,BB,9.775'];
    expect(tableOf(meetOf(rows))).toEqual([
      'North Quay | beam | 9.850 Kestrel, 9.800 Lind, 9.775 Orr, (9.600 Moor dropped)',
    ]);
  });

  it('of equal scores the later is dropped, and the total is the same', () => {
    const rows = ['ada,BB,9.850', 'bea,BB,9.600', 'cor,BB,9.800', 'dit,BB,9.600'];
    const meet = meetOf(rows);
    expect(tableOf(meet)?.[0]).toContain('9.600 Moor, (9.600 Orr dropped)');
    expect(standings(meet, { contest: 'team' }).rows.find((r) => r.id === 'NQY')?.total).toBe(
      29250,
    );
  });

  it('of each team on its latest apparatus while it goes on, on every one once it is over', () => {
    const on = (codes: string) => `
discipline: wag
scoring: ten
contests: [{ kind: team, up: 2, count: 1 }]
gymnasts:
  - { id: ada, name: Ada Kestrel, team: NQY, on: [${codes}] }
  - { id: bea, name: Bea Moor, team: NQY, on: [${codes}] }
`;
    const rows = ['ada,BB,9.800', 'bea,BB,9.700', 'ada,FX,9.900'];
    const log = (more: readonly string[]) => logFrom(...rows, ...more);
    expect(tableOf(meetFrom(on('BB, FX'), log([])))).toEqual(['NQY | floor | 9.900 Kestrel']);
    expect(tableOf(meetFrom(on('BB, FX'), log(['bea,FX,9.950'])))).toEqual([
      'NQY | beam | 9.800 Kestrel, (9.700 Moor dropped)',
      ' | floor | 9.950 Moor, (9.900 Kestrel dropped)',
    ]);
  });

  it('none where every score counts', () => {
    expect(tableOf(meetOf(['ada,BB,9.850'], { up: 3 }))).toBeUndefined();
  });

  it('of who has finished, with the sheet', () => {
    const meet = meetOf(['ada,BB,9.850', 'bea,BB,9.600', 'cor,BB,9.800', 'dit,BB,9.775']);
    const said = JSON.stringify(reports.needs(meet, needs(meet, 'NQY', { contest: 'team' })));
    expect(said).toContain('(9.600 Moor dropped)');
  });
});
