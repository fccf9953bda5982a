/**
 * Results: everything that one entrant can end with, and where it stands among what all can. A result is
 * a total and, within it, a key, the lower ahead; both in one number are its rank (docs/model.md,
 * "Results in order").
 */
import { BITS, sortByDigit } from '../../range/digits.js';
import type { Units } from '../../score.js';

/** The results of one entrant, in no order. One rank may come more than once. */
export interface Results {
  /** Whole numbers: the lower is ahead. */
  readonly ranks: Float64Array | Int32Array;
  readonly chances: Float64Array;
}

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

/** A rank and a member are sorted as one number: there may be no more of both together than this. */
export const MOST_RANKS = Number.MAX_SAFE_INTEGER / 2;

/** Every rank is lower. */
export function rankCount({ orders, keys }: RankScale): number {
  return ((orders.at(-1) ?? 0) + 1) * keys;
}

export function rankOf({ top, orders, keys }: RankScale, total: Units, key: number): number {
  return (orders[top - total] ?? 0) * keys + key;
}

/** Ranks of members in order, each with its chance. */
export interface SortedResults {
  /** So many bits below the rank are the member. */
  readonly bits: number;
  /** Two numbers a result: rank and member in one, and the chance. */
  readonly pairs: Float64Array;
}

/** Results of members by rank, those of one rank by member: digit by digit from the last (radix sort). */
export function sortResults(all: readonly Results[]): SortedResults {
  const bits = Math.ceil(Math.log2(all.length + 1));
  const members = 2 ** bits;
  const count = all.reduce((sum, { ranks }) => sum + ranks.length, 0);
  let from = new Float64Array(2 * count);
  let highest = 0;
  let at = 0;
  for (const [i, { ranks, chances }] of all.entries()) {
    for (let k = 0; k < ranks.length; k++) {
      const rank = ranks[k] ?? 0;
      if (rank > highest) highest = rank;
      from[at++] = rank * members + i;
      from[at++] = chances[k] ?? 0;
    }
  }
  let to = new Float64Array(2 * count);
  for (let place = 1; place <= highest; place *= 1 << BITS) {
    sortByDigit(from, to, 1 / (place * members));
    [from, to] = [to, from];
  }
  return { bits, pairs: from };
}
