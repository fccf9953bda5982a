/**
 * Whole numbers that add up as scores do, without the gaps between the scores of a grid. A grid
 * score is 100 A + 33 B with B = 0, 1, 2 (for three judges in tenths), a sum of them (ΣA, ΣB), so
 * the index W ΣA + ΣB adds up, and sums of hundreds of scores take no more room than they need.
 */
import type { Score } from '../score.js';
import type { Grid } from '../scoring.js';
import type { Distribution } from './distribution.js';

export interface Lattice {
  /** The W of its indices. */
  readonly width: number;
  /** The index of one score. Indices add up. */
  readonly indexOf: (score: Score) => number;
  /** The index of a sum of so many scores; -1 where it can be none. */
  readonly indexOfSum: (sum: Score, terms: number) => number;
  /** What an amount that is added to a sum, such as a fall, adds to its index; null where that is no index. */
  readonly stepOf: (amount: Score) => number | null;
  /**
   * Chances by index from `first` on, of sums of so many scores and a fixed one, in the order of the
   * sums; those of 0 are left out.
   */
  readonly inOrder: (
    chances: Float64Array,
    first: number,
    terms: number,
    fixed: Score,
  ) => Distribution;
}

/** The grid as period · A + step · B; null when its scores are not of that form. */
function formOf(grid: Grid): { period: number; step: number; inverse: number } | null {
  const step = (grid.stepMillionths * 10 ** grid.decimals) / 1e6;
  if (!Number.isInteger(step)) return null;
  const common = greatestCommonDivisor(step, grid.counting);
  const period = step / common;
  const points = grid.counting / common;
  const first = Math.floor(period / points);
  for (let b = 0; b < points; b++) {
    if (Math.floor((b * period) / points) !== b * first) return null;
  }
  if (points === 1) return { period, step: 0, inverse: 0 };
  for (let inverse = 1; inverse < period; inverse++) {
    if ((inverse * first) % period === 1) return { period, step: first, inverse };
  }
  return null;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

/** A lattice for sums of at most `terms` of these scores; of single units where no better one fits. */
export function latticeFor(
  grid: Grid,
  of: readonly { readonly scores: readonly Score[] }[],
  terms: number,
): Lattice {
  let base = Number.POSITIVE_INFINITY;
  for (const { scores } of of) for (const score of scores) base = Math.min(base, score);
  const units = latticeOf({
    base,
    period: 1,
    width: 1,
    step: 0,
    inverse: 0,
    low: 0,
    restOf: () => 0,
  });
  const form = formOf(grid);
  if (form === null) return units;
  const { period, step, inverse } = form;
  const restOf = (score: Score): number => {
    const b = ((score - base) * inverse) % period;
    return b > period / 2 ? b - period : b;
  };
  let low = 0;
  let high = 0;
  for (const { scores } of of) {
    for (const score of scores) {
      const b = restOf(score);
      if ((score - base - step * b) % period !== 0 || score - base < step * b) return units;
      low = Math.min(low, b);
      high = Math.max(high, b);
    }
  }
  const width = (high - low) * terms + 1;
  // Otherwise two indices would stand for one sum, or the lattice would be wider than the units.
  if (width > period) return units;
  return latticeOf({ base, period, width, step, inverse, low, restOf });
}

/** Scores as base + period · A + step · (B + low), with B from 0 up to what `width` leaves room for. */
interface Form {
  readonly base: Score;
  readonly period: number;
  readonly width: number;
  readonly step: number;
  /** What step is multiplied by to leave 1 when divided by the period; 0 where step is. */
  readonly inverse: number;
  readonly low: number;
  /** B + low of a score. */
  readonly restOf: (score: Score) => number;
}

function latticeOf({ base, period, width, step, inverse, low, restOf }: Form): Lattice {
  return {
    width,
    indexOf: (score) => {
      const b = restOf(score);
      return (width * (score - base - step * b)) / period + b - low;
    },
    indexOfSum: (sum, n) => {
      const past = sum - n * (base + step * low);
      if (past < 0) return -1;
      const b = (past * inverse) % period;
      const rest = past - step * b;
      return b >= width || rest < 0 || rest % period !== 0 ? -1 : (width * rest) / period + b;
    },
    stepOf: (amount) => (amount % period === 0 ? (width * amount) / period : null),
    inOrder: (chances, first, n, fixed) => {
      // Within one period: what each B is past a whole number of periods, the least first.
      const rests = Array.from({ length: width }, (_, b) => b);
      rests.sort((a, b) => ((step * a) % period) - ((step * b) % period));
      const past = rests.map((b) => (step * b) % period);
      const starts = rests.map((b) => b - width * Math.floor((step * b) / period));
      let count = 0;
      for (let i = 0; i < chances.length; i++) if (chances[i] !== 0) count++;
      const scores = new Array<Score>(count);
      const kept = new Array<number>(count);
      const begin = Math.floor(first / width);
      let score = fixed + n * (base + step * low) + period * begin;
      for (let at = width * begin - first, found = 0; found < count; at += width) {
        for (let k = 0; k < width; k++) {
          const index = at + starts[k]!;
          const chance = index < 0 || index >= chances.length ? 0 : chances[index]!;
          if (chance === 0) continue;
          scores[found] = score + past[k]!;
          kept[found++] = chance;
        }
        score += period;
      }
      return { scores, chances: kept };
    },
  };
}
