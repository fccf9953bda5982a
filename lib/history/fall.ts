/** Which routines of a history had a fall: nobody writes it down, so it is inferred. */
import { type Decimals, unitsPerPoint } from '../score.js';
import type { PastRoutine } from './history.js';

/** E this much under a gymnast's own better half is taken for a fall, in points. */
const UNDER_OWN = 0.7;
/** And this much under the usual where she has but one result. */
const UNDER_USUAL = 1.3;

/** What was taken off for execution and otherwise: score - D where D is known, else the score. */
export function executionOf({ score, d }: PastRoutine): number {
  return d === null ? score : score - d;
}

/** By routine of one gymnast on one apparatus: whether it had a fall. `usual`: in the same terms as `executionOf`. */
export function fallsAmong(
  routines: readonly PastRoutine[],
  usual: number,
  decimals: Decimals,
): boolean[] {
  const point = unitsPerPoint(decimals);
  const all = routines.map(executionOf);
  if (all.length === 1) return [all[0]! < usual - UNDER_USUAL * point];
  const best = [...all].sort((a, b) => b - a).slice(0, Math.ceil(all.length / 2));
  const half = best.reduce((a, b) => a + b, 0) / best.length;
  return all.map((e) => e < half - UNDER_OWN * point);
}
