/** Everyone's chances where they take no time, for answers that may not wait for them. */
import { type FieldChances, fieldChances } from '../chances/contender-chances.js';
import type { Contest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { isOut } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { ifRangesAre } from './likely.js';

/** So many apparatus to come for anybody, and so many routines for all together, take no time. */
const MOST_EACH = 2;
const MOST_IN_ALL = 36;

/** Null where too much is to come, and where a range is missing. */
export function quickChances(meet: Meet, contest: Contest): FieldChances | null {
  if (!isQuick(meet, contest.contenders)) return null;
  return ifRangesAre(() => fieldChances(meet, contest));
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
