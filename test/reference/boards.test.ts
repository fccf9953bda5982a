/** Published finals, replayed through the score log. */
import { describe, expect, it } from 'vitest';
import { needs } from '../../lib/index.js';
import { logFrom, meetFrom, show } from '../support/meet.js';
import { board, gaps, needOf, rowsOf, WOMEN } from './published.js';

/** An all-around final of which four began on vault; the log goes apparatus by apparatus. */
function finalOfFour(scores: Readonly<Record<string, string>>) {
  const ids = Object.keys(scores);
  const rows = ids.map((id) => rowsOf(id, WOMEN, scores[id] ?? ''));
  const log = WOMEN.flatMap((_, rotation) => rows.map((r) => r[rotation] ?? ''));
  const yaml = `
discipline: wag
scoring: open
gymnasts: [${ids.map((id) => `{ id: ${id} }`).join(', ')}]
groups: [{ start: VT, order: [${ids.join(', ')}] }]
`;
  /** The meet when so many rotations are over. */
  const upTo = (rotations: number) =>
    meetFrom(yaml, logFrom(...log.slice(0, rotations * ids.length)));
  return { upTo, whole: upTo(WOMEN.length) };
}

// 2020 Games, women's all-around. Official sheet for the second's scores [text]; all four began on
// VT: common practice, no published source.
describe('2020 Games, women’s all-around', () => {
  const { whole, upTo } = finalOfFour({
    first: '14.600 15.300 13.833 13.700',
    second: '15.300 14.666 13.666 13.666',
    third: '14.633 14.900 13.700 13.966',
    fourth: '14.500 14.866 14.200 13.400',
  });
  const BOARDS = [
    ['1 second 15.300', '2 third 14.633', '3 first 14.600', '4 fourth 14.500'],
    ['1 second 29.966', '2 first 29.900', '3 third 29.533', '4 fourth 29.366'],
    ['1 first 43.733', '2 second 43.632', '3 fourth 43.566', '4 third 43.233'],
    ['1 first 57.433', '2 second 57.298', '3 third 57.199', '4 fourth 56.966'],
  ];
  const GAPS = [
    { second: '0.000', third: '0.667', first: '0.700', fourth: '0.800' },
    { second: '0.000', first: '0.066', third: '0.433', fourth: '0.600' },
    { first: '0.000', second: '0.101', fourth: '0.167', third: '0.500' },
    { first: '0.000', second: '0.135', third: '0.234', fourth: '0.467' },
  ];

  it.each([1, 2, 3, 4])('totals, places and gaps after rotation %i', (rotation) => {
    expect(board(whole, { after: rotation })).toEqual(BOARDS[rotation - 1]);
    expect(gaps(whole, { after: rotation })).toEqual(GAPS[rotation - 1]);
  });

  it.each([1, 2, 3, 4])('the board of rotation %i was the same while it stood', (rotation) => {
    expect(board(upTo(rotation))).toEqual(BOARDS[rotation - 1]);
  });

  it('before floor the first led the second by 0.101', () => {
    expect(gaps(whole, { after: 3 }).second).toBe('0.101');
    const sheet = needs(upTo(3), 'second');
    expect(sheet.above).toEqual({ id: 'first', gap: 101 });
    expect(sheet.toCome).toEqual(['FX']);
  });
});

// 2024 Games, women's all-around [press, unnamed]; the fourth's 13.500 on floor from memory, nobody looked it
// up. That all four began on VT: common practice, no published source.
describe('2024 Games, women’s all-around', () => {
  const { whole, upTo } = finalOfFour({
    first: '15.766 13.733 14.566 15.066',
    second: '15.100 14.666 14.133 14.033',
    third: '13.933 14.866 14.000 13.666',
    fourth: '14.000 14.800 14.033 13.500',
  });
  const BOARDS = [
    ['1 first 15.766', '2 second 15.100', '3 fourth 14.000', '4 third 13.933'],
    ['1 second 29.766', '2 first 29.499', '3 fourth 28.800', '4 third 28.799'],
    ['1 first 44.065', '2 second 43.899', '3 fourth 42.833', '4 third 42.799'],
    ['1 first 59.131', '2 second 57.932', '3 third 56.465', '4 fourth 56.333'],
  ];
  const GAPS = [
    { first: '0.000', second: '0.666', fourth: '1.766', third: '1.833' },
    { second: '0.000', first: '0.267', fourth: '0.966', third: '0.967' },
    { first: '0.000', second: '0.166', fourth: '1.232', third: '1.266' },
    { first: '0.000', second: '1.199', third: '2.666', fourth: '2.798' },
  ];

  it.each([1, 2, 3, 4])('totals, places and gaps after rotation %i', (rotation) => {
    expect(board(whole, { after: rotation })).toEqual(BOARDS[rotation - 1]);
    expect(gaps(whole, { after: rotation })).toEqual(GAPS[rotation - 1]);
  });

  it.each([1, 2, 3, 4])('the board of rotation %i was the same while it stood', (rotation) => {
    expect(board(upTo(rotation))).toEqual(BOARDS[rotation - 1]);
  });

  it('at half-way the second led the first by 0.267', () => {
    expect(gaps(whole, { after: 2 }).first).toBe('0.267');
  });
});

// College women's finals [press, unnamed]: six up, five count, ties stand. What came before the last
// rotation is carried in.
const COLLEGE = `
discipline: wag
scoring: ten
panel: { counting: 4, step: 0.05 }
decimals: 4
contests: [{ kind: team, up: 6, count: 5 }]
`;

function lastRotation(
  teams: Readonly<Record<string, { carried: string; on: string; scores: string }>>,
) {
  const entries = Object.entries(teams);
  const members = (team: string, scores: string) =>
    scores.split(' ').map((score, i) => ({ id: `${team}${i + 1}`, score }));
  return meetFrom(
    `${COLLEGE}
teams:
${entries.map(([id, t]) => `  - { id: ${id}, carried: ${t.carried} }`).join('\n')}
gymnasts:
${entries
  .flatMap(([team, t]) =>
    members(team, t.scores).map((m) => `  - { id: ${m.id}, team: ${team}, on: [${t.on}] }`),
  )
  .join('\n')}
rotations:
  - { ${entries.map(([team, t]) => `${t.on}: [${members(team, t.scores).map((m) => m.id)}]`).join(', ')} }
`,
    logFrom(
      ...entries.flatMap(([team, t]) =>
        members(team, t.scores).map((m) => `${m.id},${t.on},${m.score}`),
      ),
    ),
  );
}

describe('2014 college women’s final', () => {
  // 148.625 + 49.550 and 148.550 + 49.625; the leader before, 148.700 + 48.850. How each rotation's
  // sum came about, on which apparatus, and the third team are invented.
  const meet = lastRotation({
    Leader: {
      carried: '148.700',
      on: 'BB',
      scores: '9.850 9.800 9.700 9.750 9.750 9.200',
    },
    A: { carried: '148.625', on: 'FX', scores: '9.900 9.900 9.875 9.925 9.950 9.850' },
    B: { carried: '148.550', on: 'VT', scores: '9.925 9.950 9.900 9.925 9.925 9.800' },
    Third: { carried: '148.400', on: 'UB', scores: '9.850 9.850 9.850 9.850 9.850 9.500' },
  });

  it('both on 198.175 share the title; the leader before the last rotation ends fourth', () => {
    expect(board(meet).slice(0, 2).sort()).toEqual(['1= A 198.1750', '1= B 198.1750']);
    expect(board(meet)[3]).toBe('4 Leader 197.5500');
  });

  it('nobody is second', () => {
    expect(board(meet).map((line) => line.slice(0, 2))).toEqual(['1=', '1=', '3 ', '4 ']);
  });
});

describe('2024 college women’s final', () => {
  const ROTATION = { carried: '148.4625', on: 'FX' };

  it('9.95 (9.3875) 9.9625 9.95 9.95 9.95 is 49.7625, and 198.2250 in all', () => {
    const meet = lastRotation({
      A: { ...ROTATION, scores: '9.9500 9.3875 9.9625 9.9500 9.9500 9.9500' },
    });
    expect(board(meet)).toEqual(['1 A 198.2250']);
  });

  it('of the rotation the lowest is dropped, not the second up', () => {
    const meet = lastRotation({
      A: { carried: '0.0000', on: 'FX', scores: '9.9500 9.3875 9.9625 9.9500 9.9500 9.9500' },
    });
    expect(board(meet)).toEqual(['1 A 49.7625']);
  });

  it('before the last up, with 9.3875 to drop: 9.9500 brought just what was published', () => {
    const FIVE = ['9.9500', '9.3875', '9.9625', '9.9500', '9.9500'];
    const ids = ['1', '2', '3', '4', '5', '6'].map((i) => `up${i}`);
    const meet = meetFrom(
      `${COLLEGE}
teams: [{ id: A, carried: 148.4625 }]
gymnasts: [${ids.map((id) => `{ id: ${id}, team: A, on: [FX] }`).join(', ')}]
`,
      logFrom(...FIVE.map((score, i) => `up${i + 1},FX,${score}`)),
    );
    // 148.4625 + 39.8125 + her score, in place of 9.3875.
    expect(show(meet, needOf(meet, 'A', 'total:198.2250').ahead)).toBe('9.9500');
    expect(board(meet)).toEqual(['1 A 197.6625']);
  });
});
