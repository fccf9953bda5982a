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
 * highest down. Which of those to come have one is kept as a set S, with the chances W(S) of the sum of
 * their scores; where those in S, those known with a higher score and those with the next score are enough,
 * all others have less. Throws where there are too many sets.
 */
export function bestByMark(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
  markOf: MarkOf,
): Map<number, Distribution> {
  const open = [...distributions.keys()].filter((who) => isOpen(distributions[who]));
  const { frame, terms } = commonTerms(
    grid,
    open.flatMap((who) => distributions[who] ?? []),
  );
  const height = 1 + mostOf(count, terms);
  const mostSteps = Math.max(0, ...terms.map((t) => t.mostSteps));
  const room = 2 ** open.length * height * (count * mostSteps + 1);
  if (room > MOST_SUMS || distributions.length > MOST_IN_SET)
    throw tooMany(distributions.length, count);
  const sets = setsOf(open, terms);
  const sums = Array.from(sets.sizes, (size) =>
    size < count ? emptyTable(size * mostSteps, height) : null,
  );
  sums[0] = tableOfNone(height);
  const found = new Map<number, Map<Units, SumTable>>();
  const foundAt = (mark: number, top: Units): SumTable => {
    const byTop = found.get(mark) ?? new Map<Units, SumTable>();
    found.set(mark, byTop);
    const table = byTop.get(top) ?? emptyTable(count * mostSteps, height);
    byTop.set(top, table);
    return table;
  };
  // By routine to come: the chance that it has none of the scores handed out so far.
  const lower = terms.map(() => 1);
  // Of those known: how many have been passed, as bits, and what they add up to.
  let passed = { count: 0, bits: 0, sum: 0 };
  // Those to come who have a score handed out for certain.
  let sure = 0;
  for (const here of scoresDown(distributions, open, terms)) {
    const { score, moves, known } = here;
    for (const { at, lower: l } of moves) lower[at] = l;
    const [one = { top: score, steps: 0, below: 0 }] = moves;
    for (const [set, from] of sums.entries()) {
      const left = count - passed.count - (sets.sizes[set] ?? 0);
      if (from === null || from.reach === 0 || (set & sure) !== sure || left <= 0) continue;
      // Whoever has this score, it is the same.
      const top = passed.sum + (sets.tops[set] ?? 0) + left * one.top;
      const above = passed.bits | (sets.bits[set] ?? 0);
      const marks = levelsOf(here, lower, set, left, (level) => markOf(above, level));
      for (const [mark, chance] of marks)
        addShifted(foundAt(mark, top), from, left * one.steps, left * one.below, chance);
    }
    for (const { at, chance, steps, below } of moves) {
      for (let set = sums.length - 1; set >= 0; set--) {
        const [from, to] = [sums[set], sums[set | (1 << at)]];
        if (from == null || to == null || from === to || (set & sure) !== sure) continue;
        if (passed.count + (sets.sizes[set] ?? 0) + 1 < count)
          addShifted(to, from, steps, below, chance);
      }
    }
    for (const { at, lower: l } of moves) if (l === 0) sure |= 1 << at;
    passed = {
      count: passed.count + known.length,
      bits: known.reduce((bits, who) => bits | (1 << who), passed.bits),
      sum: passed.sum + known.length * score,
    };
    if (passed.count >= count) break;
  }
  return new Map([...found].map(([mark, byTop]) => [mark, readAll(byTop, frame)]));
}

/** Terms counted from one best score where they can be. */
function commonTerms(grid: Grid, distributions: readonly Distribution[]) {
  const { frame, terms } = termsOf(grid, distributions);
  const common = Math.max(...terms.map(({ top }) => top));
  const lowered = terms.map((term): Term => {
    const by = (common - term.top) / frame.period;
    if (!Number.isInteger(by)) return term;
    const below = term.below.map((b) => b + by);
    return { ...term, top: common, below, mostBelow: term.mostBelow + by };
  });
  return { frame, terms: lowered };
}

function isOpen(distribution: Distribution | undefined): boolean {
  return distribution !== undefined && distribution.scores.length > 1;
}

/** By set of terms, as bits: how many they are, who they are as bits among all, and where their sums begin. */
function setsOf(open: readonly number[], terms: readonly Term[]) {
  const count = 2 ** open.length;
  const sizes = new Uint8Array(count);
  const bits = new Int32Array(count);
  const tops = new Float64Array(count);
  for (const [at, who] of open.entries()) {
    for (let set = 0; set < 1 << at; set++) {
      const next = set | (1 << at);
      sizes[next] = (sizes[set] ?? 0) + 1;
      bits[next] = (bits[set] ?? 0) | (1 << who);
      tops[next] = (tops[set] ?? 0) + (terms[at]?.top ?? 0);
    }
  }
  return { sizes, bits, tops };
}

/** A score of a routine to come: how likely it is, and a lower one, and what it does to a sum. */
interface Move {
  readonly at: number;
  readonly who: number;
  readonly chance: number;
  readonly lower: number;
  readonly top: Units;
  readonly steps: number;
  readonly below: number;
}

/** A score: who can have it, and of whom it is known. */
interface Level {
  readonly score: Units;
  readonly moves: Move[];
  readonly known: number[];
}

/** Every score that somebody can have, the highest first. */
function scoresDown(
  distributions: readonly Distribution[],
  open: readonly number[],
  terms: readonly Term[],
): Level[] {
  const levels = new Map<Units, Level>();
  const levelAt = (score: Units): Level => {
    const level = levels.get(score) ?? { score, moves: [], known: [] };
    levels.set(score, level);
    return level;
  };
  for (const [who, { scores, chances }] of distributions.entries()) {
    const at = open.indexOf(who);
    const { top = 0, steps = [], below = [] } = terms[at] ?? {};
    let lower = 0;
    for (const [v, score] of scores.entries()) {
      const chance = chances[v] ?? 0;
      const { moves, known } = levelAt(score);
      const [more, down] = [steps[v] ?? 0, below[v] ?? 0];
      if (at < 0) known.push(who);
      else moves.push({ at, who, chance, lower, top, steps: more, below: down });
      lower += chance;
    }
  }
  return [...levels.values()].sort((a, b) => b.score - a.score);
}

/**
 * By mark: the chance that of those outside a set at least so many have a score, and all others less.
 * `lower`: the chance of less, of those to come.
 */
function levelsOf(
  { moves, known }: Level,
  lower: readonly number[],
  set: number,
  least: number,
  markOf: (level: number) => number,
): Map<number, number> {
  const found = new Map<number, number>();
  let others = known.length;
  let outside = set;
  for (const { at } of moves) {
    if (((set >> at) & 1) === 0) others++;
    outside |= 1 << at;
  }
  if (others < least) return found;
  const go = (k: number, level: number, size: number, left: number, chance: number): void => {
    const move = moves[k];
    if (chance === 0 || size + left < least) return;
    if (move === undefined) {
      const mark = markOf(level);
      found.set(mark, (found.get(mark) ?? 0) + chance);
      return;
    }
    if ((set >> move.at) & 1) go(k + 1, level, size, left, chance);
    else {
      go(k + 1, level | (1 << move.who), size + 1, left - 1, chance * move.chance);
      go(k + 1, level, size, left - 1, chance * move.lower);
    }
  };
  const all = lower.reduce((p, l, at) => ((outside >> at) & 1 ? p : p * l), 1);
  const bits = known.reduce((sum, who) => sum | (1 << who), 0);
  go(0, bits, known.length, others - known.length, all);
  return found;
}

/** The sum of the highest `count` that terms can be below their best. */
function mostOf(count: number, terms: readonly Term[]): number {
  return terms
    .map(({ mostBelow }) => mostBelow)
    .sort((a, b) => b - a)
    .slice(0, count)
    .reduce((a, b) => a + b, 0);
}

/** Tables of sums below different best ones, as one distribution. */
function readAll(byTop: ReadonlyMap<Units, SumTable>, frame: Frame): Distribution {
  return together([...byTop].map(([top, table]) => readTable(table, frame, top)));
}

/** Chances of one distribution in several lists. */
export function together([first, ...others]: readonly Distribution[]): Distribution {
  return others.reduce(merged, first ?? { scores: [], chances: [] });
}

function merged(a: Distribution, b: Distribution): Distribution {
  const scores: Units[] = [];
  const chances: number[] = [];
  let [i, j] = [0, 0];
  while (i < a.scores.length || j < b.scores.length) {
    const [x, y] = [
      a.scores[i] ?? Number.POSITIVE_INFINITY,
      b.scores[j] ?? Number.POSITIVE_INFINITY,
    ];
    scores.push(Math.min(x, y));
    chances.push((x <= y ? (a.chances[i++] ?? 0) : 0) + (y <= x ? (b.chances[j++] ?? 0) : 0));
  }
  return { scores, chances };
}

function tooMany(of: number, count: number) {
  return noAnswer(
    TOO_MANY_ROUTINES,
    `the best ${count} of ${of} scores can add up in too many ways`,
    'ask `chances` with `--sample`',
  );
}
