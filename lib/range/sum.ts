/**
 * Sums and mixtures of distributions, exactly on the scores they can take. A score that is certain
 * is a distribution of one score.
 */
import { noAnswer } from '../error.js';
import { withConvolution } from '../kernel/convolution.js';
import { FLOAT, withKernel } from '../kernel/kernel.js';
import type { Score } from '../score.js';
import type { Grid } from '../scoring.js';
import { type CompleteRange, type Distribution, withFalls, withoutFalls } from './distribution.js';
import { latticeFor } from './lattice.js';

export function certain(score: Score): Distribution {
  return { scores: [score], chances: [1] };
}

/** One of several distributions, each with its weight; the weights add up to 1. */
export function mixtureOf(
  parts: readonly { readonly weight: number; readonly distribution: Distribution }[],
): Distribution {
  const chanceOf = new Map<Score, number>();
  for (const { weight, distribution } of parts) {
    if (weight === 0) continue;
    for (const [i, score] of distribution.scores.entries()) {
      chanceOf.set(score, (chanceOf.get(score) ?? 0) + weight * distribution.chances[i]!);
    }
  }
  const entries = [...chanceOf].sort(([x], [y]) => x - y);
  return { scores: entries.map(([s]) => s), chances: entries.map(([, p]) => p) };
}

/** The mean, in units. */
export function meanOf({ scores, chances }: Distribution): number {
  return scores.reduce((sum, score, i) => sum + score * chances[i]!, 0);
}

/** Kept clear between uses, so that a sum need not begin with an array of zeros. */
let scratch = new Float64Array(0);

/** The sum of two independent distributions. */
function convolve(a: Distribution, b: Distribution): Distribution {
  const m = a.scores.length;
  const n = b.scores.length;
  const from = a.scores[0]!;
  const first = b.scores[0]!;
  if (n === 1) return shifted(a, first);
  if (m === 1) return shifted(b, from);
  const size = a.scores[m - 1]! - from + b.scores[n - 1]! - first + 1;
  if (scratch.length < size) scratch = new Float64Array(2 * size);
  const sums = scratch;
  const { scores: steps, chances: weights } = b;
  for (let i = 0; i < m; i++) {
    const at = a.scores[i]! - from - first;
    const p = a.chances[i]!;
    for (let j = 0; j < n; j++) {
      const k = at + steps[j]!;
      sums[k] = sums[k]! + p * weights[j]!;
    }
  }
  const scores: Score[] = [];
  const chances: number[] = [];
  for (let i = 0; i < size; i++) {
    const p = sums[i]!;
    if (p === 0) continue;
    scores.push(from + first + i);
    chances.push(p);
    sums[i] = 0;
  }
  return { scores, chances };
}

export function shifted({ scores, chances }: Distribution, by: Score): Distribution {
  return by === 0 ? { scores, chances } : { scores: scores.map((s) => s + by), chances };
}

/** The sum of independent distributions; of none, 0 for certain. */
export function sumOf(distributions: readonly Distribution[]): Distribution {
  if (distributions.length === 0) return certain(0);
  // The narrowest first, so that what is long is gone through less often.
  return [...distributions].sort((a, b) => a.scores.length - b.scores.length).reduce(convolve);
}

/**
 * The sum of the scores of independent routines and of what is certain. A fall costs the same in
 * each of them, so the scores without falls are added up first, and all the falls taken off at once.
 */
export function sumOfRoutines(
  ranges: readonly CompleteRange[],
  grid: Grid,
  fall: Score,
  sure: Score = 0,
): Distribution {
  const hits = ranges.map((range) => withoutFalls(range, grid));
  const open = hits.filter((h) => h.scores.length > 1);
  const lattice = latticeFor(grid, open, open.length);
  const step = lattice.stepOf(fall);
  const floored = ranges.some(({ falls }, i) => falls > 0 && hits[i]!.scores[0]! < 2 * fall);
  if (open.length === 0 || floored || step === null) {
    return sumOf([certain(sure), ...ranges.map((range) => withFalls(range, grid, fall))]);
  }
  const lost = fallsIn(ranges);
  const most = lost.length - 1;
  let first = 0;
  // What each score adds to the index, from the lowest on: the chance.
  const weights = open.map(({ scores, chances }) => {
    const lowest = lattice.indexOf(scores[0]!);
    first += lowest;
    const of = new Float64Array(lattice.indexOf(scores[scores.length - 1]!) - lowest + 1);
    for (let i = 0; i < scores.length; i++) of[lattice.indexOf(scores[i]!) - lowest] = chances[i]!;
    return of;
  });
  const falls = new Float64Array(most * step + 1);
  for (let n = 0; n <= most; n++) falls[(most - n) * step] = lost[n]!;
  let fixed = sure;
  for (const { scores } of hits) if (scores.length === 1) fixed += scores[0]!;
  return withConvolution([...weights, falls], (sums) =>
    lattice.inOrder(sums, first - most * step, open.length, fixed),
  );
}

/** By how many falls there are in all, up to the most there can be: the chance. */
function fallsIn(ranges: readonly CompleteRange[]): number[] {
  let lost = [1];
  for (const { falls: f } of ranges) {
    const weights = f === 0 ? [1] : [1 - f, f * (1 - f), f * f];
    const more = new Array<number>(lost.length + weights.length - 1).fill(0);
    for (let n = 0; n < lost.length; n++) {
      for (let m = 0; m < weights.length; m++) more[n + m]! += lost[n]! * weights[m]!;
    }
    lost = more;
  }
  return lost;
}

/** A sum of so many scores. */
export interface Sum {
  readonly distribution: Distribution;
  readonly terms: number;
}

/** The sum of independent sums of scores. `scores`: what each of all the terms can be. */
export function sumOfSums(
  parts: readonly Sum[],
  scores: readonly { readonly scores: readonly Score[] }[],
  grid: Grid,
): Distribution {
  const terms = parts.reduce((sum, part) => sum + part.terms, 0);
  const lattice = latticeFor(grid, scores, terms);
  let first = 0;
  const lists: Float64Array[] = [];
  for (const { distribution, terms } of parts) {
    const indices = distribution.scores.map((score) => lattice.indexOfSum(score, terms));
    // On a lattice of single units most of the indices would be of no sum.
    if (lattice.width === 1 || indices.includes(-1)) return sumOf(parts.map((p) => p.distribution));
    const lowest = indices.reduce((least, i) => Math.min(least, i));
    const highest = indices.reduce((most, i) => Math.max(most, i));
    const list = new Float64Array(highest - lowest + 1);
    for (const [k, i] of indices.entries()) list[i - lowest] = distribution.chances[k]!;
    lists.push(list);
    first += lowest;
  }
  // The shortest are gone through number by number, and those of none are left out.
  lists.sort((a, b) => b.length - a.length);
  return withConvolution(lists, (sums) => lattice.inOrder(sums, first, terms, 0));
}

/** The code of the error that says so. */
export const TOO_MANY_ROUTINES = 'too-many-routines';

/** So much room is there for the sums of the best of several scores, in numbers. */
const MOST_SUMS = 1 << 24;

/**
 * The sum of the best `count` of independent scores, exactly: values are handed out from the highest
 * down, and who of those that are open has one is kept as a set. Throws where there are too many sets.
 */
export function sumOfBest(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
): Distribution {
  if (distributions.length <= count) return sumOf(distributions);
  const values = [...new Set(distributions.flatMap((d) => d.scores))].sort((a, b) => b - a);
  const lattice = latticeFor(grid, [{ scores: values }], count);
  // Off the grid the highest score need not have the highest index.
  const highest = values.reduce((most, v) => Math.max(most, lattice.indexOf(v)), 0);
  const sure = distributions.flatMap(({ scores }) => (scores.length === 1 ? scores : []));
  const open = distributions.filter(({ scores }) => scores.length > 1);
  const chanceOf = open.map((d) => new Map(d.scores.map((s, i) => [s, d.chances[i]!])));
  const all = 2 ** open.length - 1;
  // The sums of the best of a set, with those that are sure.
  const lengthOf = (size: number) => Math.min(size + sure.length, count) * highest + 1;
  if ((all + 1) * lengthOf(0) > MOST_SUMS) throw tooMany();
  const size = [0];
  for (let set = 1; set <= all; set++) size.push(size[set & (set - 1)]! + 1);
  const room = size.reduce((sum, some) => sum + lengthOf(some) + 1, 0);
  if (room > MOST_SUMS) throw tooMany();
  return withKernel(FLOAT * room, (kernel) => {
    // By the set of those who have a value: the chance of every sum of the best of them.
    const sums = size.map((some) => kernel.floats(lengthOf(some)));
    sums[0]![0] = 1;
    const isThere = new Uint8Array(all + 1).fill(1, 0, 1);
    let passed = 0;
    for (const value of values) {
      const index = lattice.indexOf(value);
      for (let who = 0; who < open.length; who++) {
        const p = chanceOf[who]!.get(value);
        if (p === undefined || p === 0) continue;
        for (let set = 0; set <= all; set++) {
          const next = set | (1 << who);
          if (next === set || isThere[set] === 0) continue;
          isThere[next] = 1;
          const from = sums[set]!;
          const by = size[set]! + passed < count ? index : 0;
          const to = sums[next]!.byteOffset + FLOAT * by;
          const length = Math.min(from.length, sums[next]!.length - by);
          kernel.loops.addRows(to, 0, from.byteOffset, 0, 1, length, p);
        }
      }
      for (const score of sure) {
        if (score !== value) continue;
        for (let set = 0; set <= all; set++) {
          if (isThere[set] === 0 || size[set]! + passed >= count) continue;
          sums[set]!.copyWithin(index, 0).fill(0, 0, index);
        }
        passed++;
      }
    }
    return lattice.inOrder(sums[all]!, 0, count, 0);
  });

  function tooMany() {
    return noAnswer(
      TOO_MANY_ROUTINES,
      `the best ${count} of ${distributions.length} scores can add up in too many ways`,
      'ask `chances` with `--sample`',
    );
  }
}
