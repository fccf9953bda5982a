import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestByMark, sumOfBest, sumsOfBest } from '../../lib/range/best.js';
import type { Distribution } from '../../lib/range/distribution.js';
import { sumOf } from '../../lib/range/sum.js';
import type { Grid } from '../../lib/scoring.js';
import { distributionsOf } from '../support/distributions.js';
import { times } from '../support/times.js';

const GRIDS: readonly Grid[] = [
  { counting: 3, stepMillionths: 100_000, decimals: 3 },
  { counting: 2, stepMillionths: 50_000, decimals: 3 },
  { counting: 4, stepMillionths: 50_000, decimals: 4 },
];

/** Scores of a routine: one that is known, or a few on the grid, one or two falls below, or off it. */
function scoresOn({ counting, stepMillionths, decimals }: Grid): fc.Arbitrary<Distribution> {
  const point = (j: number) => Math.floor((j * stepMillionths * 10 ** decimals) / (1e6 * counting));
  const fall = 10 ** decimals;
  const hit = fc.integer({ min: 400, max: 404 }).map(point);
  const score = fc.oneof(
    { weight: 6, arbitrary: hit },
    { weight: 2, arbitrary: hit.map((s) => s - fall) },
    { weight: 1, arbitrary: hit.map((s) => Math.max(s - 2 * fall, 0)) },
    { weight: 1, arbitrary: fc.constantFrom(0, point(402) + 1) },
  );
  const known = hit.map((s): Distribution => ({ scores: [s], chances: [1] }));
  return fc.oneof(
    { weight: 1, arbitrary: known },
    { weight: 2, arbitrary: distributionsOf(score) },
  );
}

/** Every way some scores can come about, with its chance. */
function* waysOf(all: readonly Distribution[]): Generator<{ scores: number[]; chance: number }> {
  const [first, ...others] = all;
  if (first === undefined) {
    yield { scores: [], chance: 1 };
    return;
  }
  for (const { scores, chance } of waysOf(others))
    for (const [k, score] of first.scores.entries())
      yield { scores: [score, ...scores], chance: chance * (first.chances[k] ?? 0) };
}

/** Chances by name, of what each way is called. */
function counted(all: readonly Distribution[], nameOf: (scores: number[]) => string) {
  const found = new Map<string, number>();
  for (const { scores, chance } of waysOf(all)) {
    const name = nameOf(scores);
    found.set(name, (found.get(name) ?? 0) + chance);
  }
  return found;
}

function bestOf(scores: readonly number[], count: number): number[] {
  return [...scores].sort((a, b) => b - a).slice(0, count);
}

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

function expectSame(found: ReadonlyMap<string, number>, wanted: ReadonlyMap<string, number>) {
  expect([...found.keys()].sort()).toEqual([...wanted.keys()].sort());
  for (const [name, chance] of wanted) expect(found.get(name)).toBeCloseTo(chance, 13);
}

function named(distribution: Distribution, mark = ''): [string, number][] {
  return distribution.scores.map((s, k) => [`${mark} ${s}`, distribution.chances[k] ?? 0]);
}

const some = fc
  .constantFrom(...GRIDS)
  .chain((grid) =>
    fc.tuple(fc.constant(grid), fc.array(scoresOn(grid), { minLength: 1, maxLength: 6 })),
  )
  .chain(([grid, all]) =>
    fc.record({
      grid: fc.constant(grid),
      all: fc.constant(all),
      count: fc.integer({ min: 1, max: all.length }),
      // What is supposed of some of them, more than once of one, and what else may be any score.
      supposed: fc.array(
        fc.record({
          who: fc.nat({ max: all.length - 1 }),
          score: fc.constantFrom(0, 13_000, ...all.flatMap(({ scores }) => scores)),
        }),
        { maxLength: 5 },
      ),
    }),
  );

describe('the best few of some scores', () => {
  it('add up as in every way they can come about', () => {
    fc.assert(
      fc.property(some, ({ grid, all, count }) => {
        const found = sumOfBest(all, count, grid);
        expect(found.scores).toEqual([...found.scores].sort((a, b) => a - b));
        const wanted = counted(all, (scores) => ` ${sum(bestOf(scores, count))}`);
        expectSame(new Map(named(found)), wanted);
      }),
      { numRuns: times(150) },
    );
  });

  it('add up as in every way where the score of one is supposed', () => {
    fc.assert(
      fc.property(some, ({ grid, all, count, supposed }) => {
        const found = sumsOfBest(all, count, grid, [...supposed, null]);
        for (const [k, { who, score }] of supposed.entries()) {
          const then = all.with(who, { scores: [score], chances: [1] });
          const wanted = counted(then, (scores) => ` ${sum(bestOf(scores, count))}`);
          expectSame(new Map(named(found[k] ?? sumOfBest([], 1, grid))), wanted);
        }
        const wanted = counted(all, (scores) => ` ${sum(bestOf(scores, count))}`);
        expectSame(new Map(named(found.at(-1) ?? sumOfBest([], 1, grid))), wanted);
      }),
      { numRuns: times(150) },
    );
  });

  it('are known with who has more than the last of them, and who as much', () => {
    const markOf = (above: number, level: number) => above * 64 + level;
    const nameOf = (scores: readonly number[], count: number) => {
      const best = bestOf(scores, count);
      const last = best.at(-1) ?? 0;
      const bits = (is: (score: number) => boolean) =>
        scores.reduce((set, score, who) => (is(score) ? set | (1 << who) : set), 0);
      const mark = markOf(
        bits((s) => s > last),
        bits((s) => s === last),
      );
      return `${mark} ${sum(best)}`;
    };
    fc.assert(
      fc.property(some, ({ grid, all, count, supposed }) => {
        if (count === all.length) return;
        const found = bestByMark(all, count, grid, [null, ...supposed], markOf);
        for (const [k, one] of [null, ...supposed].entries()) {
          const then =
            one === null ? all : all.with(one.who, { scores: [one.score], chances: [1] });
          const names = [...(found[k] ?? [])].flatMap(([mark, sums]) => named(sums, `${mark}`));
          expectSame(
            new Map(names),
            counted(then, (scores) => nameOf(scores, count)),
          );
        }
      }),
      { numRuns: times(100) },
    );
  });

  it('are asked about from a sum up, and the rest is one', () => {
    fc.assert(
      fc.property(some, fc.integer({ min: 0, max: 90_000 }), ({ grid, all }, least) => {
        const whole = sumOf(all, grid);
        const found = sumOf(all, grid, least);
        const from = (distribution: Distribution) =>
          new Map(named(distribution).filter(([name]) => Number(name) >= least));
        expectSame(from(found), from(whole));
        expect(sum(found.chances)).toBeCloseTo(1, 13);
        expect(found.scores).toEqual([...new Set(found.scores)].sort((a, b) => a - b));
      }),
      { numRuns: times(100) },
    );
  });
});
