/** Scores that are compared one after another, in one number. */

/** Two rising lists as one, of which so many are put into one number, the lowest as its first digit. */
export function packLowest(
  indices: Int32Array,
  values: Int32Array,
  known: Int32Array,
  from: number,
  to: number,
  span: number,
): number {
  let [i, j, key] = [0, 0, 0];
  for (let n = 0; n < to; n++) {
    const a = i < known.length ? (known[i] ?? 0) : span;
    const b = j < indices.length ? (values[indices[j] ?? 0] ?? 0) : span;
    if (n >= from) key = key * span + Math.min(a, b);
    if (a <= b) i++;
    else j++;
  }
  return key;
}

/** The same from the highest down: the higher is ahead, so digits count down from the highest. */
export function packHighest(
  indices: Int32Array,
  values: Int32Array,
  known: Int32Array,
  from: number,
  to: number,
  span: number,
): number {
  let [i, j, key] = [known.length - 1, indices.length - 1, 0];
  for (let n = 0; n < to; n++) {
    const a = i >= 0 ? (known[i] ?? 0) : -1;
    const b = j >= 0 ? (values[indices[j] ?? 0] ?? 0) : -1;
    if (n >= from) key = key * span + span - 1 - Math.max(a, b);
    if (a >= b) i--;
    else j--;
  }
  return key;
}
