/** What a tie rule is. Each rule is one record in a file of its own, and the only place that knows it. */
import type { Units } from '../../score.js';
import type { Part } from '../contender.js';
import type { Entry, Performances } from '../entry.js';

/**
 * What a rule compares, most important first, higher is better; `unrecorded` where the data will
 * never be there; `unknown` where it depends on a routine nobody has seen.
 */
export type TieKey = readonly Units[] | 'unrecorded' | 'unknown';

/** By part of a total: its value; null while nothing in it has a score. */
export type PartValues = readonly (Units | null)[];

/**
 * The order of a rule that looks at nothing but scores one after another: at equal totals the first
 * that differs decides, and the lower is ahead from the lowest up, the higher from the highest down.
 */
export interface SortedScores {
  /** The values of the parts of a total, or the scores of single routines. */
  readonly of: 'parts' | 'routines';
  readonly from: 'lowest' | 'highest';
  /** Whether only the first of them is compared, or all. */
  readonly compared: 'first' | 'all';
}

export interface TieRule<Name extends string = string> {
  /** As the meet file writes it. */
  readonly name: Name;
  /** What has to be recorded of every routine that counts, besides its score. */
  readonly needs: 'scores' | 'd' | 'e';
  /** What it compares in two finished entries that are level on total. */
  readonly key: (entry: Entry) => TieKey;
  /**
   * What of its key is fixed once totals are equal, whatever the routines to come in `open` score: a
   * number by which two on one total compare, the higher ahead. Null where it depends on how the
   * total comes about.
   */
  readonly fixedAtEqualTotals: (entry: Entry, open: readonly Part[]) => Units | null;
  /**
   * For a rule that adds something up over the parts of a total, in a number by which two on one total
   * compare: what a finished part adds, and what points carried in do; null for any other.
   */
  readonly addedBy: {
    readonly part: (part: Part, performances: Performances) => Units;
    readonly carried: (carried: Units) => Units;
  } | null;
  /**
   * For a rule that compares scores in order: which. With it chances of many routines to come are
   * computed at once; without it (null) every way they can go is tried while there are few enough.
   */
  readonly sorted: SortedScores | null;
  /** Said after "on": "a tie goes to her on best scores". */
  readonly words: string;
  /**
   * The same of two whom it separates, by the values of the parts of their totals: "ahead on the best
   * three scores". Null where there is no more to say than `words`.
   */
  readonly decidedOn: ((a: PartValues, b: PartValues) => string) | null;
}
