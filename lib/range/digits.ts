/** Sorting by small whole numbers: how many there are of each tells where the next one begins. */
import type { Results } from './rank-scale.js';

/** By so many bits at a time. */
const BITS = 11;

/** Pairs of numbers by some bits of the first, one step of a radix sort. `scale`: what brings those bits down to the last places. */
function sortByDigit(from: Float64Array, to: Float64Array, scale: number): void {
  const mask = (1 << BITS) - 1;
  // By digit: where the next pair with it goes.
  const next = new Int32Array(mask + 2);
  for (let k = 0; k < from.length; k += 2) {
    const digit = ((from[k] ?? 0) * scale) & mask;
    next[digit + 1] = (next[digit + 1] ?? 0) + 2;
  }
  for (let digit = 1; digit <= mask; digit++) {
    next[digit] = (next[digit] ?? 0) + (next[digit - 1] ?? 0);
  }
  for (let k = 0; k < from.length; k += 2) {
    const first = from[k] ?? 0;
    const digit = (first * scale) & mask;
    const at = next[digit] ?? 0;
    next[digit] = at + 2;
    to[at] = first;
    to[at + 1] = from[k + 1] ?? 0;
  }
}

/** Items in order of their keys. */
export interface KeyOrder {
  /** By key: where its items begin; and where the last ones end. */
  readonly starts: Int32Array;
  /** By item: where it goes; -1 where it has no key. */
  readonly places: Int32Array;
}

/** Items in order of their keys, which are lower than `count`, or negative for none; those of one key as they were. */
export function inKeyOrder(keys: Int32Array, count: number): KeyOrder {
  const starts = new Int32Array(count + 1);
  for (let n = 0; n < keys.length; n++) {
    const key = keys[n] ?? -1;
    if (key >= 0) starts[key + 1] = (starts[key + 1] ?? 0) + 1;
  }
  for (let key = 1; key <= count; key++) starts[key] = (starts[key] ?? 0) + (starts[key - 1] ?? 0);
  const next = starts.slice();
  const places = new Int32Array(keys.length);
  for (let n = 0; n < keys.length; n++) {
    const key = keys[n] ?? -1;
    const place = key < 0 ? -1 : (next[key] ?? 0);
    places[n] = place;
    if (key >= 0) next[key] = place + 1;
  }
  return { starts, places };
}

/** Ranks of members in order, each with its chance. */
export interface SortedRanks {
  /** So many bits below the rank are the member. */
  readonly bits: number;
  /** Two numbers a result: rank and member in one, and the chance. */
  readonly pairs: Float64Array;
}

/** The ranks of all members in order, those of one rank by member: digit by digit from the last (radix sort). */
export function sortRanks(all: readonly Results[]): SortedRanks {
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
