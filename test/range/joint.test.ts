/** The joint chances of a sum and of the cell of all scores, against every way the scores can come about. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Distribution } from '../../lib/range/distribution.js';
import { type Cells, cellsFor, type NextScores } from '../../lib/range/joint/cells.js';
import { jointResults } from '../../lib/range/joint/joint.js';
import { certain } from '../../lib/range/sum.js';
import type { Grid } from '../../lib/scoring.js';
import { distributionsOf } from '../support/distributions.js';
import { times } from '../support/times.js';

/** Three judges in tenths: thirds of a tenth, cut to thousandths. */
const GRID: Grid = { counting: 3, stepMillionths: 100_000, decimals: 3 };
const point = (j: number) => Math.floor((j * 100) / 3);

const score = fc.oneof(
  { weight: 5, arbitrary: fc.integer({ min: 400, max: 406 }).map(point) },
  { weight: 1, arbitrary: fc.integer({ min: 400, max: 403 }).map((j) => point(j) - 1000) },
);
interface Case {
  readonly parts: readonly Distribution[];
  /** Scores that are known, in several cases that have as many. */
  readonly known: readonly (readonly number[])[];
  readonly cells: Cells;
  readonly least: number;
}

const cases = fc
  .record({
    parts: fc.array(distributionsOf(score), { minLength: 1, maxLength: 3 }),
    known: fc
      .integer({ min: 0, max: 2 })
      .chain((n) =>
        fc.array(fc.array(score, { minLength: n, maxLength: n }), { minLength: 1, maxLength: 4 }),
      ),
    isLowest: fc.boolean(),
    share: fc.constantFrom(0.02, 0.1, 0.3),
    compared: fc.integer({ min: 1, max: 3 }),
    quantile: fc.constantFrom(0, 0.3, 0.7),
  })
  .map(({ parts, known, isLowest, share, compared, quantile }): Case => {
    const all = [...parts.flatMap(({ scores }) => scores), ...known.flat()];
    const values = [...new Set(all)].sort((a, b) => (isLowest ? a - b : b - a));
    const field = [[...parts, ...(known[0] ?? []).map(certain)]];
    const count = parts.length + (known[0]?.length ?? 0);
    const wanted = { share, most: 1e9, compared: Math.min(compared, count), sums: [1, 1, 1] };
    const sums = waysOf(parts)
      .map(({ scores }) => sumOf(scores))
      .sort((a, b) => a - b);
    const least = sums[Math.floor(quantile * sums.length)] ?? 0;
    return { parts, known, cells: cellsFor(values, field, wanted), least };
  });

const sumOf = (scores: readonly number[]) => scores.reduce((a, b) => a + b, 0);

function waysOf(all: readonly Distribution[]): { scores: number[]; chance: number }[] {
  const [first, ...others] = all;
  if (first === undefined) return [{ scores: [], chance: 1 }];
  return waysOf(others).flatMap(({ scores, chance }) =>
    first.scores.map((s, k) => ({
      scores: [s, ...scores],
      chance: chance * (first.chances[k] ?? 0),
    })),
  );
}

/** The cell of some scores: how they begin, in the order of the rule. */
function cellOf({ values, first }: Cells, scores: readonly number[]): number {
  const order = scores.map((s) => values.indexOf(s)).sort((a, b) => a - b);
  let classes: readonly NextScores[] = first;
  for (const v of order) {
    const after = classes.find(({ from, to }) => from <= v && v < to)?.after ?? -1;
    if (typeof after === 'number') return after;
    classes = after;
  }
  throw new Error('the scores do not tell the cell');
}

it('are those of every way, for each list of known scores', () => {
  let several = 0;
  fc.assert(
    fc.property(cases, ({ parts, known, cells, least }) => {
      const lists = known.map((some) =>
        some.map((s) => cells.values.indexOf(s)).sort((a, b) => a - b),
      );
      const found = jointResults(parts, lists, GRID, cells, least);
      expect(found.length).toBe(known.length);
      if (known.length > 1 && cells.count > 2) several++;
      for (const [k, { cells: taken, below }] of found.entries()) {
        const expected = new Map<string, number>();
        let all = 0;
        for (const { scores, chance } of waysOf(parts)) {
          if (sumOf(scores) < least) continue;
          const name = `${sumOf(scores)} in ${cellOf(cells, [...scores, ...(known[k] ?? [])])}`;
          expected.set(name, (expected.get(name) ?? 0) + chance);
          all += chance;
        }
        const got = new Map<string, number>();
        let sum = below;
        for (const { cell, sums, chances, chance } of taken) {
          for (const [n, one] of sums.entries()) {
            sum += chances[n] ?? 0;
            const name = `${one} in ${cell}`;
            expect(got.has(name)).toBe(false);
            if (one >= least) got.set(name, chances[n] ?? 0);
          }
          expect(Math.abs(sumOf([...chances]) - chance)).toBeLessThan(1e-12);
        }
        expect(Math.abs(sum - 1)).toBeLessThan(1e-12);
        expect(below).toBeLessThan(1 - all + 1e-12);
        for (const name of new Set([...expected.keys(), ...got.keys()])) {
          const [one, other] = [expected.get(name) ?? 0, got.get(name) ?? 0];
          expect(Math.abs(one - other), name).toBeLessThan(1e-12);
        }
      }
    }),
    { numRuns: times(300), seed: 20261128 },
  );
  expect(several).toBeGreaterThan(times(300) / 4);
});
