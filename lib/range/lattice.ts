/**
 * Whole numbers that add up as scores do, without the gaps between the scores of a grid. A grid
 * score is 100 A + 33 B with B = 0, 1, 2 (for three judges in tenths), a sum of them (ΣA, ΣB), so
 * the index W ΣA + ΣB adds up, and sums of hundreds of scores take no more room than they need.
 */
import type { Score } from '../score.js';
import type { Grid } from '../scoring.js';

export interface Lattice {
  /** The index of one score. Indices add up. */
  readonly indexOf: (score: Score) => number;
  /** The sum of so many scores that an index stands for. */
  readonly sumAt: (index: number, terms: number) => Score;
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
export function latticeFor(grid: Grid, scores: readonly Score[], terms: number): Lattice {
  const base = scores.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const units: Lattice = {
    indexOf: (score) => score - base,
    sumAt: (index, n) => index + n * base,
  };
  const form = formOf(grid);
  if (form === null) return units;
  const { period, step, inverse } = form;
  const restOf = (score: Score): number => {
    const b = ((score - base) * inverse) % period;
    return b > period / 2 ? b - period : b;
  };
  let low = 0;
  let high = 0;
  for (const score of scores) {
    const b = restOf(score);
    if ((score - base - step * b) % period !== 0 || score - base < step * b) return units;
    low = Math.min(low, b);
    high = Math.max(high, b);
  }
  const width = (high - low) * terms + 1;
  // Otherwise two indices would stand for one sum, or the lattice would be wider than the units.
  if (width > period) return units;
  return {
    indexOf: (score) => {
      const b = restOf(score);
      return (width * (score - base - step * b)) / period + b - low;
    },
    sumAt: (index, n) => {
      const b = index % width;
      return n * base + (period * (index - b)) / width + step * (b + n * low);
    },
  };
}
