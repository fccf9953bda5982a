/** The same finals forecast with other ranges: which were closer, and how sure that is. */
import type { Measure } from '../chance.js';
import { type Board, TARGETS, type TargetName } from './final-boards.js';
import { amongFirst, type Behind, differenceOf, logOf, mean, placeLog } from './forecasters.js';

/** One log score of the same boards, with these ranges and with the others. */
export interface Compared {
  /** Of the chances to win, to be one of the first three, or of the place that was taken. */
  readonly score: 'win' | 'medal' | 'place';
  /** The mean over the boards with these ranges; lower is better. */
  readonly these: Measure;
  /** The same with the others. */
  readonly others: Measure;
  /** How much further off the others were; below 0 where they were closer. */
  readonly behind: Behind;
}

/** Log scores of the same boards; lower is better. */
export interface Comparison {
  /** The other ranges: `rounds`, `days` or a file. */
  readonly against: string;
  /** To win, to medal and by place; the intervals by drawing the meets anew, the boards of both in pairs. */
  readonly scores: readonly Compared[];
  /**
   * How much further off the others were in single routines: the continuous ranked probability score, in units.
   * Null without a ranges file, since before a single routine `rounds` and `days` know the same, and where there
   * is no routine of which both say something.
   */
  readonly routines: Behind | null;
}

interface Both {
  readonly boards: readonly Board[];
  readonly against: readonly Board[];
}

export function comparisonOf(
  against: string,
  replayed: readonly Both[],
  routines: Behind | null,
  seed: number,
): Comparison {
  const boards = replayed.flatMap((r) => r.boards);
  const others = replayed.flatMap((r) => r.against);
  const compared = (score: Compared['score'], of: (board: Board) => number): Compared => {
    const [these, theirs] = [boards.map(of), others.map(of)];
    return {
      score,
      these: mean(these),
      others: mean(theirs),
      behind: differenceOf(boards, theirs, these, seed),
    };
  };
  const log = (target: TargetName) => (board: Board) =>
    logOf(
      board,
      target,
      board.places.map((p) => amongFirst(p, TARGETS[target])),
    );
  return {
    against,
    scores: [
      compared('win', log('win')),
      compared('medal', log('medal')),
      compared('place', placeLog),
    ],
    routines,
  };
}
