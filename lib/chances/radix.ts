/** Sorting by whole numbers: digit by digit, the least significant first (Knuth 5.2.5). */

/** Bits of a digit: a score has one digit then, mostly. */
const BITS = 14;

/**
 * The places of so many things when they are sorted by their keys, whole numbers from 0, the first
 * list of them most important; those that are equal stay as they came.
 */
export function byKeys(count: number, keys: readonly Int32Array[]): Int32Array {
  let order = new Int32Array(count);
  let other = new Int32Array(count);
  for (let i = 0; i < count; i++) order[i] = i;
  for (let k = keys.length - 1; k >= 0; k--) {
    const key = keys[k]!;
    let most = 0;
    for (let i = 0; i < count; i++) if (key[i]! > most) most = key[i]!;
    for (let shift = 0; shift < 31 && most >> shift > 0; shift += BITS) {
      byDigit(key, shift, order, other);
      [order, other] = [other, order];
    }
  }
  return order;
}

const counts = new Int32Array((1 << BITS) + 1);

function byDigit(key: Int32Array, shift: number, from: Int32Array, to: Int32Array): void {
  const mask = (1 << BITS) - 1;
  counts.fill(0);
  for (let i = 0; i < key.length; i++) counts[((key[i]! >> shift) & mask) + 1]!++;
  for (let d = 0; d < mask; d++) counts[d + 1]! += counts[d]!;
  for (let i = 0; i < from.length; i++) {
    const which = from[i]!;
    const digit = (key[which]! >> shift) & mask;
    to[counts[digit]!++] = which;
  }
}
