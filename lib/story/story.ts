/** `story`: the evening in retrospect, from what was known at each moment. */
import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import { type Ranked, rank } from '../contest/board.js';
import { type Contest, findContest } from '../contest/contest.js';
import { routinesToCome } from '../contest/standings.js';
import type { History } from '../history/history.js';
import type { Meet } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import type { Source } from '../meet/read.js';
import { replayOf } from '../meet/replay.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score } from '../score.js';
import { type Closeness, closenessOf } from './closeness.js';
import { keep, keptOf } from './kept.js';
import { type ChancesThen, type Moment, momentOf } from './moment.js';
import { pointOf, type StoryPoint, type Told } from './point.js';
import { type Goal, goalOf, turningPointsOf } from './turning-points.js';
import { type Unlikely, unlikelyIn } from './unlikely.js';

/** Somebody at the top of the board. */
export interface AtTheTop {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** Counted from 1. */
  readonly place: number;
  /** Shares it. */
  readonly tied: boolean;
  /** As it stands, with what was carried in. */
  readonly total: Score;
  /** Behind whoever leads. */
  readonly behind: Score;
  /** How many routines are to come. */
  readonly toCome: number;
}

/** The evening of a contest in retrospect. */
export interface Story extends OpenScores {
  /** The id of the contest it is about. */
  readonly contest: string;
  /** Chances of a story are always computed. */
  readonly method: 'exact';
  /** A bound on how wrong a chance can be, the largest of all moments; each has its own. */
  readonly error: Chance;
  /** Tie rules that somebody lacked the data for at some moment, and so nobody was ranked by. */
  readonly skipped: readonly TieRuleName[];
  /** How many rows of the log it rests on. */
  readonly rows: number;
  /** What it is about: the title, medals where that was never open, or going through. */
  readonly about: Goal;
  /** Before the first score. */
  readonly start: {
    /** Everyone's, in start order. */
    readonly chances: readonly ChancesThen[];
    /** A bound on how wrong one of them can be. */
    readonly error: Chance;
  };
  /** In the order of the log: every row that changed something in the contest. */
  readonly points: readonly StoryPoint[];
  /** Rows after which most of it changed hands: a tenth at least, five at most, in order of time. */
  readonly turningPoints: readonly number[];
  /** Nothing is to come, and nothing under inquiry. */
  readonly isOver: boolean;
  /** Whoever is on a place that brings a medal, or would. */
  readonly top: readonly AtTheTop[];
  /** By how little it was decided; null until it is over. */
  readonly closeness: readonly Closeness[] | null;
  /** Null where nothing was. */
  readonly unlikely: Unlikely | null;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** Which contest; what may be taken over from an earlier answer. */
export interface StoryOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** Results of the past, which say since when somebody has not been as good. */
  readonly history?: History | null | undefined;
  /**
   * An earlier answer of `story` for the same meet file and contest: what it tells of rows that are still the
   * same is taken over, so that a score that is added costs one moment.
   */
  readonly known?: Story | null | undefined;
  /** Told how many rows of how many are done. */
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
}

/**
 * The evening told from its log: everyone's chances before the first score and after every row that changed
 * something, each from nothing but what was known then; what each score was worth, where it turned, how close
 * it came. Results that the meet has from elsewhere than the log are left aside.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param log - The text of its score log, as `readMeet` took it; null for an evening without one.
 * @param options - Which contest, and what is known already.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,VT,14.6\ncosteira,VT,13.2' };
 * const { start, points, turningPoints } = story(meet, log);
 * points.map((p) => [p.gymnast, p.expected, p.worth?.points]) // → [['brondt', 14230, 370], ['costeira', 14685, -1485]]
 * start.chances.find((c) => c.id === 'brondt')?.win.toFixed(2) // → '0.07'
 * points[0]?.chances.find((c) => c.id === 'brondt')?.win.toFixed(2) // → '0.15'
 * turningPoints // → []
 */
export function story(meet: Meet, log: Source | null, options: StoryOptions = {}): Story {
  const { history = null, known = null, onProgress } = options;
  const { id } = findContest(meet, options.contest);
  const replay = replayOf(meet, log);
  const values = replay.rows.map((row) => row.values);
  const kept = keptOf(known, { meet, contest: id, values });
  const from = kept?.rows ?? 0;
  let before = replay.after(from);
  const start = kept?.start ?? momentOf(before, findContest(before, id));
  const told = [...(kept?.told ?? [])];
  let was = told.at(-1)?.point.chances ?? start.chances;
  for (const row of replay.rows.slice(from)) {
    onProgress?.(row.row, replay.rows.length);
    const after = replay.after(row.row);
    const next = pointOf(row, id, { before, after, was });
    if (next !== null) {
      told.push(next);
      was = next.point.chances;
    }
    before = after;
  }
  const answer = storyOf(before, findContest(before, id), {
    history,
    start,
    told,
    rows: values.length,
  });
  keep(answer, { meet, contest: id, values }, { start, told });
  return answer;
}

/** The answer from all its moments. `meet`: as it stands after the last row. */
function storyOf(
  meet: Meet,
  contest: Contest,
  found: {
    readonly history: History | null;
    readonly start: Moment;
    readonly told: readonly Told[];
    readonly rows: number;
  },
): Story {
  const { history, start, told, rows } = found;
  const points = told.map((t) => t.point);
  const open = openScores(meet, contest.contenders);
  const ranked = rank(contest, recordedPerformances(meet)).rows;
  const isOver =
    open.underInquiry.length === 0 &&
    ranked.every(({ entry }) => entry.out || routinesToCome(entry).length === 0);
  const top = topOf(contest, ranked);
  const first = top.filter((t) => t.place === 1);
  const winner = isOver && contest.givesMedals && first.length === 1 ? first[0]?.id : null;
  const moments = [start, ...points];
  const about = goalOf(
    contest,
    moments.map((m) => m.chances),
  );
  return {
    contest: contest.id,
    method: 'exact',
    error: moments.reduce((most, { error }) => Math.max(most, error), 0),
    skipped: [...new Set([start, ...told].flatMap((moment) => moment.skipped))],
    rows,
    about,
    start: { chances: start.chances, error: start.error },
    points,
    turningPoints: turningPointsOf(about, start.chances, points),
    isOver,
    top,
    closeness: isOver ? someOf(closenessOf(meet, contest.id, points)) : null,
    unlikely: unlikelyIn(meet, history, { winner: winner ?? null, start: start.chances, points }),
    ...open,
    caution: CAUTION,
  };
}

function someOf<T>(list: readonly T[]): readonly T[] | null {
  return list.length === 0 ? null : list;
}

function topOf({ medals }: Contest, ranked: readonly Ranked[]): AtTheTop[] {
  const best = ranked[0]?.entry.total ?? 0;
  return ranked.flatMap(({ entry, place, tied }): AtTheTop[] => {
    if (place === null || place > medals || entry.out) return [];
    const { contender, total } = entry;
    return [
      {
        id: contender.id,
        place,
        tied,
        total: asScore(total),
        behind: asScore(best - total),
        toCome: routinesToCome(entry).length,
      },
    ];
  });
}
