/** Sorting by whole numbers: digit by digit, the least significant first (Knuth 5.2.5). */

/** Bits of a digit: the scores of a field lie so near each other that they have one, mostly. */
const BITS = 13;

/**
 * The places of so many things when they are sorted by their keys, whole numbers, the first list of
 * them most important; those that are equal stay as they came.
 */
export function byKeys(count: number, keys: readonly Int32Array[]): Int32Array {
  let order = new Int32Array(count);
  let other = new Int32Array(count);
  for (let i = 0; i < count; i++) order[i] = i;
  for (let k = keys.length - 1; k >= 0; k--) {
    const key = keys[k]!;
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const value = key[i]!;
      if (value < least) least = value;
      if (value > most) most = value;
    }
    for (let shift = 0; (most - least) >>> shift > 0 && shift < 32; shift += BITS) {
      byDigit({ key, least, shift }, order, other);
      [order, other] = [other, order];
    }
  }
  return order;
}

const counts = new Int32Array((1 << BITS) + 1);

function byDigit(
  { key, least, shift }: { key: Int32Array; least: number; shift: number },
  from: Int32Array,
  to: Int32Array,
): void {
  const mask = (1 << BITS) - 1;
  counts.fill(0);
  for (let i = 0; i < key.length; i++) counts[(((key[i]! - least) >>> shift) & mask) + 1]!++;
  for (let d = 0; d < mask; d++) counts[d + 1]! += counts[d]!;
  for (let i = 0; i < from.length; i++) {
    const which = from[i]!;
    const digit = ((key[which]! - least) >>> shift) & mask;
    to[counts[digit]!++] = which;
  }
}
