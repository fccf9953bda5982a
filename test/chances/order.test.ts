/** Many results on one total, under best scores: against every way the scores can go. */
import { expect, it } from 'vitest';
import { findContest } from '../../lib/contest/contest.js';
import { chances, distributionOf } from '../../lib/index.js';
import { isToCome, rangeAt } from '../../lib/meet/meet.js';
import { logFrom, meetFrom } from '../support/meet.js';

const BEA = [12_366, 12_666, 12_966, 13_700];

it('many results on the total of somebody who has finished are put in the order of their best scores', () => {
  const meet = meetFrom(
    `discipline: wag
scoring: open
ties: [best-scores]
gymnasts:
  - id: ada
    ranges:
      UB: { low: 12.066, likely: 12.966, high: 13.766, falls: 0 }
      BB: { low: 12.633, likely: 13.500, high: 13.666, falls: 0.1 }
      FX: { low: 12.233, likely: 13.166, high: 13.766, falls: 0.1 }
  - id: bea
`,
    logFrom('ada,VT,12.200', 'bea,FX,12.366', 'bea,UB,13.700', 'bea,BB,12.666', 'bea,VT,12.966'),
  );
  const [ada] = findContest(meet, null).contenders;
  const open = ada!.routines
    .filter((r) => isToCome(meet, r))
    .map((r) => distributionOf(meet, rangeAt(meet, r))!);
  let [wins, ties] = [0, 0];
  const go = (scores: readonly number[], chance: number): void => {
    const next = open[scores.length - 1];
    if (next !== undefined) {
      for (const [n, x] of next.scores.entries()) go([...scores, x], chance * next.chances[n]!);
      return;
    }
    const total = (of: readonly number[]) => of.reduce((x, y) => x + y, 0);
    let ahead = total(scores) - total(BEA);
    if (ahead === 0) ties += chance;
    const falling = [...scores].sort((x, y) => y - x);
    const rivals = [...BEA].sort((x, y) => y - x);
    for (let best = 3; best > 0 && ahead === 0; best--) {
      ahead = total(falling.slice(0, best)) - total(rivals.slice(0, best));
    }
    if (ahead >= 0) wins += chance;
  };
  go([12_200], 1);
  expect(ties).toBeGreaterThan(0.001);
  const { error, contenders } = chances(meet);
  expect(error).toBe(1e-12);
  expect(contenders[0]?.win).toBeCloseTo(wins, 12);
});
