/**
 * Totals that several can have, each with a key that tells those on one total apart, the lower ahead: both in one
 * number are a rank (docs/model.md, "Results in order").
 */
import type { Units } from '../score.js';
import type { Distribution } from './distribution.js';

/** What one can end with, in no order. One rank may come more than once. */
export interface Results {
  /** Whole numbers: the lower is ahead. */
  readonly ranks: Float64Array | Int32Array;
  readonly chances: Float64Array;
}

/** A rank and a member are sorted as one number: there may be no more of both together than this. */
export const MOST_RANKS = Number.MAX_SAFE_INTEGER / 2;

/** rank = orders[top - total] · keys + key. */
export interface RankScale {
  /** The highest total there is. */
  readonly top: Units;
  /** By how much a total is below that: how many of those that can be are higher. */
  readonly orders: Int32Array;
  /** Every key is lower. */
  readonly keys: number;
}

/** A scale for totals, each in lists of any order. */
export function rankScale(totals: readonly (readonly Units[])[], keys: number): RankScale {
  let [top, least] = [0, Number.POSITIVE_INFINITY];
  for (const some of totals) {
    for (const total of some) {
      if (total > top) top = total;
      if (total < least) least = total;
    }
  }
  const orders = new Int32Array(Math.max(top - least, 0) + 2);
  for (const some of totals) for (const total of some) orders[top - total + 1] = 1;
  for (let k = 1; k < orders.length; k++) orders[k] = (orders[k] ?? 0) + (orders[k - 1] ?? 0);
  return { top, orders, keys };
}

/** Every rank is lower. */
export function rankCount({ orders, keys }: RankScale): number {
  return ((orders.at(-1) ?? 0) + 1) * keys;
}

export function rankOf({ top, orders, keys }: RankScale, total: Units, key: number): number {
  return (orders[top - total] ?? 0) * keys + key;
}

/** By order: the total. */
export function totalsOf({ top, orders }: RankScale): Int32Array {
  const totals = new Int32Array((orders.at(-1) ?? 0) + 1);
  for (let d = 0; d + 1 < orders.length; d++) totals[orders[d] ?? 0] = top - d;
  return totals;
}

/** By order, and behind all: the chance that a total is before that; those below `least` are the last. */
export function chancesBefore(
  { scores, chances }: Distribution,
  { top, orders }: RankScale,
  least: Units,
): Float64Array {
  const count = (orders.at(-1) ?? 0) + 1;
  const before = new Float64Array(count + 1);
  for (let k = 0; k < scores.length; k++) {
    const total = scores[k] ?? 0;
    const next = total < least ? count : (orders[top - total] ?? 0) + 1;
    before[next] = (before[next] ?? 0) + (chances[k] ?? 0);
  }
  for (let n = 1; n <= count; n++) before[n] = (before[n] ?? 0) + (before[n - 1] ?? 0);
  return before;
}
