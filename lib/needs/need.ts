/** One need: a target, against one assumption about rivals. */
import type { Chance } from '../chance.js';
import type { Contest } from '../contest/contest.js';
import { placeGoal } from '../contest/goal.js';
import { boardOf, routinesToCome } from '../contest/standings.js';
import { limitAt, type Meet, type Range, rangeAt } from '../meet/meet.js';
import { hasScores } from '../meet/realistic.js';
import { chanceOfAtLeast, distributionIn } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { type Entry, entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score, type Units } from '../score.js';
import { gridAtOrAbove } from '../scoring.js';
import {
  type Field,
  markOf,
  type Threshold,
  thresholdForPlace,
  thresholdForTotal,
} from './mark.js';
import type { Mark, Need, NeedCommon } from './need-answer.js';
import { buildScenario, missingAt, type Scenario } from './scenario.js';
import { splitOf } from './split.js';
import { goalOfTarget, type Question, targetText } from './target.js';

export type * from './need-answer.js';

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
  const [first, ...others] = lackingFor(scenario, asked, question);
  if (first !== undefined) {
    const missing = others.map((i) => missingAt(meet, i));
    return { ...nothingSaid(meet, question), missing: [missingAt(meet, first), ...missing] };
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
    const total = target.total + margin;
    return {
      threshold: thresholdForTotal(scenario, total),
      mark: { id: null, total: target.total },
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

/** Routines without a range that the answer hangs on: none where everybody may end ahead of her. */
function lackingFor({ missing, others }: Scenario, asked: Asked, { target }: Question): number[] {
  const { contender, contest, place } = asked;
  const isAlone = target.kind === 'total' || target.kind === 'beat';
  const rivals = others.filter((e) => !e.out).map((e) => e.contender);
  if (!isAlone && goalOfTarget(contest, target, place).isMet(contender, rivals)) return [];
  return missing.flatMap(({ contender: whose, routine }) => {
    const isAsked = target.kind === 'beat' && whose.id === target.id;
    return !isAlone || isAsked || whose === contender ? [routine] : [];
  });
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
