/**
 * The results everyone can have, from the best to the worst, under the tie rules: where there are
 * not too many to go through one by one, the count of those ahead is exact.
 */
import type { Score } from '../../score.js';
import type { Runner } from '../runner.js';
import { levelKeys } from './level-keys.js';
import { byKeys } from './radix.js';
import { type Rows, rowsOf } from './rows.js';

/** How a runner stands at equal totals, apart from the best scores: a lower number is ahead. */
export interface StaticOrder {
  /** By the rules before the best scores. */
  readonly first: Int32Array;
  /** By the rules after them. */
  readonly last: Int32Array;
}

/**
 * Results that only some runners can have if something happens: they take no place away from
 * anybody, but are ranked in the same order.
 */
export interface Variant {
  /** The runner it is of, which it does not compete with. */
  readonly of: number;
  readonly runner: Runner;
}

/** Told, now and then, which share of what there is to go through has been. */
export type OnProgress = (share: number) => void;

/** Results from the best to the worst. */
export interface InOrder {
  readonly size: number;
  /** Whose: variants count on from `size`. */
  readonly who: Int32Array;
  readonly chance: Float64Array;
  /** Whether one equals the one before it. */
  readonly equals: Uint8Array;
}

/** Puts every result in order. `byValues`: equal totals go to the best scores. */
export function inOrder(
  runners: readonly Runner[],
  variants: readonly Variant[],
  { first, last }: StaticOrder,
  byValues: boolean,
): InOrder {
  const size = runners.length;
  const all = [...runners, ...variants.map((v) => v.runner)];
  const like = (ranks: Int32Array) =>
    Int32Array.from(all, (_, i) => ranks[i < size ? i : variants[i - size]!.of]!);
  const keys = levelKeys(all, like(first), like(last), byValues);
  return { size, ...joined(placed(rowsOf(all, [...all.keys()], keys, byValues))) };
}

/** Results by total, the best first. */
interface Placed {
  readonly who: Int32Array;
  readonly chance: Float64Array;
  /** The numbers of the keys: of two on one total the one with the lower first is ahead. */
  readonly keys: readonly Float64Array[];
  /** The totals there are, by how far they are behind the best. */
  readonly levels: readonly number[];
  /** By how far a total is behind the best: where its results begin, and end. */
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

/** Puts every result in a place of its total; those on one total are in the order of their rows. */
function placed(rows: Rows): Placed {
  const { width, parts, runners, sums, firsts, times, weights } = rows;
  const { best, levels, starts, count } = startsOf(rows);
  const ends = starts.slice();
  const who = new Int32Array(count);
  const chance = new Float64Array(count);
  const keys = Array.from({ length: width }, () => new Float64Array(count));
  const key = keys[0]!;
  const row = new Float64Array(runners.reduce((most, r) => Math.max(most, r.values.length), 0));
  for (const r of inKeyOrder(rows)) {
    const i = rows.who[r]!;
    const { values, chances, steps } = runners[i]!;
    const first = firsts[r]!;
    for (let part = 0; part < chances.length; part++) {
      const weight = weights[r * parts + part]!;
      const p = chances[part]!;
      if (part === 0) for (let v = first; v < p.length; v++) row[v] = weight * p[v]!;
      else for (let v = first; v < p.length; v++) row[v] = row[v]! + weight * p[v]!;
    }
    row[first]! /= times[r]!;
    const most = best - sums[r]!;
    const lead = rows.keys[r * width] ?? 0;
    const step = steps[0]!;
    for (let v = first; v < values.length; v++) {
      const c = row[v]!;
      if (c === 0) continue;
      const behind = most - values[v]!;
      const at = ends[behind]!;
      ends[behind] = at + 1;
      who[at] = i;
      chance[at] = c;
      if (width > 0) key[at] = lead + step[v]!;
      for (let n = 1; n < width; n++) keys[n]![at] = rows.keys[r * width + n]! + steps[n]![v]!;
    }
  }
  return { who, chance, keys, levels, starts, ends };
}

/** Where the results of every total may begin, the best total, and how many results there may be. */
function startsOf({ runners, who, sums, firsts }: Rows): Pick<Placed, 'levels' | 'starts'> & {
  best: Score;
  count: number;
} {
  let best = 0;
  let worst = Number.POSITIVE_INFINITY;
  for (let r = 0; r < who.length; r++) {
    const { values } = runners[who[r]!]!;
    best = Math.max(best, sums[r]! + values[values.length - 1]!);
    worst = Math.min(worst, sums[r]! + values[firsts[r]!]!);
  }
  const starts = new Int32Array(best - worst + 1);
  for (let r = 0; r < who.length; r++) {
    const { values } = runners[who[r]!]!;
    const most = best - sums[r]!;
    for (let v = firsts[r]!; v < values.length; v++) {
      const behind = most - values[v]!;
      starts[behind] = starts[behind]! + 1;
    }
  }
  const levels: number[] = [];
  let count = 0;
  for (let behind = 0; behind < starts.length; behind++) {
    const here = starts[behind]!;
    if (here === 0) continue;
    levels.push(behind);
    starts[behind] = count;
    count += here;
  }
  return { best, levels, starts, count };
}

/** So many bits of a key put rows in order, as near as need be. */
const LEAD = 2 ** 30;

/**
 * The rows by what is sure of their keys: then results on one total are nearly in order too. Where
 * that is the same, the last value is lower in the row with the higher sum.
 */
function inKeyOrder({ who, leads, sums }: Rows): Int32Array {
  const count = who.length;
  let most = 0;
  for (let r = 0; r < leads.length; r++) most = Math.max(most, leads[r]!);
  const scale = LEAD / (most + 1);
  const first = new Int32Array(count);
  const then = new Int32Array(count);
  for (let r = 0; r < count; r++) {
    first[r] = (leads[r] ?? 0) * scale;
    then[r] = -sums[r]!;
  }
  return byKeys(count, [first, then]);
}

/** Results in order, those of one runner with nobody else's between them as one. */
function joined(placed: Placed): { who: Int32Array; chance: Float64Array; equals: Uint8Array } {
  const { who, chance, keys, levels, starts, ends } = placed;
  const key = keys[0];
  const equals = new Uint8Array(who.length);
  let count = 0;
  for (let level = 0; level < levels.length; level++) {
    const behind = levels[level]!;
    const start = starts[behind]!;
    const to = ends[behind]!;
    if (to - start > 1) sortByKeys(placed, start, to);
    for (let from = start, end = start; from < to; from = end) {
      if (key === undefined) end = to;
      else {
        end++;
        while (end < to && key[end] === key[from] && compareKeys(keys, from, end) === 0) end++;
      }
      const last = count - 1;
      if (end === from + 1 && last >= 0 && who[last] === who[from] && equals[last] === 0) {
        chance[last] = chance[last]! + chance[from]!;
        continue;
      }
      for (let k = from; k < end; k++, count++) {
        who[count] = who[k]!;
        chance[count] = chance[k]!;
        equals[count] = k > from ? 1 : 0;
      }
    }
  }
  return {
    who: who.subarray(0, count),
    chance: chance.subarray(0, count),
    equals: equals.subarray(0, count),
  };
}

/** Puts results on one total, which nearly are, in the order of their keys, from one to another. */
function sortByKeys({ who, chance, keys }: Placed, from: number, to: number): void {
  const first = keys[0];
  if (first === undefined) return;
  for (let k = from + 1; k < to; k++) {
    const key = first[k]!;
    let at = k;
    while (at > from && first[at - 1]! >= key && compareKeys(keys, at - 1, k) > 0) at--;
    if (at === k) continue;
    const runner = who[k]!;
    const p = chance[k]!;
    for (let j = k; j > at; j--) {
      who[j] = who[j - 1]!;
      chance[j] = chance[j - 1]!;
    }
    who[at] = runner;
    chance[at] = p;
    for (let n = 0; n < keys.length; n++) {
      const numbers = keys[n]!;
      const number = numbers[k]!;
      for (let j = k; j > at; j--) numbers[j] = numbers[j - 1]!;
      numbers[at] = number;
    }
  }
}

/** Below 0: the first is ahead, of two on one total. */
function compareKeys(keys: readonly Float64Array[], r: number, s: number): number {
  for (let n = 0; n < keys.length; n++) {
    const difference = keys[n]![r]! - keys[n]![s]!;
    if (difference !== 0) return difference;
  }
  return 0;
}

/** The places of so many in the order of a comparison, from 0; equal ones share theirs. */
export function ranksBy(count: number, compare: (i: number, j: number) => number): Int32Array {
  const order = Array.from({ length: count }, (_, i) => i).sort(compare);
  const ranks = new Int32Array(count);
  for (const [k, i] of order.entries()) {
    const before = order[k - 1];
    ranks[i] = before !== undefined && compare(before, i) === 0 ? ranks[before]! : k;
  }
  return ranks;
}
