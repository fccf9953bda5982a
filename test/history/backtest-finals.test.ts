/** Team and apparatus finals of a small history. */
import { describe, expect, it } from 'vitest';
import { finalBoard, finalsOf } from '../../lib/history/rounds.js';
import { backtest, readHistory } from '../../lib/index.js';
import { apparatusFinal, CODES, HEADER, history, row, teamFinal } from '../support/june-cup.js';

describe('a team final', () => {
  it.each([
    // Up, and how many count: 3-3, 4-3, 5-4, 6-5.
    [3, 3],
    [4, 3],
    [5, 4],
    [6, 5],
  ])('with %i up has %i count', (up, count) => {
    const [final] = finalsOf(history(...teamFinal(up)), { contests: ['team'] });
    expect(final?.contenders).toEqual(['AAA', 'BBB', 'CCC', 'DDD']);
    const best = Array.from({ length: count }, (_, i) => 14_000 - 100 * i);
    const total = 4 * best.reduce((a, b) => a + b, 0);
    const board = finalBoard(final!);
    expect(board[0]).toEqual({ total, place: 1 });
    expect(board[3]).toEqual({ total: total - 4 * 3000 * count, place: 4 });
  });

  it('has no more than six of a team on an apparatus: twelve are no line-up', () => {
    const of = (up: number) => finalsOf(history(...teamFinal(up)), { contests: ['team'] }).length;
    expect([6, 7, 12].map(of)).toEqual([1, 0, 0]);
    // And the others of the history are judged all the same.
    const both = history(...teamFinal(12), ...apparatusFinal(8));
    expect(backtest(both, { contest: 'all' }).byContest.map((b) => b.contest)).toEqual([
      'apparatus',
    ]);
  });

  it('goes by place in qualification where the competition has one, the best on vault', () => {
    const qualified = ['AAA', 'BBB', 'CCC', 'DDD'].flatMap((noc, t) =>
      CODES.flatMap((on) =>
        [0, 1, 2].map((i) => row(`${noc}${i}`, 'qualification', on, 11 + t, noc)),
      ),
    );
    const [final] = finalsOf(history(...teamFinal(3), ...qualified), { contests: ['team'] });
    const first = final?.meet.rotations[0]?.stations.map((s) => [s.apparatus, s.order]);
    // DDD had the most; its gymnasts are the last three in the file.
    expect(first?.[0]).toEqual(['VT', ['g9', 'g10', 'g11']]);
    expect(first?.[3]).toEqual(['FX', ['g0', 'g1', 'g2']]);
  });

  it('is judged by teams: four alike have a quarter each', () => {
    const answer = backtest(history(...teamFinal(3)), { contest: 'team' });
    expect(answer.rounds).toMatchObject([{ contest: 'team', gymnasts: 12, apparatus: null }]);
    expect(answer.scores.find((s) => s.forecaster === 'equal')?.winLog).toBeCloseTo(
      Math.log(4),
      12,
    );
    expect(() => backtest(history(...teamFinal(3)))).toThrow(/no all-around final/);
  });
});

describe('an apparatus final', () => {
  it('has four to twelve, one after another in an order that the seed draws', () => {
    const finals = (n: number) =>
      finalsOf(history(...apparatusFinal(n)), { contests: ['apparatus'] });
    expect([3, 4, 8, 12, 13].map((n) => finals(n).length)).toEqual([0, 1, 1, 1, 0]);
    const [final] = finals(8);
    expect(final).toMatchObject({ on: 'UB', order: 'drawn', rotations: 8 });
    const orderOf = (seed: number) =>
      finalsOf(history(...apparatusFinal(8)), {
        contests: ['apparatus'],
        seed,
      })[0]?.meet.rotations.map((r) => r.stations[0]?.order[0]);
    expect(orderOf(1)).toEqual(orderOf(1));
    expect([...(orderOf(1) ?? [])].sort()).toEqual([
      'g0',
      'g1',
      'g2',
      'g3',
      'g4',
      'g5',
      'g6',
      'g7',
    ]);
    // Results lists are in order of place: whoever won must not always go up first.
    const first = Array.from({ length: 400 }, (_, seed) => orderOf(seed)?.[0]);
    const times = first.filter((g) => g === 'g0').length;
    expect(times).toBeGreaterThan(25);
    expect(times).toBeLessThan(80);
  });

  it('of two vaults has the average, cut, and only those who did both', () => {
    const rows = Array.from({ length: 5 }, (_, i) => [
      row(`g${i}`, 'apparatus final', 'VT', 14.066 - i / 10),
      ...(i === 4 ? [] : [row(`g${i}`, 'apparatus final', 'VT2', 13.933 - i / 10)]),
    ]).flat();
    const [final] = finalsOf(history(...rows), { contests: ['apparatus'] });
    expect(final?.contenders).toEqual(['g0', 'g1', 'g2', 'g3']);
    // 14.066 and 13.933 are 13.999: docs/rules.md.
    expect(finalBoard(final!)[0]).toEqual({ total: 13_999, place: 1 });
    expect(final?.rotations).toBe(4);
  });

  it('ties are broken by E', () => {
    const rows = [
      ...apparatusFinal(4),
      `x,wag,2026-06-01,June Cup,apparatus final,UB,14.000,4.900,9.100,`,
    ];
    const [final] = finalsOf(history(...rows), { contests: ['apparatus'] });
    expect(finalBoard(final!).map((b) => b.place)).toEqual([2, 3, 4, 5, 1]);
  });

  it('is in the order of the history where every gymnast has a rotation of her own', () => {
    const text = apparatusFinal(4).map((r, i) => `${r},${4 - i}`);
    const known = readHistory({ file: 'h', text: [`${HEADER},rotation`, ...text].join('\n') });
    const [final] = finalsOf(known, { contests: ['apparatus'] });
    expect(final?.order).toBe('known');
    expect(final?.meet.rotations[0]?.stations[0]?.order).toEqual(['g3']);
    const same = apparatusFinal(4).map((r) => `${r},1`);
    const shared = readHistory({ file: 'h', text: [`${HEADER},rotation`, ...same].join('\n') });
    expect(finalsOf(shared, { contests: ['apparatus'] })[0]?.order).toBe('drawn');
  });
});
