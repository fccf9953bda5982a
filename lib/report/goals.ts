/** What a contest is about, and how each of it is said. */
import { type Contest, findContest, hasMedalsToWin } from '../contest/contest.js';
import { type GoalOfAll, goalsOf } from '../contest/goal.js';
import type { Meet } from '../meet/meet.js';

export type GoalName = GoalOfAll['target'];

export interface GoalWords {
  readonly target: GoalName;
  /** "14.700 to win", "13.766 for a medal" */
  readonly to: string;
  /** "can still win", "as likely to medal as not" */
  readonly verb: string;
  /** Said after "chance" or "chances": "to win", "of a medal" */
  readonly of: string;
  /** What is secured, shared or out of reach: "the title" */
  readonly what: string;
  /** "any score wins" */
  readonly does: string;
  /** After a score that has one word of room: "win then". */
  readonly short: string;
}

const WIN: GoalWords = {
  target: 'win',
  to: 'to win',
  verb: 'win',
  of: 'to win',
  what: 'the title',
  does: 'wins',
  short: 'win',
};

const FIRST: GoalWords = {
  target: 'win',
  to: 'to finish first',
  verb: 'finish first',
  of: 'of first place',
  what: 'first place',
  does: 'is enough for first',
  short: 'first',
};

const MEDAL: GoalWords = {
  target: 'medal',
  to: 'for a medal',
  verb: 'medal',
  of: 'of a medal',
  what: 'a medal',
  does: 'brings a medal',
  short: 'medal',
};

const ADVANCE: GoalWords = {
  target: 'advance',
  to: 'to go through',
  verb: 'go through',
  of: 'of going through',
  what: 'going through',
  does: 'goes through',
  short: 'through',
};

/**
 * What is asked in a contest, the most important first: a medal only where somebody can miss one and it is
 * more than the title; where it is about going on, that before first place.
 */
export function goalsIn(contest: Contest): readonly GoalWords[] {
  const { givesMedals, advance } = contest;
  return [
    ...(givesMedals ? [WIN] : []),
    ...(hasMedalsToWin(contest) ? [MEDAL] : []),
    ...(advance === null ? [] : [ADVANCE]),
    ...(givesMedals ? [] : [FIRST]),
  ];
}

export function goalsAsked(meet: Meet, contest: string): readonly GoalWords[] {
  return goalsIn(findContest(meet, contest));
}

/** Whether a target of a need, or what is settled, is one that is asked in a contest; others always are. */
export function isAskedIn(contest: Contest): (target: string) => boolean {
  const asked = new Set<string>(goalsIn(contest).map((g) => g.target));
  const known = new Set<string>([...goalsOf(contest).map((g) => g.target), 'medal']);
  return (target) => asked.has(target) || !known.has(target);
}

/** The words for one goal of a contest. */
export function goalWords(contest: Contest, target: string): GoalWords | undefined {
  const all = [...(contest.givesMedals ? [WIN] : [FIRST]), MEDAL, ADVANCE];
  return all.find((g) => g.target === target);
}
