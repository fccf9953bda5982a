/** Places that are places: ties said, like compared with like, moves from one full rotation to the next. */
import { describe, expect, it } from 'vitest';
import { standings } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const usual = (likely: string) =>
  `usual: { ${['VT', 'UB', 'BB', 'FX']
    .map((code) => `${code}: { low: 10.0, likely: ${likely}, high: 14.0, falls: 0.1 }`)
    .join(', ')} }`;

const all = (ids: readonly string[]) =>
  ids.map((id) => `  - { id: ${id}, name: ${id} }`).join('\n');

/** Two groups of two: one starts on vault, the other on bars. */
const MEET = `
discipline: wag
scoring: open
startOrder: fixed
${usual('13.0')}
gymnasts:
${all(['ada', 'bea', 'cleo', 'dita'])}
groups: [{ start: VT, order: [ada, bea] }, { start: UB, order: [cleo, dita] }]
`;

const ONE = ['ada,VT,14.000', 'bea,VT,13.000', 'cleo,UB,13.500', 'dita,UB,12.500'];
/** By hand: ada 27.000, bea 27.100, cleo 25.500, dita 26.000. */
const TWO = ['ada,UB,13.000', 'bea,UB,14.100', 'cleo,BB,12.000', 'dita,BB,13.500'];

function rowOf(rows: readonly string[], id: string, after: number | null = null) {
  const row = standings(meetFrom(MEET, logFrom(...rows)), { after }).rows.find((r) => r.id === id);
  if (row === undefined) throw new Error(`${id} is not on the board`);
  return row;
}

const of = (rows: readonly string[], after: number | null = null) =>
  Object.fromEntries(
    standings(meetFrom(MEET, logFrom(...rows)), { after }).rows.map((r) => [r.id, r] as const),
  );

describe('a rotation under way', () => {
  // Three of four have done a second routine; dita has done one.
  const rows = [...ONE, ...TWO.slice(0, 3)];

  it('has places like for like: after the first routine of each', () => {
    const board = of(rows);
    const even = ['ada', 'cleo', 'bea', 'dita'].map((id) => board[id]?.evenPlace);
    expect(even).toEqual([1, 2, 3, 4]);
    expect(['bea', 'ada', 'cleo', 'dita'].map((id) => board[id]?.place)).toEqual([1, 2, 3, 4]);
  });

  it('has places by projection, with 13.000 for all that is to come, under the tie rules', () => {
    // 27.100 + 26, 27.000 + 26; cleo 25.500 + 26 and dita 12.500 + 39 are level, and cleo has the
    // best three: 13.500 + 13 + 13.
    const board = of(rows);
    const projected = ['bea', 'ada', 'cleo', 'dita'].map((id) => board[id]?.projectedPlace);
    expect(projected).toEqual([1, 2, 3, 4]);
    expect([board.cleo?.projected, board.dita?.projected]).toEqual([51_500, 51_500]);
    // As they stand dita is behind whoever has more.
    const other = of([...rows.slice(0, -1), 'cleo,BB,11.900']);
    expect([other.dita?.projectedPlace, other.cleo?.projectedPlace]).toEqual([3, 4]);
    expect([other.dita?.place, other.cleo?.place]).toEqual([4, 3]);
  });

  it('has the like for like place of whoever withdrew no longer, and nobody waits for her', () => {
    const board = of([...rows.slice(0, -1), 'dita,BB,DNS', 'cleo,BB,12.000']);
    expect(board.dita).toMatchObject({ place: 4, evenPlace: null, projectedPlace: null });
    expect(board.cleo).toMatchObject({ place: 3, evenPlace: 3, projectedPlace: 3 });
    expect(board.bea).toMatchObject({ place: 1, evenPlace: 1 });
  });

  it('has no like for like place before everybody has begun', () => {
    for (const row of Object.values(of(ONE.slice(0, 3)))) expect(row.evenPlace).toBeNull();
  });

  it('has no place by projection for anybody when one has no likely', () => {
    const own = MEET.replace('discipline: wag', 'discipline: [{ code: HP, name: hoop }]')
      .replace(/usual: .*/, 'usual: {}')
      .replace(/groups: .*/, '');
    const ranged = own.replace('name: ada }', 'name: ada, ranges: { HP: { likely: 13.0 } } }');
    const { rows } = standings(meetFrom(ranged, logFrom('bea,HP,13.000')));
    expect(rows.map((r) => [r.id, r.projected, r.projectedPlace])).toEqual([
      ['bea', 13000, null],
      ['ada', 13000, null],
      ['cleo', null, null],
      ['dita', null, null],
    ]);
  });
});

describe('moved', () => {
  it('is from one full rotation to the next', () => {
    // After the first: ada, cleo, bea, dita; after the second: bea, ada, dita, cleo.
    const board = of([...ONE, ...TWO]);
    expect(['bea', 'ada', 'dita', 'cleo'].map((id) => board[id]?.moved)).toEqual([2, -1, 1, -2]);
  });

  it('is nothing before the second is over, and a third under way changes nothing', () => {
    for (const row of Object.values(of([...ONE, ...TWO.slice(0, 3)]))) expect(row.moved).toBeNull();
    expect(rowOf([...ONE, ...TWO, 'ada,BB,14.000'], 'ada')).toMatchObject({ place: 1, moved: -1 });
    expect(rowOf([...ONE, ...TWO], 'ada', 1).moved).toBeNull();
    const three = ['ada,BB,14.0', 'bea,BB,10.0', 'cleo,FX,10.0', 'dita,FX,10.0'];
    expect(rowOf([...ONE, ...TWO, ...three], 'ada').moved).toBe(1);
    expect(rowOf([...ONE, ...TWO, ...three], 'ada', 2).moved).toBe(-1);
  });
});

describe('a tie', () => {
  /** All on 52.000. Best three: 40.000, 39.500, 39.500; E of the last two: 32.000 and 31.000. */
  const sets = {
    ada: [14, 13, 13, 12].map((s) => [s, 5]),
    bea: [13.5, 13, 13, 12.5].map((s) => [s, 5]),
    cleo: [13.5, 13, 13, 12.5].map((s, i) => [s, i === 0 ? 6 : 5]),
    dita: [13, 12, 12, 12].map((s) => [s, 5]),
  };
  const rows = Object.entries(sets).flatMap(([id, routines]) =>
    routines.map(
      ([score = 0, d = 0], i) =>
        `${id},${['VT', 'UB', 'BB', 'FX'][i]},${score.toFixed(1)},${d.toFixed(1)},`,
    ),
  );

  it('names whom it is with and the rule; of two as near as each other that of the one ahead', () => {
    const board = of(rows);
    expect(board.ada).toMatchObject({ place: 1, tieBy: 'best-scores', levelWith: ['bea', 'cleo'] });
    expect(board.bea).toMatchObject({ place: 2, tieBy: 'best-scores', levelWith: ['ada', 'cleo'] });
    expect(board.cleo).toMatchObject({ place: 3, tieBy: 'execution', levelWith: ['ada', 'bea'] });
    expect(board.dita).toMatchObject({ place: 4, tieBy: null, levelWith: [] });
    for (const id of ['ada', 'bea', 'cleo']) expect(board[id]?.tied).toBe(false);
  });

  it('that is shared has no rule', () => {
    const board = of(['ada,VT,13.000', 'cleo,UB,13.000', 'bea,VT,12.000']);
    expect(board.ada).toMatchObject({ tied: true, tieBy: null, levelWith: ['cleo'] });
  });

  it('is none with whoever is out', () => {
    const board = of(['ada,VT,13.000', 'cleo,UB,13.000', 'cleo,BB,DNS']);
    expect([board.ada?.levelWith, board.cleo?.levelWith]).toEqual([[], []]);
  });
});

it('the keys of a row are in the order of the documents', () => {
  expect(Object.keys(rowOf(ONE, 'ada'))).toEqual([
    ...['place', 'tied', 'tieBy', 'levelWith', 'evenPlace', 'projectedPlace', 'id', 'name', 'team'],
    ...['total', 'behind', 'moved', 'done', 'toCome', 'projected', 'scores', 'counting'],
    ...['advance', 'reserve', 'blockedBy', 'projectedAdvance'],
  ]);
});

describe('teams', () => {
  /** One has two gymnasts and the other one; all on vault, then bars. */
  const TEAMS = `
discipline: wag
scoring: open
${usual('13.0')}
contests: [{ kind: team, up: 2, count: 1 }]
teams: [{ id: NQY, name: North Quay }, { id: HBR, name: Harbour Row }]
gymnasts:
  - { id: ada, name: Ada, team: NQY }
  - { id: bea, name: Bea, team: NQY }
  - { id: cleo, name: Cleo, team: HBR }
  - { id: dita, name: Dita, team: HBR }
rotations: [${['VT', 'UB', 'BB', 'FX'].map((c) => `{ ${c}: [ada, cleo, bea, dita] }`).join(', ')}]
`;
  const vault = ['ada,VT,13.000', 'cleo,VT,13.500', 'bea,VT,14.000'];

  it('a routine that brought no score is over all the same', () => {
    const even = (row: string) =>
      standings(meetFrom(TEAMS, logFrom(...vault, row))).rows.map((r) => [r.id, r.evenPlace]);
    expect(even('dita,VT,DNS')).toEqual([
      ['NQY', 1],
      ['HBR', 2],
    ]);
    // Without it the first of each is compared.
    const { rows } = standings(meetFrom(TEAMS, logFrom(...vault)));
    expect(rows.map((r) => [r.id, r.place, r.evenPlace])).toEqual([
      ['NQY', 1, 2],
      ['HBR', 2, 1],
    ]);
  });

  it('of two sizes are as far as each other after the same share of their routines', () => {
    // Harbour Row has one gymnast: 2 of 4 routines done are as many as 4 of 8.
    const short = TEAMS.replace('  - { id: dita, name: Dita, team: HBR }\n', '').replaceAll(
      ', dita]',
      ']',
    );
    const rows = [...vault, 'ada,UB,13.000', 'cleo,UB,14.000', 'bea,UB,12.000'];
    const placesWith = (more: string[] = []) =>
      standings(meetFrom(short, logFrom(...rows, ...more))).rows.map((r) => [
        ...[r.id, r.place, r.evenPlace],
      ]);
    expect(placesWith()).toEqual([
      ['HBR', 1, 1],
      ['NQY', 2, 2],
    ]);
    // One more of North Quay puts it ahead so far, and not like for like.
    expect(placesWith(['ada,BB,13.000'])).toEqual([
      ['NQY', 1, 2],
      ['HBR', 2, 1],
    ]);
  });
});
