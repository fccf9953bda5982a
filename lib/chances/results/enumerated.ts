/**
 * Results one by one: every set of values that the open parts can have, with the keys of rules that
 * compare scores in order; or, where a rule looks at more than that, every way the routines can go.
 */
import { rangeAt } from '../../meet/meet.js';
import { everySet, type VisitSets } from '../../range/every-set.js';
import { packHighest, packLowest } from '../../range/packed.js';
import {
  MOST_RANKS,
  type RankScale,
  type Results,
  rankCount,
  rankOf,
  rankScale,
} from '../../range/rank-scale.js';
import { assumed, type Entry, entryOf, performedIn } from '../../rules/entry.js';
import type { SortedScores } from '../../rules/ties/tie-rule.js';
import type { Units } from '../../score.js';
import { ROUNDING } from '../bound.js';
import type { ContestModel, Entrant } from '../model.js';
import { isSingle, partDistribution, preparedOf, routineDistribution } from '../open-part.js';
import { numberedKeys } from './keys.js';
import type { TieStep } from './tie-order.js';

/** An entrant, or one of them if a routine of it scores so much. */
export interface Member {
  readonly entrant: Entrant;
  /** Which entrant of the model it is. */
  readonly of: number;
  /** Its totals and scores may be others than those the entrant can have. */
  readonly isBeyond: boolean;
  /** Nobody asks about lower totals: they may be taken for any of them. */
  readonly least: Units;
}

/** By entrant: what its total can be. */
export type Totals = readonly (readonly Units[])[];

/** Whether the values of parts tell all that a rule compares: not where a part hides its scores. */
export function isToldByValues({ of }: SortedScores, { open }: Entrant): boolean {
  return of === 'parts' || open.every(isSingle);
}

/** What an entrant's decided parts add to the scores that a rule compares, the lowest first. */
export function decidedScores({ of }: SortedScores, entrant: Entrant): readonly Units[] {
  if (of === 'parts') return entrant.decided;
  const { contender, assumed: entry, toCome } = entrant;
  return contender.parts
    .filter((part) => !part.routines.some((i) => toCome.includes(i)))
    .flatMap((part) => performedIn(part, entry.performances).map((p) => p.score))
    .sort((a, b) => a - b);
}

/** How many ways its routines to come can go. */
export function mostWays(model: ContestModel, { toCome }: Entrant): number {
  return toCome.reduce((ways, i) => ways * routineDistribution(model.meet, i).scores.length, 1);
}

/** About how many sets of values members have in all: of n parts a product over n!, as if all had the same values. */
export function setCount(members: readonly Member[]): number {
  return members.reduce((sum, { entrant }) => {
    const ways = entrant.open.map((open, k) => partDistribution(open).scores.length / (k + 1));
    return sum + ways.reduce((product, n) => product * n, 1);
  }, 0);
}

/** Everyone's results by sets of values. */
export function resultsBySets(
  members: readonly Member[],
  steps: readonly TieStep[],
  totals: Totals,
): Results[] {
  const index = scoreIndex(members, steps);
  const digits = steps.flatMap((step): Digit[] => digitsOf(step, members, index.count));
  const keys = digits.reduce((product, { span }) => product * span, 1);
  const scale = rankScale(totals, keys);
  if (keys * scale.orders.length * members.length <= MOST_RANKS) {
    return members.map((member) => packedSets(member, packer(digits, member, index), scale));
  }
  const numbered = numberedKeys(members.length, totals);
  for (const [i, member] of members.entries()) {
    const keysOf = digits.map((digit) => packer([digit], member, index));
    eachSet({ ...member, least: 0 }, (indices, total, chances, v) => {
      const key = keysOf.map((keyOf) => keyOf(indices));
      numbered.add(i, total, key, chances[v] ?? 0);
    });
  }
  return numbered.results();
}

/** One of the numbers by which a step tells results apart, the first that differs deciding. */
interface Digit {
  readonly step: TieStep;
  /** Of scores that are compared one after another, which one. */
  readonly at: number;
  /** It is lower than this. */
  readonly span: number;
}

function digitsOf(step: TieStep, members: readonly Member[], scores: number): Digit[] {
  if (step.kind === 'fixed') return [{ step, at: 0, span: Math.max(...step.ranks) + 1 }];
  if (step.kind === 'open') throw new RangeError(`${step.rule.name} is not told by values`);
  const compared = comparedAmong(step.sorted, members);
  return Array.from({ length: compared }, (_, at) => ({ step, at, span: scores }));
}

/** Scores by their place among all that a rule may compare, the lowest first; and how many there are. */
interface ScoreIndex {
  readonly indexOf: (score: Units) => number;
  readonly count: number;
}

function scoreIndex(members: readonly Member[], steps: readonly TieStep[]): ScoreIndex {
  const scores = new Set<Units>();
  for (const { entrant } of members) {
    for (const one of entrant.open)
      for (const score of partDistribution(one).scores) scores.add(score);
    for (const step of steps) {
      if (step.kind !== 'sorted') continue;
      for (const score of decidedScores(step.sorted, entrant)) scores.add(score);
    }
  }
  const ranks = new Map([...scores].sort((a, b) => a - b).map((score, rank) => [score, rank]));
  return { indexOf: (score) => ranks.get(score) ?? 0, count: ranks.size };
}

/**
 * How many scores a rule compares. Where totals are nothing but the sum of those it compares, the last of
 * equal totals follows from the others.
 */
export function comparedAmong(sorted: SortedScores, members: readonly Member[]): number {
  if (sorted.compared === 'first') return 1;
  const decided = members.map(({ entrant }) => decidedScores(sorted, entrant));
  const besides = members.map(({ entrant }, i) =>
    (decided[i] ?? []).reduce((left, x) => left - x, entrant.fixed),
  );
  const isSum = besides.every((left) => left === besides[0]);
  const most = Math.max(
    ...members.map(({ entrant }, i) => (decided[i] ?? []).length + entrant.open.length),
  );
  return isSum ? Math.max(most - 1, 0) : most;
}

/**
 * Visits every set of values that somebody asks about: their indices, the lowest first, the total, and where its
 * chance is.
 */
function eachSet(
  { entrant: { open, fixed }, least }: Member,
  visit: (indices: Int32Array, total: Units, chances: Float64Array, at: number) => void,
): void {
  const parts = preparedOf(open);
  const values = new Int32Array(parts.values);
  const visitAll: VisitSets = (indices, first, chances) => {
    const highest = indices.length - 1;
    let others = fixed;
    for (let k = 0; k < highest; k++) others += values[indices[k] ?? 0] ?? 0;
    for (let v = first; v < chances.length; v++) {
      if (chances[v] === 0) continue;
      if (highest >= 0) indices[highest] = v;
      visit(indices, others + (values[v] ?? 0), chances, v);
    }
    return true;
  };
  everySet(parts, visitAll, least - fixed);
}

/** The results of one member, with whole keys in one number; those that are not asked about are behind all others. */
function packedSets(member: Member, keyOf: KeyOf, scale: RankScale): Results {
  const ranks: number[] = [];
  const found: number[] = [];
  let left = 1;
  eachSet(member, (indices, total, chances, v) => {
    ranks.push(rankOf(scale, total, keyOf(indices)));
    found.push(chances[v] ?? 0);
    left -= chances[v] ?? 0;
  });
  if (left > ROUNDING) {
    ranks.push(rankCount(scale));
    found.push(left);
  }
  return { ranks: new Float64Array(ranks), chances: new Float64Array(found) };
}

/** The key of a set of values, by their indices among those of the open parts, the lowest first. */
type KeyOf = (indices: Int32Array) => number;

/** What puts some digits of one member into one number. */
function packer(digits: readonly Digit[], member: Member, index: ScoreIndex): KeyOf {
  const { entrant, of: who } = member;
  const values = Int32Array.from(preparedOf(entrant.open).values, index.indexOf);
  const packs: { pack: KeyOf; span: number }[] = [];
  for (const [k, { step, at, span }] of digits.entries()) {
    // Scores of one step, one after another, are packed together.
    if (k > 0 && digits[k - 1]?.step === step) continue;
    const of = digits.filter((digit) => digit.step === step);
    const size = of.reduce((product, digit) => product * digit.span, 1);
    if (step.kind === 'sorted') {
      const { sorted } = step;
      const known = Int32Array.from(decidedScores(sorted, entrant), index.indexOf);
      const end = at + of.length;
      const pack: KeyOf =
        sorted.from === 'lowest'
          ? (indices) => packLowest(indices, values, known, at, end, span)
          : (indices) => packHighest(indices, values, known, at, end, span);
      packs.push({ pack, span: size });
    } else {
      const rank = step.kind === 'fixed' ? (step.ranks[who] ?? 0) : 0;
      packs.push({ pack: () => rank, span: size });
    }
  }
  const [only] = packs;
  if (packs.length === 1 && only !== undefined) return only.pack;
  return (indices) => packs.reduce((key, { pack, span }) => key * span + pack(indices), 0);
}

/** Everyone's results by every way the routines to come can go, compared by the rules of the board. */
export function resultsByWays(
  model: ContestModel,
  members: readonly Member[],
  totals: Totals,
): Results[] {
  const keyed = numberedKeys(members.length, totals);
  for (const [i, { entrant }] of members.entries()) {
    everyWay(model, entrant, (entry, chance) => {
      // What is lacking is lacking for all, and then the rule is none of the model's.
      const keys = model.rules
        .map((rule) => rule.key(entry))
        .filter((key) => typeof key !== 'string');
      keyed.add(
        i,
        entry.total,
        keys.flat().map((x) => -x),
        chance,
      );
    });
  }
  return keyed.results();
}

function everyWay(
  { meet }: ContestModel,
  { contender, toCome, assumed: entry }: Entrant,
  visit: (entry: Entry, chance: number) => void,
): void {
  const performances = [...entry.performances];
  const go = (k: number, chance: number): void => {
    const routine = toCome[k];
    if (routine === undefined) {
      visit(entryOf(contender, performances), chance);
      return;
    }
    const { d } = rangeAt(meet, routine);
    const { scores, chances } = routineDistribution(meet, routine);
    for (const [n, score] of scores.entries()) {
      performances[routine] = assumed(score, d);
      go(k + 1, chance * (chances[n] ?? 0));
    }
  };
  go(0, 1);
}
