/** What the board says, where nothing is open, and how a contest is ranked for who goes on. */
import { advancementOn } from '../contest/advance.js';
import { rank } from '../contest/board.js';
import type { AdvanceRules } from '../meet/meet.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { ContestModel } from './model.js';

/** By entrant: its place; null for who has none. */
export function placesOnBoard({ meet, contest, entrants }: ContestModel): (number | null)[] {
  const { rows } = rank(contest, recordedPerformances(meet));
  const placeOf = new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  return entrants.map((e) => placeOf.get(e.contender.id) ?? null);
}

/** By entrant: whether the board takes it on; null where nobody goes on. */
export function advancingOnBoard({ meet, contest, entrants }: ContestModel): number[] | null {
  if (contest.advance === null) return null;
  const found = advancementOn(contest.advance, rank(contest, recordedPerformances(meet)).rows);
  return entrants.map((e) => (found.get(e.contender)?.advance === 'in' ? 1 : 0));
}

/** The contest as it is ranked for who goes on: without tie rules where nobody is kept out by one. */
export function rankedToAdvance(model: ContestModel, { ties }: AdvanceRules): ContestModel {
  return ties === 'all' && model.rules.length > 0 ? { ...model, rules: [] } : model;
}
