/** Results where totals alone count, or nothing is known beyond them. */
import type { Units } from '../../score.js';
import { type Entrant, totalFrom } from '../model.js';
import { type RankScale, type Results, rankCount, rankOf } from './results.js';

/** One result a total, with one key for all; those below `least` are behind everything. */
export function resultsByTotal(
  entrant: Entrant,
  key: number,
  scale: RankScale,
  least: Units,
): Results {
  const { scores, chances } = totalFrom(entrant, least);
  const last = rankCount(scale) - 1;
  const ranks = new Float64Array(scores.length);
  for (let k = 0; k < ranks.length; k++) {
    const total = scores[k] ?? 0;
    ranks[k] = total < least ? last : rankOf(scale, total, key);
  }
  return { ranks, chances: new Float64Array(chances) };
}
