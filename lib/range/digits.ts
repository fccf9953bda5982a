/** Pairs of numbers sorted by some bits of the first, one step of a radix sort. */

/** By so many bits at a time. */
export const BITS = 11;

/** `scale`: what brings those bits down to the last places. */
export function sortByDigit(from: Float64Array, to: Float64Array, scale: number): void {
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
