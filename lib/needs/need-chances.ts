/** How often each need of a sheet is enough in the end, everyone's ranges considered. */

import { findContest } from '../contest/contest.js';
import { type Meet, routineOf } from '../meet/meet.js';
import type { FinishedSheet } from './finished.js';
import { curveTarget, ifRangesAre, meanOf, withD } from './likely.js';
import { enoughFor } from './need.js';
import type { NeedsOptions, NeedsSheet } from './sheet.js';
import { checkedOptions, parseTarget } from './target.js';
import { targetByScore } from './target-curve.js';

/** What becomes of a need, everyone's ranges considered. */
export interface NeedChances {
  /** The chance of the target with any of her scores. */
  readonly any: number;
  /** The chance of the target if she scores at least what is enough (`ahead`); null when her range has no such score. */
  readonly onceAhead: number | null;
  /** A bound on how wrong they can be. */
  readonly error: number;
}

/**
 * For each need of a sheet; null where a range is missing.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param sheet - As `needs` gave it.
 * @param options - The `margin` and the `d` that the sheet was asked with.
 * @returns One a need, in the order of the sheet; null where a range is missing or no score is enough.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `wrong-option`: a word that is not one of those known
 * @throws `wrong-score`: no score
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const [first] = needChances(meet, needs(meet, 'brondt', { for: 'medal' }));
 * first?.onceAhead?.toFixed(2) // → '0.93'
 */
export function needChances(
  meet: Meet,
  sheet: NeedsSheet | FinishedSheet,
  options: Pick<NeedsOptions, 'margin' | 'd'> = {},
): (NeedChances | null)[] {
  // Who has finished needs nothing.
  if (sheet.finished !== null) return [];
  const contest = findContest(meet, sheet.contest);
  const routine = routineOf(meet, sheet.gymnast, sheet.apparatus);
  if (routine === undefined) return sheet.needs.map(() => null);
  const { margin, d } = checkedOptions(meet, options);
  const shown = withD(meet, routine.index, d);
  return sheet.needs.map((need) => {
    const { target, when } = need;
    const enough = enoughFor(need);
    if (enough === null) return null;
    const asked = curveTarget(
      contest,
      parseTarget(meet, contest, target),
      sheet.hold?.place ?? null,
    );
    const curve = ifRangesAre(() =>
      targetByScore(shown, contest, {
        contender: sheet.contender,
        routine: routine.index,
        target: asked,
        when,
        margin,
      }),
    );
    if (curve === null || curve.points.length === 0) return null;
    const from = curve.points.filter((p) => p.score >= enough);
    return { any: meanOf(curve.points) ?? 0, onceAhead: meanOf(from), error: curve.error };
  });
}
