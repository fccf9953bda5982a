/** The sum of the best few of several independent scores, exactly. */
import { noAnswer } from '../error.js';
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import { type Frame, type Term, termsOf } from './coordinates.js';
import type { Distribution } from './distribution.js';
import { sumOf } from './sum.js';
import { addShifted, emptyTable, readTable, type SumTable, tableOfNone } from './sum-table.js';

/** The code of the error that says there are too many. */
export const TOO_MANY_ROUTINES = 'too-many-routines';

/** So much room is there for the sums of sets of routines, in numbers; and so many may be in a set. */
const MOST_SUMS = 1 << 24;
const MOST_IN_SET = 30;

/** The sum of the best `count`. Throws where there are too many sets. */
export function sumOfBest(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
): Distribution {
  if (distributions.length <= count) return sumOf(distributions, grid);
  return bestByMark(distributions, count, grid, () => 0).get(0) ?? sumOf([], grid);
}

/**
 * A number for what is known of the scores of which the best count: who has more than the last that
 * counts, and who has just as much, as bits. Of the latter there may be more than count.
 */
export type MarkOf = (above: number, level: number) => number;

/**
 * The sum of the best `count`, by mark: its chances are those of both. Scores are handed out from the
 * highest down. Whoever has one is kept as a set S, with the chances W(S) of the sum of their scores;
 * where those in S and those with the next score are enough, all others have less. Throws where there are
 * too many sets.
 */
export function bestByMark(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
  markOf: MarkOf,
): Map<number, Distribution> {
  const { frame, terms } = commonTerms(grid, distributions);
  const height =
    1 +
    mostOf(
      count,
      terms.map((t) => t.mostBelow),
    );
  const steps = count * Math.max(...terms.map((t) => t.mostSteps));
  const open = distributions.filter(isOpen).length;
  if (2 ** open * height * (steps + 1) > MOST_SUMS || terms.length > MOST_IN_SET)
    throw tooMany(distributions.length, count);
  const tops = terms.map(({ top }) => top);
  const sums = new Map([[0, tableOfNone(height)]]);
  const found = new Map<number, Map<Units, SumTable>>();
  const tableFor = <K>(tables: Map<K, SumTable>, key: K): SumTable => {
    const table = tables.get(key) ?? emptyTable(steps, height);
    tables.set(key, table);
    return table;
  };
  // The chance that each has none of the scores handed out so far.
  const lower = terms.map(() => 1);
  for (const moves of movesDown(distributions, terms)) {
    const [one] = moves;
    if (one === undefined) continue;
    for (const { who, lower: l } of moves) lower[who] = l;
    for (const [set, from] of sums) {
      const left = count - sizeOf(set);
      if (moves.length < left) continue;
      // Whoever has this score, it is the same.
      const top = sumIn(set, tops) + left * one.top;
      for (const [mark, chance] of levelsOf(moves, lower, set, left, markOf)) {
        const byTop = found.get(mark) ?? new Map<Units, SumTable>();
        found.set(mark, byTop);
        addShifted(tableFor(byTop, top), from, left * one.steps, left * one.below, chance);
      }
    }
    for (const { who, chance, lower: l, steps: more, below } of moves) {
      for (const set of [...sums.keys()].sort((x, y) => y - x)) {
        const [from, next] = [sums.get(set), set | (1 << who)];
        if (from === undefined || next === set) continue;
        if (sizeOf(next) < count) addShifted(tableFor(sums, next), from, more, below, chance);
        if (l === 0) sums.delete(set);
      }
    }
  }
  return new Map([...found].map(([mark, byTop]) => [mark, readAll(byTop, frame)]));
}

/** Their terms, counted from one best score where they can be; certain scores add nothing to that. */
function commonTerms(grid: Grid, distributions: readonly Distribution[]) {
  const { frame, terms } = termsOf(grid, distributions.filter(isOpen));
  const common = Math.max(...terms.map(({ top }) => top));
  const lowered = terms.map((term): Term => {
    const by = (common - term.top) / frame.period;
    if (!Number.isInteger(by)) return term;
    const below = term.below.map((b) => b + by);
    return { ...term, top: common, below, mostBelow: term.mostBelow + by };
  });
  const next = lowered.values();
  const all = distributions.map((one): Term => {
    const [score = 0] = one.scores;
    const sure = { top: score, below: [0], steps: [0], chances: [1], mostBelow: 0, mostSteps: 0 };
    return isOpen(one) ? (next.next().value ?? sure) : sure;
  });
  return { frame, terms: all };
}

function isOpen({ scores }: Distribution): boolean {
  return scores.length > 1;
}

/** A score of one of several: how likely it is, and a lower one, and what it does to a sum. */
interface Move {
  readonly who: number;
  readonly chance: number;
  readonly lower: number;
  readonly top: Units;
  readonly steps: number;
  readonly below: number;
}

/** By score, the highest first: who can have it. */
function movesDown(distributions: readonly Distribution[], terms: readonly Term[]): Move[][] {
  const byScore = new Map<Units, Move[]>();
  for (const [who, { scores, chances }] of distributions.entries()) {
    const { top = 0, steps = [], below = [] } = terms[who] ?? {};
    let lower = 0;
    for (const [v, score] of scores.entries()) {
      const chance = chances[v] ?? 0;
      const move = { who, chance, lower, top, steps: steps[v] ?? 0, below: below[v] ?? 0 };
      const moves = byScore.get(score) ?? [];
      moves.push(move);
      byScore.set(score, moves);
      lower += chance;
    }
  }
  return [...byScore].sort(([a], [b]) => b - a).map(([, moves]) => moves);
}

/** By mark: the chance that of those outside a set at least so many have the next score, and all others less. */
function levelsOf(
  moves: readonly Move[],
  lower: readonly number[],
  set: number,
  least: number,
  markOf: MarkOf,
): Map<number, number> {
  const others = moves.filter(({ who }) => ((set >> who) & 1) === 0);
  const found = new Map<number, number>();
  if (others.length < least) return found;
  const go = (k: number, members: number, size: number, chance: number): void => {
    const move = others[k];
    if (chance === 0 || size + others.length - k < least) return;
    if (move === undefined) {
      const mark = markOf(set, members);
      found.set(mark, (found.get(mark) ?? 0) + chance);
      return;
    }
    go(k + 1, members | (1 << move.who), size + 1, chance * move.chance);
    go(k + 1, members, size, chance * move.lower);
  };
  const all = others.reduce((bits, { who }) => bits | (1 << who), set);
  go(
    0,
    0,
    0,
    lower.reduce((p, l, who) => ((all >> who) & 1 ? p : p * l), 1),
  );
  return found;
}

/** The sum of the highest `count`. */
function mostOf(count: number, numbers: readonly number[]): number {
  return [...numbers]
    .sort((a, b) => b - a)
    .slice(0, count)
    .reduce((a, b) => a + b, 0);
}

function sizeOf(set: number): number {
  let size = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) size++;
  return size;
}

function sumIn(set: number, tops: readonly Units[]): Units {
  return tops.reduce((sum, top, who) => ((set >> who) & 1 ? sum + top : sum), 0);
}

/** Tables of sums below different best ones, as one distribution. */
function readAll(byTop: ReadonlyMap<Units, SumTable>, frame: Frame): Distribution {
  return together([...byTop].map(([top, table]) => readTable(table, frame, top)));
}

/** Chances of one distribution in several lists. */
export function together(lists: readonly Distribution[]): Distribution {
  const [only] = lists;
  if (lists.length === 1 && only !== undefined) return only;
  const chanceOf = new Map<Units, number>();
  for (const { scores, chances } of lists) {
    for (const [i, score] of scores.entries()) {
      chanceOf.set(score, (chanceOf.get(score) ?? 0) + (chances[i] ?? 0));
    }
  }
  const entries = [...chanceOf].sort(([x], [y]) => x - y);
  return { scores: entries.map(([s]) => s), chances: entries.map(([, p]) => p) };
}

function tooMany(of: number, count: number) {
  return noAnswer(
    TOO_MANY_ROUTINES,
    `the best ${count} of ${of} scores can add up in too many ways`,
    'ask `chances` with `--sample`',
  );
}
