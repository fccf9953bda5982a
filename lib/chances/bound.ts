/**
 * How wrong chances can be, from what ties of unknown order could change: half of what is lost when they
 * all go against somebody instead of her way (docs/model.md, "What is not known").
 */

/** What rounding can do: some ten thousand additions and exchanges of numbers below 1. */
export const ROUNDING = 1e-12;

/**
 * A bound on how wrong the chance of a place, or of one of the first few, can be. The first few places
 * lose what ties take; a single place can differ by what both it and those before it lose. `among`: only
 * of one of the first so many places.
 */
export function placeBound(
  halves: Float64Array,
  size: number,
  among: readonly number[] | null = null,
): number {
  let bound = 0;
  for (let from = 0; from < halves.length; from += size) {
    let first = 0;
    for (let k = 0; k < size; k++) {
      const before = first;
      first += halves[from + k] ?? 0;
      if (among === null) bound = Math.max(bound, first + before);
      else if (among.includes(k + 1)) bound = Math.max(bound, first);
    }
  }
  return bound;
}

/** The largest of some halves. */
export function largest(halves: Float64Array): number {
  let bound = 0;
  for (const half of halves) if (half > bound) bound = half;
  return bound;
}
