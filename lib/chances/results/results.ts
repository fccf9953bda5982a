/**
 * Results: everything that one entrant can end with, each with its rank (rank-scale.ts), where it stands among
 * what all can (docs/model.md, "Results in order").
 */

/** The results of one entrant, in no order. One rank may come more than once. */
export interface Results {
  /** Whole numbers: the lower is ahead. */
  readonly ranks: Float64Array | Int32Array;
  readonly chances: Float64Array;
}

/** A rank and a member are sorted as one number: there may be no more of both together than this. */
export const MOST_RANKS = Number.MAX_SAFE_INTEGER / 2;
