/**
 * The chance of a target as a function of one score: of a place on the board after it, after its
 * rotation or at the end, of ending ahead of one rival, of a total. What a margin asks for on top is
 * given to the rivals. A shared place counts as that place, here as everywhere in chances.
 */
import {
  type ContestModel,
  conditioned,
  type Entrant,
  modelOf,
  totalOf,
} from '../chances/model.js';
import {
  type Case,
  type CaseChances,
  type PlaceQuestion,
  placeChances,
} from '../chances/place-chances.js';
import { sumOfFirst } from '../chances/sweep/places.js';
import { type Ranked, rank } from '../contest/board.js';
import type { Contest } from '../contest/contest.js';
import { advanceGoal } from '../contest/goal.js';
import { type AdvanceRules, type Meet, rangeAt, routineAt } from '../meet/meet.js';
import { chanceOfAtLeast, distributionIn } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { assumed } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { Units } from '../score.js';
import { gridPoints } from '../scoring.js';

/** A place or better; among those who go on; ahead of one rival; a total or more. */
export type CurveTarget =
  | { readonly place: number }
  | { readonly advance: AdvanceRules }
  | { readonly beat: string }
  | { readonly total: Units };

/** On which board: right after the routine, when its rotation is over, at the end. */
export type CurveWhen = 'now' | 'rotation' | 'end';

export interface TargetPoint {
  readonly score: Units;
  /** Of this score. */
  readonly chance: number;
  /** Of the target, given this score. */
  readonly met: number;
}

export interface TargetCurve {
  /** Every score that can happen, in rising order. */
  readonly points: readonly TargetPoint[];
  /** A bound on how wrong a chance of the target can be. */
  readonly error: number;
}

/** What is asked of one score. */
export interface CurveQuestion {
  /** By id. */
  readonly contender: string;
  /** Of the contender's to come. */
  readonly routine: number;
  readonly target: CurveTarget;
  readonly when: CurveWhen;
  /** By how much the target is to be met. */
  readonly margin: Units;
}

/** The same, the contender found. */
interface Question extends Omit<CurveQuestion, 'contender'> {
  readonly contender: Contender;
}

/**
 * The chance of the target by the score of one routine to come; no points where her range for it is
 * missing. Throws when another range that it needs is missing. For `beat` only the two are compared,
 * and ties broken between them.
 */
export function targetByScore(meet: Meet, contest: Contest, question: CurveQuestion): TargetCurve {
  const chanceOf = chanceByScore(meet, contest, question);
  const possible = possibleScores(meet, question.routine);
  const { met, error } = chanceOf.all(possible.map((p) => p.score));
  return { points: possible.map((p, i) => ({ ...p, met: met[i] ?? 0 })), error };
}

/** None where her range is missing: the board right after a score can be told without it. */
function possibleScores(meet: Meet, routine: number): { score: Units; chance: number }[] {
  const distribution = distributionIn(meet, rangeAt(meet, routine));
  if (distribution === null) return [];
  const { scores, chances } = distribution;
  return scores.flatMap((score, k) =>
    (chances[k] ?? 0) > 0 ? [{ score, chance: chances[k] ?? 0 }] : [],
  );
}

/** Rounding may keep a chance this far below the one that is asked for. */
const ROUNDING = 1e-12;

/**
 * The lowest score of the grid, up to `limit`, that gives the target at least a chance; null when
 * none does. No higher score has a smaller chance.
 */
export function scoreForChance(
  meet: Meet,
  contest: Contest,
  question: CurveQuestion,
  { chance, limit }: { readonly chance: number; readonly limit: Units },
): Units | null {
  const { grid } = meet.scoring;
  const chanceOf = chanceByScore(meet, contest, question);
  const possible = possibleScores(meet, question.routine).map((p) => p.score);
  const scores = [...new Set([...gridPoints(0, limit, grid), ...possible])]
    .filter((score) => score <= limit)
    .sort((a, b) => a - b);
  // The lowest that is enough is after `no` and not after `yes`: all above it are enough.
  let [no, yes] = [-1, scores.length];
  const narrow = (asked: readonly number[], care: Care): boolean => {
    const found = chanceOf.all(
      asked.map((k) => scores[k] ?? 0),
      care,
    );
    const error = care === AS_TOLD ? 0 : found.error;
    const enough = found.met.findIndex((met) => met - error >= chance - ROUNDING);
    const tooLow = found.met.findLastIndex((met) => met + error < chance - ROUNDING);
    yes = asked[enough] ?? yes;
    no = asked[tooLow] ?? no;
    return enough >= 0 || tooLow >= 0;
  };
  // What has been told of a score is not asked again.
  narrow(
    [...scores.keys()].filter((k) => chanceOf.isTold(scores[k] ?? 0)),
    AS_TOLD,
  );
  for (const care of FINER) {
    while (yes - no > 1 && narrow(spreadBetween(no, yes), care));
  }
  return scores[yes] ?? null;
}

type Care = Pick<PlaceQuestion, 'isByTotal' | 'wanted'>;

/** As chances are told. */
const AS_TOLD: Care = {};

/** A score is looked for ever more carefully: which one it is can mostly be told in a fraction of the time. */
const FINER: readonly Care[] = [{ isByTotal: true }, { wanted: 0.005 }, AS_TOLD];

/** So many scores are asked about at once: another one costs little beside everybody's results. */
const AT_ONCE = 20;

/** As many whole numbers between two others, evenly spread, with the last one. */
function spreadBetween(no: number, yes: number): number[] {
  const between = yes - no - 1;
  const count = Math.min(AT_ONCE, between);
  return Array.from({ length: count }, (_, k) => no + Math.ceil(((k + 1) * between) / count));
}

/** How the chance of a target is found for some scores. */
interface ChanceByScore {
  readonly all: (
    scores: readonly Units[],
    care?: Care,
  ) => { met: readonly number[]; error: number };
  /** Whether its chance has been found before, as chances are told. */
  readonly isTold: (score: Units) => boolean;
}

/** What some scores do, by score. */
type Found = Map<Units, CaseChances & { readonly error: number }>;

/** Meets never change, so what has been found is kept for the next target. */
const known = new WeakMap<Meet, Map<string, Found>>();

function foundOf(meet: Meet, key: string): Found {
  const all = known.get(meet) ?? new Map<string, Found>();
  known.set(meet, all);
  const found = all.get(key) ?? new Map();
  all.set(key, found);
  return found;
}

function chanceByScore(meet: Meet, contest: Contest, asked: CurveQuestion): ChanceByScore {
  const { contender: id, routine, target, when, margin } = asked;
  const contender = contest.contenders.find((c) => c.id === id);
  if (contender === undefined) throw new RangeError(`no contender ${id}`);
  const question: Question = { ...asked, contender };
  if (when === 'now') return onBoard(meet, contest, question);
  const { at } = routineAt(meet, routine);
  const counted = (i: number) => when === 'end' || routineAt(meet, i).at <= at;
  if ('total' in target) {
    const [alone] = modelOf(meet, { ...contest, contenders: [contender] }, counted).entrants;
    if (alone === undefined) throw new RangeError(`${id} has no total`);
    return byOwnTotal(meet, question, alone, target.total + margin);
  }
  const contenders =
    'beat' in target
      ? contest.contenders.filter((c) => c === contender || c.id === target.beat)
      : contest.contenders;
  const model = modelOf(meet, { ...contest, contenders }, counted);
  return byPlaces(contest, question, withMargin(model, id, margin));
}

/** The board right after the score: nothing else is left to chance. */
function onBoard(meet: Meet, contest: Contest, question: Question): ChanceByScore {
  const { contender, routine, target, margin } = question;
  const recorded = recordedPerformances(meet);
  const one = (score: Units): number => {
    const performances = [...recorded];
    performances[routine] = assumed(score, rangeAt(meet, routine).d);
    const { rows } = rank(contest, performances);
    const her = rows.find((r) => r.entry.contender === contender);
    if (her === undefined) throw new RangeError(`${contender.id} is not ranked`);
    if ('total' in target) return Number(her.entry.total >= target.total + margin);
    const rivals = rows.filter(
      (r) => r !== her && r.entry.onBoard && !r.entry.out && isCounted(target, r.entry.contender),
    );
    const lead = (total: Units) => total > her.entry.total - margin;
    if ('advance' in target) {
      const goal = advanceGoal(target.advance);
      const isAhead = (r: Ranked) =>
        margin > 0
          ? lead(r.entry.total)
          : goal.ignoresTies
            ? r.entry.total > her.entry.total
            : (r.place ?? 0) < (her.place ?? 0);
      const ahead = rivals.filter(isAhead).map((r) => r.entry.contender);
      return Number(goal.isMet(contender, ahead));
    }
    if (margin > 0) {
      const ahead = rivals.filter((r) => lead(r.entry.total)).length;
      return Number(ahead < ('place' in target ? target.place : 1));
    }
    if ('place' in target) return Number((her.place ?? 0) <= target.place);
    return Number(rivals.every((r) => (her.place ?? 0) < (r.place ?? 0)));
  };
  return {
    all: (scores) => ({ met: scores.map(one), error: 0 }),
    isTold: () => false,
  };
}

function isCounted(target: CurveTarget, rival: Contender): boolean {
  return !('beat' in target) || rival.id === target.beat;
}

function byOwnTotal(
  meet: Meet,
  { routine }: Question,
  entrant: Entrant,
  total: Units,
): ChanceByScore {
  const one = (score: Units) =>
    chanceOfAtLeast(totalOf(conditioned(meet, entrant, routine, score)), total);
  return {
    all: (scores) => ({ met: scores.map(one), error: ROUNDING }),
    isTold: () => false,
  };
}

/** The rivals so much better, and a tie enough: she is ahead by the margin when she is level. */
function withMargin(model: ContestModel, id: string, margin: Units): ContestModel {
  if (margin === 0) return model;
  const entrants = model.entrants.map((entrant): Entrant => {
    if (entrant.contender.id === id) return entrant;
    const { fixed, assumed: entry } = entrant;
    return {
      ...entrant,
      fixed: fixed + margin,
      assumed: { ...entry, total: entry.total + margin },
    };
  });
  return { ...model, entrants, rules: [] };
}

function byPlaces(
  contest: Contest,
  { contender, routine, target, margin }: Question,
  model: ContestModel,
): ChanceByScore {
  const { meet, entrants } = model;
  const who = entrants.findIndex((e) => e.contender.id === contender.id);
  const rival = entrants.findIndex((e) => 'beat' in target && e.contender.id === target.beat);
  const counted = entrants.map((e) => e.toCome.join()).join(' ');
  const pair = 'beat' in target ? target.beat : '';
  // Never fewer places than bring a medal: what is found for one target is there for the others then.
  const most = 'place' in target ? Math.max(target.place, contest.medals) : null;
  const among = most === null ? undefined : Array.from({ length: most }, (_, k) => k + 1);
  const name = `${contest.id} ${contender.id} ${routine} ${pair} ${most} ${margin} ${counted}`;
  // Behind everyone who competes, whatever happens.
  const isAlone = 'beat' in target && rival < 0;
  // Level by the margin is ahead by it; otherwise who only shares a place does not beat the other.
  const isStrict = 'beat' in target && margin === 0;
  const isAdvance = 'advance' in target;
  const first = (places: readonly number[]) =>
    sumOfFirst(places, 'place' in target ? target.place : 1);
  const foundWith = (care: Care) => foundOf(meet, `${name} ${FINER.indexOf(care)}`);
  const isTold = (score: Units) => foundWith(AS_TOLD).has(score);
  const all = (scores: readonly Units[], care = AS_TOLD) => {
    if (isAlone) return { met: scores.map(() => 1), error: 0 };
    const found = foundWith(care);
    const asked = scores.filter((score) => !found.has(score));
    if (asked.length > 0) {
      const { cases, error } = placeChances(model, {
        cases: asked.map((score): Case => ({ who, routine, score, title: isStrict })),
        only: isStrict ? null : [],
        among,
        advance: pair === '',
        ...care,
      });
      for (const [k, one] of cases.entries()) found.set(asked[k] ?? 0, { ...one, error });
    }
    const given = scores.flatMap((score) => found.get(score) ?? []);
    const met = given.map(({ places, title, advance }) => {
      if (isStrict) return Math.max(1 - (title?.[rival] ?? 0), 0);
      return isAdvance ? (advance ?? 0) : first(places);
    });
    return { met, error: Math.max(0, ...given.map(({ error }) => error)) };
  };
  return { all, isTold };
}
