/** Whose turn it is, and who goes up before her: for a score that comes at another time. */
import {
  isScored,
  isToCome,
  isUp,
  type Meet,
  type Routine,
  routineAt,
  stationOf,
} from '../meet/meet.js';
import { apparatusName, listed, rotationInWords, shortName } from '../meet/names.js';
import { awaited, hasBeen, nextUp } from '../meet/now.js';

/** So many who go up before her are named. */
const MOST_NAMED = 2;

/**
 * Whether the score of a routine to come is the next of its apparatus or late: it is next up, or was passed
 * over, or everybody before it in a rotation that has begun there has a result or was passed over.
 */
export function isExpected(meet: Meet, routine: number): boolean {
  const isListed = [...nextUp(meet), ...awaited(meet)].some((r) => r.index === routine);
  return isListed || isNextThere(meet, routineAt(meet, routine));
}

/** Whether it is the next of a rotation that has begun there. */
export function isNextThere(meet: Meet, routine: Routine): boolean {
  return isUnderWay(meet, routine) && waitingBefore(meet, routine).length === 0;
}

/** Whoever else is to come before a routine on its apparatus, but for those passed over. */
export function waitingBefore(meet: Meet, { index, gymnast, apparatus }: Routine): Routine[] {
  const station = stationOf(meet, apparatus);
  const over = new Set(awaited(meet).map((r) => r.index));
  return meet.routines.filter(
    (r) =>
      r.index < index &&
      isToCome(meet, r.index) &&
      !over.has(r.index) &&
      r.gymnast !== gymnast &&
      stationOf(meet, r.apparatus) === station,
  );
}

/** Her own routines to come that the schedule has before this one, but for those passed over. */
export function ownBefore(meet: Meet, routine: number): Routine[] {
  const { gymnast } = routineAt(meet, routine);
  const over = new Set(awaited(meet).map((r) => r.index));
  return meet.routines.filter(
    (r) =>
      r.gymnast === gymnast && r.index < routine && isToCome(meet, r.index) && !over.has(r.index),
  );
}

/**
 * Who goes up before a routine that is not expected yet: "Mina Okafor is up on bars after Ruth Okafor
 * and Lund". Null for one that is expected, for one that has a result, and where only she herself comes
 * before.
 */
export function outOfTurn(meet: Meet, routine: number): string | null {
  if (!isToCome(meet, routine) || isExpected(meet, routine)) return null;
  const asked = routineAt(meet, routine);
  const { gymnast, apparatus, at } = asked;
  const isUp = `${shortName(meet, gymnast)} is up on ${apparatusName(meet, apparatus)}`;
  const waiting = waitingBefore(meet, asked);
  const names = [...new Set(waiting.map((r) => shortName(meet, r.gymnast)))];
  const [next] = names;
  if (next === undefined) {
    if (ownBefore(meet, routine).length > 0) return null;
    return `${isUp} in ${rotationInWords(meet, asked)}, which has not begun there`;
  }
  if (waiting.some((r) => r.at < at)) {
    return `${isUp} in ${rotationInWords(meet, asked)}, and ${next} is next there`;
  }
  const more = names.length - MOST_NAMED;
  const named = more > 1 ? [...names.slice(0, MOST_NAMED), `${more} more`] : names;
  return `${isUp} after ${listed(named)}`;
}

/** The last of her routines by the schedule that has a score; null before the first. */
export function lastScored(meet: Meet, gymnast: string): Routine | null {
  const hers = meet.routines.filter(
    (r) => r.gymnast === gymnast && isScored(meet.results[r.index]),
  );
  return hers.at(-1) ?? null;
}

/**
 * Her first routine to come by the schedule; where it was passed over, the one she is next up on, if any.
 * Null when nothing is to come.
 */
export function nextOf(meet: Meet, gymnast: string): Routine | null {
  return nextAmong(meet, (r) => r.gymnast === gymnast);
}

/** The same of a team, or of any of its routines. */
export function nextAmong(meet: Meet, isHers: (routine: Routine) => boolean): Routine | null {
  const first = meet.routines.find((r) => isHers(r) && isToCome(meet, r.index)) ?? null;
  const isPassedOver =
    first !== null &&
    !isUp(meet, first.index) &&
    awaited(meet).some((r) => r.index === first.index);
  return isPassedOver ? (nextUp(meet).find(isHers) ?? first) : first;
}

/**
 * Her last score, where a further one may be a correction of it: nobody has been scored after her on its
 * apparatus, and she is not up elsewhere in a rotation that has begun there. Null otherwise.
 */
export function justScored(meet: Meet, gymnast: string): Routine | null {
  const last = lastScored(meet, gymnast);
  if (last === null) return null;
  const station = stationOf(meet, last.apparatus);
  const isFollowed = meet.routines.some(
    (r) =>
      r.index > last.index &&
      stationOf(meet, r.apparatus) === station &&
      isScored(meet.results[r.index]),
  );
  const next = nextUp(meet).find((r) => r.gymnast === gymnast);
  const isUp = next !== undefined && isUnderWay(meet, next);
  return isFollowed || isUp ? null : last;
}

/** Whether somebody of its rotation has been scored where it is performed. */
export function isUnderWay(meet: Meet, { apparatus, at }: Routine): boolean {
  const station = stationOf(meet, apparatus);
  return meet.routines.some(
    (r) => r.at === at && stationOf(meet, r.apparatus) === station && hasBeen(meet, r),
  );
}
