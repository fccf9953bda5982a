/** One moment of the story: a score, a correction or a withdrawal, and what it changed. */
import type { Chance, ChanceChange, Measure } from '../chance.js';
import { type Contest, findContest } from '../contest/contest.js';
import {
  isScored,
  type Meet,
  type Range,
  type Result,
  routineAt,
  routineOf,
} from '../meet/meet.js';
import { withoutResult } from '../meet/recording.js';
import type { ReplayedRow } from '../meet/replay.js';
import { againstRange } from '../needs/in-place.js';
import { contenderOf, type WhoseScore } from '../needs/needed.js';
import { kindOf, type Recorded, type RecordedKind, standsOf } from '../needs/recorded.js';
import { isOut } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score } from '../score.js';
import { type ChancesThen, type Moment, momentOf } from './moment.js';

/** What a row of the log changed for whose it is, or for her team. */
export interface Worth {
  /** The chance to win after it, less the one before. */
  readonly win: ChanceChange;
  /** The same of a medal. */
  readonly medal: ChanceChange;
  /** Null where nobody advances from the contest. */
  readonly advance: ChanceChange | null;
  /**
   * A new score less what was expected, one that was changed less what stood before; null where there is
   * no score, or no range.
   */
  readonly points: Score | null;
}

/** A row of the log that changed something in the contest. */
export interface StoryPoint {
  /** Its number among the rows of the log, counted from 1. */
  readonly row: number;
  /** What it was: `score`, `changed` by an inquiry, `corrected`, `withdrawn`, `taken-back`, `steps-in`, … */
  readonly kind: RecordedKind;
  /** Whose row it is, by id. */
  readonly gymnast: string;
  /** Whom the contest ranks: her, or her team; null where it ranks neither any more. */
  readonly contender: string | null;
  /** Null, as session and rotation are, where a row speaks of all she has to come. */
  readonly apparatus: string | null;
  /** Of the routine, counted from 1. */
  readonly session: number | null;
  /** Of the routine, counted from 1 within its session. */
  readonly rotation: number | null;
  /** The score that stands now; null where none does. */
  readonly score: Score | null;
  /** What stood before, and what stands now. */
  readonly was: Recorded['was'];
  /** What stands of the routine after it. */
  readonly now: Recorded['now'];
  /** The mean of her range as it was before the score, falls included; null without a score, or a range. */
  readonly expected: Score | null;
  /** How many of a hundred such routines it beats. */
  readonly percentile: Measure | null;
  /** Where her range is from; null without a score. */
  readonly rangeFrom: Range['from'];
  /** What it changed of her chances, or her team's; null where the contest ranks neither. */
  readonly worth: Worth | null;
  /** Everyone's after it, in start order. */
  readonly chances: readonly ChancesThen[];
  /** A bound on how wrong one of these chances can be; a change can be wrong by that of both moments together. */
  readonly error: Chance;
}

/** A point with what is not part of it. */
export interface Told {
  readonly point: StoryPoint;
  readonly skipped: Moment['skipped'];
}

/** The meet before a row and after it, and the chances before it. */
interface Around {
  readonly before: Meet;
  readonly after: Meet;
  readonly was: readonly ChancesThen[];
}

/** The point a row makes; null where it changes nothing in the contest. */
export function pointOf(
  { row, read, values }: ReplayedRow,
  contestId: string,
  { before, after, was }: Around,
): Told | null {
  if (read === null) return null;
  const contest = findContest(after, contestId);
  const contender = contenderOf(after, contest, read.gymnast);
  const now = standsOf(after, read);
  if (!hasChanged(before, after, contestId)) return null;
  if (typeof now !== 'number' && isOutInBoth(before, after, contestId, read)) return null;
  const is = momentOf(after, contest);
  const routine = routineOf(after, read.gymnast, read.apparatus);
  const score = typeof now === 'number' ? now : null;
  const stood = standsOf(before, read);
  const against = score === null ? null : againstRange(openOf(before, read), read, score);
  const expected = against?.expected ?? null;
  const from = typeof stood === 'number' ? stood : expected;
  const point: StoryPoint = {
    row,
    kind: kindOf(before, after, read, values.note),
    gymnast: read.gymnast,
    contender: contender?.id ?? null,
    apparatus: routine?.apparatus ?? null,
    session: routine?.session ?? null,
    rotation: routine?.rotation ?? null,
    score,
    was: stood,
    now,
    expected,
    percentile: against?.percentile ?? null,
    rangeFrom: against?.rangeFrom ?? null,
    worth:
      contender === null
        ? null
        : {
            ...changeOf(contender.id, was, is.chances),
            points: score === null || from === null ? null : asScore(score - from),
          },
    chances: is.chances,
    error: is.error,
  };
  return { point, skipped: is.skipped };
}

/** The meet before a score, her routine to come. */
function openOf(before: Meet, { gymnast, apparatus }: WhoseScore): Meet {
  return withoutResult(before, gymnast, apparatus);
}

function changeOf(
  id: string,
  was: readonly ChancesThen[],
  is: readonly ChancesThen[],
): Omit<Worth, 'points'> {
  const [before, after] = [was, is].map((all) => all.find((c) => c.id === id));
  const change = (target: 'win' | 'medal' | 'advance') =>
    (after?.[target] ?? 0) - (before?.[target] ?? 0);
  return {
    win: change('win'),
    medal: change('medal'),
    advance: after?.advance == null ? null : change('advance'),
  };
}

/** Whether anything the contest counts is otherwise: a result, or who does a routine. */
function hasChanged(before: Meet, after: Meet, contestId: string): boolean {
  const [was, is] = [before, after].map((meet) => countedIn(meet, findContest(meet, contestId)));
  return was !== is;
}

/** Every result that a contest counts, as a text to be compared. */
function countedIn(meet: Meet, { contenders }: Contest): string {
  const results = contenders.flatMap(({ id, routines }) =>
    routines.map((i) => {
      const { gymnast, apparatus } = routineAt(meet, i);
      return JSON.stringify([id, gymnast, apparatus, settled(meet.results[i] ?? null)]);
    }),
  );
  return results.sort().join('\n');
}

/** A score under inquiry counts as it stands. */
function settled(result: Result | null): Result | null {
  return isScored(result) ? { ...result, underInquiry: false } : result;
}

/** Whether whoever withdraws was out of the contest already, and stays so. */
function isOutInBoth(before: Meet, after: Meet, contestId: string, whose: WhoseScore): boolean {
  return [before, after].every((meet) => {
    const contender = contenderOf(meet, findContest(meet, contestId), whose.gymnast);
    return contender !== null && isOut(contender, recordedPerformances(meet));
  });
}
