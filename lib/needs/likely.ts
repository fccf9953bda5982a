/** Needs and chances together: the score for a chance, and the chances at the end by her score. */

import type { Contest } from '../contest/contest.js';
import { badUsage, LastRotationError } from '../error.js';
import { limitAt, type Meet, type Routine, rangeAt } from '../meet/meet.js';
import { expecting } from '../meet/ranges.js';
import { asScore, type Score, type Units } from '../score.js';
import type { Asked } from './need.js';
import type { ParsedTarget, Question } from './target.js';
import {
  type CurveTarget,
  scoreForChance,
  type TargetPoint,
  targetByScore,
} from './target-curve.js';

export function checkChance(chance: number): void {
  if (chance > 0 && chance <= 1) return;
  throw badUsage('wrong-chance', `${chance} is no chance`, 'above 0, up to 1: 0.5, or 50%');
}

/** The lowest score that gives the target of a need a chance; null when none within her limit does. */
export function scoreForNeed(
  meet: Meet,
  { contest, contender, routine, place }: Asked,
  { target, when, margin, d }: Question,
  chance: number,
): Score | null {
  const found = scoreForChance(
    withD(meet, routine, d),
    contest,
    {
      contender: contender.id,
      routine,
      target: curveTarget(contest, target, place),
      when,
      margin,
    },
    { chance, limit: limitAt(meet, routine) },
  );
  return found === null ? null : asScore(found);
}

/** The chances of what is to be had at the end, by her score. */
export interface EndCurves {
  readonly win: readonly TargetPoint[];
  readonly medal: readonly TargetPoint[];
  /** Null where nobody advances from the contest. */
  readonly advance: readonly TargetPoint[] | null;
}

/** Null where a range is missing. */
export function endCurves(
  meet: Meet,
  contest: Contest,
  contender: string,
  routine: Routine,
  d: Units | null,
): EndCurves | null {
  const shown = withD(meet, routine.index, d);
  return ifRangesAre(() => {
    const asked = { contender, routine: routine.index, when: 'end', margin: 0 } as const;
    const pointsOf = (target: CurveTarget) =>
      targetByScore(shown, contest, { ...asked, target }).points;
    const { advance, medals } = contest;
    return {
      win: pointsOf({ place: 1 }),
      medal: pointsOf({ place: medals }),
      advance: advance === null ? null : pointsOf({ advance }),
    };
  });
}

/** The chance of the target over some scores; null when none of them can happen. */
export function meanOf(points: readonly TargetPoint[]): number | null {
  const whole = points.reduce((sum, p) => sum + p.chance, 0);
  if (whole === 0) return null;
  return Math.min(points.reduce((sum, p) => sum + p.chance * p.met, 0) / whole, 1);
}

/** What is asked, or null where a range that it takes is missing. */
export function ifRangesAre<T>(ask: () => T): T | null {
  try {
    return ask();
  } catch (error) {
    if (error instanceof LastRotationError && error.code === 'missing-range') return null;
    throw error;
  }
}

/** What a target asks of the end of the contest; `place` is the one to hold. */
export function curveTarget(
  contest: Contest,
  target: ParsedTarget,
  place: number | null,
): CurveTarget {
  switch (target.kind) {
    case 'medal':
      return { place: contest.medals };
    case 'hold':
      return { place: place ?? 1 };
    case 'place':
      return { place: target.place };
    case 'beat':
      return { beat: target.id };
    case 'total':
      return { total: target.total };
    case 'advance':
      return contest.advance === null ? { place: 1 } : { advance: contest.advance };
    default:
      return { place: 1 };
  }
}

/** Made once a meet, so that what is found out about it is found out once. */
const shownIn = new WeakMap<Meet, Map<string, Meet>>();

/** The meet with the D score she will show. */
export function withD(meet: Meet, routine: number, d: Units | null): Meet {
  if (d === null || d === rangeAt(meet, routine).d) return meet;
  const made = shownIn.get(meet) ?? new Map<string, Meet>();
  shownIn.set(meet, made);
  const key = `${routine} ${d}`;
  const shown = made.get(key) ?? expecting(meet, routine, asScore(d));
  made.set(key, shown);
  return shown;
}
