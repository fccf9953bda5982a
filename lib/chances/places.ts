/**
 * Places from the chances of being ahead. How many of the others end ahead of a result is a
 * Poisson-binomial count (Hong, Computational Statistics & Data Analysis 59, 2013): its chances are
 * the coefficients of the product of (1 - p + p x), one factor a rival. Results are gone through
 * from the best to the worst, and the product is kept up to date.
 */

import { FLOAT, INT, type Kernel, ownKernel, takeKernel } from '../kernel/kernel.js';
import type { OnProgress } from './order.js';

/** So many results are counted at a time, or as many as can be equal. */
const SEVERAL = 2048;

/** A count in memory: its size, degree, how many are sure, exchanges; then where its lists are. */
const HEAD = 4;
const LISTS = 5;

export class PlaceCount {
  private readonly kernel: Kernel;
  /** The count as it lies in memory: see lib/kernel/assembly/places.ts. */
  private readonly count: Int32Array;
  /** By runner, then by variant, and place: the chance. */
  private readonly rows: Float64Array;
  private readonly who: Int32Array;
  private readonly chances: Float64Array;
  private readonly equals: Uint8Array;

  /**
   * `results`: how many each runner has (then each variant), all of which must be told. `variantOf`: by variant, the
   * runner it does not compete with; -1 where its places are not asked.
   */
  constructor(
    private readonly size: number,
    results: Int32Array,
    variantOf: readonly number[] = [],
  ) {
    const rows = size + variantOf.length;
    // Nobody has two results that are equal.
    const several = Math.max(SEVERAL, rows);
    const floats = rows * size + 2 * size + 2 + several;
    const ints = HEAD + LISTS + size + variantOf.length + several;
    this.kernel = takeKernel(FLOAT * (floats + LISTS) + INT * ints + several);
    this.count = this.kernel.ints(HEAD + LISTS);
    this.rows = this.kernel.floats(rows * size);
    const ahead = this.kernel.floats(size);
    const left = this.kernel.ints(size);
    const product = this.kernel.floats(size + 2);
    const of = this.kernel.ints(variantOf.length);
    this.who = this.kernel.ints(several);
    this.chances = this.kernel.floats(several);
    this.equals = this.kernel.bytes(several);
    left.set(results.subarray(0, size));
    product[0] = 1;
    of.set(variantOf);
    this.count[0] = size;
    const lists = [this.rows, ahead, left, product, of];
    for (let k = 0; k < lists.length; k++) this.count[HEAD + k] = lists[k]!.byteOffset;
  }

  /**
   * The next best results: whose (variants count on from `size`), how likely, and whether each of them
   * equals the one before it; who has one that equals others shares a place.
   */
  several(
    who: Int32Array,
    chances: Float64Array,
    equals: Uint8Array,
    onProgress?: OnProgress | undefined,
  ): void {
    const { count, kernel } = this;
    for (let from = 0; from < who.length; ) {
      if (from > 0) onProgress?.(from / who.length);
      let to = Math.min(from + this.who.length, who.length);
      while (to < who.length && equals[to] === 1) to--;
      this.who.set(who.subarray(from, to));
      this.chances.set(chances.subarray(from, to));
      this.equals.set(equals.subarray(from, to));
      kernel.loops.countResults(
        count.byteOffset,
        this.who.byteOffset,
        this.chances.byteOffset,
        this.equals.byteOffset,
        to - from,
      );
      from = to;
    }
  }

  /** Gives the chances back, by runner and place, and by variant and place; nothing can be told after. */
  end(): { places: Float64Array; variantPlaces: Float64Array } {
    const places = this.rows.slice(0, this.size * this.size);
    const variantPlaces = this.rows.slice(this.size * this.size);
    this.kernel.end();
    return { places, variantPlaces };
  }
}

/** Where products are made, for up to so many. */
let workshop: { kernel: Kernel; chances: Float64Array; product: Float64Array } | null = null;

function workshopFor(size: number): NonNullable<typeof workshop> {
  if (workshop === null || workshop.chances.length < size) {
    const most = 2 * size;
    const kernel = ownKernel(2 * (most + 2) * FLOAT);
    workshop = { kernel, chances: kernel.floats(most), product: kernel.floats(most + 2) };
  }
  return workshop;
}

/** The product of the factors, but for one; those of chance 1 are counted as sure and left out. */
export function multiply(
  ahead: Float64Array,
  size: number,
  product: Float64Array,
  except = -1,
): { degree: number; sure: number } {
  const { kernel, chances, product: made } = workshopFor(size);
  for (let j = 0; j < size; j++) chances[j] = ahead[j]!;
  const found = kernel.loops.multiply(made.byteOffset, chances.byteOffset, size, except);
  const degree = found & 0xffff;
  for (let k = 0; k <= degree; k++) product[k] = made[k]!;
  return { degree, sure: found >> 16 };
}

/** The chance of one of the first few places; rounding does not take it past 1. */
export function sumOfFirst(places: readonly number[], count: number): number {
  return Math.min(
    places.slice(0, count).reduce((a, b) => a + b, 0),
    1,
  );
}
