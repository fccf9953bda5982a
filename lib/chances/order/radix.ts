/** Sorting by whole numbers: digit by digit, the least significant first (Knuth 5.2.5). */

/** A digit has no more bits than this, which the totals of a field have together, mostly. */
const MOST_BITS = 16;

/**
 * The places of so many things when they are sorted by their keys, whole numbers, the first list of
 * them most important; those that are equal stay as they came.
 */
export function byKeys(count: number, keys: readonly Int32Array[]): Int32Array {
  let order = new Int32Array(count);
  let other = new Int32Array(count);
  for (let i = 0; i < count; i++) order[i] = i;
  // Of few things more digits with fewer values each are faster gone through.
  const mostBits = Math.min(Math.max(32 - Math.clz32(count), 8), MOST_BITS);
  for (let k = keys.length - 1; k >= 0; k--) {
    const key = keys[k]!;
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const value = key[i]!;
      if (value < least) least = value;
      if (value > most) most = value;
    }
    const all = count === 0 ? 0 : 32 - Math.clz32(most - least);
    const digits = Math.ceil(all / mostBits);
    const bits = Math.ceil(all / digits);
    for (let d = 0; d < digits; d++) {
      byDigit({ key, least, shift: d * bits, bits }, order, other);
      [order, other] = [other, order];
    }
  }
  return order;
}

const counts = new Int32Array(1 << MOST_BITS);

function byDigit(
  { key, least, shift, bits }: { key: Int32Array; least: number; shift: number; bits: number },
  from: Int32Array,
  to: Int32Array,
): void {
  const size = 1 << bits;
  const mask = size - 1;
  counts.fill(0, 0, size);
  for (let i = 0; i < from.length; i++) {
    const digit = ((key[i]! - least) >>> shift) & mask;
    counts[digit] = counts[digit]! + 1;
  }
  for (let d = 0, before = 0; d < size; d++) {
    const here = counts[d]!;
    counts[d] = before;
    before += here;
  }
  for (let i = 0; i < from.length; i++) {
    const which = from[i]!;
    const digit = ((key[which]! - least) >>> shift) & mask;
    to[counts[digit]!] = which;
    counts[digit] = counts[digit]! + 1;
  }
}
