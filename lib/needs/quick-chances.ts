/** Everyone's chances without medal outcomes; and only where they take no time, for answers that may not wait for them. */
import type { Chances } from '../chances/chances.js';
import { contenderChances } from '../chances/contender-chances.js';
import { modelOf, totalOf } from '../chances/model.js';
import { type PlaceQuestion, placeChances } from '../chances/place-chances.js';
import type { Contest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { isOut } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { ifRangesAre } from './likely.js';

/** So many apparatus to come for anybody, and so many routines for all together, take no time. */
const MOST_EACH = 2;
const MOST_IN_ALL = 36;

/** Everyone's chances, computed, without medal outcomes and what is at stake. */
export type FieldChances = Pick<Chances, 'method' | 'contenders' | 'error' | 'skipped'>;

type FieldQuestion = Pick<PlaceQuestion, 'isByTotal' | 'among' | 'advance'>;

/**
 * Throws when a range is missing. By total, ties are not told apart, which takes next to no time; `among`: of no place
 * after the last of those; and of going on unless that is not asked.
 */
export function fieldChances(
  meet: Meet,
  contest: Contest,
  question: FieldQuestion = {},
): FieldChances {
  const model = modelOf(meet, contest);
  const { places, advance, error } = placeChances(model, { advance: true, ...question });
  const totals = model.entrants.map(totalOf);
  const contenders = contenderChances(model, { places, advance, totals, error });
  return { method: 'exact', contenders, error, skipped: model.skipped.map((r) => r.name) };
}

/** Null where too much is to come, and where a range is missing. */
export function quickChances(
  meet: Meet,
  contest: Contest,
  question: FieldQuestion = {},
): FieldChances | null {
  if (!isQuick(meet, contest.contenders)) return null;
  return ifRangesAre(() => fieldChances(meet, contest, question));
}

/** One of how many of the first places is the title, and a medal: what is asked about where nothing else is. */
export function medalPlaces({ medals }: Contest): number[] {
  return [1, medals];
}

/** Whether so little is to come for some contenders that their chances take no time. */
export function isQuick(meet: Meet, contenders: readonly Contender[]): boolean {
  const recorded = recordedPerformances(meet);
  const isOpen = (routine: number) => recorded[routine] === null;
  let all = 0;
  for (const contender of contenders) {
    if (isOut(contender, recorded)) continue;
    const { parts, routines } = contender;
    if (parts.filter((part) => part.routines.some(isOpen)).length > MOST_EACH) return false;
    all += routines.filter(isOpen).length;
  }
  return all <= MOST_IN_ALL;
}
