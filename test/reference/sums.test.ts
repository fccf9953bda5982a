/**
 * Sums of scores and counts of those ahead, against numbers from outside: the Irwin-Hall
 * distribution, the mean of PERT, the binomial as the special case of the Poisson-binomial (Hong,
 * Computational Statistics & Data Analysis 59, 2013), and equal contenders.
 */
import { describe, expect, it } from 'vitest';
import { placeChances } from '../../lib/chances/exact.js';
import { wholeOf } from '../../lib/chances/order/order.js';
import { countPlaces, multiply } from '../../lib/chances/places.js';
import { raceOf } from '../../lib/chances/runner.js';
import { findContest } from '../../lib/contest/contest.js';
import { chanceOfAtLeast, type Distribution } from '../../lib/index.js';
import {
  meanOf,
  mixtureOf,
  sumOf,
  sumOfBest,
  sumOfRoutines,
  sumOfSums,
} from '../../lib/range/sum.js';
import { meetFrom } from '../support/meet.js';

const GRID = { counting: 3, stepMillionths: 100_000, decimals: 3 } as const;

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
      const sum = sumOf(Array.from({ length: terms }, () => even(n)));
      // The middle of a cell of width 1/n: the sum of `terms` middles is at most 1.
      const below = 1 - chanceOfAtLeast(sum, n - terms / 2 + 0.5);
      expect(below).toBeCloseTo(wanted, 2);
    }
  });

  it('of dice are what they are: 7 is thrown 6 times in 36, the best three of four 12.2446', () => {
    const die = { scores: [1, 2, 3, 4, 5, 6], chances: new Array<number>(6).fill(1 / 6) };
    const two = sumOf([die, die]);
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
      { low: 13000, likely: 13600, high: 14000, falls: 0.1 },
      { low: 12500, likely: 13300, high: 13900, falls: 0.2 },
    ].map((r) => ({ ...r, d: null, from: 'own' as const }));
    const mean = ranges.reduce((sum, { low, likely, high, falls: f }) => {
      const cost = (f * (1 - f) + 2 * f * f) * 1000;
      return sum + (low + 4 * likely + high) / 6 - cost;
    }, 0);
    // The grid moves a mean by less than one of its steps.
    expect(Math.abs(meanOf(sumOfRoutines(ranges, GRID, 1000)) - mean)).toBeLessThan(10);
  });

  it('of a mixture is the mixture of the sums', () => {
    const [a, b] = [even(5), even(9)];
    const mixed = mixtureOf([
      { weight: 0.3, distribution: a },
      { weight: 0.7, distribution: b },
    ]);
    expect(meanOf(sumOf([mixed, a]))).toBeCloseTo(0.3 * 2 + 0.7 * 4 + 2, 12);
  });
});

describe('the count of those ahead', () => {
  it('is binomial for equal chances, and has mean Σp and variance Σp(1-p)', () => {
    const product = new Float64Array(9);
    multiply(new Float64Array(8).fill(0.3), 8, product);
    const choose = [1, 8, 28, 56, 70, 56, 28, 8, 1];
    choose.forEach((c, k) => {
      expect(product[k]).toBeCloseTo(c * 0.3 ** k * 0.7 ** (8 - k), 14);
    });
    const p = Float64Array.from([0.9, 0.2, 0.55, 0.01, 0.5]);
    multiply(p, 5, product);
    const mean = p.reduce((a, b) => a + b, 0);
    const moments = [1, 2].map((m) =>
      product.slice(0, 6).reduce((sum, chance, k) => sum + chance * k ** m, 0),
    ) as [number, number];
    expect(moments[0]).toBeCloseTo(mean, 14);
    expect(moments[1] - moments[0] ** 2).toBeCloseTo(
      p.reduce((a, b) => a + b * (1 - b), 0),
      13,
    );
  });

  it('is the same when a factor is taken out as when it was never in', () => {
    for (const own of [1e-9, 0.3, 0.5, 0.7, 1 - 1e-9]) {
      const others = new Float64Array(24);
      const rest = Array.from({ length: 20 }, (_, i) => (i + 1) / 22);
      multiply(Float64Array.from(rest), 20, others);
      // One result of each, then one that a variant of the last has for certain, then their others.
      const first = [...rest, own];
      const chance = Float64Array.from([...first, 1, ...first.map((p) => 1 - p)]);
      const who = Int32Array.from(chance, (_, k) => (k < 22 ? k : k - 22));
      const left = new Int32Array(22);
      for (const i of who) left[i]!++;
      const whole = wholeOf({ who, chance, equals: new Uint8Array(43) });
      const ordered = { size: 21, members: 22, pieces: [whole], left };
      const quotient = countPlaces(ordered, [20]).variantPlaces;
      for (let k = 0; k <= 20; k++) expect(quotient[k]).toBeCloseTo(others[k]!, 14);
    }
  });
});

describe('a sum of sums', () => {
  const scores = [12_033, 12_066, 12_100, 12_133, 12_200];
  const one: Distribution = { scores, chances: [0.1, 0.2, 0.3, 0.25, 0.15] };
  const two = sumOf([one, one]);

  it('is the sum of all their terms, on the grid and off it', () => {
    for (const odd of [12_166, 12_517]) {
      const other: Distribution = { scores: [12_000, odd], chances: [0.5, 0.5] };
      const parts = [
        { distribution: two, terms: 2 },
        { distribution: sumOf([one, other]), terms: 2 },
      ];
      const sum = sumOfSums(parts, [one, one, one, other], GRID);
      const plain = sumOf([one, one, one, other]);
      expect(sum.scores).toEqual(plain.scores);
      for (const [k, chance] of sum.chances.entries()) {
        expect(chance).toBeCloseTo(plain.chances[k]!, 14);
      }
    }
  });

  it('of the best of too many is refused, not begun', () => {
    const many = Array.from({ length: 20 }, () => one);
    expect(() => sumOfBest(many, 19, GRID)).toThrow(/too many ways/);
    const wide = Array.from({ length: 40 }, () => one);
    expect(() => sumOfBest(wide, 39, GRID)).toThrow(/too many ways/);
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
    const { places, error } = placeChances(meet, raceOf(meet, findContest(meet, null)));
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
