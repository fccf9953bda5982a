/** One need: a target, against one assumption about rivals. */
import type { Contest } from '../contest/contest.js';
import { recordedPerformances } from '../contest/recorded.js';
import { boardOf, routinesToCome, type Standings } from '../contest/standings.js';
import { limitAt, type Meet, rangeAt } from '../meet/meet.js';
import { chanceOfAtLeast, distributionOf, hasScores } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { type Entry, entryOf } from '../rules/entry.js';
import type { TieRuleName } from '../rules/ties/index.js';
import type { Score } from '../score.js';
import { gridAtOrAbove } from '../scoring.js';
import {
  type Field,
  markOf,
  type Threshold,
  type TieGoesTo,
  thresholdForPlace,
  thresholdForTotal,
} from './mark.js';
import { buildScenario, type MissingRange, missingAt, type Scenario } from './scenario.js';
import { dropsScores, type Split, splitOf } from './split.js';
import { type Assumption, type Question, type Rivals, targetText, type When } from './target.js';

/**
 * The first that holds, under the need's assumption. `secured`: 0.000 does it, if she competes.
 * `impossible`: not even level within the limit. `level-only`: level is within the limit, ahead is
 * not. `beyond`: more than her high, where one was given. `needs`: none of these.
 */
export type NeedStatus = 'secured' | 'impossible' | 'level-only' | 'beyond' | 'needs';

/** An answer that is true under its assumption, and is said with it. All scores in units. */
export interface Need {
  /** `win`, `place:3`, `beat:adeyemi`, `total:57.000`. */
  readonly target: string;
  readonly when: When;
  readonly rivals: Rivals;
  readonly rest: Assumption;
  /** Null when the assumption cannot be made: see `missing`. */
  readonly status: NeedStatus | null;
  /** The lowest score that puts her ahead of the mark for certain. */
  readonly ahead: Score | null;
  /** The lowest score of the grid that is at least `ahead`; null beyond the limit. */
  readonly onGrid: Score | null;
  /** The lowest score that makes her total the mark's; null below 0. */
  readonly level: Score | null;
  readonly tieGoesTo: TieGoesTo | null;
  readonly tieBy: TieRuleName | null;
  /** Whose total sets it; no id for a total as such; null when nobody does. */
  readonly mark: { readonly id: string | null; readonly total: Score } | null;
  /** The E score `ahead` takes, without a deduction, when D is known. */
  readonly e: Score | null;
  /** Falls she can afford from her likely; null when likely without a fall is not enough. */
  readonly fallsAffordable: number | null;
  /** The chance, by her range, of at least `ahead`. */
  readonly reach: number | null;
  /** With two or more routines to come, at the end: what she needs over all of them. */
  readonly remainingTotal: Score | null;
  readonly split: Split | null;
  /** The lowest score that gives the target the chance asked for, everyone's ranges considered. */
  readonly scoreForChance: Score | null;
  /** Tie rules skipped at `level` for lack of data. */
  readonly skipped: readonly TieRuleName[];
  readonly missing: readonly MissingRange[];
  /** The boards at `ahead` and one unit below, when asked for. */
  readonly boards: { readonly at: Standings; readonly below: Standings | null } | null;
}

/** Whom a need is about: a contender and the routine whose score is asked. */
export interface Asked {
  readonly contest: Contest;
  readonly contender: Contender;
  /** Index of the routine. */
  readonly routine: number;
  /** The present place, which `hold` must keep. */
  readonly place: number | null;
}

/** A need; null where there is no such need: no place to hold yet, or herself to beat. */
export function needFor(
  meet: Meet,
  asked: Asked,
  question: Question,
  withBoards = false,
): Need | null {
  const { contest, contender, routine } = asked;
  const { target } = question;
  if (target.kind === 'hold' && asked.place === null) return null;
  if (target.kind === 'beat' && target.id === contender.id) return null;
  const scenario = buildScenario(meet, contest, contender, routine, question);
  if (scenario.missing.length > 0) return unanswered(meet, question, scenario.missing);

  const goal = goalOf(scenario, asked, question);
  const { threshold, total } = goal;
  const { ahead } = threshold;
  const limit = limitAt(meet, routine, question.d);
  const range = rangeAt(meet, routine);
  const distribution = distributionOf(meet, range);
  const d = question.d ?? range.d;
  const onGrid = gridAtOrAbove(ahead, meet.scoring.grid);
  const { missing, ...rest } = remaining(meet, asked, question, total);
  if (distribution === null && !missing.includes(routine)) missing.unshift(routine);
  return {
    ...wording(meet, question),
    // What is usual says nothing of her own best.
    status: statusOf(threshold, limit, meet.given[routine]?.high ?? null),
    ahead,
    onGrid: limit !== null && onGrid > limit ? null : onGrid,
    level: threshold.level,
    tieGoesTo: threshold.tieGoesTo,
    tieBy: threshold.tieBy,
    mark: goal.mark,
    e: d === null || ahead === 0 ? null : Math.max(ahead - d, 0),
    fallsAffordable: fallsFrom(range.likely, ahead, meet.scoring.fall),
    reach: distribution === null ? null : chanceOfAtLeast(distribution, ahead),
    ...rest,
    scoreForChance: null,
    skipped: threshold.skipped,
    missing: missing.map((i) => missingAt(meet, i)),
    boards: withBoards ? boardsAround(meet, contest, scenario, ahead) : null,
  };
}

function wording(
  meet: Meet,
  { target, when, rivals, rest }: Question,
): Pick<Need, 'target' | 'when' | 'rivals' | 'rest'> {
  return { target: targetText(meet, target), when, rivals, rest };
}

function unanswered(meet: Meet, question: Question, missing: readonly MissingRange[]): Need {
  return {
    ...wording(meet, question),
    status: null,
    ahead: null,
    onGrid: null,
    level: null,
    tieGoesTo: null,
    tieBy: null,
    mark: null,
    e: null,
    fallsAffordable: null,
    reach: null,
    remainingTotal: null,
    split: null,
    scoreForChance: null,
    skipped: [],
    missing,
    boards: null,
  };
}

interface Goal {
  readonly threshold: Threshold;
  readonly mark: Need['mark'];
  /** The total that certainly meets the target; null when anything does. */
  readonly total: Score | null;
}

const SECURED: Goal = {
  threshold: { level: null, ahead: 0, tieGoesTo: null, tieBy: null, skipped: [] },
  mark: null,
  total: null,
};

function goalOf(scenario: Scenario, asked: Asked, question: Question): Goal {
  const { target, margin } = question;
  if (target.kind === 'total') {
    const { total } = target;
    return {
      threshold: thresholdForTotal(scenario, total),
      mark: { id: null, total },
      total,
    };
  }
  const field = fieldOf(scenario, asked, question);
  const mark = markOf(field, asked.contest);
  if (mark === null) return SECURED;
  const said = { id: mark.contender.id, total: mark.total };
  // Behind everyone who competes, whatever the total.
  if (mark.out || !mark.onBoard) return { ...SECURED, mark: said };
  if (margin > 0) {
    const total = mark.total + margin;
    return { threshold: thresholdForTotal(scenario, total), mark: said, total };
  }
  return {
    threshold: thresholdForPlace(scenario, asked.contest, field, mark),
    mark: said,
    total: mark.total + 1,
  };
}

/** The rivals that count for a target, and the place she must be better than among them. */
function fieldOf(scenario: Scenario, asked: Asked, { target }: Question): Field {
  if (target.kind === 'beat') {
    return { counted: scenario.others.filter((e) => e.contender.id === target.id), place: 1 };
  }
  const places = { lead: 1, win: 1, medal: asked.contest.medals, hold: asked.place ?? 1 };
  const place =
    target.kind === 'place' ? target.place : target.kind === 'total' ? 1 : places[target.kind];
  return { counted: scenario.rivals, place };
}

function statusOf(
  { level, ahead }: Threshold,
  limit: Score | null,
  high: Score | null,
): NeedStatus {
  if (ahead === 0) return 'secured';
  if (limit !== null && level !== null && level > limit) return 'impossible';
  if (limit !== null && ahead > limit) return 'level-only';
  return high !== null && ahead > high ? 'beyond' : 'needs';
}

function fallsFrom(likely: Score | null, ahead: Score, fall: Score): number | null {
  if (likely === null || likely < ahead || fall === 0) return null;
  return Math.floor((likely - ahead) / fall);
}

function remaining(
  meet: Meet,
  { contender }: Asked,
  { when }: Question,
  total: Score | null,
): Pick<Need, 'remainingTotal' | 'split'> & { missing: number[] } {
  const recorded = recordedPerformances(meet);
  const present: Entry = entryOf(contender, recorded);
  const toCome = routinesToCome(present);
  if (total === null || when !== 'end' || toCome.length < 2) {
    return { remainingTotal: null, split: null, missing: [] };
  }
  const remainingTotal = total - present.total;
  if (dropsScores(contender)) return { remainingTotal, split: null, missing: [] };
  const missing = toCome.filter((i) => !hasScores(rangeAt(meet, i)));
  const split = missing.length > 0 ? null : splitOf(meet, contender, recorded, toCome, total);
  return { remainingTotal, split, missing };
}

function boardsAround(
  meet: Meet,
  contest: Contest,
  scenario: Scenario,
  ahead: Score,
): NonNullable<Need['boards']> {
  const board = (score: Score) => boardOf(meet, contest, scenario.performances(score));
  return { at: board(ahead), below: ahead === 0 ? null : board(ahead - 1) };
}
