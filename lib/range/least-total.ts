/** Below which total nobody has one of the first places any more: nothing of it need be told apart. */
import type { Units } from '../score.js';
import { chanceOfAtLeast, type Distribution } from './distribution.js';

/** What is less likely than this is not asked about. */
const NOTHING = 1e-13;

/**
 * With a lower total, none of those who have these totals has one of the first so many places: as many are ahead of
 * it. Where one of them may be another, ask for a place more, since the others ahead are one less then.
 */
export function leastTotalFor(totals: readonly Distribution[], places: number): Units {
  let [closed, open] = [-1, Math.max(0, ...totals.map(({ scores }) => scores.at(-1) ?? 0))];
  while (open - closed > 1) {
    const middle = (open + closed) >> 1;
    const ahead = totals.map((one) => chanceOfAtLeast(one, middle + 1));
    if (chanceOfFewer(ahead, places) >= NOTHING) open = middle;
    else closed = middle;
  }
  return open;
}

/** That fewer than so many happen, of some that do not depend on each other. */
function chanceOfFewer(chances: readonly number[], count: number): number {
  const fewer = new Float64Array(count);
  fewer[0] = 1;
  for (const p of chances) {
    for (let k = count - 1; k >= 0; k--) {
      fewer[k] = (fewer[k] ?? 0) * (1 - p) + (fewer[k - 1] ?? 0) * p;
    }
  }
  return fewer.reduce((a, b) => a + b, 0);
}
