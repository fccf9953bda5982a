/** Which routines of a history had a fall: nobody writes it down, so it is inferred. */
import { type Decimals, unitsPerPoint } from '../score.js';
import type { PastRoutine } from './routine.js';

/** E this much under a gymnast's own better half is taken for a fall, in points. */
const UNDER_OWN = 0.7;
/** And this much under the usual where she has but one result. */
const UNDER_USUAL = 1.3;

/**
 * By routine of one gymnast on one apparatus: what was taken off for execution and otherwise, score - D;
 * the score where she has no D at all. Of a routine without one, among others that have it, D is taken to
 * be their mean.
 */
export function executionsOf(routines: readonly PastRoutine[]): number[] {
  const known = routines.flatMap((r) => r.d ?? []);
  const d = known.length === 0 ? 0 : known.reduce((a, b) => a + b, 0) / known.length;
  return routines.map((r) => r.score - (r.d ?? d));
}

/** By routine of one gymnast on one apparatus: whether it had a fall. `usual`: in the same terms as they are. */
export function fallsAmong(
  executions: readonly number[],
  usual: number,
  decimals: Decimals,
): boolean[] {
  const point = unitsPerPoint(decimals);
  const [only, second] = executions;
  if (only !== undefined && second === undefined) return [only < usual - UNDER_USUAL * point];
  const best = [...executions].sort((a, b) => b - a).slice(0, Math.ceil(executions.length / 2));
  const half = best.reduce((a, b) => a + b, 0) / best.length;
  return executions.map((e) => e < half - UNDER_OWN * point);
}
