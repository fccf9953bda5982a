/** The chance of being among those who go on. */
import { advancementOn } from '../contest/advance.js';
import { rank } from '../contest/board.js';
import { recordedPerformances } from '../contest/recorded.js';
import type { AdvanceRules } from '../meet/meet.js';
import { largest } from './bound.js';
import type { ContestModel } from './model.js';
import { type PlaceQuestion, type PlaceSweep, sumOfFirst, sweepPlaces } from './sweep/places.js';
import { quotaCounter } from './sweep/quota.js';
import type { TieGroups } from './tie-groups.js';

export interface AdvancingSweep {
  /** By member that was asked about. */
  readonly chances: readonly number[];
  /** A bound on how wrong they can be. */
  readonly bound: number;
}

/** The contest as it is ranked for this: without tie rules where nobody is kept out by one. */
export function rankedToAdvance(model: ContestModel, { ties }: AdvanceRules): ContestModel {
  return ties === 'all' && model.rules.length > 0 ? { ...model, rules: [] } : model;
}

/** `groups`: of the contest as it is ranked for this; `swept`: the places in them, where they are known. */
export function sweepAdvancing(
  { entrants }: ContestModel,
  rules: AdvanceRules,
  groups: TieGroups,
  question: PlaceQuestion,
  swept: PlaceSweep | null,
): AdvancingSweep {
  const size = entrants.length;
  const { places, perTeam } = rules;
  const teams = entrants.map((e) => e.contender.team);
  const rows = question.asked.map((_, i) => i * size);
  if (perTeam !== null) {
    const counter = quotaCounter({ places, perTeam }, teams);
    const found = sweepPlaces(groups, { ...question, counter });
    return {
      chances: rows.map((row) => Math.min(found.places[row] ?? 0, 1)),
      bound: largest(found.halves),
    };
  }
  const { places: all, halves } = swept ?? sweepPlaces(groups, question);
  const sums = (from: Float64Array) =>
    rows.map((row) => sumOfFirst([...from.subarray(row, row + size)], places));
  return { chances: sums(all), bound: Math.max(0, ...sums(halves)) };
}

/** Nothing is open: by entrant, whether the board takes it on. */
export function advancingOnBoard({ meet, contest, entrants }: ContestModel): number[] | null {
  if (contest.advance === null) return null;
  const { rows } = rank(contest, recordedPerformances(meet));
  const found = advancementOn(contest.advance, rows);
  return entrants.map((e) => (found.get(e.contender)?.advance === 'in' ? 1 : 0));
}
