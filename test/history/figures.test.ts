/** The plain statistics behind the backtest: where a score fell, own means, intervals. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawnAnew } from '../../lib/history/bootstrap.js';
import { ownMeans } from '../../lib/history/own-means.js';
import { placedIn, shareWithin } from '../../lib/history/pit.js';
import { quantile } from '../../lib/range/distribution.js';
import { history, row } from '../support/june-cup.js';

describe('where a score fell in its range', () => {
  const even = { scores: [1, 2, 3, 4], chances: [0.25, 0.25, 0.25, 0.25] };

  it('is spread over what its chance takes', () => {
    expect(placedIn(even, 2)).toEqual([0.25, 0.5]);
    // Of the middle half, 0.25 to 0.75, a score of 2 is all in, of 1 nothing; of four fifths 1 in part.
    expect(shareWithin(placedIn(even, 2), 0.25, 0.75)).toBe(1);
    expect(shareWithin(placedIn(even, 1), 0.25, 0.75)).toBe(0);
    expect(shareWithin(placedIn(even, 1), 0.1, 0.9)).toBeCloseTo(0.6, 12);
    // Between two scores it is a point; over all of them the last tenth.
    expect(placedIn(even, 2.5)).toEqual([0.5, 0.5]);
    expect(shareWithin([0.5, 0.5], 0.4, 0.5)).toBe(0);
    expect(shareWithin([0.5, 0.5], 0.5, 0.6)).toBe(1);
    expect(shareWithin(placedIn(even, 9), 0.9, 1)).toBe(1);
    expect([0.25, 0.26, 1].map((p) => quantile(even, p))).toEqual([1, 2, 4]);
  });

  it('over all scores of a range every tenth has a tenth', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 2, maxLength: 12 }),
        (w) => {
          const sum = w.reduce((a, b) => a + b, 0);
          const range = { scores: w.map((_, i) => i), chances: w.map((x) => x / sum) };
          for (let k = 0; k < 10; k++) {
            const share = range.scores.reduce(
              (s, y, i) =>
                s + range.chances[i]! * shareWithin(placedIn(range, y), k / 10, (k + 1) / 10),
              0,
            );
            expect(share).toBeCloseTo(0.1, 9);
          }
        },
      ),
    );
  });
});

describe('plain statistics', () => {
  it('own means and the spread around them, by hand', () => {
    const means = ownMeans();
    const of = (gymnast: string) => ({ discipline: 'wag', apparatus: 'VT', gymnast }) as const;
    const scored = history(
      ...[13, 14].map((s, i) => row('ann', `final ${i}`, 'VT', s)),
      ...[11, 12, 13].map((s, i) => row('bea', `final ${i}`, 'VT', s)),
    );
    for (const r of scored.routines) means.add(r);
    // Squares around own means: 0.5 and 2, over 5 - 2 = 3 degrees of freedom.
    expect(means.own(of('ann'))?.mean).toBe(13_500);
    expect(means.own(of('ann'))?.spread).toBeCloseTo(1000 * Math.sqrt(2.5 / 3), 9);
    expect(means.own(of('ann'), [15_000])?.mean).toBe(14_000);
    expect(means.own(of('eve'))).toBeNull();
    // Around 12.6: 0.16 + 1.96 + 2.56 + 0.36 + 0.16 = 5.2, over 4.
    expect(means.all(of('eve'))?.spread).toBeCloseTo(1000 * Math.sqrt(5.2 / 4), 9);
  });

  it('an interval from groups drawn anew is that of the normal distribution where there are many', () => {
    // Means 0.3, each group’s variance 0.21: ± 1.96 √(0.21 / 400).
    const groups = Array.from({ length: 400 }, (_, i) => ({ sum: i % 10 < 3 ? 1 : 0, of: 1 }));
    const [low, high] = drawnAnew(groups, 7) ?? [0, 0];
    const half = 1.96 * Math.sqrt(0.21 / 400);
    expect(Math.abs(low - (0.3 - half))).toBeLessThan(0.006);
    expect(Math.abs(high - (0.3 + half))).toBeLessThan(0.006);
    expect(drawnAnew(groups.slice(0, 1), 7)).toBeNull();
  });
});
