/** What has been recorded of a meet, as contests see it. */
import { isScored, isWithdrawn, type Meet } from '../meet/meet.js';
import type { Performance, Performances } from './entry.js';

/** Meets never change, so what follows from one is worked out once. */
const recorded = new WeakMap<Meet, Performances>();

export function recordedPerformances(meet: Meet): Performances {
  const known = recorded.get(meet);
  if (known !== undefined) return known;
  const performances = meet.results.map((result): Performance => {
    if (isWithdrawn(result)) return 'out';
    if (!isScored(result)) return null;
    return { score: result.score, d: result.d ?? 'unrecorded', e: result.e ?? 'unrecorded' };
  });
  recorded.set(meet, performances);
  return performances;
}
