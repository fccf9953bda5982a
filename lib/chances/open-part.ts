/** Parts of a total with routines to come: what each can be worth, and all of them together. */
import { LastRotationError } from '../error.js';
import { type Meet, rangeAt } from '../meet/meet.js';
import { type CompleteRange, isComplete } from '../meet/realistic.js';
import { sumsOfBest, TOO_MANY_ROUTINES } from '../range/best.js';
import { type Distribution, distributionIn } from '../range/distribution.js';
import { type PreparedParts, preparedParts } from '../range/every-set.js';
import type { Supposed } from '../range/levels.js';
import { certain, sumOf, sumOfRoutines } from '../range/sum.js';
import { countsAll, type Part } from '../rules/contender.js';
import { type Performances, type Performed, performedIn } from '../rules/entry.js';
import type { Units } from '../score.js';

/** A part of a total with routines to come. */
export interface OpenPart {
  readonly meet: Meet;
  readonly part: Part;
  /** Indices of the routines of it that are to come. */
  readonly toCome: readonly number[];
  /** What of it is known. */
  readonly known: readonly Performed[];
  /** Where it is another part with the score of one of its routines supposed: which, and how much. */
  readonly supposed: (Supposed & { readonly of: OpenPart }) | null;
  /** All that has been supposed of it so far. */
  readonly supposals: OpenPart[];
}

export function openPart(
  meet: Meet,
  part: Part,
  performances: Performances,
  toCome: readonly number[],
): OpenPart {
  return {
    meet,
    part,
    toCome,
    known: performedIn(part, performances),
    supposed: null,
    supposals: [],
  };
}

/** A part if a routine of it scores so much, besides others that are to come. */
export function supposing(
  of: OpenPart,
  routine: number,
  score: Units,
  performances: Performances,
): OpenPart {
  const left = of.toCome.filter((i) => i !== routine);
  const who = of.known.length + of.toCome.indexOf(routine);
  const supposed = { of, who, score };
  const then = { ...openPart(of.meet, of.part, performances, left), supposed };
  of.supposals.push(then);
  return then;
}

/** How something follows from a part in some cases: its own (null), and where a score of it is supposed. */
type Work<T> = (of: OpenPart, cases: readonly (Supposed | null)[]) => readonly T[];

/**
 * What follows from a part, worked out once: of a part and all that has been supposed of it at the same time,
 * since most of the work is the same.
 */
export function workedOut<T>(kept: WeakMap<OpenPart, T>, open: OpenPart, work: Work<T>): T {
  const of = open.supposed?.of ?? open;
  if (!kept.has(open)) {
    const all = [of, ...of.supposals].filter((one) => !kept.has(one));
    const cases = all.map((one) => (one === of ? null : one.supposed));
    for (const [k, result] of work(of, cases).entries()) kept.set(all[k] ?? of, result);
  }
  return kept.get(open) as T;
}

/** Whether the value of a part is the score of one routine. */
export function isSingle({ part }: OpenPart): boolean {
  return part.rule.kind === 'best' && part.routines.length === 1;
}

/** What a routine to come can score; its range must be complete. */
export function routineDistribution(meet: Meet, routine: number): Distribution {
  const distribution = distributionIn(meet, rangeAt(meet, routine));
  if (distribution === null) throw new RangeError(`no range for routine ${routine}`);
  return distribution;
}

/** A part or some parts never change, so what follows from them is worked out once. */
const values = new WeakMap<OpenPart, Distribution>();
const sums = new WeakMap<readonly OpenPart[], Distribution>();

/** What the part can be worth. */
export function partDistribution(open: OpenPart): Distribution {
  return workedOut(values, open, worthIn);
}

/** What its routines score, those that are known first. */
export function scoresIn({ meet, known, toCome }: OpenPart): Distribution[] {
  return [
    ...known.map(({ score }) => certain(score)),
    ...toCome.map((i) => routineDistribution(meet, i)),
  ];
}

/** How many of them count. */
export function countIn({ part, known, toCome }: OpenPart): number {
  return part.rule.kind === 'best' ? part.rule.count : known.length + toCome.length;
}

function worthIn(of: OpenPart, cases: readonly (Supposed | null)[]): Distribution[] {
  const sums = sumsOfBest(scoresIn(of), countIn(of), of.meet.scoring.grid, cases);
  return of.part.rule.kind === 'best' ? sums : sums.map(cutHalf);
}

/** Half of a sum, cut to the unit. */
function cutHalf({ scores, chances }: Distribution): Distribution {
  const halves = new Map<Units, number>();
  for (const [i, score] of scores.entries()) {
    const half = Math.floor(score / 2);
    halves.set(half, (halves.get(half) ?? 0) + (chances[i] ?? 0));
  }
  return { scores: [...halves.keys()], chances: [...halves.values()] };
}

/** Parts whose sets of values are gone through, prepared once. */
const prepared = new WeakMap<readonly OpenPart[], PreparedParts>();

export function preparedOf(open: readonly OpenPart[]): PreparedParts {
  const found = prepared.get(open) ?? preparedParts(open.map(partDistribution));
  prepared.set(open, found);
  return found;
}

/** What all the parts add up to. */
export function sumOfOpen(open: readonly OpenPart[]): Distribution {
  const found = sums.get(open) ?? summed(open);
  sums.set(open, found);
  return found;
}

/** Where every routine counts as it is, routines are summed without going by way of their parts. */
function summed(open: readonly OpenPart[]): Distribution {
  const [first, second] = open;
  if (first === undefined) return certain(0);
  if (second === undefined) return partDistribution(first);
  const { grid, fall } = first.meet.scoring;
  const ranges: CompleteRange[] = [];
  const others: Distribution[] = [];
  let sure = 0;
  for (const one of open) {
    const routines = one.toCome.map((i) => rangeAt(one.meet, i)).filter(isComplete);
    if (!countsAll(one.part)) others.push(partDistribution(one));
    else {
      ranges.push(...routines);
      sure = one.known.reduce((sum, { score }) => sum + score, sure);
    }
  }
  const simple = sumOfRoutines(ranges, grid, fall, sure);
  return others.length === 0 ? simple : sumOf([simple, ...others], grid);
}

/**
 * What all of them add up to if one of them is another, whose sum with the others is made each time. Sums
 * below `least` are not asked about (sumOf).
 */
export function sumWith(one: OpenPart, others: readonly OpenPart[], least: Units): Distribution {
  if ([one, ...others].every(({ part }) => countsAll(part))) return summed([one, ...others]);
  return sumOf([partDistribution(one), sumOfOpen(others)], one.meet.scoring.grid, least);
}

/** Whether the sum can be worked out: a team's routines may be too many. */
export function hasSum(open: readonly OpenPart[]): boolean {
  try {
    return sumOfOpen(open).scores.length > 0;
  } catch (error) {
    if (error instanceof LastRotationError && error.code === TOO_MANY_ROUTINES) return false;
    throw error;
  }
}
