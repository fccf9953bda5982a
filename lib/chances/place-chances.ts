/** The chance of every place for everyone in a contest, and what it would be in some cases. */
import { leastTotalFor } from '../range/least-total.js';
import type { Units } from '../score.js';
import { advancingOnBoard, placesOnBoard, rankedToAdvance } from './board.js';
import { largest, placeBound, ROUNDING } from './bound.js';
import { type ContestModel, conditioned, totalOf } from './model.js';
import { routineDistribution } from './open-part.js';
import { isAllTold } from './results/coarse.js';
import type { Member } from './results/enumerated.js';
import { rankedResults } from './results/order.js';
import type { CoarseResults } from './results/placed.js';
import { type AdvancingSweep, sweepAdvancing } from './sweep/advancing.js';
import { sweepPlaces } from './sweep/places.js';
import { sweepTitles } from './sweep/titles.js';
import { sharedGroups, type TieGroups, unresolvedGroups } from './tie-groups.js';

/** Chances of places, by entrant of the model and place. */
export interface PlaceChances {
  readonly places: readonly (readonly number[])[];
  /** By entrant: of going on; null where that was not asked, or nobody does. */
  readonly advance: readonly number[] | null;
  /** By case that was asked about. */
  readonly cases: readonly CaseChances[];
  /** A bound on how wrong each of them, and a sum of the first few, can be. */
  readonly error: number;
  /** What they are counted from, the cases after the entrants; none where nothing is open. */
  readonly groups: TieGroups;
}

/** One entrant if a routine of it scores so much. */
export interface Case {
  readonly who: number;
  readonly routine: number;
  readonly score: Units;
  /** Who wins then is asked, instead of the entrant's own places. */
  readonly title: boolean;
}

export interface CaseChances {
  /** Of the entrant itself, by place; none where the title was asked. */
  readonly places: readonly number[];
  /** By entrant: the chance of first place; null where it was not asked. */
  readonly title: readonly number[] | null;
  /** Of the entrant itself: of going on; null where that was not asked, or nobody does. */
  readonly advance: number | null;
}

export type OnProgress = (share: number) => void;

export interface PlaceQuestion {
  readonly cases?: readonly Case[];
  /** More results than this are not gone through one by one. */
  readonly mostResults?: number | undefined;
  /** Besides the cases only the places of these entrants are asked for. */
  readonly only?: readonly number[] | null;
  /** Asks for the chances of going on as well. */
  readonly advance?: boolean;
  /** Neighbouring results are taken together for that, as far as `error` says. */
  readonly isRough?: boolean;
  /** Ties on total are left unresolved, which takes the least time. */
  readonly isByTotal?: boolean;
  /** The error that is good enough; with a larger one all is done again, finer. */
  readonly wanted?: number | undefined;
  /**
   * Only chances of one of the first so many places are asked: those are what `error` bounds then. No place after the
   * last of them is given, and what is behind it is not told apart.
   */
  readonly among?: readonly number[] | undefined;
  readonly onProgress?: OnProgress | undefined;
}

/** Up to this error a tenth of a percent can be read out; the rest is for what else is asked. */
const WANTED = 0.00049;

/**
 * How likely results are at first that are not told apart; less where an entrant's places are asked if
 * one of her scores is known, since chances lie closer together then.
 */
const SHARE = 0.0007;
const CLOSER = 0.68;

/** Where that is too much for the wanted error, it is so much less than in proportion in the next round. */
const FINER = 0.8;
const ROUNDS = 3;

/** The chances of all places, and what they would be in some cases. */
export function placeChances(model: ContestModel, question: PlaceQuestion = {}): PlaceChances {
  if (model.over) return boardPlaces(model);
  const isCurve = question.cases?.some(({ title }) => !title) === true;
  const wanted = question.wanted ?? WANTED;
  let share = ((isCurve ? SHARE * CLOSER : SHARE) * wanted) / WANTED;
  for (let round = 1; ; round++) {
    const { groups, coarse } = groupsOf(model, question, share);
    const { bound, ...chances } = sweep(model, groups, question, share);
    const error = Math.min(bound + ROUNDING, 1);
    const isLast = error <= wanted || round === ROUNDS || !canBeFiner(coarse);
    if (isLast) return { ...chances, error, groups };
    share *= FINER * (wanted / error);
  }
}

/** Whether results that are not told apart could be. */
function canBeFiner(coarse: CoarseResults | null): boolean {
  return coarse !== null && !isAllTold(coarse.order) && !coarse.order.cells.isFinest();
}

function sweep(
  model: ContestModel,
  groups: TieGroups,
  question: PlaceQuestion,
  share: number,
): Omit<PlaceChances, 'error' | 'groups'> & { readonly bound: number } {
  const { entrants } = model;
  const { cases = [], only = null, among, onProgress } = question;
  const size = entrants.length;
  const given = Math.min(size, Math.max(...(among ?? [size])));
  const of = cases.map(({ who }) => who);
  const titled = [...cases.keys()].filter((h) => cases[h]?.title);
  const asked = [
    ...entrants.map((_, i) => only?.includes(i) ?? true),
    ...cases.map(({ title }) => !title),
  ];
  const places = sweepPlaces(groups, { of, asked, onProgress });
  const titles = sweepTitles(groups, of, titled);
  const advancing = advancingIn(model, question, groups, share);
  return {
    places: entrants.map((_, i) => rowOf(places.places, i * size, 1, given)),
    cases: cases.map(({ title }, h) => ({
      places: title ? [] : rowOf(places.places, (size + h) * size, 1, given),
      title: title ? rowOf(titles.titles, titled.indexOf(h), titled.length, size) : null,
      advance: advancing?.chances[size + h] ?? null,
    })),
    advance: advancing === null ? null : [...advancing.chances.subarray(0, size)],
    bound: Math.max(
      placeBound(places.halves, size, among),
      largest(titles.halves),
      advancing?.bound ?? 0,
    ),
  };
}

function advancingIn(
  model: ContestModel,
  question: PlaceQuestion,
  groups: TieGroups,
  share: number,
): AdvancingSweep | null {
  const rules = model.contest.advance;
  if (rules === null || question.advance !== true) return null;
  const ranked = rankedToAdvance(model, rules);
  return sweepAdvancing(
    ranked === model ? groups : groupsOf(ranked, question, share).groups,
    (question.cases ?? []).map(({ who }) => who),
    model.entrants.map((e) => e.contender.team),
    rules,
    question.isRough,
  );
}

/** Everybody's results in groups, and those of conditioned entrants beside them. */
export function groupsOf(
  model: ContestModel,
  { cases = [], mostResults, isByTotal, among, advance }: PlaceQuestion,
  share: number,
): { readonly groups: TieGroups; readonly coarse: CoarseResults | null } {
  const totals = model.entrants.map(totalOf);
  // With cases a place more: in each of them one of the others is another.
  const leastFor = (places: number) => leastTotalFor(totals, places + Math.min(cases.length, 1));
  const isToAdvance = advance === true && model.contest.advance !== null;
  const least = among === undefined || isToAdvance ? 0 : leastFor(Math.max(...among));
  const toWin = cases.some(({ title }) => title) ? leastFor(1) : 0;
  const entrants = model.entrants.map(
    (entrant, of): Member => ({ entrant, of, isBeyond: false, least }),
  );
  const beside = cases.map((one) => inCase(model, one, one.title ? toWin : least));
  const { all, coarse } = rankedResults(model, entrants, beside, { mostResults, isByTotal, share });
  const groups =
    coarse === null ? sharedGroups(all, entrants.length) : unresolvedGroups(coarse, share);
  return { groups, coarse };
}

function inCase(
  { meet, entrants }: ContestModel,
  { who, routine, score }: Case,
  least: Units,
): Member {
  const entrant = entrants[who];
  if (entrant === undefined) throw new RangeError(`no entrant ${who}`);
  const isBeyond = !routineDistribution(meet, routine).scores.includes(score);
  return { entrant: conditioned(meet, entrant, routine, score), of: who, isBeyond, least };
}

/** So many chances, `step` apart; rounding does not take them past 0 or 1. */
function rowOf(chances: Float64Array, from: number, step: number, count: number): number[] {
  return Array.from({ length: count }, (_, k) =>
    Math.min(Math.max(chances[from + k * step] ?? 0, 0), 1),
  );
}

/** Nothing is open: the places of the board, by entrant. */
function boardPlaces(model: ContestModel): PlaceChances {
  const placeOf = placesOnBoard(model);
  return {
    places: placeOf.map((place) => placeOf.map((_, k) => (place === k + 1 ? 1 : 0))),
    advance: advancingOnBoard(model),
    cases: [],
    error: 0,
    groups: sharedGroups([], model.entrants.length),
  };
}
