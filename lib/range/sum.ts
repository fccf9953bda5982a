/**
 * Sums of independent scores, by convolution on the grid: exact but for the rounding of additions.
 * A score that is certain is a distribution of one score.
 */
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import { type Term, termsOf } from './coordinates.js';
import { type CompleteRange, type Distribution, withFalls, withoutFalls } from './distribution.js';
import { addShifted, emptyTable, readTable, type SumTable, tableOfNone } from './sum-table.js';

export function certain(score: Units): Distribution {
  return { scores: [score], chances: [1] };
}

export function shifted({ scores, chances }: Distribution, by: Units): Distribution {
  return by === 0 ? { scores, chances } : { scores: scores.map((s) => s + by), chances };
}

/** The sum of independent distributions; of none, 0 for certain. */
export function sumOf(distributions: readonly Distribution[], grid: Grid): Distribution {
  const [first, second] = distributions;
  if (first === undefined) return certain(0);
  if (second === undefined) return first;
  const { frame, terms } = termsOf(grid, distributions);
  const top = terms.reduce((sum, t) => sum + t.top, 0);
  return readTable(tableOf(terms), frame, top);
}

/** The table of a sum of some terms, the shortest first, so that what is long is gone through less often. */
function tableOf(terms: readonly Term[]): SumTable {
  const height = terms.reduce((sum, t) => sum + t.mostBelow, 1);
  let table = tableOfNone(height);
  let steps = 0;
  for (const term of [...terms].sort((a, b) => a.chances.length - b.chances.length)) {
    steps += term.mostSteps;
    const next = emptyTable(steps, height);
    for (const [v, chance] of term.chances.entries()) {
      addShifted(next, table, term.steps[v] ?? 0, term.below[v] ?? 0, chance);
    }
    table = next;
  }
  return table;
}

/**
 * The sum of the scores of independent routines and of what is certain. A fall costs the same in
 * each of them, so the scores without falls are added up, and all the falls taken off at once.
 */
export function sumOfRoutines(
  ranges: readonly CompleteRange[],
  grid: Grid,
  fall: Units,
  sure: Units = 0,
): Distribution {
  const hits = ranges.map((range) => withoutFalls(range, grid));
  const isFloored = ranges.some(
    ({ falls }, i) => falls > 0 && (hits[i]?.scores[0] ?? 0) < 2 * fall,
  );
  const parts = isFloored
    ? ranges.map((range) => withFalls(range, grid, fall))
    : [...hits, fallsIn(ranges, fall)];
  const open = parts.filter((p) => p.scores.length > 1);
  const fixed = parts.reduce(
    (sum, p) => (p.scores.length > 1 ? sum : sum + (p.scores[0] ?? 0)),
    sure,
  );
  return shifted(sumOf(open, grid), fixed);
}

/** What all the falls of some routines take off, never above 0. */
function fallsIn(ranges: readonly CompleteRange[], fall: Units): Distribution {
  let counts = [1];
  for (const { falls: f } of ranges) {
    const weights = f === 0 ? [1] : [1 - f, f * (1 - f), f * f];
    const more = new Array<number>(counts.length + weights.length - 1).fill(0);
    for (const [n, chance] of counts.entries()) {
      for (const [m, weight] of weights.entries()) {
        more[n + m] = (more[n + m] ?? 0) + chance * weight;
      }
    }
    counts = more;
  }
  const falling = counts.map((chance, n) => ({ score: -n * fall, chance })).reverse();
  const possible = falling.filter(({ chance }) => chance > 0);
  return { scores: possible.map((p) => p.score), chances: possible.map((p) => p.chance) };
}
