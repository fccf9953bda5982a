/** The chances of the sums that are asked about, read from tables of sums (sum-table.ts). */
import type { Units } from '../../score.js';
import type { Frame, Term } from '../coordinates.js';
import type { SumTable } from '../sum-table.js';
import type { Move } from './readings.js';

/** Sums that are asked about, each with a cell. */
export interface AskedSums {
  /** By cell: where its sums begin; and where those of the last end. */
  readonly starts: Int32Array;
  readonly sums: Int32Array;
}

/** What sums of all terms there are, and how many of them a table has room for. */
export interface Extent extends Frame, Pick<Term, 'top' | 'mostSteps'> {
  readonly height: number;
}

/** What a sum is in a table of all terms (sum-table.ts), by how much it is below the highest. */
export interface Spots {
  readonly highest: Units;
  /** How many steps; -1 where no sum can be. */
  readonly steps: Int32Array;
  /** How many periods below the best. */
  readonly below: Int32Array;
}

export function spotsIn({ top, period, step, mostSteps, height }: Extent): Spots {
  const steps = new Int32Array(step * mostSteps + period * height).fill(-1);
  const below = new Int32Array(steps.length);
  for (let b = 0; b <= mostSteps; b++) {
    for (let k = 0; k < height; k++) {
      const at = step * (mostSteps - b) + period * k;
      steps[at] = b;
      below[at] = k;
    }
  }
  return { highest: top + step * mostSteps, steps, below };
}

/** Of some sums those from one index up to but without another. */
interface Asked {
  readonly sums: Int32Array;
  readonly start: number;
  readonly end: number;
}

/**
 * Adds, at sums that are asked about, how likely the sums of two tables, and what is fixed, together come to them, when
 * all of it is as likely and as much further on as `move` says.
 */
export function addRead(
  to: Float64Array,
  { sums, start, end }: Asked,
  { highest, steps, below }: Spots,
  fixed: Units,
  some: SumTable,
  others: SumTable,
  move: Move,
): void {
  const { chances, height, planes } = others;
  // Only for speed: with one sum in it, as of no terms, there is one product to read.
  const isOne = some.planes === 1 && some.reach === 1;
  const chance = move.chance * (isOne ? (some.chances[0] ?? 0) : 1);
  for (let n = start; n < end; n++) {
    const at = highest + fixed - (sums[n] ?? 0);
    if (at < 0 || at >= steps.length) continue;
    const b = (steps[at] ?? 0) - move.steps;
    const k = (below[at] ?? 0) - move.below;
    if (b < 0 || k < 0 || (isOne && b >= planes)) continue;
    const p = isOne ? (chances[b * height + k] ?? 0) : chanceOfBoth(some, others, b, k);
    to[n] = (to[n] ?? 0) + chance * p;
  }
}

/** How likely sums of two tables are together so many steps and so many periods below the best. */
function chanceOfBoth(some: SumTable, others: SumTable, steps: number, below: number): number {
  const { height } = others;
  const from = Math.max(below - others.reach + 1, 0);
  const to = Math.min(below, some.reach - 1);
  let p = 0;
  for (let b = Math.max(steps - others.planes + 1, 0); b <= Math.min(steps, some.planes - 1); b++) {
    const [here, there] = [b * height, (steps - b) * height + below];
    for (let k = from; k <= to; k++) {
      p += (some.chances[here + k] ?? 0) * (others.chances[there - k] ?? 0);
    }
  }
  return p;
}
