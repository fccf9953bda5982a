/** A meet as an assumption leaves it, but for the one score that is asked about. */
import type { Contest } from '../contest/contest.js';
import { limitAt, type Meet, rangeAt, routineAt } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { assumed, type Entry, entryOf, type Performances } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { Units } from '../score.js';
import type { Assumption, Question } from './target.js';

/** A routine whose range is missing. */
export interface MissingRange {
  /** Whose routine it is, by id. */
  readonly gymnast: string;
  /** Where it is, by code. */
  readonly apparatus: string;
}

export interface Scenario {
  /** Every other contender on that board who is not out, and of whom nothing is missing. */
  readonly rivals: readonly Entry[];
  /** Every other contender, whether on the board or not. */
  readonly others: readonly Entry[];
  /** Hers with a score in the asked routine. */
  readonly her: (score: Units) => Entry;
  readonly performances: (score: Units) => Performances;
  /** Routines that the assumption cannot complete, with whose they are: their totals above are not to be used. */
  readonly missing: readonly Missing[];
}

/** A routine of a contender whose range is missing. */
export interface Missing {
  readonly contender: Contender;
  readonly routine: number;
}

/** What a routine to come scores under an assumption; null when it is missing. */
function scoreUnder(meet: Meet, routine: number, assumption: Assumption): Units | null {
  return assumption === 'limit' ? limitAt(meet, routine) : rangeAt(meet, routine)[assumption];
}

export function missingAt(meet: Meet, routine: number): MissingRange {
  const { gymnast, apparatus } = routineAt(meet, routine);
  return { gymnast, apparatus };
}

export function buildScenario(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  asked: number,
  question: Pick<Question, 'when' | 'rivals' | 'rest' | 'd'>,
): Scenario {
  const performances = [...recordedPerformances(meet)];
  const missing: Missing[] = [];
  const { at } = routineAt(meet, asked);
  const completes = (routine: number) =>
    question.when === 'end' || (question.when === 'rotation' && routineAt(meet, routine).at <= at);

  for (const c of contest.contenders) {
    if (entryOf(c, performances).out) continue;
    const assumption = c === contender ? question.rest : question.rivals;
    for (const i of c.routines) {
      if (i === asked || performances[i] !== null || !completes(i)) continue;
      const score = assumption === 'as-is' ? null : scoreUnder(meet, i, assumption);
      if (score === null) missing.push({ contender: c, routine: i });
      else performances[i] = assumed(score, rangeAt(meet, i).d);
    }
  }

  const others = contest.contenders
    .filter((c) => c !== contender)
    .map((c) => entryOf(c, performances));
  const d = question.d ?? rangeAt(meet, asked).d;
  const withScore = (score: Units): Performances => {
    const copy = [...performances];
    copy[asked] = assumed(score, d);
    return copy;
  };
  return {
    rivals: others.filter(
      (e) => e.onBoard && !e.out && !missing.some((m) => m.contender === e.contender),
    ),
    others,
    her: (score) => entryOf(contender, withScore(score)),
    performances: withScore,
    missing,
  };
}
