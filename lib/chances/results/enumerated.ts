/**
 * Results one by one: every set of values that the open parts can have, with the keys of rules that
 * compare scores in order; or, where a rule looks at more than that, every way the routines can go.
 */
import { rangeAt } from '../../meet/meet.js';
import { assumed, type Entry, entryOf, performedIn } from '../../rules/entry.js';
import type { SortedScores } from '../../rules/ties/tie-rule.js';
import type { Score } from '../../score.js';
import type { ContestModel, Entrant } from '../model.js';
import { isSingle, partDistribution, preparedOf, routineDistribution } from '../open-part.js';
import { everySet } from './every-set.js';
import { numberedKeys } from './keys.js';
import { MOST_RANKS, type RankScale, type Results, rankOf, rankScale } from './results.js';
import type { TieStep } from './tie-order.js';

/** An entrant, or one of them if a routine of it scores so much. */
export interface Member {
  readonly entrant: Entrant;
  /** Which entrant of the model it is. */
  readonly of: number;
}

/** By entrant: what its total can be. */
export type Totals = readonly (readonly Score[])[];

/** Whether the values of parts tell all that a rule compares: not where a part hides its scores. */
export function isToldByValues({ of }: SortedScores, { open }: Entrant): boolean {
  return of === 'parts' || open.every(isSingle);
}

/** What an entrant's decided parts add to the scores that a rule compares, the lowest first. */
export function decidedScores({ of }: SortedScores, entrant: Entrant): readonly Score[] {
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

/** Whether members have no more sets of values in all. */
export function areFewSets(members: readonly Member[], most: number): boolean {
  // Values in every order are at most n! times the sets.
  const least = members.reduce((sum, { entrant }) => {
    const ways = entrant.open.map((open, k) => partDistribution(open).scores.length / (k + 1));
    return sum + ways.reduce((product, n) => product * n, 1);
  }, 0);
  if (least > most) return false;
  let count = 0;
  return members.every(({ entrant }) =>
    everySet(preparedOf(entrant.open), (_, first, chances) => {
      for (let v = first; v < chances.length; v++) if ((chances[v] ?? 0) > 0) count++;
      return count <= most;
    }),
  );
}

/** Everyone's results by sets of values. */
export function resultsBySets(
  members: readonly Member[],
  steps: readonly TieStep[],
  totals: Totals,
): Results[] {
  const index = scoreIndex(members, steps);
  const compared = steps.map((step) =>
    step.kind === 'sorted' ? comparedAmong(step.sorted, members) : 0,
  );
  const spans = steps.map((step, s) => spanOf(step, compared[s] ?? 0, index.count));
  const keys = spans.reduce((product, span) => product * span, 1);
  const scale = rankScale(totals, keys);
  if (keys * scale.orders.length * members.length > MOST_RANKS) {
    return numberedSets(members, steps, totals);
  }
  return members.map((member) => {
    const keysOf = steps.map((step, s) => packer(step, member, compared[s] ?? 0, index));
    return packedSets(member, keysOf, spans, scale);
  });
}

/** Scores by their place among all that a rule may compare, the lowest first; and how many there are. */
interface ScoreIndex {
  readonly indexOf: (score: Score) => number;
  readonly count: number;
}

function scoreIndex(members: readonly Member[], steps: readonly TieStep[]): ScoreIndex {
  const scores = new Set<Score>();
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

/** How many keys a step has: lists of scores are numbers with a digit for each. */
function spanOf(step: TieStep, compared: number, scores: number): number {
  if (step.kind === 'fixed') return Math.max(...step.ranks) + 1;
  if (step.kind === 'open') throw new RangeError(`${step.rule.name} is not told by values`);
  return scores ** compared;
}

/** The key of a set of values, by their indices among those of the open parts, the lowest first. */
type KeyOf = (indices: Int32Array) => number;

/** The results of one member, with the keys of all steps in one number. */
function packedSets(
  { entrant }: Member,
  keysOf: readonly KeyOf[],
  spans: readonly number[],
  scale: RankScale,
): Results {
  const parts = preparedOf(entrant.open);
  const values = new Int32Array(parts.values);
  const ranks: number[] = [];
  const found: number[] = [];
  everySet(parts, (indices, first, chances) => {
    const highest = indices.length - 1;
    let others = entrant.fixed;
    for (let k = 0; k < highest; k++) others += values[indices[k] ?? 0] ?? 0;
    for (let v = first; v < chances.length; v++) {
      const chance = chances[v] ?? 0;
      if (chance === 0) continue;
      if (highest >= 0) indices[highest] = v;
      let key = 0;
      for (let s = 0; s < keysOf.length; s++) {
        key = key * (spans[s] ?? 1) + (keysOf[s]?.(indices) ?? 0);
      }
      ranks.push(rankOf(scale, others + (values[v] ?? 0), key));
      found.push(chance);
    }
    return true;
  });
  return { ranks: new Float64Array(ranks), chances: new Float64Array(found) };
}

/** What makes the key of a step for one member. */
function packer(
  step: TieStep,
  { entrant, of: who }: Member,
  compared: number,
  { indexOf, count }: ScoreIndex,
): KeyOf {
  if (step.kind !== 'sorted') {
    const rank = step.kind === 'fixed' ? (step.ranks[who] ?? 0) : 0;
    return () => rank;
  }
  const of = Int32Array.from(preparedOf(entrant.open).values, indexOf);
  const known = Int32Array.from(decidedScores(step.sorted, entrant), indexOf);
  return step.sorted.from === 'lowest'
    ? (indices) => packLowest(indices, of, known, compared, count)
    : (indices) => packHighest(indices, of, known, compared, count);
}

/** Two rising lists as one number, the lowest as its first digit. */
function packLowest(
  indices: Int32Array,
  of: Int32Array,
  known: Int32Array,
  compared: number,
  count: number,
): number {
  let [i, j, key] = [0, 0, 0];
  for (let n = 0; n < compared; n++) {
    const a = i < known.length ? (known[i] ?? 0) : count;
    const b = j < indices.length ? (of[indices[j] ?? 0] ?? 0) : count;
    if (a <= b) {
      key = key * count + a;
      i++;
    } else {
      key = key * count + b;
      j++;
    }
  }
  return key;
}

/** The same from the highest down: the higher is ahead, so digits count down from the highest. */
function packHighest(
  indices: Int32Array,
  of: Int32Array,
  known: Int32Array,
  compared: number,
  count: number,
): number {
  let [i, j, key] = [known.length - 1, indices.length - 1, 0];
  for (let n = 0; n < compared; n++) {
    const a = i >= 0 ? (known[i] ?? 0) : -1;
    const b = j >= 0 ? (of[indices[j] ?? 0] ?? 0) : -1;
    key = key * count + count - 1 - Math.max(a, b);
    if (a >= b) i--;
    else j--;
  }
  return key;
}

/** The same where one number does not hold the keys. */
function numberedSets(
  members: readonly Member[],
  steps: readonly TieStep[],
  totals: Totals,
): Results[] {
  const keyed = numberedKeys(members.length, totals);
  for (const [i, { entrant, of }] of members.entries()) {
    const parts = preparedOf(entrant.open);
    const known = steps.map((step) =>
      step.kind === 'sorted' ? decidedScores(step.sorted, entrant) : [],
    );
    everySet(parts, (indices, first, chances) => {
      for (let v = first; v < chances.length; v++) {
        const chance = chances[v] ?? 0;
        if (chance === 0) continue;
        if (indices.length > 0) indices[indices.length - 1] = v;
        const scores = Array.from(indices, (k) => parts.values[k] ?? 0);
        const digits = steps.flatMap((step, s) => {
          if (step.kind === 'fixed') return step.ranks[of] ?? 0;
          if (step.kind === 'open') return [];
          const rising = [...(known[s] ?? []), ...scores].sort((a, b) => a - b);
          const all = step.sorted.from === 'lowest' ? rising : rising.reverse().map((x) => -x);
          return step.sorted.compared === 'first' ? all.slice(0, 1) : all;
        });
        keyed.add(
          i,
          scores.reduce((sum, x) => sum + x, entrant.fixed),
          digits,
          chance,
        );
      }
      return true;
    });
  }
  return keyed.results();
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
