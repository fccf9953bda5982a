/**
 * What some parts add up to, together with the lowest value among them: values are handed out from
 * the highest down, and who has had one is kept as a set. Sums are indices W · A + B of a lattice; of
 * few parts B is small, so they are kept by B and within it by A.
 */

import { addTo } from '../range/lattice.js';

/** The sums of some parts that are told. */
interface Plane {
  /** How many of B there are, from 0, and how many of A, from `lowest`. */
  readonly planes: number;
  readonly lowest: number;
  readonly height: number;
}

/** Of some parts: the chance of every sum with every lowest value. */
export interface Lows {
  /**
   * By sum that is told, within it by value from the first with a chance on, and within that by the
   * gap that the lowest but one leaves to it.
   */
  readonly chances: Float64Array;
  /** By sum that is told: where its chances begin. */
  readonly starts: Int32Array;
  /** By sum that is told: the first value with a chance, and the one after the last. */
  readonly firsts: Int32Array;
  readonly ends: Int32Array;
  /** Which of the sums that are told that is; -1 for none. */
  readonly rowOf: (sum: number) => number;
}

export interface PartSums {
  /** Of all the parts. */
  readonly lows: Lows;
  /** The chance that a set of them, not of all, has a sum, as far as that can become one that is told. */
  readonly totalOf: (set: number, sum: number) => number;
}

/** By value, and within it by sum: kept clear between uses. */
let columns = new Float64Array(0);

/** The values some parts can have. */
export interface PartValues {
  /** By part and value. */
  readonly chances: readonly Float64Array[];
  /** By value: the index it adds to a sum. */
  readonly steps: Int32Array;
  /** By gap but the first, and value: the first of the values that leave no smaller gap. */
  readonly beyond: readonly Int32Array[];
  /** The W of the indices. */
  readonly width: number;
}

/** Sums of all parts that are less likely than `least`, at either end, are not told. */
export function partSums({ chances, steps, beyond, width }: PartValues, least: number): PartSums {
  const n = chances.length;
  const values = steps.length;
  const all = (1 << n) - 1;
  const up = steps.map((step) => step % width);
  const by = steps.map((step, v) => (step - up[v]!) / width);
  const spread = up.reduce((most, b) => Math.max(most, b), 0);
  const reach = reachesOf(chances, by);
  const { first, end } = likelySums(chances, by, least);
  // Lower sums of a set than its lowest cannot become a sum that is told.
  const shapes = reach.map((most, set): Plane => {
    const planes = spread * sizeOf(set) + 1;
    if (set === all) return { planes, lowest: first, height: end - first };
    const lowest = Math.max(first - reach[all & ~set]!, 0);
    return { planes, lowest, height: Math.max(most - lowest + 1, 0) };
  });
  const sums = shapes.map(({ planes, height }, set) => {
    return new Float64Array(set === all ? 0 : planes * height);
  });
  // By set: the A of its sums that have a chance.
  const from = Int32Array.from(shapes, (_, set) => (set === 0 ? 0 : reach[all]! + 1));
  const to = Int32Array.from(shapes, (_, set) => (set === 0 ? 1 : 0));
  if (shapes[0]!.height > 0) sums[0]![0] = 1;
  const told = shapes[all]!.planes * shapes[all]!.height;
  // By value: the sums with it as the lowest; then, by gap but the first, those that leave no smaller.
  const room = (1 + beyond.length) * values * told;
  if (columns.length < room) columns = new Float64Array(room);
  /** By value: the A of the sums with it as the lowest. */
  const columnFrom = new Int32Array(values).fill(end);
  const columnTo = new Int32Array(values).fill(first);
  const waiting = beyond.map(() => values - 1);
  for (let v = values; v >= 0; v--) {
    for (let who = 0; v < values && who < n; who++) {
      for (let set = 0; set < all; set++) {
        if ((set >> who) & 1) continue;
        const next = set | (1 << who);
        addPart(set, next, chances[who]![v]!, v, next === all ? v * told : 0);
      }
    }
    for (let gap = 0; gap < beyond.length; gap++) {
      for (let low = waiting[gap]!; low >= 0 && beyond[gap]![low] === v; low--) {
        const at = ((gap + 1) * values + low) * told;
        for (let who = 0; who < n; who++) {
          addPart(all & ~(1 << who), all, chances[who]![low]!, low, at);
        }
        waiting[gap] = low - 1;
      }
    }
  }
  const totalOf = (set: number, sum: number) => {
    const at = indexIn(shapes[set]!, width, sum);
    return at < 0 ? 0 : sums[set]![at]!;
  };
  const rows = rowsOf(columns, shapes[all]!, columnFrom, columnTo, beyond.length + 1);
  const rowOf = (sum: number) => indexIn(shapes[all]!, width, sum);
  return { lows: { ...rows, rowOf }, totalOf };

  /** Adds the sums of a set with one part more, which has value v, to those of the next set. */
  function addPart(set: number, next: number, p: number, v: number, at: number): void {
    if (p === 0) return;
    const a = by[v]!;
    const start = Math.max(from[set]!, shapes[next]!.lowest - a);
    const isWhole = next === all;
    const stop = isWhole ? Math.min(to[set]!, end - a) : to[set]!;
    if (start >= stop) return;
    const target = isWhole ? columns : sums[next]!;
    const { planes, lowest, height } = shapes[set]!;
    const { lowest: under, height: tall } = shapes[next]!;
    const base = at + up[v]! * tall + a - under;
    for (let b = 0; b < planes; b++) {
      const source = b * height - lowest;
      addTo(target, b * tall + base - source, sums[set]!, source + start, source + stop, p);
    }
    const [least, most] = isWhole ? [columnFrom, columnTo] : [from, to];
    const index = isWhole ? v : next;
    if (start + a < least[index]!) least[index] = start + a;
    if (stop + a > most[index]!) most[index] = stop + a;
  }
}

function indexIn({ planes, lowest, height }: Plane, width: number, sum: number): number {
  if (sum < 0) return -1;
  const b = sum % width;
  const a = (sum - b) / width - lowest;
  return b >= planes || a < 0 || a >= height ? -1 : b * height + a;
}

/** How many are in a set. */
export function sizeOf(set: number): number {
  let size = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) size++;
  return size;
}

/** By set: the highest A of a sum. */
function reachesOf(chances: readonly Float64Array[], by: Int32Array): number[] {
  const highest = chances.map((p) =>
    p.reduce((most, c, v) => (c > 0 ? Math.max(most, by[v]!) : most), 0),
  );
  return Array.from({ length: 1 << chances.length }, (_, set) =>
    highest.reduce((sum, h, i) => ((set >> i) & 1 ? sum + h : sum), 0),
  );
}

/** The A of the sums of all parts that are likely enough to be told: the first, and the one after the last. */
function likelySums(
  chances: readonly Float64Array[],
  by: Int32Array,
  least: number,
): { first: number; end: number } {
  let sums = Float64Array.of(1);
  for (const p of chances) {
    const one = new Float64Array(by.reduce((most, a) => Math.max(most, a), 0) + 1);
    for (let v = 0; v < by.length; v++) one[by[v]!]! += p[v]!;
    const next = new Float64Array(sums.length + one.length - 1);
    for (let a = 0; a < one.length; a++) {
      if (one[a]! > 0) addTo(next, a, sums, 0, sums.length, one[a]!);
    }
    sums = next;
  }
  let first = 0;
  let end = sums.length;
  while (first < end && (sums[first]! < least || sums[first] === 0)) first++;
  while (end > first && (sums[end - 1]! < least || sums[end - 1] === 0)) end--;
  return { first, end };
}

/** So many of each are taken together, since they lie near each other. */
const BLOCK = 16;

/**
 * Columns of sums, one a value, and within them what leaves no smaller gap, as rows, one a sum; the
 * columns are cleared. `from`, `to`: by value, the A of the sums that there are.
 */
function rowsOf(
  columns: Float64Array,
  { planes, lowest, height }: Plane,
  from: Int32Array,
  to: Int32Array,
  gaps: number,
): Pick<Lows, 'chances' | 'starts' | 'firsts' | 'ends'> {
  const values = from.length;
  const sums = planes * height;
  const firsts = new Int32Array(sums).fill(values);
  const ends = new Int32Array(sums);
  for (let v = 0; v < values; v++) {
    for (let b = 0; b < planes; b++) {
      const move = b * height - lowest;
      for (let s = from[v]! + move; s < to[v]! + move; s++) {
        if (columns[v * sums + s] === 0) continue;
        if (ends[s] === 0) firsts[s] = v;
        ends[s] = v + 1;
      }
    }
  }
  const starts = new Int32Array(sums);
  let room = 0;
  for (let s = 0; s < sums; s++) {
    starts[s] = room;
    if (ends[s]! > 0) room += gaps * (ends[s]! - firsts[s]!);
  }
  const chances = new Float64Array(room);
  for (let b = 0; b < planes; b++) {
    const move = b * height - lowest;
    for (let start = lowest; start < lowest + height; start += BLOCK) {
      for (let v = 0; v < values; v++) {
        const stop = Math.min(start + BLOCK, to[v]!) + move;
        for (let s = Math.max(start, from[v]!) + move; s < stop; s++) {
          let column = v * sums + s;
          let chance = columns[column]!;
          if (chance === 0) continue;
          columns[column] = 0;
          let at = starts[s]! + gaps * (v - firsts[s]!);
          for (let gap = 1; gap < gaps; gap++) {
            column += values * sums;
            const beyond = columns[column]!;
            columns[column] = 0;
            chances[at++] = Math.max(chance - beyond, 0);
            chance = beyond;
          }
          chances[at] = chance;
        }
      }
    }
  }
  return { chances, starts, firsts, ends };
}
