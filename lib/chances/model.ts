/**
 * A contest as chances see it: for everyone who can have a place, what is decided, what is still open,
 * and the tie rules that hold for all of them (docs/model.md, "A total").
 */
import type { Contest } from '../contest/contest.js';
import { noAnswer } from '../error.js';
import { type Meet, rangeAt, routineAt } from '../meet/meet.js';
import { isComplete } from '../meet/realistic.js';
import type { Distribution } from '../range/distribution.js';
import { shifted } from '../range/sum.js';
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
import { recordedPerformances } from '../rules/recorded.js';
import type { Units } from '../score.js';
import { type OpenPart, openPart, sumOfOpen, sumWith, supposing } from './open-part.js';

type Rule = Contest['ties'][number];

/** Whoever can have a place at the end, with what is decided of its total and what is open. */
export interface Entrant {
  readonly contender: Contender;
  /** What was carried in and the values of the parts that are decided, summed. */
  readonly fixed: Units;
  /** The values of the parts that are decided, the lowest first. */
  readonly decided: readonly Units[];
  readonly open: readonly OpenPart[];
  /** By open part: the others. */
  readonly others: readonly (readonly OpenPart[])[];
  /** What the open parts add up to; sums below the least that is asked about are taken for any of them. */
  readonly sum: (least: Units) => Distribution;
  /** Indices of its routines to come. */
  readonly toCome: readonly number[];
  /** As it will be ranked, every routine to come at an assumed score. */
  readonly assumed: Entry;
}

/** Everyone who can have a place, and how ties between them are broken. */
export interface ContestModel {
  readonly meet: Meet;
  readonly contest: Contest;
  /** In start order. */
  readonly entrants: readonly Entrant[];
  readonly rules: readonly Rule[];
  /** Rules skipped for all, since somebody lacks the data. */
  readonly skipped: readonly Rule[];
  /** Nothing is to come: ties are judged among those who are level, as on the board. */
  readonly over: boolean;
}

/** Which routines to come will have been done when places are counted. */
export type Counted = (routine: number) => boolean;

/**
 * The contest when all `counted` routines are done. Throws when a range that it needs is missing.
 */
export function modelOf(meet: Meet, contest: Contest, counted: Counted = () => true): ContestModel {
  const recorded = recordedPerformances(meet);
  throwIfMissing(meet, contest, recorded, counted);
  const assumedThen = completed(meet, contest, recorded, counted);
  const entrants = contest.contenders
    .filter((contender) => !isOut(contender, recorded))
    .map((contender) => entrantOf(meet, contender, recorded, assumedThen, counted))
    .filter((entrant) => entrant.assumed.onBoard);
  const over = entrants.every((e) => e.toCome.length === 0);
  const base = { meet, contest, entrants, over };
  // Rules rank finished sets.
  if (entrants.some((e) => e.assumed.unfinished)) return { ...base, rules: [], skipped: [] };
  const lacking = contest.ties.filter((rule) => isLacking(rule, entrants));
  return {
    ...base,
    rules: contest.ties.filter((rule) => !lacking.includes(rule)),
    skipped: entrants.length > 1 ? lacking : [],
  };
}

/** The total at the end. */
export function totalOf(entrant: Entrant): Distribution {
  return totalFrom(entrant, Number.NEGATIVE_INFINITY);
}

/** The same where totals below the least that is asked about are taken for any of them. */
export function totalFrom({ sum, fixed }: Entrant, least: Units): Distribution {
  return shifted(sum(least - fixed), fixed);
}

/** An entrant if one of its routines to come scores so much. */
export function conditioned(meet: Meet, entrant: Entrant, routine: number, score: Units): Entrant {
  const at = entrant.open.findIndex((o) => o.toCome.includes(routine));
  const open = entrant.open[at];
  if (open === undefined) throw new RangeError(`routine ${routine} is not to come`);
  const result = assumed(score, rangeAt(meet, routine).d);
  const performances = entrant.assumed.performances.with(routine, result);
  const known = recordedPerformances(meet).with(routine, result);
  const { contender, fixed, decided } = entrant;
  const rest = entrant.others[at] ?? [];
  const value = open.toCome.length > 1 ? null : (partValue(open.part, known) ?? 0);
  const changed = value === null ? supposing(open, routine, score, known) : null;
  const parts = changed === null ? rest : entrant.open.with(at, changed);
  return {
    contender,
    fixed: fixed + (value ?? 0),
    decided: value === null ? decided : [...decided, value].sort((a, b) => a - b),
    open: parts,
    others: othersOf(parts),
    sum: (least) => (changed === null ? sumOfOpen(rest) : sumWith(changed, rest, least)),
    toCome: entrant.toCome.filter((i) => i !== routine),
    assumed: entryOf(contender, performances),
  };
}

function othersOf(open: readonly OpenPart[]): OpenPart[][] {
  return open.map((one) => open.filter((o) => o !== one));
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

function entrantOf(
  meet: Meet,
  contender: Contender,
  recorded: Performances,
  assumedThen: Performances,
  counted: Counted,
): Entrant {
  const isOpen = (i: number) => recorded[i] === null && counted(i);
  const decided: Units[] = [];
  const open: OpenPart[] = [];
  for (const part of contender.parts) {
    const toCome = part.routines.filter(isOpen);
    const value = toCome.length > 0 ? null : partValue(part, recorded);
    if (toCome.length > 0) open.push(openPart(meet, part, recorded, toCome));
    if (value !== null) decided.push(value);
  }
  return {
    contender,
    fixed: decided.reduce((a, b) => a + b, contender.carried),
    decided: decided.sort((a, b) => a - b),
    open,
    others: othersOf(open),
    sum: () => sumOfOpen(open),
    toCome: open.flatMap(({ toCome }) => toCome),
    assumed: entryOf(contender, assumedThen),
  };
}

/**
 * Whether a rule is skipped for all, because one of them lacks the data, or, where it may drop a
 * score that lacks it, may come to.
 */
function isLacking(rule: Rule, entrants: readonly Entrant[]): boolean {
  const keys = entrants.map((e) => rule.key(e.assumed));
  const sizes = new Set(keys.map((key) => (typeof key === 'string' ? key : key.length)));
  if (sizes.size > 1 || keys.some((key) => typeof key === 'string')) return true;
  const { needs } = rule;
  if (needs === 'scores') return false;
  return entrants.some(
    ({ contender, assumed: entry, toCome }) =>
      toCome.length > 0 &&
      contender.parts.some(
        (part) =>
          scoresDropped(part) > 0 &&
          performedIn(part, entry.performances).some((p) => typeof p[needs] === 'string'),
      ),
  );
}
