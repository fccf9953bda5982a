/**
 * Places from the chances of being ahead. How many of the others end ahead of a result is a
 * Poisson-binomial count (Hong, Computational Statistics & Data Analysis 59, 2013): its chances are
 * the coefficients of the product of (1 - p + p x), one factor a rival. Results are gone through
 * from the best to the worst, and the product is kept up to date.
 */

import { FLOAT, INT, type Kernel, ownKernel, STRUCT, withKernel } from '../kernel/kernel.js';
import type { InOrder, OnProgress } from './order/order.js';
import { roomForResults, throughResults } from './order/through.js';

/** Chances, by runner and place, and by variant and place. */
export interface PlaceCounts {
  readonly places: Float64Array;
  readonly variantPlaces: Float64Array;
}

/**
 * Everyone's places, from all results in order. `variantOf`: by variant, the runner it does not compete
 * with; -1 where its places are not asked.
 */
export function countPlaces(
  ordered: InOrder,
  variantOf: readonly number[],
  onProgress?: OnProgress | undefined,
): PlaceCounts {
  const { size } = ordered;
  const rows = size + variantOf.length;
  const floats = rows * size + 2 * size + 2;
  const ints = 2 * (rows + 2);
  const room = STRUCT + FLOAT * floats + INT * ints + roomForResults(rows);
  return withKernel(room, (kernel) => {
    const places = kernel.floats(rows * size);
    const ahead = kernel.floats(size);
    const left = kernel.ints(rows + 1);
    const product = kernel.floats(size + 2);
    // After the variants nobody comes, of whom nothing is asked.
    const of = kernel.ints(variantOf.length + 1).fill(-1);
    left.set(ordered.left);
    product[0] = 1;
    of.set(variantOf);
    // A Count: its size; the degree of the product, how many are sure, and exchanges.
    const count = kernel.struct([size, 0, 0, 0], [places, ahead, left, product, of]);
    const loop = kernel.loops.countResults.bind(null, count.byteOffset);
    throughResults(kernel, ordered, loop, onProgress);
    return { places: places.slice(0, size * size), variantPlaces: places.slice(size * size) };
  });
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
