/** Going on from a contest, where nothing is left to chance, and how it is ranked for that. */
import { advancementOn } from '../contest/advance.js';
import { rank } from '../contest/board.js';
import type { AdvanceRules } from '../meet/meet.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { ContestModel } from './model.js';

/** The contest as it is ranked for this: without tie rules where nobody is kept out by one. */
export function rankedToAdvance(model: ContestModel, { ties }: AdvanceRules): ContestModel {
  return ties === 'all' && model.rules.length > 0 ? { ...model, rules: [] } : model;
}

/** Nothing is open: by entrant, whether the board takes it on. */
export function advancingOnBoard({ meet, contest, entrants }: ContestModel): number[] | null {
  if (contest.advance === null) return null;
  const { rows } = rank(contest, recordedPerformances(meet));
  const found = advancementOn(contest.advance, rows);
  return entrants.map((e) => (found.get(e.contender)?.advance === 'in' ? 1 : 0));
}
