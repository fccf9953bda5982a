/** Results where totals alone count, or nothing is known beyond them. */
import type { Units } from '../../score.js';
import { type Entrant, totalOf } from '../model.js';
import { type RankScale, type Results, rankCount, rankOf } from './results.js';

/** One result a total, with one key for all; those below `least` are one, behind everything. */
export function resultsByTotal(
  entrant: Entrant,
  key: number,
  scale: RankScale,
  least: Units,
): Results {
  const { scores, chances } = totalOf(entrant);
  const ranks: number[] = [];
  const found: number[] = [];
  let rest = 0;
  for (const [k, score] of scores.entries()) {
    const chance = chances[k] ?? 0;
    if (score < least) rest += chance;
    else {
      ranks.push(rankOf(scale, score, key));
      found.push(chance);
    }
  }
  if (rest > 0) {
    ranks.push(rankCount(scale) - 1);
    found.push(rest);
  }
  return { ranks: new Float64Array(ranks), chances: new Float64Array(found) };
}
