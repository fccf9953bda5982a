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
  /** By sum that is told, and within it by value. */
  readonly chances: Float64Array;
  /** Which of the sums that are told that is; -1 for none. */
  readonly rowOf: (sum: number) => number;
  /** The sums that are told, in that order. */
  readonly sums: () => Int32Array;
}

export interface PartSums {
  /** Of all the parts, and of the sets of them that were wanted, by set. */
  readonly lows: ReadonlyMap<number, Lows>;
  /** The chance that a set of them, not of all, has a sum, as far as that can become one that is told. */
  readonly totalOf: (set: number, sum: number) => number;
}

/** What is filled anew whenever it is used: by value, and within it by sum. */
let columns = new Float64Array(0);

/**
 * `chances`: by part and value. `steps`: by value, the index it adds to a sum; `width`: the W of these
 * indices. Sums of all parts that are less likely than `least`, at either end, are not told.
 */
export function partSums(
  chances: readonly Float64Array[],
  steps: Int32Array,
  width: number,
  least: number,
  wanted: readonly number[],
): PartSums {
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
  // After the whole, what the wanted sets add up to without a lower value than the one at hand.
  const told = (set: number) => shapes[set]!.planes * shapes[set]!.height;
  const starts: number[] = [];
  let room = values * told(all);
  for (const set of wanted) {
    starts.push(room);
    room += values * told(set);
  }
  if (columns.length < room) columns = new Float64Array(room);
  columns.fill(0, 0, values * told(all));
  for (let v = values - 1; v >= 0; v--) {
    for (let who = 0; who < n; who++) {
      const p = chances[who]![v]!;
      if (p === 0) continue;
      const bit = 1 << who;
      for (let set = 0; set < all; set++) {
        if (set & bit) continue;
        const next = set | bit;
        const a = by[v]!;
        const start = Math.max(from[set]!, shapes[next]!.lowest - a);
        const isWhole = next === all;
        const stop = isWhole ? Math.min(to[set]!, end - a) : to[set]!;
        if (start >= stop) continue;
        const target = isWhole ? columns : sums[next]!;
        const { planes, lowest, height } = shapes[set]!;
        const { lowest: under, height: tall } = shapes[next]!;
        const base = (isWhole ? v * told(all) : 0) + up[v]! * tall + a - under;
        for (let b = 0; b < planes; b++) {
          const source = b * height - lowest;
          addTo(target, b * tall + base - source, sums[set]!, source + start, source + stop, p);
        }
        if (isWhole) continue;
        if (start + a < from[next]!) from[next] = start + a;
        if (stop + a > to[next]!) to[next] = stop + a;
      }
    }
    for (let k = 0; k < wanted.length; k++) {
      columns.set(sums[wanted[k]!]!, starts[k]! + v * told(wanted[k]!));
    }
  }
  const lows = new Map<number, Lows>();
  lows.set(all, lowsOf(shapes[all]!, width, rowsOf(columns, 0, values, told(all))));
  for (const [k, set] of wanted.entries()) {
    const rows = differencesOf(columns, starts[k]!, values, told(set));
    lows.set(set, lowsOf(shapes[set]!, width, rows));
  }
  const totalOf = (set: number, sum: number) => {
    const at = indexIn(shapes[set]!, width, sum);
    return at < 0 ? 0 : sums[set]![at]!;
  };
  return { lows, totalOf };
}

function indexIn({ planes, lowest, height }: Plane, width: number, sum: number): number {
  if (sum < 0) return -1;
  const b = sum % width;
  const a = (sum - b) / width - lowest;
  return b >= planes || a < 0 || a >= height ? -1 : b * height + a;
}

function lowsOf(plane: Plane, width: number, chances: Float64Array): Lows {
  const { planes, lowest, height } = plane;
  return {
    chances,
    rowOf: (sum) => indexIn(plane, width, sum),
    sums: () =>
      Int32Array.from({ length: planes * height }, (_, at) => {
        const b = Math.floor(at / height);
        return (at - b * height + lowest) * width + b;
      }),
  };
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

/** Columns of so many sums, one a value, as rows of values, one a sum. */
function rowsOf(table: Float64Array, at: number, values: number, sums: number): Float64Array {
  const rows = new Float64Array(values * sums);
  for (let start = 0; start < sums; start += BLOCK) {
    const stop = Math.min(start + BLOCK, sums);
    for (let v = 0; v < values; v++) {
      for (let s = start; s < stop; s++) rows[s * values + v] = table[at + v * sums + s]!;
    }
  }
  return rows;
}

/** The same of chances of having no lower value, as chances of having that value. */
function differencesOf(
  table: Float64Array,
  at: number,
  values: number,
  sums: number,
): Float64Array {
  const rows = new Float64Array(values * sums);
  for (let start = 0; start < sums; start += BLOCK) {
    const stop = Math.min(start + BLOCK, sums);
    for (let v = 0; v < values; v++) {
      const here = at + v * sums;
      const above = v + 1 < values ? here + sums : -1;
      for (let s = start; s < stop; s++) {
        const higher = above < 0 ? 0 : table[above + s]!;
        rows[s * values + v] = Math.max(table[here + s]! - higher, 0);
      }
    }
  }
  return rows;
}
