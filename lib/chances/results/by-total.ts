/** Results where totals alone count, or nothing is known beyond them. */
import type { Units } from '../../score.js';
import { type Entrant, totalOf } from '../model.js';
import { type RankScale, type Results, rankCount, rankOf } from './results.js';

/** One result a total, with one key for all; those below `least` are behind everything. */
export function resultsByTotal(
  entrant: Entrant,
  key: number,
  scale: RankScale,
  least: Units,
): Results {
  const { scores, chances } = totalOf(entrant);
  const last = rankCount(scale) - 1;
  const rankAt = (total: Units) => (total < least ? last : rankOf(scale, total, key));
  return { ranks: Float64Array.from(scores, rankAt), chances: new Float64Array(chances) };
}
