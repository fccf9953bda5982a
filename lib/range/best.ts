/** The sum of the best few of several independent scores, exactly. */
import { noAnswer } from '../error.js';
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import type { Frame } from './coordinates.js';
import type { Distribution } from './distribution.js';
import {
  type Case,
  type Level,
  type LevelIn,
  type Levels,
  levelIn,
  levelsDown,
  type Placed,
  type Supposed,
} from './levels.js';
import { certain, sumOf } from './sum.js';
import { addShifted, emptyTable, readTable, type SumTable, tableOfNone } from './sum-table.js';

/** The code of the error that says there are too many. */
export const TOO_MANY_ROUTINES = 'too-many-routines';

/** So much room is there for the sums of sets of routines, in numbers; and so many may be in a set. */
const MOST_SUMS = 1 << 24;
const MOST_IN_SET = 30;

/** By mark: the values with it, with the chances of both. */
export type ByMark = ReadonlyMap<number, Distribution>;

/** The sum of the best `count`. Throws where there are too many sets. */
export function sumOfBest(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
): Distribution {
  return sumsOfBest(distributions, count, grid, [null])[0] ?? certain(0);
}

/** The same in some cases: if one of them has a certain score; null for none of that. */
export function sumsOfBest(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
  cases: readonly (Supposed | null)[],
): Distribution[] {
  const found = bestByMark(distributions, count, grid, cases, () => 0);
  return found.map((byMark) => byMark.get(0) ?? certain(0));
}

/**
 * A number for what is known of the scores of which the best count: who has more than the last that
 * counts, and who has just as much, as bits. Of the latter there may be more than count. Where all count
 * it is nobody.
 */
export type MarkOf = (above: number, level: number) => number;

/**
 * The sum of the best `count`, by mark: its chances are those of both, in each of some cases. Scores are
 * handed out from the highest down. Which of those to come have one is kept as a set S, with the chances
 * W(S) of the sum of their scores, the same in every case that supposes nothing of those in S; where those
 * in S, those known to have more and those with the next score are enough, all others have less. Throws
 * where there are too many sets.
 */
export function bestByMark(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
  supposed: readonly (Supposed | null)[],
  markOf: MarkOf,
): ByMark[] {
  if (distributions.length <= count) {
    return supposed.map((one) => {
      const then = one === null ? distributions : distributions.with(one.who, certain(one.score));
      return new Map([[markOf(0, 0), sumOf(then, grid)]]);
    });
  }
  const all = levelsDown(distributions, count, grid, supposed);
  const { frame, height, mostSteps, terms, levels, cases } = all;
  const room = 2 ** terms.length * height * (count * mostSteps + 1);
  if (room > MOST_SUMS || distributions.length > MOST_IN_SET)
    throw tooMany(distributions.length, count);
  const given: HandedOut = {
    count,
    sets: setsOf(all, count),
    lower: terms.map(() => 1),
    sure: 0,
    spare: cases.reduce((set, one) => set | (one?.bit ?? 0), 0),
  };
  const tables = () => foundTables(count * mostSteps, height);
  const find: Find = (here, into) => findLast(given, here, into, markOf);
  const searches = terms.map(({ bit }) =>
    searchFor(
      cases.filter((one) => one?.bit === bit),
      tables,
      find,
    ),
  );
  const found = tables();
  const isAsked = cases.includes(null);
  for (const here of levels) {
    for (const { at, lower } of here.moves) given.lower[at] = lower;
    if (isAsked) find({ ...here, but: 0 }, found);
    for (const search of searches) search.look(here);
    take(given, here);
    for (const { at, bit } of here.moves) if (given.lower[at] === 0) given.sure |= bit;
  }
  const byCase = new Map(searches.flatMap((search) => search.found()));
  return cases.map((one) => (one === null ? found : (byCase.get(one) ?? found)).all(frame));
}

type Find = (here: LevelIn, into: FoundTables) => void;

/**
 * Looks for the last that counts in cases of one routine. As long as it is supposed to have less, that is the
 * same in all of them, and but for its own score when it has more.
 */
function searchFor(some: readonly (Case | null)[], tables: () => FoundTables, find: Find) {
  const cases = some.filter((one) => one !== null).sort((a, b) => b.score - a.score);
  const less = tables();
  const own = cases.map(tables);
  // By case: what is found from the next one's score up.
  const more = cases.map(tables);
  let passed = 0;
  return {
    look: (here: Level): void => {
      const [first, above] = [cases[0], more[passed - 1]];
      if (first === undefined) return;
      if (above !== undefined) find(levelIn(here, first, 'more'), above);
      for (let one = cases[passed]; one?.score === here.score; one = cases[++passed]) {
        const into = own[passed];
        if (into === undefined) return;
        into.add(less);
        find(levelIn(here, one, 'level'), into);
      }
      if (passed < cases.length) find(levelIn(here, first, 'less'), less);
    },
    found: (): [Case, FoundTables][] => {
      const all = tables();
      return [...cases.entries()].reverse().map(([k, one]) => {
        const into = own[k] ?? tables();
        if (k >= passed) into.add(less);
        else {
          all.add(more[k] ?? tables());
          into.add(all, one);
        }
        return [one, into];
      });
    },
  };
}

/** Sets of those to come, by their bits, and what has been handed out to them. */
interface HandedOut {
  /** How many scores count. */
  readonly count: number;
  readonly sets: readonly SetOfTerms[];
  /** Of each: the chance that it has none of the scores handed out so far. */
  readonly lower: number[];
  /** Those who have one of them for certain, as bits; and those of whom some case supposes another. */
  sure: number;
  readonly spare: number;
}

interface SetOfTerms {
  readonly size: number;
  /** Who is in it, as bits among all. */
  readonly who: number;
  /** Where its sums begin. */
  readonly top: Units;
  /** W; none where no other would count. */
  readonly sums: SumTable | null;
}

function setsOf({ terms, height, mostSteps }: Levels, count: number): SetOfTerms[] {
  const sets: SetOfTerms[] = [{ size: 0, who: 0, top: 0, sums: tableOfNone(height) }];
  for (const { who, top } of terms) {
    for (const one of [...sets]) {
      const size = one.size + 1;
      const sums = size < count ? emptyTable(size * mostSteps, height) : null;
      sets.push({ size, who: one.who | (1 << who), top: one.top + top, sums });
    }
  }
  return sets;
}

/** Hands a score out: sets that have it come after those that do not. */
function take({ count, sets, sure, spare }: HandedOut, { moves, passed }: Level): void {
  for (const { bit, chance, steps, below } of moves) {
    for (let set = sets.length - 1; set >= 0; set--) {
      const [from, to] = [sets[set], sets[set | bit]];
      if ((set & bit) !== 0 || from == null || from.sums === null || to?.sums == null) continue;
      if (passed.count + to.size >= count) continue;
      // Where somebody lacks a score for certain it is one of whom it is supposed.
      const lacking = sure & ~set;
      if ((lacking & ~spare) !== 0 || (sets[lacking]?.size ?? 0) > 1) continue;
      addShifted(to.sums, from.sums, steps, below, chance);
    }
  }
}

/** Adds the sums in which the last that counts has the score of a level. */
function findLast(given: HandedOut, here: LevelIn, tables: FoundTables, markOf: MarkOf): void {
  const { passed, known, moves, but } = here;
  // Whoever has this score, it is the same.
  const last = moves[0] ?? known[0];
  if (last === undefined) return;
  for (const [set, { size, who, top, sums }] of given.sets.entries()) {
    const left = given.count - passed.count - size;
    if (sums === null || sums.reach === 0 || left <= 0 || (set & but) !== 0) continue;
    if (((set | but) & given.sure) !== given.sure) continue;
    const chances = levelChances(here, given.lower, set | but, left, (level) =>
      markOf(passed.who | who, level),
    );
    const best = passed.top + top + left * last.top;
    const steps = passed.steps + left * last.steps;
    const below = passed.below + left * last.below;
    for (const [mark, chance] of chances)
      addShifted(tables.at(mark, best), sums, steps, below, chance);
  }
}

/**
 * By mark: the chance that of those outside a set at least so many have a score, and all others less.
 * `lower`: the chance of less.
 */
function levelChances(
  { moves, known }: LevelIn,
  lower: readonly number[],
  set: number,
  least: number,
  markOf: (level: number) => number,
): ReadonlyMap<number, number> {
  if (known.length + moves.length < least) return NONE;
  const others = moves.filter(({ bit }) => (set & bit) === 0);
  if (known.length + others.length < least) return NONE;
  const found = new Map<number, number>();
  const go = (k: number, level: number, size: number, chance: number): void => {
    const move = others[k];
    if (chance === 0 || size + others.length - k < least) return;
    if (move === undefined) {
      const mark = markOf(level);
      found.set(mark, (found.get(mark) ?? 0) + chance);
      return;
    }
    go(k + 1, level | (1 << move.who), size + 1, chance * move.chance);
    go(k + 1, level, size, chance * move.lower);
  };
  const outside = others.reduce((bits, { bit }) => bits | bit, set);
  const all = lower.reduce((p, l, at) => ((outside >> at) & 1 ? p : p * l), 1);
  const level = known.reduce((bits, { who }) => bits | (1 << who), 0);
  go(0, level, known.length, all);
  return found;
}

const NONE: ReadonlyMap<number, number> = new Map();
const NOTHING: Placed = { top: 0, steps: 0, below: 0 };

/** What has been found, by mark and by where sums begin. */
interface FoundTables {
  readonly at: (mark: number, top: Units) => SumTable;
  readonly each: (visit: (table: SumTable, mark: number, top: Units) => void) => void;
  /** Adds all that others hold, with a score besides. */
  readonly add: (others: FoundTables, besides?: Placed) => void;
  readonly all: (frame: Frame) => ByMark;
}

function foundTables(mostSteps: number, height: number): FoundTables {
  const found = new Map<number, Map<Units, SumTable>>();
  const at = (mark: number, top: Units): SumTable => {
    const byTop = found.get(mark) ?? new Map<Units, SumTable>();
    found.set(mark, byTop);
    const table = byTop.get(top) ?? emptyTable(mostSteps, height);
    byTop.set(top, table);
    return table;
  };
  return {
    at,
    each: (visit) => {
      for (const [mark, byTop] of found) for (const [top, table] of byTop) visit(table, mark, top);
    },
    add: (others, { top, steps, below } = NOTHING) => {
      others.each((table, mark, from) => addShifted(at(mark, from + top), table, steps, below, 1));
    },
    all: (frame) =>
      new Map(
        [...found].map(([mark, byTop]) => [
          mark,
          together([...byTop].map(([top, table]) => readTable(table, frame, top))),
        ]),
      ),
  };
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
    const x = a.scores[i] ?? Number.POSITIVE_INFINITY;
    const y = b.scores[j] ?? Number.POSITIVE_INFINITY;
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
