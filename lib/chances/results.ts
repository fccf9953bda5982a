/** Every result of every runner, by total alone or by the values that it is made of. */
import type { Runner } from './runner.js';

/** Every result of every runner. */
export interface Results {
  readonly count: number;
  readonly who: Int32Array;
  readonly total: Int32Array;
  /** The open values of a result, the lowest first, `width` for each; NONE where there is none. */
  readonly values: Int32Array;
  readonly width: number;
  readonly chance: Float64Array;
}

/** No value. */
export const NONE = -1;

/** The results by total alone. */
export function resultsByTotal(runners: readonly Runner[]): Results {
  const count = runners.reduce((sum, r) => sum + r.total.scores.length, 0);
  const results = emptyResults(count, 0);
  const { who, total, chance } = results;
  let at = 0;
  for (let i = 0; i < runners.length; i++) {
    const { scores, chances } = runners[i]!.total;
    for (let k = 0; k < scores.length; k++, at++) {
      who[at] = i;
      total[at] = scores[k]!;
      chance[at] = chances[k]!;
    }
  }
  return results;
}

/** By result: how far its total is behind the best. */
export function behindOf({ count, total }: Results): Int32Array {
  let most = Number.NEGATIVE_INFINITY;
  for (let r = 0; r < count; r++) if (total[r]! > most) most = total[r]!;
  const behind = new Int32Array(count);
  for (let r = 0; r < count; r++) behind[r] = most - total[r]!;
  return behind;
}

function emptyResults(count: number, width: number): Results {
  return {
    count,
    who: new Int32Array(count),
    total: new Int32Array(count),
    chance: new Float64Array(count),
    values: new Int32Array(count * width).fill(NONE),
    width,
  };
}

/** How many results there are at most when they are told apart by their open values. */
export function countByValues(runners: readonly Runner[]): number {
  return runners.reduce((sum, { open }) => {
    const [first = null] = open;
    if (open.length <= 1) return sum + (first?.distribution.scores.length ?? 1);
    let ways = 1;
    const values = new Set(open.flatMap((o) => o.distribution.scores)).size;
    // Sets of so many values, each as often as it likes, in no order.
    for (let k = 0; k < open.length; k++) ways = (ways * (values + k)) / (k + 1);
    const products = open.reduce((n, o) => n * o.distribution.scores.length, 1);
    return sum + Math.min(ways, products);
  }, 0);
}

/**
 * The results by the values of the open parts. Which part has which value makes no difference, so
 * values are handed out from the lowest up, and the chance of every set of parts to have had one is
 * kept on the way.
 */
export function resultsByValues(runners: readonly Runner[]): Results {
  const width = Math.max(...runners.map((r) => r.open.length));
  const results = emptyResults(countByValues(runners), width);
  let at = 0;
  for (const [i, { fixed, open }] of runners.entries()) {
    const n = open.length;
    const [one, two] = open;
    if (one !== undefined && n === 1) {
      at = addScores(results, at, i, fixed, one.distribution);
      continue;
    }
    if (one !== undefined && two !== undefined && n === 2) {
      at = addPairs(results, at, i, fixed, one.distribution, two.distribution);
      continue;
    }
    const values = Float64Array.from(new Set(open.flatMap((o) => o.distribution.scores))).sort();
    const chances = open.map((o) => chancesOf(values, o.distribution));
    const all = (1 << n) - 1;
    const chosen = new Float64Array(n);
    const depths = Array.from({ length: n + 1 }, () => new Float64Array(all + 1));
    depths[0]![0] = 1;
    const go = (depth: number, from: number, sum: number): void => {
      const weights = depths[depth]!;
      if (depth === n) {
        results.who[at] = i;
        results.total[at] = fixed + sum;
        results.chance[at] = weights[all]!;
        for (let k = 0; k < n; k++) results.values[at * width + k] = chosen[k]!;
        at++;
        return;
      }
      for (let v = from; v < values.length; v++) {
        if (!handOut(depth, v)) continue;
        chosen[depth] = values[v]!;
        go(depth + 1, v, sum + values[v]!);
      }
    };
    const handOut = (depth: number, v: number): boolean => {
      // Parts that have the same value have it in no order.
      let times = 1;
      while (times <= depth && chosen[depth - times] === values[v]) times++;
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
    };
    go(0, 0, 0);
  }
  return { ...results, count: at };
}

/** The results of one open part; gives where the next result goes. */
function addScores(
  { who, total, chance, values, width }: Results,
  start: number,
  runner: number,
  fixed: number,
  { scores, chances }: Runner['total'],
): number {
  let at = start;
  for (let k = 0; k < scores.length; k++, at++) {
    who[at] = runner;
    total[at] = fixed + scores[k]!;
    chance[at] = chances[k]!;
    values[at * width] = scores[k]!;
  }
  return at;
}

/** The results of two open parts, whose scores rise. */
function addPairs(
  { who, total, chance, values, width }: Results,
  start: number,
  runner: number,
  fixed: number,
  one: Runner['total'],
  two: Runner['total'],
): number {
  const all = Float64Array.from(new Set([...one.scores, ...two.scores])).sort();
  const p = chancesOf(all, one);
  const q = chancesOf(all, two);
  let at = start;
  for (let v = 0; v < all.length; v++) {
    for (let w = v; w < all.length; w++) {
      const c = v === w ? p[v]! * q[v]! : p[v]! * q[w]! + p[w]! * q[v]!;
      if (c === 0) continue;
      who[at] = runner;
      total[at] = fixed + all[v]! + all[w]!;
      chance[at] = c;
      values[at * width] = all[v]!;
      values[at * width + 1] = all[w]!;
      at++;
    }
  }
  return at;
}

function chancesOf(values: Float64Array, { scores, chances }: Runner['total']): Float64Array {
  const of = new Float64Array(values.length);
  let k = 0;
  for (let i = 0; i < values.length; i++) if (scores[k] === values[i]) of[i] = chances[k++]!;
  return of;
}
