/**
 * Sums of independent scores, by convolution on the grid: exact but for the rounding of additions.
 * A score that is certain is a distribution of one score.
 */
import type { CompleteRange } from '../meet/realistic.js';
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import { summedUp, type Term, termsOf } from './coordinates.js';
import { type Distribution, withFalls, withoutFalls } from './distribution.js';
import { addTerm, emptyTable, readTable, type SumTable, tableOfNone } from './sum-table.js';

export function certain(score: Units): Distribution {
  return { scores: [score], chances: [1] };
}

export function shifted({ scores, chances }: Distribution, by: Units): Distribution {
  return by === 0 ? { scores, chances } : { scores: scores.map((s) => s + by), chances };
}

/**
 * The sum of independent distributions; of none, 0 for certain. Sums below `least` are not asked about: most
 * of them are taken for one.
 */
export function sumOf(
  distributions: readonly Distribution[],
  grid: Grid,
  least: Units = Number.NEGATIVE_INFINITY,
): Distribution {
  const [first, second] = distributions;
  if (first === undefined) return certain(0);
  if (second === undefined) return first;
  const { frame, terms } = termsOf(grid, distributions);
  const { top, mostBelow, mostSteps } = summedUp(terms);
  const whole = mostBelow + 1;
  const asked = Math.floor((top + frame.step * mostSteps - least) / frame.period) + 1;
  const height = Math.max(Math.min(whole, asked), 1);
  const found = readTable(tableOf(terms, height), frame, top);
  return height < whole ? withRest(found, least) : found;
}

/** With what is left out of a distribution below its lowest score. */
function withRest({ scores, chances }: Distribution, least: Units): Distribution {
  const rest = 1 - chances.reduce((sum, p) => sum + p, 0);
  const below = Math.min(least, scores[0] ?? least) - 1;
  return { scores: [below, ...scores], chances: [Math.max(rest, 0), ...chances] };
}

/**
 * The table of a sum of some terms, the shortest first, so that what is long is gone through less often; of
 * the first two the longer is the table that each value of the other moves.
 */
function tableOf(terms: readonly Term[], height: number): SumTable {
  let table = tableOfNone(height);
  let steps = 0;
  const rising = [...terms].sort((a, b) => a.chances.length - b.chances.length);
  for (const term of [...rising.slice(0, 2).reverse(), ...rising.slice(2)]) {
    steps += term.mostSteps;
    const next = emptyTable(steps, height);
    addTerm(next, table, byStepsAndBelow(term));
    table = next;
  }
  return table;
}

function byStepsAndBelow({ steps, below, chances, mostSteps, mostBelow }: Term): Float64Array[] {
  const found = Array.from({ length: mostSteps + 1 }, () => new Float64Array(mostBelow + 1));
  for (const [v, chance] of chances.entries()) {
    const list = found[steps[v] ?? 0];
    if (list !== undefined) list[below[v] ?? 0] = chance;
  }
  return found;
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
