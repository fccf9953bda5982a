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

/**
 * Adds four multiples of a list to another, each one further on: to[at + k + j] += factor j · from[start + k] for k
 * below `count` and j from 0 to 3, but nothing from `end` on. One pass instead of four takes half the time
 * (docs/decisions.md).
 */
export function addFour(
  to: Float64Array,
  at: number,
  end: number,
  from: Float64Array,
  start: number,
  count: number,
  a: number,
  b: number,
  c: number,
  d: number,
): void {
  let before = 0;
  let second = 0;
  let third = 0;
  const last = Math.min(count, end - at);
  for (let k = 0; k < last; k++) {
    const here = from[start + k] ?? 0;
    to[at + k] = (to[at + k] ?? 0) + a * here + b * before + c * second + d * third;
    third = second;
    second = before;
    before = here;
  }
  const i = at + last;
  if (i < end) to[i] = (to[i] ?? 0) + b * before + c * second + d * third;
  if (i + 1 < end) to[i + 1] = (to[i + 1] ?? 0) + c * before + d * second;
  if (i + 2 < end) to[i + 2] = (to[i + 2] ?? 0) + d * before;
}
