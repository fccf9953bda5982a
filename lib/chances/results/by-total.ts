/** Results where totals alone count, or nothing is known beyond them. */
import { type Entrant, totalOf } from '../model.js';
import { type RankScale, type Results, rankOf } from './results.js';

/** One result a total, with one key for all. */
export function resultsByTotal(entrant: Entrant, key: number, scale: RankScale): Results {
  const { scores, chances } = totalOf(entrant);
  const ranks = new Float64Array(scores.length);
  for (let k = 0; k < ranks.length; k++) ranks[k] = rankOf(scale, scores[k] ?? 0, key);
  return { ranks, chances: new Float64Array(chances) };
}
