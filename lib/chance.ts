/** The fractions of an answer. Every other number of one is whole: a place, a count, or a score. */

/** A probability, from 0 to 1, or the bound on how wrong one is. */
export type Chance = number;

/** A probability less another, from -1 to 1. */
export type ChanceChange = number;

/** By so much a sum of chances may miss the whole: a few of the last digits of a number. */
const ROUNDING = 8 * Number.EPSILON;

/** A sum of chances: what rounding takes past a certainty, or leaves short of it, is one. */
export function summedChance(sum: number): Chance {
  return sum >= 1 - ROUNDING ? 1 : sum;
}

/** A mean over many routines or boards, never negative: a loss, or one as a share of another. */
export type Measure = number;

/** A measure less another, of either sign. */
export type MeasureChange = number;
