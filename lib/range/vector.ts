/** Lists of chances, added up. */

/**
 * Adds a multiple of one list to another: to[at + k] += factor · from[start + k] for k below `count`.
 * Four at a time, which takes two thirds of the time (docs/decisions.md).
 */
export function addScaled(
  to: Float64Array,
  at: number,
  from: Float64Array,
  start: number,
  count: number,
  factor: number,
): void {
  let k = 0;
  for (const last = count - 3; k < last; k += 4) {
    const i = at + k;
    const j = start + k;
    to[i] = (to[i] ?? 0) + factor * (from[j] ?? 0);
    to[i + 1] = (to[i + 1] ?? 0) + factor * (from[j + 1] ?? 0);
    to[i + 2] = (to[i + 2] ?? 0) + factor * (from[j + 2] ?? 0);
    to[i + 3] = (to[i + 3] ?? 0) + factor * (from[j + 3] ?? 0);
  }
  for (; k < count; k++) to[at + k] = (to[at + k] ?? 0) + factor * (from[start + k] ?? 0);
}

/** Adds a multiple of the difference of two lists: to[at + k] += factor · (from[start + k] - less[start + k]). */
export function addScaledDifference(
  to: Float64Array,
  at: number,
  from: Float64Array,
  less: Float64Array,
  start: number,
  count: number,
  factor: number,
): void {
  for (let k = 0; k < count; k++) {
    const j = start + k;
    to[at + k] = (to[at + k] ?? 0) + factor * ((from[j] ?? 0) - (less[j] ?? 0));
  }
}
