/** A score in its place: what it was good for in the contest, for her, and tonight. */

import { CAUTION } from '../caution.js';
import type { Chance, ChanceChange, Measure } from '../chance.js';
import { rank } from '../contest/board.js';
import { findContest } from '../contest/contest.js';
import { isScored, type Meet, type Range, type Routine, rangeAt, routineOf } from '../meet/meet.js';
import { withoutResult } from '../meet/recording.js';
import { distributionIn } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score } from '../score.js';
import { contenderOf, type Needed, neededFor, type WhoseScore } from './needed.js';
import { medalPlaces, quickChances } from './quick-chances.js';
import type { Recorded } from './recorded.js';

/** How good a score was for her, by the range she had before it. */
export interface AgainstRange {
  /** The mean of her range, falls included; null where something of it is missing. */
  readonly expected: Score | null;
  /** How far the score is above what was expected; null where it is below. */
  readonly overBy: Score | null;
  /** How far it is below what was expected; null where it is not. */
  readonly underBy: Score | null;
  /** How many of a hundred such routines it beats. */
  readonly percentile: Measure | null;
  /** Where her range is from. */
  readonly rangeFrom: Range['from'];
}

/** How good it was among all scores on its apparatus so far. */
export interface Tonight {
  /** One more than the number of better scores. */
  readonly place: number;
  /** Somebody else has the same score. */
  readonly tied: boolean;
  /** How many scores there are, hers included. */
  readonly of: number;
  /** The best score of all others, and who has it; null where there is none. */
  readonly best: {
    /** All who have it. */
    readonly ids: readonly string[];
    /** What it is. */
    readonly score: Score;
  } | null;
  /** How far it is from the best of all others, and how far above it; one of them is null. */
  readonly behind: Score | null;
  /** How far it is above the best of all others; null where it is not. */
  readonly ahead: Score | null;
}

/** A chance before the score and after it. */
export interface Change {
  /** As if the score had not come. */
  readonly before: Chance;
  /** With it. */
  readonly after: Chance;
}

/** What a score did to the chances of one. */
export interface Changes {
  /** Of a gymnast or a team that the contest ranks. */
  readonly id: string;
  /** Of first place, a shared one too. */
  readonly win: Change;
  /** Of a place that brings a medal. */
  readonly medal: Change;
  /** Null where nobody advances from the contest. */
  readonly advance: Change | null;
}

/**
 * A score beside what was needed, what was usual for her, what others got, and what it did to
 * chances.
 */
export interface InPlace extends AgainstRange {
  /** The id of the contest it is looked at in. */
  readonly contest: string;
  /** Null where the contest does not count her. */
  readonly contender: string | null;
  /** Whose score it is, by id. */
  readonly gymnast: string;
  /** Where she got it, by code. */
  readonly apparatus: string;
  /** Of the routine, counted from 1. */
  readonly session: number;
  /** Of the routine, counted from 1 within its session. */
  readonly rotation: number;
  /** What she got. */
  readonly score: Score;
  /** Of the contender; null where she is none, and without a place. */
  readonly total: Score | null;
  /** On the board with the score; null without a place. */
  readonly place: number | null;
  /** Shares that place. */
  readonly tied: boolean;
  /** Targets that were open before her routine: lead, win, medal, advance. */
  readonly needed: readonly Needed[];
  /** Beside all scores on the apparatus so far. */
  readonly tonight: Tonight;
  /** What it changed of her own chances, or her team's; null where chances take time, or a range is missing. */
  readonly worth: {
    /** Her chance to win after the score, less the one before it. */
    readonly win: ChanceChange;
    /** The same of a medal. */
    readonly medal: ChanceChange;
    /** Null where nobody advances from the contest. */
    readonly advance: ChanceChange | null;
  } | null;
  /** Of all who can still reach any of them, or could, the best chance to win first; null as `worth` is. */
  readonly chances: readonly Changes[] | null;
  /** A bound on how wrong a chance can be; null without chances. */
  readonly error: Chance | null;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/**
 * A recorded score in its place; null for a row that brought no score. `before` and `after`: the meet without
 * and with it, as `recordBetween` gives them. A score that was changed is judged as if it had come at once.
 * @param before - The meet without the score.
 * @param after - The meet with it.
 * @param recorded - What `record` said of the row between the two.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { meet: after, recorded } = record(meet, { gymnast: 'brondt', apparatus: 'BB', score: '14.2' });
 * const inPlace = scoreInPlace(meet, after, recorded);
 * [inPlace?.place, inPlace?.overBy, inPlace?.percentile?.toFixed(0)] // → [2, 21, '34']
 * inPlace?.needed.map((n) => [n.target, n.onGrid, n.got])[0] // → ['lead', 14633, 'short']
 */
export function scoreInPlace(before: Meet, after: Meet, recorded: Recorded): InPlace | null {
  const { row, kind, contest: id, total, place } = recorded;
  if (kind !== 'score' && kind !== 'changed' && kind !== 'corrected') return null;
  const whose = { gymnast: row.gymnast ?? '', apparatus: row.apparatus ?? '' };
  const routine = routineOf(after, whose.gymnast, whose.apparatus);
  const result = routine && after.results[routine.index];
  if (routine === undefined || !isScored(result)) return null;
  const open = withoutResult(before, whose.gymnast, whose.apparatus);
  const contest = findContest(after, id);
  const contender = contenderOf(after, contest, whose.gymnast);
  const rows = contender === null ? [] : rank(contest, recordedPerformances(after)).rows;
  return {
    contest: contest.id,
    contender: contender?.id ?? null,
    ...whose,
    session: routine.session,
    rotation: routine.rotation,
    score: result.score,
    total,
    place,
    tied: rows.some((r) => r.entry.contender === contender && r.tied),
    needed: neededFor(open, id, whose, result),
    ...againstRange(open, whose, result.score),
    tonight: tonightOf(after, routine, result.score),
    ...(contender?.routines.includes(routine.index) === true
      ? changesOf(open, after, id, contender)
      : { worth: null, chances: null, error: null }),
    caution: CAUTION,
  };
}

/** A score against the range that its routine had before it. */
export function againstRange(
  open: Meet,
  { gymnast, apparatus }: WhoseScore,
  score: Score,
): AgainstRange {
  const routine = routineOf(open, gymnast, apparatus);
  const range = routine && rangeAt(open, routine.index);
  const distribution = range && distributionIn(open, range);
  if (range === undefined || distribution == null) {
    return { expected: null, overBy: null, underBy: null, percentile: null, rangeFrom: null };
  }
  let mean = 0;
  let beaten = 0;
  for (const [i, other] of distribution.scores.entries()) {
    const chance = distribution.chances[i] ?? 0;
    mean += other * chance;
    if (other < score) beaten += chance;
  }
  const expected = asScore(Math.round(mean));
  const isAbove = score > (distribution.scores.at(-1) ?? 0);
  return {
    expected,
    overBy: score >= expected ? asScore(score - expected) : null,
    underBy: score < expected ? asScore(expected - score) : null,
    percentile: isAbove ? 100 : Math.min(beaten * 100, 100),
    rangeFrom: range.from,
  };
}

function tonightOf(meet: Meet, { index, apparatus }: Routine, score: Score): Tonight {
  const others = meet.routines.flatMap((r) => {
    const result = meet.results[r.index];
    if (r.index === index || r.apparatus !== apparatus || !isScored(result)) return [];
    return [{ id: r.gymnast, score: result.score }];
  });
  const best = others.reduce((most, o) => Math.max(most, o.score), 0);
  const isBest = others.length === 0 || score > best;
  return {
    place: 1 + others.filter((o) => o.score > score).length,
    tied: others.some((o) => o.score === score),
    of: others.length + 1,
    best:
      others.length === 0
        ? null
        : { ids: others.flatMap((o) => (o.score === best ? o.id : [])), score: asScore(best) },
    behind: isBest ? null : asScore(best - score),
    ahead: isBest && others.length > 0 ? asScore(score - best) : null,
  };
}

/** With smaller chances before and after nobody is named. */
const LEAST = 0.001;

function changesOf(
  open: Meet,
  after: Meet,
  contestId: string,
  contender: Contender,
): Pick<InPlace, 'worth' | 'chances' | 'error'> {
  const nothing = { worth: null, chances: null, error: null };
  const chancesIn = (meet: Meet) => {
    const contest = findContest(meet, contestId);
    return quickChances(meet, contest, { among: medalPlaces(contest) });
  };
  const was = chancesIn(open);
  const is = was && chancesIn(after);
  if (was === null || is === null) return nothing;
  const before = new Map(was.contenders.map((c) => [c.id, c]));
  const all = is.contenders.map(
    ({ id, win, medal, advance }): Changes => ({
      id,
      win: { before: before.get(id)?.win ?? 0, after: win },
      medal: { before: before.get(id)?.medal ?? 0, after: medal },
      advance: advance === null ? null : { before: before.get(id)?.advance ?? 0, after: advance },
    }),
  );
  const hers = all.find(({ id }) => id === contender.id);
  const change = ({ before, after }: Change) => after - before;
  return {
    worth:
      hers === undefined
        ? null
        : {
            win: change(hers.win),
            medal: change(hers.medal),
            advance: hers.advance === null ? null : change(hers.advance),
          },
    chances: all
      .filter(({ win, medal, advance }) =>
        [win, medal, advance].some((c) => c !== null && (c.before >= LEAST || c.after >= LEAST)),
      )
      .sort(
        (a, b) =>
          b.win.after - a.win.after ||
          b.medal.after - a.medal.after ||
          (b.advance?.after ?? 0) - (a.advance?.after ?? 0),
      ),
    error: Math.max(was.error, is.error),
  };
}
