/** The same finals forecast with other ranges: which were closer, and how sure that is. */
import type { Measure } from '../chance.js';
import type { Board, TargetName } from './final-boards.js';
import { amongFirst, type Behind, differenceOf, logOf, mean, placeLog } from './forecasters.js';

/** One score with these ranges and with the others, and how much more the others were off. */
export interface Compared {
  readonly score: 'win' | 'medal' | 'place';
  readonly these: Measure;
  readonly others: Measure;
  readonly behind: Behind;
}

/** Log scores of the same boards; lower is better. */
export interface Comparison {
  /** The other ranges: `rounds`, `days` or a file. */
  readonly against: string;
  /** By drawing the meets anew, the boards of both in pairs. */
  readonly scores: readonly Compared[];
  /** Of single routines, by gymnast: the ranked probability score in units; null where both are the same. */
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
  const log = (target: TargetName, places: number) => (board: Board) =>
    logOf(
      board,
      target,
      board.places.map((p) => amongFirst(p, places)),
    );
  return {
    against,
    scores: [
      compared('win', log('win', 1)),
      compared('medal', log('medal', 3)),
      compared('place', placeLog),
    ],
    routines,
  };
}
