/** What she needs over several routines, and how it splits over them. */

import type { Chance } from '../chance.js';
import { type Meet, rangeAt, routineAt } from '../meet/meet.js';
import { hasScores } from '../meet/realistic.js';
import { cumulative, quantile, withoutFalls } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { assumed, entryOf, type Performances } from '../rules/entry.js';
import { asScore, type Score, type Units } from '../score.js';

/** A total over several routines to come, so that each is as hard as the others. */
export interface Split {
  /** The lowest common quantile of her ranges without falls that is enough. */
  readonly quantile: Chance;
  /** One a routine to come, in the order they go up. */
  readonly scores: readonly {
    /** Whose routine it is, by id. */
    readonly gymnast: string;
    /** Where it is, by code. */
    readonly apparatus: string;
    /** What is asked of it. */
    readonly score: Score;
  }[];
}

/**
 * The lowest quantile at which the routines to come bring the total to `total`, where some may be
 * dropped as the parts say, and the scores there; null when a range is missing or the highest scores are not enough.
 */
export function splitOf(
  meet: Meet,
  contender: Contender,
  performances: Performances,
  toCome: readonly number[],
  total: Units,
): Split | null {
  const ranges = toCome.map((i) => rangeAt(meet, i));
  if (!ranges.every(hasScores)) return null;
  const distributions = ranges.map((r) => withoutFalls(r, meet.scoring.grid));
  const scoresAt = (q: number) => distributions.map((d) => quantile(d, q));
  const reaches = (q: number) => {
    const completed = [...performances];
    scoresAt(q).forEach((score, i) => {
      completed[toCome[i] ?? 0] = assumed(score, null);
    });
    return entryOf(contender, completed).total >= total;
  };
  // The scores only change where a cumulative chance is passed.
  const steps = [...new Set([0, ...distributions.flatMap(cumulative)])].sort((a, b) => a - b);
  let low = -1;
  let high = steps.length - 1;
  if (!reaches(steps[high] ?? 1)) return null;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (reaches(steps[middle] ?? 0)) high = middle;
    else low = middle;
  }
  // Just above the last step that is not enough.
  const q = high === 0 ? 0 : Math.min((steps[low] ?? 0) + Number.EPSILON, steps[high] ?? 1);
  const scores = scoresAt(q).map((score, i) => {
    const { gymnast, apparatus } = routineAt(meet, toCome[i] ?? 0);
    return { gymnast, apparatus, score: asScore(score) };
  });
  return { quantile: q, scores };
}
