import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestByMark, sumOfBest } from '../../lib/range/best.js';
import type { Distribution } from '../../lib/range/distribution.js';
import type { Grid } from '../../lib/scoring.js';

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
  const toCome = fc
    .uniqueArray(fc.tuple(score, fc.integer({ min: 1, max: 9 })), {
      selector: ([s]) => s,
      minLength: 1,
      maxLength: 4,
    })
    .map((pairs): Distribution => {
      const rising = [...pairs].sort(([a], [b]) => a - b);
      const all = rising.reduce((sum, [, weight]) => sum + weight, 0);
      return { scores: rising.map(([s]) => s), chances: rising.map(([, weight]) => weight / all) };
    });
  return fc.oneof({ weight: 1, arbitrary: known }, { weight: 2, arbitrary: toCome });
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
      { numRuns: 500 },
    );
  });

  it('are known with who has more than the last of them, and who as much', () => {
    fc.assert(
      fc.property(some, ({ grid, all, count }) => {
        if (count === all.length) return;
        const markOf = (above: number, level: number) => above * 64 + level;
        const found = bestByMark(all, count, grid, [null], markOf)[0] ?? [];
        const wanted = counted(all, (scores) => {
          const best = bestOf(scores, count);
          const last = best.at(-1) ?? 0;
          const bits = (is: (score: number) => boolean) =>
            scores.reduce((set, score, who) => (is(score) ? set | (1 << who) : set), 0);
          return `${markOf(
            bits((s) => s > last),
            bits((s) => s === last),
          )} ${sum(best)}`;
        });
        expectSame(new Map([...found].flatMap(([mark, one]) => named(one, `${mark}`))), wanted);
      }),
      { numRuns: 200 },
    );
  });
});
