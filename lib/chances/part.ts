/** Parts of a total with routines to come: what they can be worth, one of them and several together. */

import { type Meet, rangeAt } from '../meet/meet.js';
import {
  type CompleteRange,
  type Distribution,
  distributionOf,
  isComplete,
} from '../range/distribution.js';
import {
  certain,
  type Sum,
  shifted,
  sumOf,
  sumOfBest,
  sumOfRoutines,
  sumOfSums,
} from '../range/sum.js';
import type { Part } from '../rules/contender.js';
import { type Performances, performedIn } from '../rules/entry.js';
import type { Score } from '../score.js';

/** A part of a total with routines to come. */
export interface OpenPart {
  readonly part: Part;
  /** Indices of the routines of it that are to come. */
  readonly toCome: readonly number[];
  /** Of the value of the part. */
  readonly distribution: Distribution;
  /** Of how many scores its value is the sum; a mean is one. */
  readonly terms: number;
  /** What each of these can be. */
  readonly singles: readonly Pick<Distribution, 'scores'>[];
}

/** What a routine to come can score; its range must be complete. */
export function routineDistribution(meet: Meet, routine: number): Distribution {
  const distribution = distributionOf(meet, rangeAt(meet, routine));
  if (distribution === null) throw new RangeError(`no range for routine ${routine}`);
  return distribution;
}

/** Its distribution is worked out when it is first asked for. */
export function openPart(
  meet: Meet,
  part: Part,
  recorded: Performances,
  toCome: readonly number[],
): OpenPart {
  let known: Distribution | null = null;
  return {
    part,
    toCome,
    get distribution() {
      known ??= partDistribution(meet, part, recorded, toCome);
      return known;
    },
    get terms() {
      const { rule } = part;
      const scores = performedIn(part, recorded).length + toCome.length;
      return rule.kind === 'best' ? Math.min(scores, rule.count) : 1;
    },
    get singles() {
      if (part.rule.kind !== 'best') return [this.distribution];
      return scoresIn(meet, part, recorded, toCome);
    },
  };
}

/** What is done of a part, and what is to come. */
function scoresIn(
  meet: Meet,
  part: Part,
  recorded: Performances,
  toCome: readonly number[],
): Distribution[] {
  const done = performedIn(part, recorded).map((p) => certain(p.score));
  return [...done, ...toCome.map((i) => routineDistribution(meet, i))];
}

function partDistribution(
  meet: Meet,
  part: Part,
  recorded: Performances,
  toCome: readonly number[],
): Distribution {
  const [only] = toCome;
  if (only !== undefined && isSingle(part)) {
    return routineDistribution(meet, only);
  }
  const all = scoresIn(meet, part, recorded, toCome);
  if (part.rule.kind === 'best') return sumOfBest(all, part.rule.count, meet.scoring.grid);
  return cutHalf(sumOf(all));
}

/** Half of a sum, cut to the unit. */
function cutHalf({ scores, chances }: Distribution): Distribution {
  const halves = new Map<Score, number>();
  for (const [i, score] of scores.entries()) {
    const half = Math.floor(score / 2);
    halves.set(half, (halves.get(half) ?? 0) + chances[i]!);
  }
  return { scores: [...halves.keys()], chances: [...halves.values()] };
}

/** Whether a part is the score of one routine. */
function isSingle({ rule, routines }: Part): boolean {
  return rule.kind === 'best' && routines.length === 1;
}

/** The sum of some parts. Several parts of one routine are summed without going by way of the part. */
export function sumOfParts(meet: Meet, open: readonly OpenPart[]): Sum {
  const ranges: CompleteRange[] = [];
  const parts: Sum[] = [];
  for (const one of open) {
    const { part, toCome } = one;
    const range = isSingle(part) && toCome.length === 1 ? rangeAt(meet, toCome[0]!) : null;
    if (open.length > 1 && range !== null && isComplete(range)) ranges.push(range);
    else parts.push(one);
  }
  const { grid, fall } = meet.scoring;
  if (ranges.length > 0 || open.length === 0) {
    parts.push({ distribution: sumOfRoutines(ranges, grid, fall), terms: ranges.length });
  }
  const terms = parts.reduce((sum, part) => sum + part.terms, 0);
  const [only] = parts;
  if (parts.length === 1 && only !== undefined) return { distribution: only.distribution, terms };
  return { distribution: sumOfSums(parts, singlesOf(open), grid), terms };
}

/** The sum of one of the open parts and of all others, whose sum is known. */
export function sumWith(
  meet: Meet,
  open: readonly OpenPart[],
  { distribution, terms }: OpenPart,
  rest: Sum,
): Distribution {
  const [score, more] = distribution.scores;
  if (score !== undefined && more === undefined) return shifted(rest.distribution, score);
  return sumOfSums([{ distribution, terms }, rest], singlesOf(open), meet.scoring.grid);
}

/** What each term of the sum of some parts can be. */
function singlesOf(open: readonly OpenPart[]): readonly Pick<Distribution, 'scores'>[] {
  return open.flatMap((o) => o.singles);
}
