/**
 * What tells results of one total apart where they are too many to go through: how their scores begin, in
 * the order in which a rule compares them, and between which scores the next one lies. The likelier a
 * beginning is, the further it is followed, so that all cells are about equally likely (docs/model.md,
 * "Results in order").
 */
import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import type { Distribution } from '../distribution.js';
import { sumOf } from '../sum.js';

export interface Cells {
  /** What a score can be, the best for a tie first. Scores are given by their index here. */
  readonly values: readonly Units[];
  /** How scores can begin. */
  readonly first: readonly NextScores[];
  readonly count: number;
  /** By cell: whether all scores that the rule compares are known in it, together with the total. */
  readonly isTold: readonly boolean[];
  /** Whether there is no room, or no way, to tell more apart. */
  readonly isFinest: () => boolean;
}

/** Neighbouring scores that may come next, from one up to but without another; all of them in order. */
export interface NextScores {
  readonly from: number;
  readonly to: number;
  /** Of a single score what may come after it, else the cell. */
  readonly after: readonly NextScores[] | number;
}

/** One cell for everything. */
export const ONE_CELL: Cells = {
  values: [],
  first: [{ from: 0, to: 0, after: 0 }],
  count: 1,
  isTold: [false],
  isFinest: () => true,
};

/** What cells are wanted: no likelier than a share of all, for at most so many results of one entrant. */
export interface CellsWanted {
  readonly share: number;
  readonly most: number;
  /** How many scores the rule compares. */
  readonly compared: number;
  /** By how many scores are known: how many sums the others have at most. */
  readonly sums: readonly number[];
}

/** Where there is no room, cells are so much likelier. */
const STEP = 1.25;

/**
 * Cells for a field, so that none is likelier than a share of all, as far as there is room. `fields`: by
 * entrant all its scores.
 */
export function cellsFor(
  values: readonly Units[],
  fields: readonly (readonly Distribution[])[],
  wanted: CellsWanted,
): Cells {
  const field = fields.map((scores) => scores.map((one) => notBefore(values, one)));
  // Of a rule that compares one score every one has a cell, if there is room.
  let share = wanted.compared === 1 ? 0 : wanted.share;
  for (; ; share = Math.max(share * STEP, wanted.share)) {
    const { results, ...cells } = cellsAt(values, field, share, wanted);
    if (results > wanted.most && share < 1) continue;
    const isLess = share > wanted.share;
    const finer = () => cellsAt(values, field, share / 4, wanted).count;
    return { ...cells, isFinest: () => isLess || finer() === cells.count };
  }
}

/** Cells no likelier than a share, and how many results they make at most. */
function cellsAt(
  values: readonly Units[],
  field: readonly (readonly NotBefore[])[],
  share: number,
  { compared, sums }: CellsWanted,
): Omit<Cells, 'isFinest'> & { readonly results: number } {
  const isTold: boolean[] = [];
  let results = 0;
  const following = (begun: readonly (readonly Begun[])[], last: number, depth: number) => {
    const beyond = chancesBeyond(field, begun, last, values.length);
    return classesOf(beyond, last, share).map(({ from, to }): NextScores => {
      const chance = (beyond[from - last] ?? 0) - (beyond[to - last] ?? 0);
      const isLikely = to === from + 1 && chance >= share;
      if (isLikely && depth + 1 < compared) {
        const more = begun.map((some, e) => withNext(some, last, from, field[e] ?? []));
        return { from, to, after: following(more, from, depth + 1) };
      }
      results += sums[depth] ?? 1;
      isTold.push(isLikely);
      return { from, to, after: isTold.length - 1 };
    });
  };
  const none = field.map(() => [{ set: 0, last: -1, chance: 1 / field.length }]);
  const first = following(none, 0, 0);
  return { values, first, count: isTold.length, isTold, results };
}

/**
 * From a score on, classes of neighbouring next scores, no likelier than a share; a score that is likelier is
 * by itself.
 */
function classesOf(
  beyond: Float64Array,
  last: number,
  share: number,
): { from: number; to: number }[] {
  const classes: { from: number; to: number }[] = [];
  let start = 0;
  for (let k = 0; k + 1 < beyond.length; k++) {
    const [all, here, next] = [beyond[start] ?? 0, beyond[k] ?? 0, beyond[k + 1] ?? 0];
    if (k > start && all - next > share) {
      classes.push({ from: last + start, to: last + k });
      start = k;
    }
    if (here - next >= share) {
      classes.push({ from: last + start, to: last + k + 1 });
      start = k + 1;
    }
  }
  if (start + 1 < beyond.length || classes.length === 0) {
    classes.push({ from: last + start, to: last + beyond.length - 1 });
  }
  return classes;
}

/**
 * Terms that have the first scores, and which has the last of those. Of terms on one score the earlier in the
 * list has it first.
 */
interface Begun {
  readonly set: number;
  readonly last: number;
  readonly chance: number;
}

/** By value: the chance that a score is not before it; the last is 0. */
type NotBefore = Float64Array;

function notBefore(values: readonly Units[], { scores, chances }: Distribution): NotBefore {
  const chanceOf = new Map(scores.map((score, k) => [score, chances[k] ?? 0]));
  const found = new Float64Array(values.length + 1);
  for (let v = values.length - 1; v >= 0; v--) {
    found[v] = (found[v + 1] ?? 0) + (chanceOf.get(values[v] ?? 0) ?? 0);
  }
  return found;
}

/** By score from the last one on: the chance, over the field, that scores begin so and the next is not before it. */
function chancesBeyond(
  field: readonly (readonly NotBefore[])[],
  begun: readonly (readonly Begun[])[],
  from: number,
  count: number,
): Float64Array {
  const found = new Float64Array(count - from + 1);
  for (const [e, some] of begun.entries()) {
    const terms = field[e] ?? [];
    for (const { set, last, chance } of some) {
      for (let w = from; w < count; w++) {
        let p = chance;
        for (let r = 0; r < terms.length && p > 0; r++) {
          if (((set >> r) & 1) === 1) continue;
          p *= terms[r]?.[w === from && r < last ? w + 1 : w] ?? 0;
        }
        if (p === 0) break;
        found[w - from] = (found[w - from] ?? 0) + p;
      }
    }
  }
  return found;
}

function withNext(
  begun: readonly Begun[],
  from: number,
  w: number,
  terms: readonly NotBefore[],
): Begun[] {
  const found = new Map<number, Begun>();
  for (const { set, last, chance } of begun) {
    for (const [r, term] of terms.entries()) {
      const here = (term[w] ?? 0) - (term[w + 1] ?? 0);
      if (here === 0 || ((set >> r) & 1) === 1 || (w === from && r < last)) continue;
      const name = (set | (1 << r)) * terms.length + r;
      const before = found.get(name)?.chance ?? 0;
      found.set(name, { set: set | (1 << r), last: r, chance: before + chance * here });
    }
  }
  return [...found.values()];
}

/** How many sums some terms have, and how many when one, two and so on of them are known, at most. */
export function sumCounts(terms: readonly Distribution[], grid: Grid): number[] {
  const sorted = [...terms].sort((a, b) => b.scores.length - a.scores.length);
  return sorted.map((_, k) => sumOf(sorted.slice(0, sorted.length - k), grid).scores.length);
}

/** How often a score comes on average, of several at once, if it is the one that comes most often. */
export function likeliest(all: readonly Distribution[]): number {
  const masses = new Map<Units, number>();
  for (const { scores, chances } of all) {
    for (const [k, score] of scores.entries()) {
      masses.set(score, (masses.get(score) ?? 0) + (chances[k] ?? 0));
    }
  }
  return Math.max(0, ...masses.values());
}
