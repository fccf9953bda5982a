/**
 * What tells results apart that are level on total, as whole numbers to compare: the place by the
 * rules before the best scores, the values from the lowest up, and the place by the rules after them
 * are digits. The lower of two lowest values leaves the higher best scores. The highest is not told:
 * the best scores count only where all have as many values, so it follows from the total.
 */
import type { Score } from '../../score.js';
import type { Runner } from '../runner.js';

/**
 * The keys of one runner's results: the lower is ahead, by the first of its numbers that differs. A
 * key is the sum of its start and of what each open value adds.
 */
export interface RunnerKeys {
  /** By number of the key. */
  readonly start: readonly number[];
  /** By place among the open values, from the lowest, number of the key, and value: what it adds. */
  readonly steps: readonly (readonly Float64Array[])[];
  /**
   * By value, where it is the least that the highest open one can be: how much of the first number is
   * of what is decided and no lower, which the highest may yet move up.
   */
  readonly unsure: Float64Array;
}

export interface LevelKeys {
  /** Of how many numbers a key is; none where nothing tells results apart. */
  readonly width: number;
  /** The same for keys that can be compared, but for the places by the other rules. */
  readonly layout: string;
  /** Of one of the runners, whose open parts have these values. */
  readonly of: (runner: number, values: readonly Score[]) => RunnerKeys;
}

/**
 * The keys of everyone's results. `first`, `last`: by runner, the place by the rules before the best
 * scores and after. `byValues`: the best scores count.
 */
export function levelKeys(
  runners: readonly Runner[],
  first: Int32Array,
  last: Int32Array,
  byValues: boolean,
): LevelKeys {
  const { least, most } = byValues ? boundsOf(runners) : { least: 0, most: 0 };
  const count = byValues ? runners[0]!.decided.length + runners[0]!.open.length : 0;
  const told = new Array<number>(Math.max(count - 1, 0)).fill(most - least + 1);
  const weights = packed([sizeOf(first), ...told, 1, sizeOf(last)]);
  const layout = `${least} ${count} ${weights.join(' ')}`;
  return { width: weights.length, layout, of: byValues ? ofValues : (who) => ofTotal(who) };

  function ofTotal(who: number): RunnerKeys {
    const start = weights.map((w) => w[0]! * first[who]! + w.at(-1)! * last[who]!);
    return { start, steps: [], unsure: Float64Array.of(0) };
  }

  function ofValues(who: number, values: readonly Score[]): RunnerKeys {
    const { decided, open } = runners[who]!;
    const { start } = ofTotal(who);
    return {
      start: weights.map((w, n) =>
        decided.reduce((key, value, k) => key + w[k + 1]! * (value - least), start[n]!),
      ),
      steps: open.map((_, k) => weights.map((w) => stepsOf(w.slice(k + 1), decided, values))),
      unsure: unsureOf(weights[0]?.slice(open.length) ?? [], decided, values),
    };
  }

  /** By value: what it adds where its digit is the first of these, or as many later as decided ones are lower. */
  function stepsOf(
    weights: readonly number[],
    decided: readonly Score[],
    values: readonly Score[],
  ): Float64Array {
    // Whatever is decided and higher moves up by one digit.
    const moves = decided.map((value, d) => (weights[d + 1]! - weights[d]!) * (value - least));
    const steps = new Float64Array(values.length);
    let lower = 0;
    let weight = weights[0]!;
    let above = moves.reduce((sum, move) => sum + move, 0);
    for (let v = 0; v < values.length; v++) {
      while (lower < decided.length && decided[lower]! < values[v]!) {
        above -= moves[lower++]!;
        weight = weights[lower]!;
      }
      steps[v] = weight * (values[v]! - least) + above;
    }
    return steps;
  }

  function unsureOf(
    weights: readonly number[],
    decided: readonly Score[],
    values: readonly Score[],
  ): Float64Array {
    const unsure = new Float64Array(values.length);
    let d = decided.length - 1;
    let sum = 0;
    for (let v = values.length - 1; v >= 0; v--) {
      for (; d >= 0 && decided[d]! >= values[v]!; d--) {
        sum += (weights[d] ?? 0) * (decided[d]! - least);
      }
      unsure[v] = sum;
    }
    return unsure;
  }
}

/** How many places there may be, from 0. */
function sizeOf(places: Int32Array): number {
  let most = 0;
  for (let i = 0; i < places.length; i++) most = Math.max(most, places[i]!);
  return most + 1;
}

/** The lowest and the highest of all values. */
function boundsOf(runners: readonly Runner[]): { least: Score; most: Score } {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  const widen = (scores: readonly Score[]) => {
    if (scores.length === 0) return;
    least = Math.min(least, scores[0]!);
    most = Math.max(most, scores[scores.length - 1]!);
  };
  for (const { decided, open } of runners) {
    widen(decided);
    for (const { distribution } of open) widen(distribution.scores);
  }
  return { least, most };
}

/**
 * By number of the key and digit: what the digit is multiplied by there. Digits of these sizes, the
 * most important first, are in as few numbers as hold them exactly.
 */
function packed(sizes: readonly number[]): number[][] {
  const none = () => new Array<number>(sizes.length).fill(0);
  const weights: number[][] = [];
  let weight = Number.MAX_SAFE_INTEGER;
  for (let k = sizes.length - 1; k >= 0; k--) {
    const size = sizes[k]!;
    // What is the same for all is not told.
    if (size === 1) continue;
    if (weight * size > Number.MAX_SAFE_INTEGER) {
      weights.unshift(none());
      weight = 1;
    }
    weights[0]![k] = weight;
    weight *= size;
  }
  return weights;
}
