/**
 * A contest as chances see it: for everyone who can have a place, what is decided, what is still
 * open, and the tie rules that hold for all of them.
 */
import type { Contest } from '../contest/contest.js';
import { recordedPerformances } from '../contest/recorded.js';
import { LastRotationError, noAnswer } from '../error.js';
import { type Meet, rangeAt, routineAt } from '../meet/meet.js';
import { type Distribution, isComplete } from '../range/distribution.js';
import { type Sum, shifted, TOO_MANY_ROUTINES } from '../range/sum.js';
import { type Contender, scoresDropped } from '../rules/contender.js';
import {
  assumed,
  type Entry,
  entryOf,
  isOut,
  type Performances,
  partValue,
  performedIn,
} from '../rules/entry.js';
import type { Score } from '../score.js';

type TieRule = Contest['ties'][number];

import { type OpenPart, openPart, sumOfParts, sumWith } from './part.js';

/** Whoever can have a place at the end. */
export interface Runner {
  readonly contender: Contender;
  /** What was carried in and the parts that are decided. */
  readonly fixed: Score;
  /** The values of the parts that are decided, the lowest first. */
  readonly decided: readonly Score[];
  readonly open: readonly OpenPart[];
  /** Indices of its routines to come. */
  readonly toCome: readonly number[];
  /** Of the total at the end. */
  readonly total: Distribution;
  /** As it will be ranked, every routine to come at an assumed score. */
  readonly assumed: Entry;
}

/** Everyone who can have a place, in start order, and how ties between them are broken. */
export interface Race {
  readonly contest: Contest;
  readonly runners: readonly Runner[];
  readonly rules: readonly TieRule[];
  /** Rules skipped for all, since somebody lacks the data. */
  readonly skipped: readonly TieRule[];
  /** Nothing is to come: ties are judged among those who are level, as on the board. */
  readonly over: boolean;
}

/** Which routines to come will have been done when places are counted. */
export type Counted = (routine: number) => boolean;

const ALL: Counted = () => true;

/**
 * The race for places when all `counted` routines are done. Throws when a range that it needs is
 * missing.
 */
export function raceOf(meet: Meet, contest: Contest, counted: Counted = ALL): Race {
  const recorded = recordedPerformances(meet);
  throwIfMissing(meet, contest, recorded, counted);
  const assumedThen = completed(meet, contest, recorded, counted);
  const runners: Runner[] = [];
  for (const contender of contest.contenders) {
    if (isOut(contender, recorded)) continue;
    const runner = runnerOf(meet, contender, recorded, assumedThen, counted);
    if (runner.assumed.onBoard) runners.push(runner);
  }
  const over = runners.every((r) => r.toCome.length === 0);
  // Rules rank finished sets.
  if (runners.some((r) => r.assumed.unfinished)) {
    return { contest, runners, rules: [], skipped: [], over };
  }
  const lacking = contest.ties.filter((rule) => isLacking(rule, runners));
  return {
    contest,
    runners,
    rules: contest.ties.filter((rule) => !lacking.includes(rule)),
    skipped: runners.length > 1 ? lacking : [],
    over,
  };
}

/**
 * The same race, with the same rules, if a routine of one runner scores so much. Its part stays
 * open, at one value or, where scores are dropped or averaged, at fewer.
 */
export function ifScored(meet: Meet, race: Race, who: number, routine: number, score: Score): Race {
  const runners = race.runners.map((r, i) =>
    i === who ? runnerIfScored(meet, r, routine, score) : r,
  );
  return { ...race, runners };
}

/** One runner if a routine of it scores so much, told apart by the same parts as before. */
export function runnerIfScored(meet: Meet, runner: Runner, routine: number, score: Score): Runner {
  const recorded = recordedPerformances(meet);
  const supposed = [...recorded];
  supposed[routine] = assumed(score, rangeAt(meet, routine).d);
  const open = runner.open.map((o) => {
    if (!o.toCome.includes(routine)) return o;
    const toCome = o.toCome.filter((i) => i !== routine);
    return openPart(meet, o.part, supposed, toCome);
  });
  const performances = [...runner.assumed.performances];
  performances[routine] = supposed[routine] ?? null;
  const { contender, fixed, decided } = runner;
  const entry = entryOf(contender, performances);
  const then = { contender, fixed, decided, open, assumed: entry };
  const at = runner.open.findIndex((o) => o.toCome.includes(routine));
  return runnerFrom(then, () => {
    const rest = sumWithout(meet, runner, runner.open[at]!);
    return shifted(sumWith(meet, open, open[at]!, rest), fixed);
  });
}

/** By runner and open part: the sum of all other open parts. */
const others = new WeakMap<Runner, Map<OpenPart, Sum>>();

/** It is the same for every score that a routine of the part can have. */
function sumWithout(meet: Meet, runner: Runner, one: OpenPart): Sum {
  const kept = others.get(runner) ?? new Map<OpenPart, Sum>();
  others.set(runner, kept);
  const rest = runner.open.filter((o) => o !== one);
  const found = kept.get(one) ?? sumOfParts(meet, rest);
  kept.set(one, found);
  return found;
}

function throwIfMissing(
  meet: Meet,
  contest: Contest,
  recorded: Performances,
  counted: Counted,
): void {
  const isMissing = (i: number) =>
    recorded[i] === null && counted(i) && !isComplete(rangeAt(meet, i));
  const missing = contest.contenders
    .filter((c) => c.routines.some(isMissing) && !isOut(c, recorded))
    .flatMap((c) => c.routines.filter(isMissing));
  if (missing.length === 0) return;
  const names = missing.slice(0, 4).map((i) => {
    const { gymnast, apparatus } = routineAt(meet, i);
    return `${gymnast} on ${apparatus}`;
  });
  const more = missing.length - names.length;
  throw noAnswer(
    'missing-range',
    `chances need a range for ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`,
    'give low, likely, high and falls, or `usual`',
  );
}

/** Every routine to come of a contest at an assumed score. */
function completed(
  meet: Meet,
  { contenders }: Contest,
  recorded: Performances,
  counted: Counted,
): Performances {
  const all = [...recorded];
  for (const { routines } of contenders) {
    for (const i of routines) {
      if (recorded[i] !== null || !counted(i)) continue;
      const { likely, d } = rangeAt(meet, i);
      all[i] = assumed(likely ?? 0, d);
    }
  }
  return all;
}

/** An evening's worth of suppositions, and no more. */
const KEPT = 1000;

/** Meets never change, so what follows from the same routines of one contender is kept. */
const known = new WeakMap<Meet['ranges'], Map<string, Runner>>();

function runnerOf(
  meet: Meet,
  contender: Contender,
  recorded: Performances,
  assumedThen: Performances,
  counted: Counted,
): Runner {
  const kept = known.get(meet.ranges) ?? new Map<string, Runner>();
  known.set(meet.ranges, kept);
  const key = keyOf(contender, recorded, counted);
  const found = kept.get(key);
  if (found !== undefined) return found;
  if (kept.size >= KEPT) kept.clear();
  const runner = buildRunner(meet, contender, recorded, assumedThen, counted);
  kept.set(key, runner);
  return runner;
}

/** Everything that a runner depends on, but for the ranges. */
function keyOf(contender: Contender, recorded: Performances, counted: Counted): string {
  let key = `${contender.id} ${contender.carried}`;
  for (const { apparatus, rule, routines } of contender.parts) {
    key += ` ${apparatus}${rule.kind === 'best' ? rule.count : 'm'}`;
    for (const i of routines) {
      const p = recorded[i];
      if (p === null || p === undefined) key += ` ${i}${counted(i) ? '?' : '-'}`;
      else key += p === 'out' ? ` ${i}x` : ` ${i}:${p.score},${p.d},${p.e}`;
    }
  }
  return key;
}

function buildRunner(
  meet: Meet,
  contender: Contender,
  recorded: Performances,
  assumedThen: Performances,
  counted: Counted,
): Runner {
  const isOpen = (i: number) => recorded[i] === null && counted(i);
  const decided: Score[] = [];
  const open: OpenPart[] = [];
  for (const part of contender.parts) {
    const toCome = part.routines.filter(isOpen);
    const value = toCome.length > 0 ? null : partValue(part, recorded);
    if (toCome.length > 0) open.push(openPart(meet, part, recorded, toCome));
    if (value !== null) decided.push(value);
  }
  const fixed = decided.reduce((a, b) => a + b, contender.carried);
  decided.sort((a, b) => a - b);
  const entry = entryOf(contender, assumedThen);
  return runnerFrom({ contender, fixed, decided, open, assumed: entry }, () =>
    totalOf(meet, fixed, open),
  );
}

/** Its total is worked out when it is first asked for: not all that is asked needs it. */
function runnerFrom(
  { contender, fixed, decided, open, assumed }: Omit<Runner, 'toCome' | 'total'>,
  total: () => Distribution,
): Runner {
  let known: Distribution | null = null;
  return {
    contender,
    fixed,
    decided,
    open,
    toCome: open.flatMap(({ toCome }) => toCome),
    assumed,
    get total() {
      known ??= total();
      return known;
    },
  };
}

/** Whether its total can be worked out: a team's routines may be too many. */
export function hasTotal(runner: Runner): boolean {
  try {
    return runner.total.scores.length > 0;
  } catch (error) {
    if (error instanceof LastRotationError && error.code === TOO_MANY_ROUTINES) return false;
    throw error;
  }
}

function totalOf(meet: Meet, fixed: Score, open: readonly OpenPart[]): Distribution {
  return shifted(sumOfParts(meet, open).distribution, fixed);
}

/**
 * Whether a rule is skipped for all, because one of them lacks the data, or, where it may drop a
 * score that lacks it, may come to.
 */
function isLacking(rule: TieRule, runners: readonly Runner[]): boolean {
  const keys = runners.map((r) => rule.key(r.assumed));
  const sizes = new Set(keys.map((key) => (typeof key === 'string' ? key : key.length)));
  if (sizes.size > 1 || keys.some((key) => typeof key === 'string')) return true;
  if (rule.needs === 'scores') return false;
  const which = rule.needs;
  return runners.some(
    ({ contender, assumed: entry, toCome }) =>
      toCome.length > 0 &&
      contender.parts.some(
        (part) =>
          scoresDropped(part) > 0 &&
          performedIn(part, entry.performances).some((p) => typeof p[which] === 'string'),
      ),
  );
}

/** Whether a rule compares what is fixed once the totals are known to be equal. */
export function isStatic(rule: TieRule, { runners }: Race): boolean {
  return runners.every(
    (r) =>
      rule.fixedAtEqualTotals(
        r.assumed,
        r.open.map((o) => o.part),
      ) !== null,
  );
}

/** What such a rule compares: the higher is ahead. */
export function staticKey(rule: TieRule, entry: Entry): Score {
  return rule.fixedAtEqualTotals(entry, []) ?? 0;
}
