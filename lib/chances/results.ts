/** Every result of every runner, by total alone. */
import type { Runner } from './runner.js';

/** Every result of every runner. */
export interface Results {
  readonly count: number;
  readonly who: Int32Array;
  readonly total: Int32Array;
  readonly chance: Float64Array;
}

/** The results by total alone. */
export function resultsByTotal(runners: readonly Runner[]): Results {
  const count = runners.reduce((sum, r) => sum + r.total.scores.length, 0);
  const who = new Int32Array(count);
  const total = new Int32Array(count);
  const chance = new Float64Array(count);
  let at = 0;
  for (let i = 0; i < runners.length; i++) {
    const { scores, chances } = runners[i]!.total;
    for (let k = 0; k < scores.length; k++, at++) {
      who[at] = i;
      total[at] = scores[k]!;
      chance[at] = chances[k]!;
    }
  }
  return { count, who, total, chance };
}

/** By result: how far its total is behind the best. */
export function behindOf({ count, total }: Results): Int32Array {
  let most = Number.NEGATIVE_INFINITY;
  for (let r = 0; r < count; r++) if (total[r]! > most) most = total[r]!;
  const behind = new Int32Array(count);
  for (let r = 0; r < count; r++) behind[r] = most - total[r]!;
  return behind;
}
