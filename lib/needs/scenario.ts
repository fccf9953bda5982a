/** A meet as an assumption leaves it, but for the one score that is asked about. */
import type { Contest } from '../contest/contest.js';
import { limitAt, type Meet, rangeAt, routineAt } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import {
  assumed,
  type Entry,
  entryOf,
  type Performance,
  type Performances,
} from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { Units } from '../score.js';
import type { Assumption, Question, Rivals, When } from './target.js';

/** A routine whose range is missing. */
export interface MissingRange {
  /** Whose routine it is, by id. */
  readonly gymnast: string;
  /** Where it is, by code. */
  readonly apparatus: string;
}

export interface Scenario {
  /** Every other contender on that board who is not out. */
  readonly rivals: readonly Entry[];
  /** Every other contender, whether on the board or not. */
  readonly others: readonly Entry[];
  /** Hers with a score in the asked routine. */
  readonly her: (score: Units) => Entry;
  readonly performances: (score: Units) => Performances;
  /** Not empty: the assumption cannot be made, and nothing above may be used. */
  readonly missing: readonly MissingRange[];
}

/** What a routine to come scores under an assumption; null when it is missing. */
function scoreUnder(meet: Meet, routine: number, assumption: Assumption): Units | null {
  return assumption === 'limit' ? limitAt(meet, routine) : rangeAt(meet, routine)[assumption];
}

export function missingAt(meet: Meet, routine: number): MissingRange {
  const { gymnast, apparatus } = routineAt(meet, routine);
  return { gymnast, apparatus };
}

type Assumed = Pick<Question, 'when' | 'rivals' | 'rest' | 'd'>;

/** Everyone's routines as an assumption leaves them, and what stands in its way. */
interface Completed {
  readonly performances: Performances;
  readonly missing: ReadonlyMap<Contender, readonly MissingRange[]>;
  readonly entries: readonly Entry[];
}

/**
 * Nobody's entry depends on who is asked about, so the field is completed once for an assumption, however
 * many are.
 */
const fields = new WeakMap<Meet, WeakMap<Contest, Map<string, Completed>>>();

function fieldUnder(meet: Meet, contest: Contest, asked: number, question: Assumed): Completed {
  const { when, rivals } = question;
  const ofMeet = fields.get(meet) ?? new WeakMap<Contest, Map<string, Completed>>();
  fields.set(meet, ofMeet);
  const ofContest = ofMeet.get(contest) ?? new Map<string, Completed>();
  ofMeet.set(contest, ofContest);
  const key = `${when} ${rivals} ${when === 'rotation' ? routineAt(meet, asked).at : ''}`;
  const known = ofContest.get(key) ?? completeField(meet, contest, asked, question);
  ofContest.set(key, known);
  return known;
}

function completeField(meet: Meet, contest: Contest, asked: number, question: Assumed): Completed {
  const { when, rivals } = question;
  const { at } = routineAt(meet, asked);
  const performances = [...recordedPerformances(meet)];
  const missing = new Map<Contender, readonly MissingRange[]>();
  for (const c of contest.contenders) {
    missing.set(c, complete(meet, c, performances, { at, but: null, when, assumption: rivals }));
  }
  const entries = contest.contenders.map((c) => entryOf(c, performances));
  return { performances, missing, entries };
}

interface Completing {
  /** When the asked routine is. */
  readonly at: number;
  /** The one that is left as it is. */
  readonly but: number | null;
  readonly when: When;
  readonly assumption: Rivals;
}

/** Puts in what one contender scores; returns the ranges that are missing for it. */
function complete(
  meet: Meet,
  contender: Contender,
  performances: Performance[],
  { at, but, when, assumption }: Completing,
): MissingRange[] {
  if (entryOf(contender, performances).out) return [];
  const missing: MissingRange[] = [];
  for (const i of contender.routines) {
    const completes = when === 'end' || (when === 'rotation' && routineAt(meet, i).at <= at);
    if (i === but || performances[i] !== null || !completes) continue;
    const score = assumption === 'as-is' ? null : scoreUnder(meet, i, assumption);
    if (score === null) missing.push(missingAt(meet, i));
    else performances[i] = assumed(score, rangeAt(meet, i).d);
  }
  return missing;
}

export function buildScenario(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  asked: number,
  question: Assumed,
): Scenario {
  const field = fieldUnder(meet, contest, asked, question);
  const recorded = recordedPerformances(meet);
  const performances = [...field.performances];
  for (const i of contender.routines) performances[i] = recorded[i] ?? null;
  const { when, rest } = question;
  const { at } = routineAt(meet, asked);
  const hers = complete(meet, contender, performances, { at, but: asked, when, assumption: rest });

  const others = field.entries.filter((e) => e.contender !== contender);
  const d = question.d ?? rangeAt(meet, asked).d;
  const withScore = (score: Units): Performances => {
    const copy = [...performances];
    copy[asked] = assumed(score, d);
    return copy;
  };
  return {
    rivals: others.filter((e) => e.onBoard && !e.out),
    others,
    her: (score) => entryOf(contender, withScore(score)),
    performances: withScore,
    missing: contest.contenders.flatMap((c) =>
      c === contender ? hers : (field.missing.get(c) ?? []),
    ),
  };
}
