/** Results by total, and on one total by key, in the order of their rows, which nearly is that. */
import type { Score } from '../../score.js';
import { byKeys } from './radix.js';
import type { Rows } from './rows.js';

/** Results from the best to the worst; a place that is left empty is nobody's. */
export interface Placed {
  readonly who: Int32Array;
  readonly chance: Float64Array;
  /** Whether one equals the one before it. */
  readonly equals: Uint8Array;
  /** By member: how many results it has. */
  readonly left: Int32Array;
  /** The numbers of the keys: of two on one total the one with the lower first is ahead. */
  readonly keys: readonly Float64Array[];
  /** The best total. */
  readonly best: Score;
  /** By how far a total is behind the best: where its results begin, and end; and one beyond them all. */
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

/** Puts every result in its place: by total, and on one total by key. Nobody counts on from all `members`. */
export function placed(rows: Rows, members: number): Placed {
  const { width, parts, runners, sums, firsts, times, weights } = rows;
  const { best, starts } = startsOf(rows);
  const ends = starts.slice();
  const count = starts[starts.length - 1]!;
  const who = new Int32Array(count).fill(members);
  const chance = new Float64Array(count);
  const equals = new Uint8Array(count);
  const left = new Int32Array(members + 1);
  const keys = Array.from({ length: width }, () => new Float64Array(count));
  const key = keys[0]!;
  const row = new Float64Array(runners.reduce((most, r) => Math.max(most, r.values.length), 0));
  for (const r of inKeyOrder(rows)) {
    const i = rows.who[r]!;
    const { values, chances, steps } = runners[i]!;
    const first = firsts[r]!;
    const [only] = chances;
    // With one part there is one row, which is its chances.
    const list = chances.length === 1 && only !== undefined ? only : row;
    if (list === row) {
      for (let part = 0; part < chances.length; part++) {
        const weight = weights[r * parts + part]!;
        const p = chances[part]!;
        if (part === 0) for (let v = first; v < p.length; v++) row[v] = weight * p[v]!;
        else for (let v = first; v < p.length; v++) row[v] = row[v]! + weight * p[v]!;
      }
      row[first]! /= times[r]!;
    }
    const most = best - sums[r]!;
    const lead = rows.keys[r * width] ?? 0;
    const step = steps[0]!;
    let here = 0;
    for (let v = first; v < values.length; v++) {
      const c = list[v]!;
      if (c === 0) continue;
      const behind = most - values[v]!;
      const at = ends[behind]!;
      ends[behind] = at + 1;
      who[at] = i;
      chance[at] = c;
      here++;
      if (width > 0) key[at] = lead + step[v]!;
      for (let n = 1; n < width; n++) keys[n]![at] = rows.keys[r * width + n]! + steps[n]![v]!;
    }
    left[i] = left[i]! + here;
  }
  const all = { who, chance, equals, left, keys, best, starts, ends };
  for (let behind = 0; behind + 1 < starts.length; behind++) {
    const start = starts[behind]!;
    if (ends[behind]! - start > 1) sortByKeys(all, start, ends[behind]!);
  }
  return all;
}

/** The best total, and where the results of every total may begin. */
function startsOf({ runners, who, sums, firsts }: Rows): Pick<Placed, 'best' | 'starts'> {
  let best = 0;
  let worst = Number.POSITIVE_INFINITY;
  for (let r = 0; r < who.length; r++) {
    const { values } = runners[who[r]!]!;
    best = Math.max(best, sums[r]! + values[values.length - 1]!);
    worst = Math.min(worst, sums[r]! + values[firsts[r]!]!);
  }
  const starts = new Int32Array(who.length === 0 ? 1 : best - worst + 2);
  for (let r = 0; r < who.length; r++) {
    const { values } = runners[who[r]!]!;
    const most = best - sums[r]!;
    for (let v = firsts[r]!; v < values.length; v++) {
      const behind = most - values[v]!;
      starts[behind] = starts[behind]! + 1;
    }
  }
  let count = 0;
  for (let behind = 0; behind < starts.length; behind++) {
    const here = starts[behind]!;
    starts[behind] = count;
    count += here;
  }
  return { best, starts };
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

/** Results that are moved further than this, on average, were not nearly in order. */
const NEARLY = 16;

/**
 * Puts results on one total, which nearly are, in the order of their keys, from one to another, and says
 * which of them are equal.
 */
function sortByKeys(placed: Placed, from: number, to: number): void {
  const { who, chance, equals, keys } = placed;
  const first = keys[0];
  if (first === undefined) {
    equals.fill(1, from + 1, to);
    return;
  }
  let moves = NEARLY * (to - from);
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
    moves -= k - at;
    if (moves >= 0) continue;
    sortAnew(placed, from, to);
    break;
  }
  for (let k = from + 1; k < to; k++) {
    if (first[k] === first[k - 1] && compareKeys(keys, k, k - 1) === 0) equals[k] = 1;
  }
}

/** The same for results in any order: moving one past the other takes as many steps as there are pairs. */
function sortAnew({ who, chance, keys }: Placed, from: number, to: number): void {
  const order = Int32Array.from({ length: to - from }, (_, n) => from + n);
  order.sort((r, s) => compareKeys(keys, r, s) || r - s);
  for (const list of [who, chance, ...keys]) {
    const before = list.slice(from, to);
    for (let n = 0; n < order.length; n++) list[from + n] = before[order[n]! - from]!;
  }
}

/** Below 0: the first is ahead, of two on one total; each with the keys that it is among. */
export function compareKeys(
  keys: readonly Float64Array[],
  r: number,
  s: number,
  among: readonly Float64Array[] = keys,
): number {
  for (let n = 0; n < keys.length; n++) {
    const difference = keys[n]![r]! - among[n]![s]!;
    if (difference !== 0) return difference;
  }
  return 0;
}
