/**
 * The joint chances of a total and of the lowest of the values it is made of, for one runner with
 * several parts open. At equal totals the lower lowest value leaves the higher best scores.
 */

import { latticeFor } from '../range/lattice.js';
import type { Score } from '../score.js';
import type { Grid } from '../scoring.js';
import type { Runner } from './runner.js';

/** A runner's chances of each lowest value, by total. */
export interface Lowest {
  /** The values the lowest can have, the lowest first. */
  readonly values: readonly Score[];
  /** By total: the chance of each of the values with that total. What is missing is not told. */
  readonly at: ReadonlyMap<Score, Float64Array>;
}

/** Values so unlikely that together they make less than this of a part are left out of it. */
function likelyOf(
  { scores, chances }: Runner['total'],
  leftOut: number,
): { score: Score; chance: number }[] {
  const all = scores.map((score, i) => ({ score, chance: chances[i]! }));
  const byChance = [...all].sort((a, b) => a.chance - b.chance);
  let sum = 0;
  let least = 0;
  for (const { chance } of byChance) {
    sum += chance;
    if (sum > leftOut) break;
    least = chance;
  }
  return all.filter(({ chance }) => chance > least);
}

/**
 * Values are handed out from the highest down. Once all down to v have been, the sums by set of
 * parts are those with no value below v; two neighbours differ by those whose lowest is v.
 */
export function lowestOf(runner: Runner, grid: Grid, leftOut: number): Lowest {
  const parts = runner.open.map((o) => likelyOf(o.distribution, leftOut));
  const n = parts.length;
  const worst = runner.decided[0] ?? Number.POSITIVE_INFINITY;
  const scores = [...new Set(parts.flatMap((p) => p.map(({ score }) => score)))].sort(
    (a, b) => b - a,
  );
  const lattice = latticeFor(grid, scores, n);
  const chanceOf = parts.map((p) => new Map(p.map(({ score, chance }) => [score, chance])));
  const highest = parts.map((p) => Math.max(...p.map(({ score }) => lattice.indexOf(score))));
  const sums: Float64Array[] = [];
  // The indices of a set that have a chance lie from one of these to the other.
  const from: number[] = [];
  const to: number[] = [];
  for (let set = 0; set < 1 << n; set++) {
    const length = highest.reduce((sum, h, i) => ((set >> i) & 1 ? sum + h : sum), 1);
    sums[set] = new Float64Array(length);
    from[set] = set === 0 ? 0 : length;
    to[set] = set === 0 ? 1 : 0;
  }
  sums[0]![0] = 1;
  const all = (1 << n) - 1;
  const whole = sums[all]!;
  const before = new Float64Array(whole.length);
  const values: Score[] = [];
  const rows: Float64Array[] = [];
  const keep = (value: Score) => {
    const row = new Float64Array(whole.length);
    for (let i = from[all]!; i < to[all]!; i++) {
      row[i] = whole[i]! - before[i]!;
      before[i] = whole[i]!;
    }
    values.unshift(value);
    rows.unshift(row);
  };
  for (const score of scores) {
    // Below what is decided the lowest is an open value; down to it, it is what is decided.
    if (score < worst && values.length === 0 && worst !== Number.POSITIVE_INFINITY) keep(worst);
    const by = lattice.indexOf(score);
    for (let who = 0; who < n; who++) {
      const p = chanceOf[who]!.get(score);
      if (p === undefined) continue;
      const bit = 1 << who;
      for (let set = 0; set <= all; set++) {
        if (set & bit || from[set]! >= to[set]!) continue;
        const [source, target] = [sums[set]!, sums[set | bit]!];
        const end = to[set]!;
        for (let i = from[set]!; i < end; i++) target[i + by]! += p * source[i]!;
        from[set | bit] = Math.min(from[set | bit]!, from[set]! + by);
        to[set | bit] = Math.max(to[set | bit]!, end + by);
      }
    }
    if (score < worst) keep(score);
  }
  if (values.length === 0) keep(worst);
  const at = new Map<Score, Float64Array>();
  for (let i = from[all]!; i < to[all]!; i++) {
    if (whole[i]! === 0) continue;
    const total = runner.fixed + lattice.sumAt(i, n);
    const chances = new Float64Array(values.length);
    for (let v = 0; v < values.length; v++) chances[v] = rows[v]![i]!;
    const same = at.get(total);
    if (same === undefined) at.set(total, chances);
    else for (let v = 0; v < values.length; v++) same[v]! += chances[v]!;
  }
  return { values, at };
}
