/** The fractions of an answer. Every other number of one is whole: a place, a count, or a score. */

/** A probability, from 0 to 1, or the bound on how wrong one is. */
export type Chance = number;

/** A probability less another, from -1 to 1. */
export type ChanceChange = number;

/** A mean over many routines or boards, never negative: a loss, or one as a share of another. */
export type Measure = number;

/** A measure less another, of either sign. */
export type MeasureChange = number;
