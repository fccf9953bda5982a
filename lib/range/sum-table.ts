/**
 * Chances of sums in a table: by steps, and within that by how many periods they are below the best
 * (coordinates.ts). What one more term adds to every sum moves the table by so many steps and periods.
 */
import type { Units } from '../score.js';
import type { Frame } from './coordinates.js';
import type { Distribution } from './distribution.js';
import { addFour, addScaled } from './vector.js';

export interface SumTable {
  /** How many numbers a count of steps takes: sums further below the best are left out. */
  readonly height: number;
  readonly chances: Float64Array;
  /** So many steps, and so many of each height, may hold something: above that all is 0. */
  planes: number;
  reach: number;
}

/** A table for sums of up to so many steps, without any. */
export function emptyTable(mostSteps: number, height: number): SumTable {
  return { height, chances: new Float64Array((mostSteps + 1) * height), planes: 0, reach: 0 };
}

/** The table of no terms: 0 for certain. */
export function tableOfNone(height: number): SumTable {
  const table = emptyTable(0, height);
  table.chances[0] = 1;
  return Object.assign(table, { planes: 1, reach: 1 });
}

/** Adds what a table is when every sum has one more term, so likely; what falls off the height is left out. */
export function addShifted(
  to: SumTable,
  from: SumTable,
  steps: number,
  below: number,
  chance: number,
): void {
  const { height } = to;
  const count = Math.min(from.reach, height - below);
  if (count <= 0) return;
  for (let b = 0; b < from.planes; b++) {
    addScaled(to.chances, (b + steps) * height + below, from.chances, b * height, count, chance);
  }
  to.planes = Math.max(to.planes, from.planes + steps);
  to.reach = Math.max(to.reach, count + below);
}

/** Adds what a table is when every sum has one more term: by steps, how likely each count below its best is. */
export function addTerm(to: SumTable, from: SumTable, term: readonly Float64Array[]): void {
  const { height } = to;
  for (const [steps, chances] of term.entries()) {
    for (let below = 0; below < Math.min(chances.length, height); below += 4) {
      const [a, b] = [chances[below] ?? 0, chances[below + 1] ?? 0];
      const [c, d] = [chances[below + 2] ?? 0, chances[below + 3] ?? 0];
      if (b + c + d === 0) {
        if (a > 0) addShifted(to, from, steps, below, a);
        continue;
      }
      for (let p = 0; p < from.planes; p++) {
        const at = (p + steps) * height;
        const [to4, end] = [at + below, at + height];
        addFour(to.chances, to4, end, from.chances, p * height, from.reach, a, b, c, d);
      }
      to.planes = Math.max(to.planes, from.planes + steps);
      to.reach = Math.min(Math.max(to.reach, from.reach + below + 3), height);
    }
  }
}

/** Where each sum stands in a table, in rising order of the sums. */
function sumsInOrder(
  { period, step }: Frame,
  top: Units,
  planes: number,
  height: number,
): { readonly scores: Int32Array; readonly indices: Int32Array } {
  // How many whole periods the steps of a plane are, and what is left of them, the least first.
  const offsets = Array.from({ length: planes }, (_, b) => {
    const whole = Math.floor((b * step) / period);
    return { from: b * height, whole, rest: b * step - whole * period };
  }).sort((a, b) => a.rest - b.rest);
  const most = Math.floor(((planes - 1) * step) / period);
  const scores = new Int32Array(planes * height);
  const indices = new Int32Array(planes * height);
  let n = 0;
  for (let below = height - 1; below >= -most; below--) {
    for (const { from, whole, rest } of offsets) {
      const d = below + whole;
      if (d < 0 || d >= height) continue;
      scores[n] = top - period * below + rest;
      indices[n++] = from + d;
    }
  }
  return { scores, indices };
}

/** The sums of a table that have a chance, in rising order. */
export function readTable(table: SumTable, frame: Frame, top: Units): Distribution {
  const { scores, indices } = sumsInOrder(frame, top, table.planes, table.height);
  const sums: Units[] = [];
  const chances: number[] = [];
  let last = -1;
  for (let n = 0; n < indices.length; n++) {
    const chance = table.chances[indices[n] ?? 0] ?? 0;
    if (chance === 0) continue;
    const score = scores[n] ?? 0;
    if (last >= 0 && sums[last] === score) chances[last] = (chances[last] ?? 0) + chance;
    else {
      sums.push(score);
      chances.push(chance);
      last++;
    }
  }
  return { scores: sums, chances };
}
