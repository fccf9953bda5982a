/** What of a range is given, and the lowest and the highest score that it comes to. */

import type { Units } from '../score.js';
import { gridAtOrAbove, gridAtOrBelow } from '../scoring.js';
import type { Meet, Range } from './meet.js';

/** low, likely and high are given; falls may still be missing. */
export type WithoutFalls = Range & {
  readonly low: Units;
  readonly likely: Units;
  readonly high: Units;
};

/** A range of which nothing is missing. */
export type CompleteRange = WithoutFalls & { readonly falls: number };

export function hasScores(range: Range): range is WithoutFalls {
  return range.low !== null && range.likely !== null && range.high !== null;
}

export function isComplete(range: Range): range is CompleteRange {
  return hasScores(range) && range.falls !== null;
}

/** The lowest and the highest score that has a chance at all; null when something is missing. */
export function supportOf(meet: Meet, range: Range): { lowest: Units; highest: Units } | null {
  if (!isComplete(range)) return null;
  const { grid, fall } = meet.scoring;
  const { low, likely, high, falls } = range;
  const first = gridAtOrAbove(low, grid);
  const certain = low === high || first > high;
  const top = certain ? likely : gridAtOrBelow(high, grid);
  const [fewest, most] = [falls === 1 ? 2 : 0, falls === 0 ? 0 : 2];
  return {
    lowest: Math.max((certain ? likely : first) - most * fall, 0),
    highest: Math.max(top - fewest * fall, 0),
  };
}
