/** What there is to be had on a board: a place or better, or to be among those who go on. */
import type { AdvanceRules } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { isIn } from './advance.js';
import type { Contest } from './contest.js';

export interface Goal {
  /** Whether she has it when those are ahead of her, and nobody else; fewer ahead never hurt. */
  readonly isMet: (her: Contender, ahead: readonly Contender[]) => boolean;
  /** Whether who is level with the last one in is in, whatever the tie rules say. */
  readonly ignoresTies: boolean;
}

export function placeGoal(place: number): Goal {
  return { isMet: (_, ahead) => ahead.length < place, ignoresTies: false };
}

export function advanceGoal(rules: AdvanceRules): Goal {
  return { isMet: (her, ahead) => isIn(rules, her, ahead), ignoresTies: rules.ties === 'all' };
}

/** What everyone is after: to win, a medal where they are won in it, to go on where somebody does. */
export interface GoalOfAll {
  readonly target: 'win' | 'medal' | 'advance';
  readonly goal: Goal;
}

export function goalsOf({ medals, givesMedals, advance }: Contest): GoalOfAll[] {
  return [
    { target: 'win', goal: placeGoal(1) },
    ...(givesMedals ? [{ target: 'medal', goal: placeGoal(medals) } as const] : []),
    ...(advance === null ? [] : [{ target: 'advance', goal: advanceGoal(advance) } as const]),
  ];
}
