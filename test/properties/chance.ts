/** The distribution of a range by the design, with the Beta distribution of another library. */
import betaCdf from '@stdlib/stats-base-dists-beta-cdf';
import { type Court, cleanScores } from './naive.js';

export interface Shape {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * The chance of each of these scores, in rising order, without a fall: a Beta distribution between
 * the midpoints of neighbours, the end cells reaching to low and high.
 */
export function cleanChances({ low, likely, high }: Shape, scores: readonly number[]): number[] {
  if (scores.length === 1) return [1];
  const a = 1 + (4 * (likely - low)) / (high - low);
  const b = 1 + (4 * (high - likely)) / (high - low);
  const below = (x: number) => betaCdf((x - low) / (high - low), a, b);
  return scores.map((score, i) => {
    const [before, after] = [scores[i - 1], scores[i + 1]];
    const from = before === undefined ? 0 : below((before + score) / 2);
    const to = after === undefined ? 1 : below((score + after) / 2);
    return to - from;
  });
}

/** The chance that a routine scores at least this; null where something of its range is missing. */
export function chanceFrom(court: Court, key: string, atLeast: number): number | null {
  const { facts, sketch } = court;
  const { low, likely, high, falls } = facts.ranges.get(key) ?? {};
  if (low === undefined || likely === undefined || high === undefined || falls === undefined) {
    return null;
  }
  const scores = cleanScores(facts, sketch.decimals, { low, likely, high });
  const chances = cleanChances({ low, likely, high }, scores);
  let chance = 0;
  for (const [count, weight] of [1 - falls, falls * (1 - falls), falls * falls].entries()) {
    for (const [i, score] of scores.entries()) {
      if (Math.max(score - count * facts.fall, 0) >= atLeast) chance += weight * (chances[i] ?? 0);
    }
  }
  return chance;
}
