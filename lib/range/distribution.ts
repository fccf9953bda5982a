/** A range → the chance of every score, on the score grid. */
import { badUsage } from '../error.js';
import type { Meet, Range } from '../meet/meet.js';
import { type CompleteRange, isComplete, type WithoutFalls } from '../meet/realistic.js';
import type { Units } from '../score.js';
import { type Grid, gridPoints } from '../scoring.js';
import { betaCells } from './beta.js';

/** Scores in rising order and the chance of each; the chances add up to 1. */
export interface Distribution {
  /** In units, each a score that can happen. */
  readonly scores: readonly Units[];
  /** As many as there are scores, 0 to 1. */
  readonly chances: readonly number[];
}

/**
 * The scores of a routine without a fall: modified PERT on [low, high], a Beta with
 * a = 1 + 4(likely-low)/(high-low) and b = 1 + 4(high-likely)/(high-low), put on the grid points of
 * the range by its cumulative chance between the midpoints of neighbours; the end cells reach to low
 * and high. `likely` for certain when the range has no width or no grid point.
 */
export function withoutFalls(range: WithoutFalls, grid: Grid): Distribution {
  return knownOf(range, grid).hits;
}

/** What is known of a range on a grid. */
interface Known {
  readonly grid: Grid;
  readonly hits: Distribution;
  /** With falls of one cost; null where nobody has asked. */
  fallen: { readonly fall: Units; readonly distribution: Distribution } | null;
}

/** Ranges never change, so each is put on the grid once. */
const known = new WeakMap<Range, Known>();

function knownOf(range: WithoutFalls, grid: Grid): Known {
  const kept = known.get(range);
  if (kept?.grid === grid) return kept;
  const found = { grid, hits: onGrid(range, grid), fallen: null };
  known.set(range, found);
  return found;
}

function onGrid({ low, likely, high }: WithoutFalls, grid: Grid): Distribution {
  const scores = gridPoints(low, high, grid);
  if (low === high || scores.length === 0) return { scores: [likely], chances: [1] };
  const width = high - low;
  const a = 1 + (4 * (likely - low)) / width;
  const b = 1 + (4 * (high - likely)) / width;
  const edges = [0];
  for (let i = 1; i < scores.length; i++) {
    edges.push(((scores[i - 1]! + scores[i]!) / 2 - low) / width);
  }
  edges.push(1);
  return { scores, chances: betaCells(edges, a, b) };
}

/**
 * The scores of a routine, falls included: none with chance 1 - f, one with f(1 - f), two with
 * f · f. Each takes its cost off; no score falls below 0.
 */
export function withFalls(range: CompleteRange, grid: Grid, fall: Units): Distribution {
  const kept = knownOf(range, grid);
  if (kept.fallen?.fall !== fall) {
    kept.fallen = { fall, distribution: fallen(kept.hits, range.falls, fall) };
  }
  return kept.fallen.distribution;
}

/** The same, worked out anew and not kept: for one of many ranges that are asked about once. */
export function withFallsOnce(range: CompleteRange, grid: Grid, fall: Units): Distribution {
  return fallen(onGrid(range, grid), range.falls, fall);
}

function fallen(hits: Distribution, f: number, fall: Units): Distribution {
  const size = hits.scores.length;
  const scores: Units[] = [];
  const chances: number[] = [];
  // Three rising lists, each a fall lower than the one before, merged: how far each has been taken.
  let none = f === 1 ? size : 0;
  let one = f === 0 || f === 1 ? size : 0;
  let two = f === 0 ? size : 0;
  while (none < size || one < size || two < size) {
    const a = none < size ? hits.scores[none]! : Number.POSITIVE_INFINITY;
    const b = one < size ? Math.max(hits.scores[one]! - fall, 0) : Number.POSITIVE_INFINITY;
    const c = two < size ? Math.max(hits.scores[two]! - 2 * fall, 0) : Number.POSITIVE_INFINITY;
    const lowest = Math.min(a, b, c);
    let chance = 0;
    if (c === lowest) chance += f * f * hits.chances[two++]!;
    if (b === lowest) chance += f * (1 - f) * hits.chances[one++]!;
    if (a === lowest) chance += (1 - f) * hits.chances[none++]!;
    if (lowest === 0 && scores[0] === 0) chances[0]! += chance;
    else {
      scores.push(lowest);
      chances.push(chance);
    }
  }
  return { scores, chances };
}

/** The distribution of a range of a meet, falls included; null when something of it is missing. */
export function distributionIn(meet: Meet, range: Range): Distribution | null {
  return isComplete(range) ? withFalls(range, meet.scoring.grid, meet.scoring.fall) : null;
}

/**
 * The chance of a score of at least `score`.
 * @param distribution - As `distributionOf` gives it.
 * @param score - In units.
 * @returns A probability, 0 to 1.
 * @throws `wrong-score`: not a whole number of units
 * @example
 * chanceOfAtLeast({ scores: [13000, 13033], chances: [0.25, 0.75] }, score('13.033')) // → 0.75
 */
export function chanceOfAtLeast({ scores, chances }: Distribution, score: Units): number {
  if (!Number.isSafeInteger(score)) {
    throw badUsage(
      'wrong-score',
      `${score} is not a whole number of units`,
      "score('13.566') is one",
    );
  }
  let sum = 0;
  // From the top, smallest first, so that small chances keep their digits.
  for (let i = scores.length - 1; i >= 0 && (scores[i] ?? 0) >= score; i--) sum += chances[i] ?? 0;
  return sum >= 1 || score <= (scores[0] ?? 0) ? 1 : sum;
}

/**
 * The lowest score with at least that cumulative chance.
 * @param distribution - As `distributionOf` gives it.
 * @param chance - From 0 to 1: 0.5 is the median.
 * @returns In units.
 * @example
 * quantile({ scores: [13000, 13033], chances: [0.25, 0.75] }, 0.5) // → 13033
 */
export function quantile({ scores, chances }: Distribution, chance: number): Units {
  let sum = 0;
  for (const [i, score] of scores.entries()) {
    sum += chances[i] ?? 0;
    if (sum >= chance) return score;
  }
  return scores.at(-1) ?? 0;
}

/** The cumulative chances, one a score. */
export function cumulative({ chances }: Distribution): number[] {
  let sum = 0;
  return chances.map((c, i) => {
    sum += c;
    return i === chances.length - 1 ? 1 : sum;
  });
}

/** What rounding can take from a sum of chances: with a fall in ten it would decide the 10th percentile. */
const ROUNDING = 1e-12;

/** The lowest score with at least that cumulative chance, whatever rounding took from it. */
export function percentile(distribution: Distribution, chance: number): Units {
  return quantile(distribution, chance - ROUNDING);
}
