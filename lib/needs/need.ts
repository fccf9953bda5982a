/** One need: a target, against one assumption about rivals. */
import type { Chance } from '../chance.js';
import type { Contest } from '../contest/contest.js';
import { placeGoal } from '../contest/goal.js';
import { boardOf, routinesToCome, type Standings } from '../contest/standings.js';
import { limitAt, type Meet, type Range, rangeAt } from '../meet/meet.js';
import { chanceOfAtLeast, distributionIn, hasScores } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { type Entry, entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score, type Units } from '../score.js';
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
import { type Split, splitOf } from './split.js';
import {
  type Assumption,
  goalOfTarget,
  type Question,
  type Rivals,
  type Target,
  targetText,
  type When,
} from './target.js';

/**
 * The first that holds, under the need's assumption. `secured`: 0.000 does it, if she competes.
 * `impossible`: not even level within the limit. `level-only`: level is within the limit, ahead is
 * not. `beyond`: more than her high, where one was given. `needs`: none of these.
 */
export type NeedStatus = NonNullable<Need['status']>;

/** Whose total sets what she needs; no id for a total as such. */
export interface Mark {
  /** Id of the rival; null where it is a total that was asked for. */
  readonly id: string | null;
  /** What her total is compared with, at the end of the scenario. */
  readonly total: Score;
}

/** What is asked, and what is said of it whatever the status. */
export interface NeedCommon {
  /** What she is to reach. */
  readonly target: Target;
  /** On which board: right after the routine, after its rotation, at the end. */
  readonly when: When;
  /** What the others are taken to score. */
  readonly rivals: Rivals;
  /** What her own other routines to come are taken to score. */
  readonly rest: Assumption;
  /** To whom a tie at `level` goes; null when there is none to speak of. */
  readonly tieGoesTo: TieGoesTo | null;
  /** The rule that decides that tie; null without one. */
  readonly tieBy: TieRuleName | null;
  /** Falls she can afford from her likely; null when likely without a fall is not enough. */
  readonly fallsAffordable: number | null;
  /** The chance, by her range, of at least `ahead`; null when her range is missing. */
  readonly reach: Chance | null;
  /** With two or more routines to come, at the end: what she needs over all of them. */
  readonly remainingTotal: Score | null;
  /**
   * That total over her apparatus, equally hard everywhere; null where a range is missing, and where
   * all her best scores are not enough.
   */
  readonly split: Split | null;
  /** The lowest score that gives the target the chance asked for, everyone's ranges considered. */
  readonly scoreForChance: Score | null;
  /** Tie rules skipped at `level` for lack of data. */
  readonly skipped: readonly TieRuleName[];
  /** Whose range is missing for some of it. */
  readonly missing: readonly MissingRange[];
}

/** Any score does it, if she competes. */
export interface SecuredNeed extends NeedCommon {
  /** Any score is enough under the assumption. */
  readonly status: 'secured';
  /** 0, as `onGrid` is. */
  readonly ahead: Score;
  /** 0: the lowest score there is. */
  readonly onGrid: Score;
  /** 0, or null where her total is above the mark's with any score. */
  readonly level: Score | null;
  /** Null when nobody sets it. */
  readonly mark: Mark | null;
  /** Null: no E score is needed. */
  readonly e: null;
  /** The board with a score of 0, when asked for. */
  readonly boards: {
    /** With a score of 0: she has the target. */
    readonly at: Standings;
    /** Null: there is no lower score. */
    readonly below: null;
  } | null;
}

/** A score within the limit does it; for `beyond` more than her high, where one was given. */
export interface OpenNeed extends NeedCommon {
  /** `needs`: within reach. `beyond`: above what her range takes for a very good day. */
  readonly status: 'needs' | 'beyond';
  /** The lowest score that puts her ahead of the mark for certain. */
  readonly ahead: Score;
  /** The lowest score of the grid that is at least `ahead`; null beyond the limit. */
  readonly onGrid: Score | null;
  /** The lowest score that makes her total the mark's. */
  readonly level: Score;
  /** Whom she has to pass, or the total she has to reach. */
  readonly mark: Mark;
  /** The E score `ahead` takes, without a deduction, when D is known; over 10.000: not with that D. */
  readonly e: Score | null;
  /** The boards at `ahead` and one unit below, when asked for. */
  readonly boards: {
    /** With a score of `ahead`: she has the target. */
    readonly at: Standings;
    /** One unit below: she has not, or shares it. */
    readonly below: Standings;
  } | null;
}

/** No score within the limit puts her ahead; for `level-only` one draws level. */
export interface OutOfReachNeed extends Omit<OpenNeed, 'status' | 'onGrid'> {
  /** `impossible`: not even a tie. `level-only`: a tie at best. */
  readonly status: 'impossible' | 'level-only';
  /** Null: no score there can be is enough. */
  readonly onGrid: null;
}

/** The assumption cannot be made: `missing` says for want of what. */
export interface UnansweredNeed extends NeedCommon {
  /** Null: without those ranges there is no answer. */
  readonly status: null;
  /** Null, as all that depends on the missing range. */
  readonly ahead: null;
  /** Null, as `ahead` is. */
  readonly onGrid: null;
  /** Null, as `ahead` is. */
  readonly level: null;
  /** Null, as `ahead` is. */
  readonly mark: null;
  /** Null, as `ahead` is. */
  readonly e: null;
  /** Null, as `ahead` is. */
  readonly boards: null;
  /** The routines whose range would have to be known; at least one. */
  readonly missing: readonly [MissingRange, ...MissingRange[]];
}

/**
 * An answer that is true under its assumption, and is said with it. What there is
 * of it depends on its `status`; every key is always there.
 */
export type Need = SecuredNeed | OpenNeed | OutOfReachNeed | UnansweredNeed;

/** Whom a need is about: a contender and the routine whose score is asked. */
export interface Asked {
  readonly contest: Contest;
  readonly contender: Contender;
  /** Index of the routine. */
  readonly routine: number;
  /** The place that `hold` must keep (hold.ts). */
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
  const [first, ...others] = scenario.missing;
  if (first !== undefined) {
    return { ...nothingSaid(meet, question), missing: [first, ...others] };
  }

  const { threshold, mark, total } = soughtIn(scenario, asked, question);
  const ahead = asScore(threshold.ahead);
  const level = threshold.level === null ? null : asScore(threshold.level);
  const common = commonFacts(meet, asked, question, threshold, total);
  const board = (score: Units) => boardOf(meet, contest, scenario.performances(score));
  if (ahead === 0 || level === null || mark === null) {
    const boards = withBoards ? { at: board(ahead), below: null } : null;
    return { ...common, status: 'secured', ahead, onGrid: ahead, level, mark, e: null, boards };
  }
  const limit = limitAt(meet, routine);
  const d = question.d ?? rangeAt(meet, routine).d;
  const facts = {
    ...common,
    ahead,
    level,
    mark,
    e: d === null ? null : asScore(Math.max(ahead - d, 0)),
    boards: withBoards ? { at: board(ahead), below: board(ahead - 1) } : null,
  };
  if (ahead > limit) {
    const status = level > limit ? 'impossible' : 'level-only';
    return { ...facts, status, onGrid: null };
  }
  // What is usual says nothing of her own best.
  const high = meet.given[routine]?.high ?? null;
  const onGrid = asScore(gridAtOrAbove(ahead, meet.scoring.grid));
  return {
    ...facts,
    status: high !== null && ahead > high ? 'beyond' : 'needs',
    onGrid: onGrid > limit ? null : onGrid,
  };
}

/** The score that is enough: for going on a tie that is shared is, since both are in. */
export function enoughFor({ target, ahead, level, tieGoesTo }: Need): Score | null {
  return target === 'advance' && tieGoesTo === 'shared' ? level : ahead;
}

/** The chance, by a range, of a score that is enough; null where it is not known. */
export function reachOfEnough(meet: Meet, need: Need, range: Range): Chance | null {
  const enough = enoughFor(need);
  if (need.reach === null || enough === null || enough === need.ahead) return need.reach;
  const distribution = distributionIn(meet, range);
  return distribution === null ? null : chanceOfAtLeast(distribution, enough);
}

/** Whether what is enough is above her high. */
export function isBeyond(need: Need, { high }: Pick<Range, 'high'>): boolean {
  return need.status === 'beyond' && (high === null || (enoughFor(need) ?? 0) > high);
}

function commonFacts(
  meet: Meet,
  asked: Asked,
  question: Question,
  { ahead, tieGoesTo, tieBy, skipped }: Threshold,
  total: Units | null,
): NeedCommon {
  const range = rangeAt(meet, asked.routine);
  const distribution = distributionIn(meet, range);
  const { missing, ...rest } = remaining(meet, asked, question, total);
  if (distribution === null && !missing.includes(asked.routine)) missing.unshift(asked.routine);
  return {
    ...nothingSaid(meet, question),
    tieGoesTo,
    tieBy,
    fallsAffordable: fallsFrom(range.likely, ahead, meet.scoring.fall),
    reach: distribution === null ? null : chanceOfAtLeast(distribution, ahead),
    ...rest,
    scoreForChance: null,
    skipped,
    missing: missing.map((i) => missingAt(meet, i)),
  };
}

function wording(
  meet: Meet,
  { target, when, rivals, rest }: Question,
): Pick<NeedCommon, 'target' | 'when' | 'rivals' | 'rest'> {
  return { target: targetText(meet, target), when, rivals, rest };
}

/** Every key there is, in the order in which they are written. */
function nothingSaid(meet: Meet, question: Question) {
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
    missing: [],
    boards: null,
  };
}

interface Sought {
  readonly threshold: Threshold;
  /** Null when nobody sets it; any score does it then. */
  readonly mark: Mark | null;
  /** The total that certainly meets the target; null when anything does. */
  readonly total: Units | null;
}

const SECURED: Sought = {
  threshold: { level: null, ahead: 0, tieGoesTo: null, tieBy: null, skipped: [] },
  mark: null,
  total: null,
};

function soughtIn(scenario: Scenario, asked: Asked, question: Question): Sought {
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
  const said = { id: mark.contender.id, total: asScore(mark.total) };
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

/** The rivals that count for a target, and what she is after among them. */
function fieldOf(scenario: Scenario, asked: Asked, { target }: Question): Field {
  const { contender, contest } = asked;
  if (target.kind === 'beat') {
    const counted = scenario.others.filter((e) => e.contender.id === target.id);
    return { contender, counted, goal: placeGoal(1) };
  }
  return { contender, counted: scenario.rivals, goal: goalOfTarget(contest, target, asked.place) };
}

function fallsFrom(likely: Units | null, ahead: Units, fall: Units): number | null {
  if (likely === null || likely < ahead || fall === 0) return null;
  return Math.floor((likely - ahead) / fall);
}

function remaining(
  meet: Meet,
  { contender }: Asked,
  { when }: Question,
  total: Units | null,
): Pick<NeedCommon, 'remainingTotal' | 'split'> & { missing: number[] } {
  const recorded = recordedPerformances(meet);
  const present: Entry = entryOf(contender, recorded);
  const toCome = routinesToCome(present);
  if (total === null || when !== 'end' || toCome.length < 2) {
    return { remainingTotal: null, split: null, missing: [] };
  }
  const remainingTotal = asScore(total - present.total);
  const missing = toCome.filter((i) => !hasScores(rangeAt(meet, i)));
  const split = missing.length > 0 ? null : splitOf(meet, contender, recorded, toCome, total);
  return { remainingTotal, split, missing };
}
