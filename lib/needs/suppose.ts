/** `suppose`: the board before and after scores that have not happened. */
import { CAUTION } from '../caution.js';
import { type Chances, chances } from '../chances/chances.js';
import { type Contest, findContest } from '../contest/contest.js';
import { type Standings, standings } from '../contest/standings.js';
import { calledOn, codeCalled } from '../contest/where.js';
import { findGymnast } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import {
  expectedResult,
  isToCome,
  type Meet,
  type Result,
  type Routine,
  rangeAt,
  routineAt,
  routineOf,
  stationOf,
} from '../meet/meet.js';
import { nextUp } from '../meet/now.js';
import { withRows } from '../meet/recording.js';
import { moveIn, type ReadRow } from '../meet/rows.js';
import { apparatusMend } from '../meet/which-apparatus.js';
import { asScore, type Score } from '../score.js';
import { ifRangesAre } from './likely.js';
import { type NeedsSheet, needsOfRoutines } from './sheet.js';
import { rowsToRecord } from './to-record.js';

/** One supposed routine: a score, or `low`, `likely`, `high`, `fall`, `DNS`. */
export interface Supposition {
  /** Her id, or any part of her name that fits only one. */
  readonly gymnast: string;
  /** By code, or by any word for it: `FX`, `floor`. */
  readonly apparatus: string;
  /** A score as a text or in units, or one of those words, which take it from her range. */
  readonly score: Score | string;
}

/** What would be if some scores happened. */
export interface Supposed {
  /** What was supposed, words replaced by the scores they stand for. */
  readonly supposed: readonly {
    /** Whose routine it is, by id. */
    readonly gymnast: string;
    /** The code of the apparatus. */
    readonly apparatus: string;
    /** What was taken for it. */
    readonly score: Score | 'DNS';
  }[];
  /** The board as it is. */
  readonly before: Standings;
  /** The board as it would be. */
  readonly after: Standings;
  /** Of the next up, if it happens. */
  readonly needs: readonly NeedsSheet[];
  /** Everyone's; null where a range that they need is missing, or where they were not asked for. */
  readonly chances: {
    /** As things are. */
    readonly before: Chances | null;
    /** As they would be. */
    readonly after: Chances | null;
  };
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

const WORDS = ['low', 'likely', 'high', 'fall'] as const;

/** Which contest is looked at, and whether chances are wanted. */
export interface SupposeOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** False leaves chances out, for an answer at once; null each. */
  readonly chances?: boolean | undefined;
}

/**
 * Nothing is written: the meet that is passed in stays as it is.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param suppositions - Whose score, where and how much, once or more.
 * @param options - Which contest, and whether chances are wanted.
 * @throws the code of a problem: what `check` would call an error or a warning of such a row, `wrong-score`
 *   for a score over the limit
 * @throws `wrong-score`: no score and no word for one
 * @throws `missing-range`: a word for a score of a range that is not known
 * @throws `supposed-twice`: a routine is supposed twice
 * @throws `unknown-apparatus`, `wrong-apparatus`: she has no routine there, or the word fits two
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const one = { gymnast: 'brondt', apparatus: 'BB', score: 'likely' };
 * const { supposed, after } = suppose(meet, [one], { chances: false });
 * supposed[0]?.score // → 14366
 * after.rows.find((row) => row.id === 'brondt')?.place // → 2
 */
export function suppose(
  meet: Meet,
  suppositions: readonly Supposition[],
  options: SupposeOptions = {},
): Supposed {
  const contest = findContest(meet, options.contest);
  const { meet: after, changed, ...boards } = boardsIf(meet, contest, suppositions);
  const isAsked = options.chances !== false;
  const before = isAsked ? chancesIn(meet, contest) : null;
  return {
    ...boards,
    // What the contest does not count changes nothing in it.
    chances: {
      before,
      after: isAsked && isCounted(contest, changed) ? chancesIn(after, contest) : before,
    },
    caution: CAUTION,
  };
}

/** What would be, the chances left to whoever asks. */
export interface BoardsIf
  extends Pick<Supposed, 'supposed' | 'before' | 'after' | 'needs'>,
    SupposedMeet {}

/** The boards before and after some scores, and what the next up would need. */
export function boardsIf(
  meet: Meet,
  contest: Contest,
  suppositions: readonly Supposition[],
): BoardsIf {
  const found = supposedMeet(meet, suppositions);
  const after = found.meet;
  return {
    ...found,
    before: standings(meet, { contest: contest.id }),
    after: standings(after, { contest: contest.id }),
    needs: needsOfRoutines(after, contest, stillNext(meet, after)),
  };
}

/** A meet in which what is supposed has happened. */
export interface SupposedMeet {
  readonly meet: Meet;
  readonly supposed: Supposed['supposed'];
  /** The routines that have such a score, by index. */
  readonly changed: readonly number[];
}

/** The meet if these scores happen; the one that is passed in stays as it is. Throws as `suppose` does. */
export function supposedMeet(meet: Meet, suppositions: readonly Supposition[]): SupposedMeet {
  const changes = new Map<number, Result>();
  const supposed = suppositions.map(({ gymnast, apparatus, score }) => {
    const who = findGymnast(meet, gymnast);
    const code = codeCalled(meet, apparatus);
    const routine = routineOf(meet, who.id, code);
    if (routine === undefined) {
      throw badUsage(
        'unknown-apparatus',
        `${who.name} has no routine on "${apparatus}"`,
        apparatusMend(apparatus, calledOn(meet, who.on), 'hers'),
      );
    }
    if (changes.has(routine.index)) {
      throw badUsage('supposed-twice', `${who.name} on ${code} is supposed twice`, 'keep one');
    }
    const result = supposedResult(meet, routine.index, score);
    changes.set(routine.index, result);
    const said: Score | 'DNS' = typeof result === 'string' ? 'DNS' : result.score;
    return { gymnast: who.id, apparatus: code, score: said };
  });
  const rows = [...changes].map(([routine, result]): ReadRow => {
    const { gymnast, apparatus } = routineAt(meet, routine);
    return { gymnast, apparatus, act: { kind: 'result', result }, notes: [] };
  });
  return { meet: withRows(meet, rows).meet, supposed, changed: [...changes.keys()] };
}

/** Who is next up then: a score that is supposed out of turn passes over nobody who was next before it. */
function stillNext(meet: Meet, after: Meet): Routine[] {
  const before = nextUp(meet).filter((r) => isToCome(after, r.index));
  const covered = new Set(before.map((r) => stationOf(meet, r.apparatus)));
  const then = nextUp(after).filter((r) => !covered.has(stationOf(meet, r.apparatus)));
  return [...before, ...then].sort((a, b) => a.index - b.index);
}

function isCounted(contest: Contest, changed: readonly number[]): boolean {
  return contest.contenders.some((c) => c.routines.some((i) => changed.includes(i)));
}

function chancesIn(meet: Meet, contest: Contest): Chances | null {
  return ifRangesAre(() => chances(meet, null, { contest: contest.id }));
}

function supposedResult(meet: Meet, routine: number, given: Score | string): Result {
  const { gymnast, apparatus } = routineAt(meet, routine);
  const word = WORDS.find((w) => typeof given === 'string' && w === given.toLowerCase());
  const score = word === undefined ? given : scoreOf(meet, routine, word);
  const text = String(given).trim();
  const isWord = /^(void|dnf|up|inquiry|confirmed)$/i.test(text) || moveIn(text) !== null;
  const [row] = isWord ? [] : rowsToRecord(meet, { gymnast, apparatus, score }).read;
  if (row === undefined || row.act === 'void' || row.act.kind !== 'result') {
    throw badUsage(
      'wrong-score',
      `"${given}" cannot be supposed`,
      'a score, low, likely, high, fall or DNS',
    );
  }
  const { result } = row.act;
  // A supposed score breaks ties as a need does: by the D score she is expected to show.
  return typeof result === 'string' ? result : expectedResult(meet, routine, result.score);
}

function scoreOf(meet: Meet, routine: number, word: (typeof WORDS)[number]): Score {
  const range = rangeAt(meet, routine);
  const score = word === 'fall' ? range.likely : range[word];
  if (score === null) {
    const { gymnast, apparatus } = routineAt(meet, routine);
    throw noAnswer(
      'missing-range',
      `${gymnast} has no ${word === 'fall' ? 'likely' : word} on ${apparatus}`,
      'give a score, or a range in the meet file',
    );
  }
  return word === 'fall' ? asScore(Math.max(score - meet.scoring.fall, 0)) : score;
}
