/**
 * What tells results of one total apart where they are too many to go through: the first of the scores
 * that a rule compares, the class of the next, and where that is one score the class of the one after
 * it. The likelier a beginning is, the more classes come after it, so that all cells are about equally
 * likely (docs/model.md, "Results in order").
 */

import type { Units } from '../../score.js';
import type { Distribution } from '../distribution.js';

export interface Cells {
  /** What a score can be, the best for a tie first. Scores are given by their index here. */
  readonly values: readonly Units[];
  /** By first score. */
  readonly firsts: readonly FirstScore[];
  readonly count: number;
  /** About how many results one entrant has in them all. */
  readonly results: number;
  /** Whether there is no room even for every first score: neighbouring ones are in one cell. */
  readonly isMerged: boolean;
  /** Whether there is no room, or no way, to tell more apart. */
  readonly isFinest: () => boolean;
}

export interface FirstScore {
  /** The last next score of every class but the last. */
  readonly bounds: readonly number[];
  readonly classes: readonly NextScores[];
}

/** A class of next scores. */
export interface NextScores {
  readonly cell: number;
  /** Of a class of one score: the last third score of every class but the last; null where none is told. */
  readonly thirds: readonly number[] | null;
}

/** Finds cells by scores, rising, those beyond all as the number of values. */
export type CellOf = (first: number, next: number, third: number) => number;

/** A score that is known as one of a class is given as the last of it. */
export function cellFinder({ firsts, values }: Pick<Cells, 'firsts' | 'values'>): CellOf {
  const ends = values.length + 1;
  // By first and next score: the cell; or where that is split, one less than minus the number of a list by third.
  const cells = new Int32Array(values.length * ends);
  const byThird: Int32Array[] = [];
  for (const [first, { bounds, classes }] of firsts.entries()) {
    for (const [c, { cell, thirds }] of classes.entries()) {
      const found = thirds === null ? cell : -byThird.length - 1;
      cells.fill(
        found,
        first * ends + (c === 0 ? 0 : (bounds[c - 1] ?? 0) + 1),
        (first + 1) * ends,
      );
      if (thirds === null) continue;
      byThird.push(Int32Array.from({ length: ends }, (_, third) => cell + classAt(thirds, third)));
    }
  }
  return (first, next, third) => {
    const found = cells[first * ends + next] ?? 0;
    return found >= 0 ? found : (byThird[-found - 1]?.[third] ?? 0);
  };
}

/** By cell: the last first, next and third score in it. */
export function lastScores({
  firsts,
  values,
  count,
}: Pick<Cells, 'firsts' | 'values' | 'count'>): Int32Array {
  const scores = new Int32Array(3 * count);
  for (const [first, { bounds, classes }] of firsts.entries()) {
    for (const [c, { cell, thirds }] of classes.entries()) {
      const next = bounds[c] ?? values.length;
      for (let t = 0; t <= (thirds?.length ?? 0); t++) {
        scores.set([first, next, thirds?.[t] ?? values.length], 3 * (cell + t));
      }
    }
  }
  return scores;
}

/** Whether a cell holds nothing but one first, one next and one third score. */
export function isWhole({ firsts }: Pick<Cells, 'firsts'>): boolean[] {
  return firsts.flatMap(({ bounds, classes }) =>
    classes.flatMap(({ thirds }, c) => {
      if (thirds === null) return false;
      const from = (bounds[c] ?? 0) - 1;
      return [...thirds.map((third, k) => third === (thirds[k - 1] ?? from) + 1), false];
    }),
  );
}

function classAt(bounds: readonly number[], score: number): number {
  const at = bounds.findIndex((bound) => score <= bound);
  return at < 0 ? bounds.length : at;
}

/** How many sums there can be: in all, when one score is known, and when two are. */
export interface SumCounts {
  readonly all: number;
  readonly afterOne: number;
  readonly afterTwo: number;
}

/** What cells are wanted: no likelier than a share of all, for at most so many results of one entrant. */
export interface CellsWanted {
  readonly share: number;
  readonly most: number;
  /** Whether nothing is wanted but the first score. */
  readonly isFirstOnly: boolean;
}

/**
 * Cells for a field, so that none is likelier than a share of all, as far as there is room; if there is
 * room for that, one cell for each first score at the least. `fields`: by entrant all its scores.
 */
export function cellsFor(
  values: readonly Units[],
  fields: readonly (readonly Distribution[])[],
  sums: SumCounts,
  { share, most, isFirstOnly }: CellsWanted,
): Cells {
  const beginnings = beginningsOf(values, fields);
  const at = (factor: number) => cellsAt(values, beginnings, factor, sums);
  for (let factor = isFirstOnly ? 1 : 1 / share; factor > 1; factor /= 1 + STEP) {
    const cells = at(factor);
    if (cells.results > most) continue;
    const isFinest = () => factor < 1 / share || at(4 * factor).count === cells.count;
    return { ...cells, isMerged: false, isFinest };
  }
  const least = at(0);
  if (least.results <= most) return { ...least, isMerged: false, isFinest: () => true };
  for (let factor = 1 / share; ; factor /= 1 + STEP) {
    const cells = mergedAt(values, beginnings, factor, sums);
    if (cells.results > most && factor > 1) continue;
    return { ...cells, isMerged: true, isFinest: () => factor < 1 / share };
  }
}

/** Where there is no room, cells are so much likelier. */
const STEP = 0.25;

/** `factor`: about how many classes come after a beginning, over its chance. */
function cellsAt(
  values: readonly Units[],
  { first, next, firstTwo, boundsAfter }: Beginnings,
  factor: number,
  { afterOne, afterTwo }: SumCounts,
): Omit<Cells, 'isFinest' | 'isMerged'> {
  const boundsOf = values.map((_, v) => {
    const classes = Math.ceil(factor * Math.max(first(v), next(v)));
    return classes > 1 ? boundsAfter(v, classes) : [];
  });
  let count = 0;
  let results = 0;
  const firsts = values.map((_, v): FirstScore => {
    const bounds = boundsOf[v] ?? [];
    const classes = [...bounds, values.length].map((w, c): NextScores => {
      const cell = count;
      const isOne = w < values.length && w === (bounds[c - 1] ?? v - 1) + 1;
      // What comes after two scores is known no better than after either of them.
      const common = isOne ? (boundsOf[w] ?? []).filter((third) => bounds.includes(third)) : [];
      const thirds = common.length > 0 && factor * firstTwo(v, w) >= 2 ? common : null;
      count += 1 + (thirds?.length ?? 0);
      results += thirds === null ? afterOne : (thirds.length + 1) * afterTwo;
      return { cell, thirds };
    });
    return { bounds, classes };
  });
  return { values, firsts, count, results };
}

/** Cells of neighbouring first scores, each about as likely as the factor says. */
function mergedAt(
  values: readonly Units[],
  { first }: Beginnings,
  factor: number,
  { all }: SumCounts,
): Omit<Cells, 'isFinest' | 'isMerged'> {
  let cell = 0;
  let chance = 0;
  const firsts = values.map((_, v): FirstScore => {
    const more = first(v);
    if (chance > 0 && (chance + more) * factor > 1) {
      cell++;
      chance = 0;
    }
    chance += more;
    return { bounds: [], classes: [{ cell, thirds: null }] };
  });
  return { values, firsts, count: cell + 1, results: (cell + 1) * all };
}

/** How likely scores begin with one, or with two, on average over a field. */
interface Beginnings {
  readonly first: (v: number) => number;
  readonly next: (w: number) => number;
  readonly firstTwo: (v: number, w: number) => number;
  /** Bounds between so many classes of the next score after one, about equally likely. */
  readonly boundsAfter: (v: number, classes: number) => number[];
}

/** By value: the chance that a score is not before it; the last is 0. */
type NotBefore = Float64Array;

function beginningsOf(
  values: readonly Units[],
  fields: readonly (readonly Distribution[])[],
): Beginnings {
  const all = fields.map((scores) => scores.map((one) => notBefore(values, one)));
  const mean = (chance: (scores: readonly NotBefore[]) => number) =>
    all.reduce((sum, scores) => sum + chance(scores), 0) / Math.max(all.length, 1);
  const beyond = values.map((_, v) => mean((scores) => noneUpTo(scores, v)));
  const nextBeyond = values.map((_, w) =>
    mean((scores) =>
      scores.reduce(
        (sum, one) => sum + (1 - (one[w + 1] ?? 0)) * othersBeyond(scores, one, w),
        noneUpTo(scores, w),
      ),
    ),
  );
  const tails = new Map<number, number[]>();
  const tailsAfter = (v: number) => {
    const found =
      tails.get(v) ??
      values.map((_, w) => (w < v ? 1 : mean((scores) => firstAlone(scores, v, w))));
    tails.set(v, found);
    return found;
  };
  const pairs = new Map<number, number>();
  return {
    first: (v) => (beyond[v - 1] ?? 1) - (beyond[v] ?? 0),
    next: (w) => (nextBeyond[w - 1] ?? 1) - (nextBeyond[w] ?? 0),
    firstTwo: (v, w) => {
      const pair = v * values.length + w;
      const found = pairs.get(pair) ?? mean((scores) => firstTwoOf(scores, v, w));
      pairs.set(pair, found);
      return found;
    },
    boundsAfter: (v, classes) => {
      const tail = tailsAfter(v);
      const whole = (beyond[v - 1] ?? 1) - (beyond[v] ?? 0);
      const bounds: number[] = [];
      for (let w = v, c = 1; w + 1 < values.length; w++) {
        if ((tail[w] ?? 0) > whole * (1 - c / classes)) continue;
        bounds.push(w);
        while (c < classes && (tail[w] ?? 0) <= whole * (1 - c / classes)) c++;
      }
      return bounds;
    },
  };
}

function notBefore(values: readonly Units[], { scores, chances }: Distribution): NotBefore {
  const chanceOf = new Map(scores.map((score, k) => [score, chances[k] ?? 0]));
  const found = new Float64Array(values.length + 1);
  for (let v = values.length - 1; v >= 0; v--) {
    found[v] = (found[v + 1] ?? 0) + (chanceOf.get(values[v] ?? 0) ?? 0);
  }
  return found;
}

/** The chance that one score is just that. */
function just(one: NotBefore, v: number): number {
  return (one[v] ?? 0) - (one[v + 1] ?? 0);
}

/** The chance that no score is that or before it. */
function noneUpTo(scores: readonly NotBefore[], v: number): number {
  return scores.reduce((p, one) => p * (one[v + 1] ?? 0), 1);
}

function othersBeyond(scores: readonly NotBefore[], but: NotBefore, w: number): number {
  let p = 1;
  for (const one of scores) if (one !== but) p *= one[w + 1] ?? 0;
  return p;
}

/** The chance that one score is v, and all others are beyond w. */
function firstAlone(scores: readonly NotBefore[], v: number, w: number): number {
  let sum = 0;
  for (const one of scores) {
    const chance = just(one, v);
    if (chance > 0) sum += chance * othersBeyond(scores, one, w);
  }
  return sum;
}

/** About the chance that the first score is v, and the next w. */
function firstTwoOf(scores: readonly NotBefore[], v: number, w: number): number {
  let sum = 0;
  for (const one of scores) {
    for (const other of scores) {
      if (other === one) continue;
      const chance = just(one, v) * just(other, w);
      if (chance === 0) continue;
      const rest = scores.reduce((p, k) => (k === one || k === other ? p : p * (k[w] ?? 0)), 1);
      sum += v === w ? (chance * rest) / 2 : chance * rest;
    }
  }
  return sum;
}
