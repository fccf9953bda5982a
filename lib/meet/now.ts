/**
 * What is on now. The plan says who goes up when, the log what happened: an apparatus moves on by
 * itself, and a score that is missing on it holds up nothing elsewhere.
 */
import type { Score } from '../score.js';
import { isScored, isUp, type Meet, type Routine, stationOf } from './meet.js';
import { apparatusName, nameOf } from './names.js';
import { type ProblemList, report } from './problems.js';
import { requireSound } from './sound.js';

/**
 * The next up on each apparatus, in the order they go up: the first without a result after the last one who
 * has a score or has performed. Nobody is next up in a rotation that has not come yet, or before an earlier
 * routine of her own.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * nextUp(meet).map((r) => `${r.gymnast} ${r.apparatus}`)[0] // → 'silvane VT'
 */
export function nextUp(meet: Meet): Routine[] {
  requireSound(meet);
  const pending = pendingRoutines(meet);
  const latest = latestToLookAt(meet, pending);
  const seen = new Set<string>();
  const busy = new Set<string>();
  return pending.filter((r) => {
    const station = stationOf(meet, r.apparatus);
    if (r.at > latest || seen.has(station)) return false;
    seen.add(station);
    const isFree = !busy.has(r.gymnast) && !hasEarlier(pending, r);
    if (isFree) busy.add(r.gymnast);
    return isFree;
  });
}

/**
 * Who goes up after each of the next up on its apparatus, in the same rotation; nobody where the next up is
 * the last there.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * secondUp(meet).map((r) => `${r.gymnast} ${r.apparatus}`)[0] // → 'iyerson UB'
 */
export function secondUp(meet: Meet): Routine[] {
  const pending = pendingRoutines(meet);
  const next = nextUp(meet);
  const busy = new Set(next.map((r) => r.gymnast));
  const second = next.flatMap((first) => {
    const station = stationOf(meet, first.apparatus);
    return (
      pending.find(
        (r) =>
          r.index > first.index &&
          r.at === first.at &&
          r.gymnast !== first.gymnast &&
          stationOf(meet, r.apparatus) === station,
      ) ?? []
    );
  });
  return second
    .filter((r) => !busy.has(r.gymnast) && !hasEarlier(pending, r))
    .sort((a, b) => a.index - b.index);
}

/**
 * Routines whose score is awaited: those that have been performed, and those that were passed over, since on
 * their apparatus somebody behind them has a score already. All of them are still to come in every need and
 * chance.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * awaited(meet) // → []
 */
export function awaited(meet: Meet): Routine[] {
  requireSound(meet);
  return [...awaitedIn(meet)];
}

/**
 * Routines whose score stands and may change.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { meet: next } = record(meet, { gymnast: 'brondt', apparatus: 'VT', score: 'inquiry' });
 * underInquiry(next).map((r) => r.gymnast) // → ['brondt']
 */
export function underInquiry(meet: Meet): Routine[] {
  requireSound(meet);
  return meet.routines.filter((r) => isUnderInquiry(meet, r.index));
}

export function isUnderInquiry(meet: Meet, routine: number): boolean {
  const result = meet.results[routine];
  return isScored(result) && result.underInquiry;
}

/** What an answer rests on that may still change. */
export interface OpenScores {
  /** Routines performed or passed over whose score has not come. */
  readonly awaited: readonly {
    /** Who has performed, by id. */
    gymnast: string;
    /** Where she has, by code. */
    apparatus: string;
  }[];
  /** Scores that stand and may change. */
  readonly underInquiry: readonly {
    /** Whose score it is, by id. */
    gymnast: string;
    /** Where she got it, by code. */
    apparatus: string;
    /** As it stands until the inquiry is decided. */
    score: Score;
  }[];
}

/** Of the routines that a contest counts. */
export function openScores(
  meet: Meet,
  contenders: readonly { readonly routines: readonly number[] }[],
): OpenScores {
  const isCounted = (index: number) => contenders.some((c) => c.routines.includes(index));
  const waiting = awaitedIn(meet).filter((r) => isCounted(r.index));
  return {
    awaited: waiting.map(({ gymnast, apparatus }) => ({ gymnast, apparatus })),
    underInquiry: meet.routines.flatMap(({ index, gymnast, apparatus }) => {
      const result = meet.results[index];
      if (!isScored(result) || !result.underInquiry || !isCounted(index)) return [];
      return [{ gymnast, apparatus, score: result.score }];
    }),
  };
}

/** Says of a log which scores are missing in it, and which may change. */
export function noteWhatIsOpen(meet: Meet, list: ProblemList): void {
  const scoreOf = ({ gymnast, apparatus }: Routine) =>
    `the score of ${nameOf(meet, gymnast)} on ${apparatusName(meet, apparatus)}`;
  for (const routine of awaitedIn(meet)) {
    const message = `${scoreOf(routine)} is awaited`;
    report(list, 'note', 'awaited', null, message, 'record it when it comes, or DNS');
  }
  for (const routine of meet.routines.filter((r) => isUnderInquiry(meet, r.index))) {
    const message = `${scoreOf(routine)} is under inquiry`;
    report(list, 'note', 'under-inquiry', null, message, 'record the score that comes of it');
  }
}

/** Meets never change, so what is awaited in one is found once. */
const awaitedOf = new WeakMap<Meet, Routine[]>();

function awaitedIn(meet: Meet): Routine[] {
  const known = awaitedOf.get(meet);
  if (known !== undefined) return known;
  const isPassed = passedOver(meet);
  const found = meet.routines.filter(
    (r) => hasNoResult(meet, r) && (isUp(meet, r.index) || isPassed(r)),
  );
  awaitedOf.set(meet, found);
  return found;
}

/** To come, not performed and not passed over. */
function pendingRoutines(meet: Meet): Routine[] {
  const isPassed = passedOver(meet);
  return meet.routines.filter((r) => hasNoResult(meet, r) && !isUp(meet, r.index) && !isPassed(r));
}

function hasNoResult(meet: Meet, { index }: Routine): boolean {
  return meet.results[index] === null;
}

/** Whether somebody behind a routine, on its apparatus, has a score or has performed. */
function passedOver(meet: Meet): (routine: Routine) => boolean {
  const last = new Map<string, number>();
  for (const r of meet.routines)
    if (hasBeen(meet, r)) last.set(stationOf(meet, r.apparatus), r.index);
  return (r) => r.index < (last.get(stationOf(meet, r.apparatus)) ?? -1);
}

/** Whether it has been performed. A withdrawal may be told long before her turn, and moves nothing on. */
export function hasBeen(meet: Meet, { index, gymnast }: Routine): boolean {
  const result = meet.results[index];
  if (result !== 'DNF') return isScored(result) || isUp(meet, index);
  // Who broke off has been up there; one who is withdrawn from several at once has not.
  return meet.routines.every(
    (r) => r.index === index || r.gymnast !== gymnast || meet.results[r.index] !== 'DNF',
  );
}

/** Whether she has a routine to come before this one. */
function hasEarlier(pending: readonly Routine[], { gymnast, index }: Routine): boolean {
  return pending.some((r) => r.gymnast === gymnast && r.index < index);
}

/**
 * The last rotation somebody can be next up in: the latest that is under way, or the one after it once
 * nobody, or one at most, is to come on each of its apparatus. A session waits until that is so of all
 * rotations of the one before it.
 */
function latestToLookAt(meet: Meet, pending: readonly Routine[]): number {
  const begun = meet.routines.reduce((at, r) => (hasBeen(meet, r) ? Math.max(at, r.at) : at), 0);
  const toCome = Math.min(...pending.flatMap((r) => (r.at >= begun ? [r.at] : [])));
  const latest = isNearlyOver(meet, pending, (r) => r.at === toCome) ? toCome + 1 : toCome;
  const { rotations } = meet;
  const now = rotations[begun]?.session ?? 1;
  const then = rotations[Math.min(latest, rotations.length - 1)]?.session ?? now;
  const waits = rotations.find(
    ({ session }) =>
      session >= now &&
      session < then &&
      !isNearlyOver(meet, pending, (r) => r.session === session),
  );
  return waits === undefined ? latest : lastOf(meet, waits.session);
}

/** Whether of these routines nobody, or one at most, is to come on each apparatus. */
function isNearlyOver(
  meet: Meet,
  pending: readonly Routine[],
  isMeant: (routine: Routine) => boolean,
): boolean {
  const left = new Map<string, number>();
  for (const r of pending.filter(isMeant)) {
    left.set(stationOf(meet, r.apparatus), (left.get(stationOf(meet, r.apparatus)) ?? 0) + 1);
  }
  return [...left.values()].every((n) => n < 2);
}

/** The index of the last rotation of a session. */
function lastOf({ rotations }: Meet, session: number): number {
  return rotations.findLastIndex((r) => r.session === session);
}
