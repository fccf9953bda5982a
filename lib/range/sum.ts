/**
 * Sums and mixtures of distributions, exactly on the scores they can take. A score that is certain
 * is a distribution of one score.
 */
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

/** The same as a distribution, in typed arrays. */
interface Packed {
  readonly scores: Int32Array;
  readonly chances: Float64Array;
}

function packed({ scores, chances }: Distribution): Packed {
  const n = scores.length;
  const made = { scores: new Int32Array(n), chances: new Float64Array(n) };
  for (let i = 0; i < n; i++) {
    made.scores[i] = scores[i]!;
    made.chances[i] = chances[i]!;
  }
  return made;
}

function unpacked(packed: Packed): Distribution {
  const n = packed.scores.length;
  const scores = new Array<Score>(n);
  const chances = new Array<number>(n);
  for (let i = 0; i < n; i++) {
    scores[i] = packed.scores[i]!;
    chances[i] = packed.chances[i]!;
  }
  return { scores, chances };
}

/** Kept clear between uses, so that a sum need not begin with an array of zeros. */
let scratch = new Float64Array(0);
let found: Packed = { scores: new Int32Array(0), chances: new Float64Array(0) };

/** The sum of two independent distributions. */
function convolve(a: Packed, b: Packed): Packed {
  const [m, n] = [a.scores.length, b.scores.length];
  const [from, first] = [a.scores[0]!, b.scores[0]!];
  if (n === 1) return { scores: a.scores.map((s) => s + first), chances: a.chances };
  if (m === 1) return { scores: b.scores.map((s) => s + from), chances: b.chances };
  const size = a.scores[m - 1]! - from + b.scores[n - 1]! - first + 1;
  if (scratch.length < size) scratch = new Float64Array(2 * size);
  const sums = scratch;
  const { scores: steps, chances } = b;
  for (let i = 0; i < m; i++) {
    const at = a.scores[i]! - from - first;
    const p = a.chances[i]!;
    for (let j = 0; j < n; j++) {
      const k = at + steps[j]!;
      sums[k] = sums[k]! + p * chances[j]!;
    }
  }
  if (found.scores.length < size) {
    found = { scores: new Int32Array(size), chances: new Float64Array(size) };
  }
  let count = 0;
  for (let i = 0; i < size; i++) {
    const p = sums[i]!;
    if (p === 0) continue;
    found.scores[count] = from + first + i;
    found.chances[count++] = p;
    sums[i] = 0;
  }
  return { scores: found.scores.slice(0, count), chances: found.chances.slice(0, count) };
}

export function shifted({ scores, chances }: Distribution, by: Score): Distribution {
  return by === 0 ? { scores, chances } : { scores: scores.map((s) => s + by), chances };
}

/** The sum of independent distributions; of none, 0 for certain. */
export function sumOf(distributions: readonly Distribution[]): Distribution {
  const [only = certain(0)] = distributions;
  return distributions.length <= 1 ? only : unpacked(packedSum(distributions.map(packed)));
}

/** Of at least one; the narrowest first, so that what is long is gone through less often. */
function packedSum(distributions: readonly Packed[]): Packed {
  return [...distributions].sort((a, b) => a.scores.length - b.scores.length).reduce(convolve);
}

/**
 * The sum of the scores of independent routines. A fall costs the same in each of them, so the
 * scores without falls are added up first, and all the falls taken off at once.
 */
export function sumOfRoutines(
  ranges: readonly CompleteRange[],
  grid: Grid,
  fall: Score,
): Distribution {
  const hits = ranges.map((range) => withoutFalls(range, grid));
  const floored = ranges.some(({ falls }, i) => falls > 0 && hits[i]!.scores[0]! < 2 * fall);
  if (floored) return sumOf(ranges.map((range) => withFalls(range, grid, fall)));
  // By how many falls there are in all.
  let lost = [1];
  for (const { falls: f } of ranges) {
    const weights = [1 - f, f * (1 - f), f * f];
    const more = new Array<number>(lost.length + 2).fill(0);
    for (const [n, p] of lost.entries()) {
      for (const [m, weight] of weights.entries()) more[n + m]! += p * weight;
    }
    lost = more;
  }
  const counts = lost.map((_, n) => lost.length - 1 - n).filter((n) => lost[n]! > 0);
  const falls = { scores: counts.map((n) => -n * fall), chances: counts.map((n) => lost[n]!) };
  if (hits.length === 0) return certain(0);
  return unpacked(convolve(packedSum(hits.map(packed)), packed(falls)));
}

/**
 * The sum of the best `count` of independent scores, exactly: values are handed out from the
 * highest down, and who has one is kept as a set.
 */
export function sumOfBest(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
): Distribution {
  const n = distributions.length;
  if (n <= count) return sumOf(distributions);
  const values = [...new Set(distributions.flatMap((d) => d.scores))].sort((a, b) => b - a);
  const lattice = latticeFor(grid, values, count);
  // Off the grid the highest score need not have the highest index.
  const highest = values.reduce((most, v) => Math.max(most, lattice.indexOf(v)), 0);
  const chanceOf = distributions.map((d) => new Map(d.scores.map((s, i) => [s, d.chances[i]!])));
  // By the set of those who have a value: the chance of every sum of the best of them.
  const sums: Float64Array[] = [];
  const size: number[] = [];
  for (let set = 0; set < 1 << n; set++) {
    size[set] = set === 0 ? 0 : size[set & (set - 1)]! + 1;
    const reached = Math.min(size[set]!, count) * highest;
    sums[set] = new Float64Array(reached + 1);
  }
  sums[0]![0] = 1;
  for (const value of values) {
    const index = lattice.indexOf(value);
    for (let who = 0; who < n; who++) {
      const p = chanceOf[who]!.get(value);
      if (p === undefined) continue;
      for (let set = 0; set < 1 << n; set++) {
        if ((set >> who) & 1) continue;
        const from = sums[set]!;
        const to = sums[set | (1 << who)]!;
        const by = size[set]! < count ? index : 0;
        for (let i = 0; i < from.length; i++) if (from[i] !== 0) to[i + by]! += p * from[i]!;
      }
    }
  }
  const scores: Score[] = [];
  const chances: number[] = [];
  for (const [i, p] of sums[(1 << n) - 1]!.entries()) {
    if (p === 0) continue;
    scores.push(lattice.sumAt(i, count));
    chances.push(p);
  }
  // The indices need not be in the order of the sums.
  const order = scores.map((_, i) => i).sort((a, b) => scores[a]! - scores[b]!);
  return { scores: order.map((i) => scores[i]!), chances: order.map((i) => chances[i]!) };
}
