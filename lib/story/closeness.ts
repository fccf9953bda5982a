/** How close it came: by how little a place was decided, and what another score would have changed. */
import { type Contest, findContest } from '../contest/contest.js';
import { type StandingsRow, standings } from '../contest/standings.js';
import { isScored, type Meet, routineOf } from '../meet/meet.js';
import { withoutResult } from '../meet/recording.js';
import { type Needed, neededFor } from '../needs/needed.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score } from '../score.js';
import type { StoryPoint } from './point.js';
import type { Goal } from './turning-points.js';

/** The last score of the two who were next to each other, and what it would have taken. */
export interface LastWord {
  /** Of the log, counted from 1. */
  readonly row: number;
  /** Whose it was for: of the two the one who had the last score. */
  readonly contender: string;
  /** Who got it, by id. */
  readonly gymnast: string;
  /** Where, by code. */
  readonly apparatus: string;
  /** Of that routine, counted from 1. */
  readonly session: number;
  /** Of that routine, counted from 1 within its session. */
  readonly rotation: number;
  /** What it was. */
  readonly score: Score;
  /** The lowest real score that would have done it, everything else as it was; null beyond the limit. */
  readonly onGrid: Score | null;
  /** The lowest that would have, on the grid of real scores or off it. */
  readonly ahead: Score;
  /** How far the score is from `onGrid`, or from `ahead` without it: above it where it was enough, else below. */
  readonly margin: Score;
  /** Whether it was enough: `ahead`, `level` or `short`. */
  readonly got: Needed['got'];
}

/** By how little one had what another had not. */
export interface Closeness {
  /** What was won and missed. */
  readonly target: Goal;
  /** Who has it last, and who is the first that has not. */
  readonly in: string;
  /** The first who missed it, by id. */
  readonly out: string;
  /** How far apart their totals are. */
  readonly by: Score;
  /** The tie rule that decided, on equal totals. */
  readonly tieBy: TieRuleName | null;
  /** Null where no score of either would have changed it. */
  readonly last: LastWord | null;
}

/** Of a contest that is over: the title, the last medal, the last place that goes through. */
export function closenessOf(
  meet: Meet,
  contestId: string,
  points: readonly StoryPoint[],
): Closeness[] {
  const contest = findContest(meet, contestId);
  const rows = standings(meet, { contest: contestId }).rows;
  return goalsIn(contest).flatMap((target): Closeness[] => {
    const [last, first] = borderOf(rows, contest, target);
    if (last === undefined || first === undefined) return [];
    return [
      {
        target,
        in: last.id,
        out: first.id,
        by: asScore(last.total - first.total),
        tieBy: last.total === first.total ? (last.tieBy ?? first.tieBy) : null,
        last: lastWordOf(meet, contest, [last.id, first.id], target, points),
      },
    ];
  });
}

function goalsIn({ givesMedals, medals, advance }: Contest): Goal[] {
  return [
    ...(givesMedals ? (['win'] as const) : []),
    ...(givesMedals && medals > 1 ? (['medal'] as const) : []),
    ...(advance === null ? [] : (['advance'] as const)),
  ];
}

/** Who has it last, and the first who has not. */
function borderOf(
  rows: readonly StandingsRow[],
  { medals }: Contest,
  target: Goal,
): [StandingsRow | undefined, StandingsRow | undefined] {
  const ranked = rows.filter((r) => r.place !== null && !isOut(r));
  const has = (r: StandingsRow) =>
    target === 'advance'
      ? r.advance === 'in'
      : (r.place ?? Number.POSITIVE_INFINITY) <= (target === 'win' ? 1 : medals);
  return [ranked.findLast(has), ranked.find((r) => !has(r) && r.blockedBy.length === 0)];
}

/** Who is out stands behind everyone, and was beaten by nobody. */
function isOut({ projected }: StandingsRow): boolean {
  return projected === null;
}

function lastWordOf(
  meet: Meet,
  contest: Contest,
  two: readonly string[],
  target: Goal,
  points: readonly StoryPoint[],
): LastWord | null {
  const point = points.findLast(
    ({ contender, score }) => contender !== null && two.includes(contender) && score !== null,
  );
  if (point === undefined || point.contender === null || point.apparatus === null) return null;
  const { row, contender, gymnast, apparatus } = point;
  const routine = routineOf(meet, gymnast, apparatus);
  const result = routine && meet.results[routine.index];
  if (routine === undefined || !isScored(result)) return null;
  const open = withoutResult(meet, gymnast, apparatus);
  const need = neededFor(open, contest.id, { gymnast, apparatus }, result).find(
    (n) => n.target === target,
  );
  if (need === undefined) return null;
  const { onGrid, ahead, got } = need;
  return {
    row,
    contender,
    gymnast,
    apparatus,
    session: routine.session,
    rotation: routine.rotation,
    score: result.score,
    onGrid,
    ahead,
    margin: asScore(Math.abs(result.score - (onGrid ?? ahead))),
    got,
  };
}
