/** The joint chances of a sum and of the cell of all scores, against every way the scores can come about. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Distribution } from '../../lib/range/distribution.js';
import { type Cells, cellsFor, type NextScores } from '../../lib/range/joint/cells.js';
import { chancesByCell, chancesFromCell } from '../../lib/range/joint/joint.js';
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

/** By sum and cell: the chance of every way that the terms, and what is known, come to it. */
function chancesOf({ parts, cells, least }: Case, known: readonly number[]): Map<string, number> {
  const found = new Map<string, number>();
  for (const { scores, chance } of waysOf(parts)) {
    if (sumOf(scores) < least) continue;
    const name = nameOf(sumOf(scores), cellOf(cells, [...scores, ...known]));
    found.set(name, (found.get(name) ?? 0) + chance);
  }
  return found;
}

const nameOf = (sum: number, cell: number) => `${sum} in ${cell}`;

const indices = ({ values }: Cells, known: readonly number[]) =>
  known.map((s) => values.indexOf(s)).sort((a, b) => a - b);

it('is that of every way with scores in the cell', () => {
  let several = 0;
  fc.assert(
    fc.property(cases, (one) => {
      const { parts, known, cells, least } = one;
      if (cells.count > 2) several++;
      const [some = []] = known;
      const expected = chancesOf(one, some);
      const found = chancesByCell(parts, indices(cells, some), GRID, cells, least);
      const got = new Map<string, number>();
      for (const { cell, chances } of found.cells) {
        for (const [n, sum] of found.sums.entries()) {
          if (sum < least || chances[n] === 0) continue;
          const name = nameOf(sum, cell);
          expect(got.has(name)).toBe(false);
          got.set(name, chances[n] ?? 0);
        }
      }
      for (const name of new Set([...expected.keys(), ...got.keys()])) {
        const [a, b] = [expected.get(name) ?? 0, got.get(name) ?? 0];
        expect(Math.abs(a - b), name).toBeLessThan(1e-12);
      }
    }),
    { numRuns: times(200), seed: 20261128 },
  );
  expect(several).toBeGreaterThan(times(200) / 4);
});

it('is that of every way with scores in the cell or a later one, for each list of known scores', () => {
  let several = 0;
  fc.assert(
    fc.property(cases, (one) => {
      const { parts, known, cells, least } = one;
      if (known.length > 1 && cells.count > 2) several++;
      const totals = known.map(sumOf);
      // Every sum that can be, with and without what is known, and one that is too high and too low.
      const sums = new Set(
        waysOf(parts).flatMap(({ scores }) => totals.map((total) => sumOf(scores) + total)),
      );
      const asked = [...sums, 0, 1e6].sort((a, b) => b - a);
      const starts = Int32Array.from({ length: cells.count + 1 }, (_, c) => c * asked.length);
      const all = Int32Array.from({ length: cells.count * asked.length }, (_, n) => {
        return asked[n % asked.length] ?? 0;
      });
      const lists = known.map((some, k) => ({
        known: indices(cells, some),
        fixed: totals[k] ?? 0,
      }));
      const found = chancesFromCell(parts, lists, { starts, sums: all }, GRID, cells, least);
      expect(found.length).toBe(known.length);
      for (const [k, chances] of found.entries()) {
        const expected = chancesOf(one, known[k] ?? []);
        for (const [n, sum] of asked.entries()) {
          let later = 0;
          for (let c = cells.count - 1; c >= 0; c--) {
            const of = sum - (totals[k] ?? 0);
            later += expected.get(nameOf(of, c)) ?? 0;
            if (of < least) continue;
            const got = chances[c * asked.length + n] ?? 0;
            expect(Math.abs(got - later), nameOf(of, c)).toBeLessThan(1e-12);
          }
        }
      }
    }),
    { numRuns: times(200), seed: 20261129 },
  );
  expect(several).toBeGreaterThan(times(200) / 4);
});

// Where values are many and sums asked about few, sums of half of the terms are kept by themselves.
it.each([2, 3, 4].flatMap((size) => [true, false].map((isLowest) => [size, isLowest] as const)))(
  'is that of every way where a few sums of %i terms of many values are asked about, the lowest first: %s',
  (size, isLowest) => {
    const many = Math.round(30_000 ** (1 / size));
    const parts = Array.from({ length: size }, (_, r): Distribution => {
      const steps = Array.from({ length: many }, (_, k) => r + k + (k % (r + 2)));
      const rising = [...new Set(steps)].sort((a, b) => a - b);
      // The highest is in whole tenths, and so likely that it is a class of its own.
      const highest = 3 * Math.ceil((rising.at(-1) ?? 0) / 3) + 3;
      const weights = [...rising.map((k) => 1 + ((7 * k + 3 * r) % 5)), 3 * many];
      const all = sumOf(weights);
      const scores = [...rising, highest].map((k) => point(399 + k));
      return { scores, chances: weights.map((weight) => weight / all) };
    });
    const known = [point(405)];
    const values = [...new Set([...parts.flatMap(({ scores }) => scores), ...known])];
    values.sort((a, b) => (isLowest ? a - b : b - a));
    const wanted = { share: 0.2, most: 1e9, compared: size + 1, sums: [1, 1, 1, 1] };
    const cells = cellsFor(values, [[...parts, ...known.map(certain)]], wanted);
    const expected = chancesOf({ parts, known: [known], cells, least: 0 }, known);
    const middle = sumOf(parts.map(({ scores }) => scores[scores.length >> 1] ?? 0));
    const top = sumOf(parts.map(({ scores }) => scores.at(-1) ?? 0));
    const asked = [top, top - 33, middle + 200, middle, middle - 133];
    const starts = Int32Array.from({ length: cells.count + 1 }, (_, c) => c * asked.length);
    const sums = Int32Array.from({ length: cells.count * asked.length }, (_, n) => {
      return (asked[n % asked.length] ?? 0) + sumOf(known);
    });
    const lists = [{ known: indices(cells, known), fixed: sumOf(known) }];
    const [found] = chancesFromCell(parts, lists, { starts, sums }, GRID, cells, 0);
    let likely = 0;
    for (const [n, sum] of asked.entries()) {
      let later = 0;
      for (let c = cells.count - 1; c >= 0; c--) {
        later += expected.get(nameOf(sum, c)) ?? 0;
        const got = found?.[c * asked.length + n] ?? 0;
        expect(Math.abs(got - later), nameOf(sum, c)).toBeLessThan(1e-12);
        if (later > 0.001) likely++;
      }
    }
    expect(cells.count).toBeGreaterThan(2);
    expect(likely).toBeGreaterThan(1);
  },
);
