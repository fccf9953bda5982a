/**
 * Every result of every runner, in rows: what is in one row differs only in the highest of its open
 * values.
 */
import type { Score } from '../../score.js';
import type { Runner } from '../runner.js';
import type { LevelKeys, RunnerKeys } from './level-keys.js';

/** What the rows of one runner have in common. */
export interface RowRunner {
  /** The last values there can be, in rising order. */
  readonly values: readonly Score[];
  /** By part that can have the last value, and value: the chance. */
  readonly chances: readonly (readonly number[])[];
  /** By number of the key and last value: what it adds. */
  readonly steps: readonly Float64Array[];
}

/** Rows of results, from all runners. */
export interface Rows {
  /** Of how many numbers a key is. */
  readonly width: number;
  /** The most parts that anybody has. */
  readonly parts: number;
  /** By runner; of those whose rows they are. */
  readonly runners: RowRunner[];
  /** By row: whose it is. */
  readonly who: number[];
  /** By row: the total but for the last value. */
  readonly sums: Score[];
  /** By row: the lowest of the values that may be the last. */
  readonly firsts: number[];
  /** By row: how often that one is among all values, where it is the last. */
  readonly times: number[];
  /** By row and part: how likely all other parts have the values before the last. */
  readonly weights: number[];
  /** By row: the key but for the last value, all its numbers. */
  readonly keys: number[];
  /** By row: how much of the first number is sure, whichever is the last value. */
  readonly leads: number[];
}

/**
 * The rows of some of the runners. `byValues`: results on one total are told apart by the values they
 * are made of; which part has which value makes no difference.
 */
export function rowsOf(
  runners: readonly Runner[],
  some: readonly number[],
  keys: LevelKeys,
  byValues: boolean,
): Rows {
  const { width } = keys;
  const parts = byValues ? runners.reduce((most, r) => Math.max(most, r.open.length), 1) : 1;
  const rows: Rows = {
    width,
    parts,
    runners: [],
    who: [],
    sums: [],
    firsts: [],
    times: [],
    weights: [],
    keys: [],
    leads: [],
  };
  for (const i of some) {
    const { fixed, open } = runners[i]!;
    if (byValues && open.length > 0) {
      const values = valuesOf(open);
      const chances = open.map((o) => chancesOf(values, o.distribution));
      const own = keys.of(i, values);
      rows.runners[i] = { values, chances, steps: own.steps.at(-1)! };
      addRows(rows, i, fixed, own);
    } else {
      // Worked out when it is asked for, and only asked for here.
      const { total } = runners[i]!;
      const { scores: values } = total;
      const chances = [total.chances];
      const none = new Float64Array(values.length);
      const steps = new Array<Float64Array>(width).fill(none);
      rows.runners[i] = { values, chances, steps };
      addRows(rows, i, 0, keys.of(i, []));
    }
  }
  return rows;
}

/**
 * The rows of one runner: values are handed out from the lowest up, and the chance of every set of
 * parts to have had one is kept on the way.
 */
function addRows(
  rows: Rows,
  who: number,
  fixed: Score,
  { start, steps, unsure }: RunnerKeys,
): void {
  const { values, chances } = rows.runners[who]!;
  const n = chances.length;
  const all = (1 << n) - 1;
  const chosen = new Int32Array(n);
  const depths = Array.from({ length: n }, () => new Float64Array(all + 1));
  depths[0]![0] = 1;
  go(0, 0, fixed);

  function go(depth: number, from: number, sum: Score): void {
    if (depth === n - 1) {
      addRow(depths[depth]!, from, sum);
      return;
    }
    for (let v = from; v < values.length; v++) {
      if (!handOut(depth, v)) continue;
      chosen[depth] = v;
      go(depth + 1, v, sum + values[v]!);
    }
  }

  function addRow(weights: Float64Array, first: number, sum: Score): void {
    rows.who.push(who);
    rows.sums.push(sum);
    rows.firsts.push(first);
    rows.times.push(timesOf(n - 1, first));
    for (let part = 0; part < rows.parts; part++) {
      rows.weights.push(part < n ? weights[all & ~(1 << part)]! : 0);
    }
    for (let m = 0; m < rows.width; m++) {
      let key = start[m]!;
      for (let k = 0; k < n - 1; k++) key += steps[k]![m]![chosen[k]!]!;
      rows.keys.push(key);
      if (m === 0) rows.leads.push(key - unsure[first]!);
    }
  }

  function handOut(depth: number, v: number): boolean {
    const times = timesOf(depth, v);
    const weights = depths[depth]!;
    const next = depths[depth + 1]!;
    next.fill(0);
    let any = false;
    for (let set = 0; set <= all; set++) {
      const weight = weights[set]!;
      if (weight === 0) continue;
      for (let part = 0; part < n; part++) {
        const p = chances[part]![v]! / times;
        if (p === 0 || (set >> part) & 1) continue;
        next[set | (1 << part)]! += weight * p;
        any = true;
      }
    }
    return any;
  }

  /** How many have a value when one more does: they have it in no order. */
  function timesOf(depth: number, v: number): number {
    let times = 1;
    while (times <= depth && chosen[depth - times] === v) times++;
    return times;
  }
}

/** By value: the chance of one of the open parts. */
function chancesOf(
  values: readonly Score[],
  { scores, chances }: Runner['total'],
): readonly number[] {
  if (values === scores) return chances;
  const of = new Array<number>(values.length).fill(0);
  let k = 0;
  for (let i = 0; i < values.length; i++) if (scores[k] === values[i]) of[i] = chances[k++]!;
  return of;
}

/** All scores that open parts can have, in rising order. */
function valuesOf(open: Runner['open']): readonly Score[] {
  return open.map((o) => o.distribution.scores).reduce(merged, []);
}

/** Two rising lists as one. */
function merged(a: readonly Score[], b: readonly Score[]): readonly Score[] {
  if (a.length === 0) return b;
  const all: Score[] = [];
  for (let i = 0, j = 0; i < a.length || j < b.length; ) {
    const score = j === b.length || a[i]! <= b[j]! ? a[i]! : b[j]!;
    all.push(score);
    if (a[i] === score) i++;
    if (b[j] === score) j++;
  }
  return all;
}

/** How many results there are at most when they are told apart by their open values. */
export function countByValues(runners: readonly Runner[]): number {
  return runners.reduce((sum, { open }) => {
    let ways = 1;
    const values = valuesOf(open).length;
    // Sets of so many values, each as often as it likes, in no order.
    for (let k = 0; k < open.length; k++) ways = (ways * (values + k)) / (k + 1);
    const products = open.reduce((n, o) => n * o.distribution.scores.length, 1);
    return sum + Math.min(ways, products);
  }, 0);
}
