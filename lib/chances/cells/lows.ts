/**
 * What some parts add up to, together with the lowest value among them: values are handed out from
 * the highest down, and who has had one is kept as a set. Sums are indices W · A + B of a lattice; of
 * few parts B is small, so they are kept by B and within it by A.
 */

import { withConvolution } from '../../kernel/convolution.js';
import { FLOAT, INT, type Kernel, withKernel } from '../../kernel/kernel.js';

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
   * gap that the lowest but one leaves to it. Each is wrong by up to `ROUNDED` of itself, since there are
   * many, and twice as many are kept with half the digits.
   */
  readonly chances: Float32Array;
  /** By sum that is told: where its chances begin. */
  readonly starts: Int32Array;
  /** By sum that is told: the first value with a chance, and the one after the last. */
  readonly firsts: Int32Array;
  readonly ends: Int32Array;
  /** Which of the sums that are told that is; -1 for none. */
  readonly rowOf: (sum: number) => number;
}

/** How far the chances that are kept are rounded, as a share of each. */
export const ROUNDED = 2 ** -24;

export interface PartSums {
  /** Of all the parts. */
  readonly lows: Lows;
  /** The chance that a set of them, not of all, has a sum, as far as that can become one that is told. */
  readonly totalOf: (set: number, sum: number) => number;
}

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
  const { planes, height } = shapes[all]!;
  const told = planes * height;
  const layers = 1 + beyond.length;
  const sizes = shapes.map((shape, set) => (set === all ? 0 : shape.planes * shape.height));
  // The columns and, at the end, at most as many numbers in rows; the sums; the lists and what they are of.
  const floats = 2 * layers * values * told + sizes.reduce((a, b) => a + b, 0) + n * values;
  const ints = 3 * told + (4 + beyond.length) * values + 6 * (all + 1) + beyond.length;
  return withKernel(FLOAT * (floats + 32) + INT * ints, (kernel) => {
    const lay = (list: readonly number[] | Int32Array) => {
      const there = kernel.ints(list.length);
      there.set(list);
      return there;
    };
    const given = kernel.floats(n * values);
    for (let part = 0; part < n; part++) given.set(chances[part]!, part * values);
    const columns = kernel.floats(layers * values * told);
    const sums = sizes.map((size) => kernel.floats(size));
    if (shapes[0]!.height > 0) sums[0]![0] = 1;
    const firstThere = shapes.map((_, set) => (set === 0 ? 0 : reach[all]! + 1));
    const endThere = shapes.map((_, set) => (set === 0 ? 1 : 0));
    const columnFrom = kernel.ints(values).fill(height);
    const columnTo = kernel.ints(values);
    // In the order of lib/kernel/assembly/sums.ts.
    const lists = [
      given,
      lay(by),
      lay(up),
      lay(beyond.flatMap((list) => [...list])),
      lay(beyond.map(() => values - 1)),
      lay(shapes.map((shape) => shape.planes)),
      lay(shapes.map((shape) => shape.lowest)),
      lay(shapes.map((shape) => shape.height)),
      lay(sums.map((sum) => sum.byteOffset)),
      lay(firstThere),
      lay(endThere),
      columns,
      columnFrom,
      columnTo,
    ];
    const parts = kernel.struct([n, values, beyond.length], lists);
    kernel.loops.handOut(parts.byteOffset);
    const kept = sums.map((sum) => sum.slice());
    const totalOf = (set: number, sum: number) => {
      const at = indexIn(shapes[set]!, width, sum);
      return at < 0 ? 0 : kept[set]![at]!;
    };
    const rowOf = (sum: number) => indexIn(shapes[all]!, width, sum);
    return { lows: { ...rowsOf(kernel, columns, columnFrom, columnTo), rowOf }, totalOf };
  });

  /** The columns as rows, one a sum. */
  function rowsOf(
    kernel: Kernel,
    columns: Float64Array,
    from: Int32Array,
    to: Int32Array,
  ): Pick<Lows, 'chances' | 'starts' | 'firsts' | 'ends'> {
    const [firsts, ends, starts] = [kernel.ints(told), kernel.ints(told), kernel.ints(told)];
    const shape = [values, planes, height, from.byteOffset, to.byteOffset] as const;
    kernel.loops.findBands(columns.byteOffset, ...shape, firsts.byteOffset, ends.byteOffset);
    let room = 0;
    for (let s = 0; s < told; s++) {
      starts[s] = room;
      if (ends[s]! > 0) room += layers * (ends[s]! - firsts[s]!);
    }
    const rows = kernel.singles(room);
    kernel.loops.fillRows(
      columns.byteOffset,
      layers,
      ...shape,
      firsts.byteOffset,
      starts.byteOffset,
      rows.byteOffset,
    );
    return {
      chances: rows.slice(),
      starts: starts.slice(),
      firsts: firsts.slice(),
      ends: ends.slice(),
    };
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
  const most = by.reduce((a, b) => Math.max(a, b), 0);
  const lists = chances.map((p) => {
    const list = new Float64Array(most + 1);
    for (let v = 0; v < by.length; v++) list[by[v]!]! += p[v]!;
    return list;
  });
  return withConvolution(lists, (sums) => {
    let first = 0;
    let end = sums.length;
    while (first < end && (sums[first]! < least || sums[first] === 0)) first++;
    while (end > first && (sums[end - 1]! < least || sums[end - 1] === 0)) end--;
    return { first, end };
  });
}
