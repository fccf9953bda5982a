/** The sum of the best few of several independent scores, exactly. */
import { noAnswer } from '../error.js';
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import { termsOf } from './coordinates.js';
import type { Distribution } from './distribution.js';
import { sumOf } from './sum.js';
import { addShifted, emptyTable, readTable, type SumTable, tableOfNone } from './sum-table.js';

/** The code of the error that says there are too many. */
export const TOO_MANY_ROUTINES = 'too-many-routines';

/** So much room is there for the sums of sets of routines, in numbers. */
const MOST_SUMS = 1 << 24;

/** A score that somebody can have: one of those to come, or one that is certain. */
interface Value {
  readonly score: Units;
  /** Which of those to come; null for one that is certain. */
  readonly who: number | null;
  readonly chance: number;
  /** The chance of a lower score of the same. */
  readonly lower: number;
  readonly below: number;
  readonly steps: number;
}

/**
 * The sum of the best `count`: scores are handed out from the highest down until so many have one.
 * Whoever of those to come has one is kept as a set, with the chances of their sum; the others are
 * below. Throws where there are too many sets.
 */
export function sumOfBest(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
): Distribution {
  if (distributions.length <= count) return sumOf(distributions, grid);
  const open = distributions.filter((d) => d.scores.length > 1);
  const { frame, terms } = termsOf(grid, open);
  const height = terms.reduce((sum, t) => sum + t.mostBelow, 1);
  const steps = terms.reduce((sum, t) => sum + t.mostSteps, 0);
  if (2 ** open.length * height * (steps + 1) > MOST_SUMS)
    throw tooMany(distributions.length, count);
  const tableFor = (tables: Map<number, SumTable>, set: number): SumTable => {
    const table = tables.get(set) ?? emptyTable(steps, height);
    tables.set(set, table);
    return table;
  };
  const sums = new Map([[0, tableOfNone(height)]]);
  // By how many of the certain scores count: the sums of the open ones that count with them.
  const whole = Array.from({ length: count + 1 }, () => new Map<number, SumTable>());
  // The chance that each of those to come has none of the scores handed out so far.
  const lower = open.map(() => 1);
  const passed: Units[] = [];
  const all = (1 << open.length) - 1;
  const finish = (set: number, from: SumTable, value: Value) => {
    const others = lower.reduce((p, l, j) => ((set >> j) & 1 ? p : p * l), value.chance);
    const to = tableFor(whole[passed.length] ?? new Map(), set);
    if (others > 0) addShifted(to, from, value.steps, value.below, others);
  };
  for (const value of valuesOf(distributions, open, terms)) {
    const { who } = value;
    if (who === null) {
      passed.push(value.score);
      for (const [set, from] of sums) {
        if (sizeOf(set) + passed.length === count) finish(set, from, value);
      }
      if (passed.length === count) break;
      continue;
    }
    lower[who] = value.lower;
    for (let set = all; set >= 0; set--) {
      const from = sums.get(set);
      if (from === undefined || (set >> who) & 1) continue;
      const next = set | (1 << who);
      const had = sizeOf(next) + passed.length;
      if (had === count) finish(next, from, value);
      if (had < count)
        addShifted(tableFor(sums, next), from, value.steps, value.below, value.chance);
    }
  }
  const found: Distribution[] = whole.flatMap((sets, n) => {
    const sure = passed.slice(0, n).reduce((a, b) => a + b, 0);
    return [...sets].map(([set, table]) => {
      const top = terms.reduce((sum, t, j) => ((set >> j) & 1 ? sum + t.top : sum), sure);
      return readTable(table, frame, top);
    });
  });
  return together(found);
}

/** Every value there is, the highest first. */
function valuesOf(
  distributions: readonly Distribution[],
  open: readonly Distribution[],
  terms: ReturnType<typeof termsOf>['terms'],
): Value[] {
  const values = open.flatMap(({ scores, chances }, who): Value[] => {
    const { below = [], steps = [] } = terms[who] ?? {};
    let lower = 0;
    return scores.map((score, v) => {
      const chance = chances[v] ?? 0;
      const value = { score, who, chance, lower, below: below[v] ?? 0, steps: steps[v] ?? 0 };
      lower += chance;
      return value;
    });
  });
  for (const { scores } of distributions) {
    const [score, more] = scores;
    if (score === undefined || more !== undefined) continue;
    values.push({ score, who: null, chance: 1, lower: 0, below: 0, steps: 0 });
  }
  return values.sort((a, b) => b.score - a.score || (a.who ?? -1) - (b.who ?? -1));
}

function sizeOf(set: number): number {
  let size = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) size++;
  return size;
}

/** Chances of one distribution in several lists. */
function together(lists: readonly Distribution[]): Distribution {
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
