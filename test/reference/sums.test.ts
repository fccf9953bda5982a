/**
 * Sums of scores and counts of those ahead, against numbers from outside: the Irwin-Hall
 * distribution, the mean of PERT, the binomial as the special case of the Poisson-binomial (Hong,
 * Computational Statistics & Data Analysis 59, 2013), and equal contenders.
 */
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { aheadCount } from '../../lib/chances/sweep/ahead.js';
import { findContest } from '../../lib/contest/contest.js';
import { chanceOfAtLeast, type Distribution, score } from '../../lib/index.js';
import { sumOfBest } from '../../lib/range/best.js';
import { sumOf, sumOfRoutines } from '../../lib/range/sum.js';
import { meetFrom } from '../support/meet.js';

const GRID = { counting: 3, stepMillionths: 100_000, decimals: 3 } as const;

function meanOf({ scores, chances }: Distribution): number {
  return scores.reduce((sum, score, i) => sum + score * (chances[i] ?? 0), 0);
}

function even(count: number): Distribution {
  return {
    scores: Array.from({ length: count }, (_, i) => i),
    chances: new Array<number>(count).fill(1 / count),
  };
}

describe('sums', () => {
  it('of even chances are Irwin-Hall in the limit: 1/2, 1/6 and 1/24 up to 1', () => {
    const n = 600;
    for (const [terms, wanted] of [
      [2, 1 / 2],
      [3, 1 / 6],
      [4, 1 / 24],
    ] as const) {
      const sum = sumOf(
        Array.from({ length: terms }, () => even(n)),
        GRID,
      );
      // The middle of a cell of width 1/n: the sum of `terms` middles is at most 1.
      // Sums are whole, so those from a half up are those from the next whole number up.
      const below = 1 - chanceOfAtLeast(sum, Math.ceil(n - terms / 2 + 0.5));
      expect(below).toBeCloseTo(wanted, 2);
    }
  });

  it('of dice are what they are: 7 is thrown 6 times in 36, the best three of four 12.2446', () => {
    const die = { scores: [1, 2, 3, 4, 5, 6], chances: new Array<number>(6).fill(1 / 6) };
    const two = sumOf([die, die], GRID);
    expect(two.chances[two.scores.indexOf(7)]).toBeCloseTo(6 / 36, 14);
    // 15869/1296, by counting all 1296 throws.
    expect(meanOf(sumOfBest([die, die, die, die], 3, GRID))).toBeCloseTo(15869 / 1296, 12);
  });

  // Once wrong: the highest score was taken for the one with the highest index, and sums were lost.
  it('of the best lose nothing where a score lies off the grid', () => {
    const recorded = { scores: [13002], chances: [1] };
    const toCome = { scores: [13000, 13033], chances: [0.25, 0.75] };
    const best = sumOfBest([recorded, toCome, toCome], 2, GRID);
    // By hand: both low 1/16, else one of the two is 13.033, and both with 9/16.
    expect(best.scores).toEqual([26002, 26035, 26066]);
    expect(best.chances).toEqual([1 / 16, 6 / 16, 9 / 16]);
  });

  it('have the mean (low + 4 likely + high) / 6 of each without falls, and what falls cost', () => {
    const ranges = [
      { low: score('13.0'), likely: score('13.6'), high: score('14.0'), falls: 0.1 },
      { low: score('12.5'), likely: score('13.3'), high: score('13.9'), falls: 0.2 },
    ].map((r) => ({ ...r, d: null, within: null, from: 'own' as const }));
    const mean = ranges.reduce((sum, { low, likely, high, falls: f }) => {
      const cost = (f * (1 - f) + 2 * f * f) * 1000;
      return sum + (low + 4 * likely + high) / 6 - cost;
    }, 0);
    // The grid moves a mean by less than one of its steps.
    expect(Math.abs(meanOf(sumOfRoutines(ranges, GRID, 1000)) - mean)).toBeLessThan(10);
  });

  it('are the same on the grid and off it', () => {
    const one: Distribution = {
      scores: [12_033, 12_066, 12_100, 12_133, 12_200],
      chances: [0.1, 0.2, 0.3, 0.25, 0.15],
    };
    for (const odd of [12_166, 12_517]) {
      const other: Distribution = { scores: [12_000, odd], chances: [0.5, 0.5] };
      const terms = [one, other, one, one];
      const sum = sumOf(terms, GRID);
      const slow = new Map([[0, 1]]);
      for (const { scores, chances } of terms) {
        const before = [...slow];
        slow.clear();
        for (const [total, p] of before) {
          scores.forEach((score, k) => {
            slow.set(total + score, (slow.get(total + score) ?? 0) + p * (chances[k] ?? 0));
          });
        }
      }
      expect(sum.scores).toEqual([...slow.keys()].sort((a, b) => a - b));
      for (const [k, score] of sum.scores.entries()) {
        expect(sum.chances[k]).toBeCloseTo(slow.get(score) ?? 0, 14);
      }
    }
  });

  it('of the best of too many are refused, not begun', () => {
    const one = even(5);
    const many = Array.from({ length: 20 }, () => one);
    expect(() => sumOfBest(many, 19, GRID)).toThrow(/too many ways/);
    const wide = Array.from({ length: 40 }, () => one);
    expect(() => sumOfBest(wide, 39, GRID)).toThrow(/too many ways/);
  });
});

/** How many of some are ahead, each with its own chance of that, but for one of them. */
function othersAhead(chances: readonly number[], but: number): Float64Array {
  const sums = new Float64Array(chances.length + 1);
  const count = aheadCount(chances.length, { sums, bounds: sums });
  for (const [i, p] of chances.entries()) count.set(i, p);
  count.addOthers(but, 0, 1, 0);
  return sums;
}

/** Of nobody but those. */
function allAhead(chances: readonly number[]): Float64Array {
  return othersAhead([...chances, 0], chances.length);
}

describe('the count of those ahead', () => {
  it('is binomial for equal chances, and has mean Σp and variance Σp(1-p)', () => {
    const product = allAhead(new Array<number>(8).fill(0.3));
    const choose = [1, 8, 28, 56, 70, 56, 28, 8, 1];
    choose.forEach((c, k) => {
      expect(product[k]).toBeCloseTo(c * 0.3 ** k * 0.7 ** (8 - k), 14);
    });
    const p = [0.9, 0.2, 0.55, 0.01, 0.5];
    const five = allAhead(p);
    const mean = p.reduce((a, b) => a + b, 0);
    const moments = [1, 2].map((m) =>
      five.reduce((sum, chance, k) => sum + chance * k ** m, 0),
    ) as [number, number];
    expect(moments[0]).toBeCloseTo(mean, 14);
    expect(moments[1] - moments[0] ** 2).toBeCloseTo(
      p.reduce((a, b) => a + b * (1 - b), 0),
      13,
    );
  });

  it.each([0, 1e-9, 0.3, 0.5, 0.7, 1 - 1e-9, 1])(
    'is the same when a factor of %d is taken out as when it was never in',
    (own) => {
      const rest = Array.from({ length: 20 }, (_, i) => (i + 1) / 22);
      const others = allAhead(rest);
      const quotient = othersAhead([...rest, own], 20);
      for (let k = 0; k <= 20; k++) expect(quotient[k]).toBeCloseTo(others[k] ?? 0, 14);
    },
  );

  it('is the same after thousands of changes, one by one, as counted anew', () => {
    const size = 24;
    const sums = new Float64Array(size);
    const count = aheadCount(size, { sums, bounds: sums });
    const chances = new Array<number>(size).fill(0);
    for (let n = 0; n < 5000; n++) {
      const who = (n * 7) % size;
      const p = Math.min((chances[who] ?? 0) + ((n * 13) % 17) / 1900, 1);
      const before = sums.slice();
      const wanted = othersAhead(chances, who);
      count.addOthers(who, 0, 0.5, 0);
      count.set(who, p);
      chances[who] = p;
      for (let k = 0; k < size; k++) {
        expect((sums[k] ?? 0) - (before[k] ?? 0)).toBeCloseTo((wanted[k] ?? 0) / 2, 11);
      }
    }
  });
});

describe('equal contenders', () => {
  const equal = (n: number, ties: string) =>
    meetFrom(
      `discipline: wag\nscoring: open\nties: ${ties}\nusual:\n${['VT', 'UB', 'BB', 'FX']
        .map((c) => `  ${c}: { low: 13.000, likely: 13.400, high: 13.900, falls: 0.1 }\n`)
        .join('')}gymnasts: [${Array.from({ length: n }, (_, i) => `{ id: g${i} }`).join(', ')}]\n`,
    );

  it.each(['[]', '[best-scores]'])('have equal chances of every place, ties %s', (ties) => {
    const meet = equal(6, ties);
    const { places, error } = placeChances(modelOf(meet, findContest(meet, null)));
    for (const hers of places) {
      hers.forEach((p, k) => {
        expect(p).toBeCloseTo(places[0]![k]!, 12);
      });
      expect(hers.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
      // Shared first places make it more than 1/6, and ties that are all broken no more.
      expect(hers[0]).toBeGreaterThan(1 / 6 - error);
      if (ties !== '[]') expect(hers[0]).toBeLessThan(1 / 6 + error + 1e-4);
    }
  });
});
