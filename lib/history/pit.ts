/** Where scores fell in their ranges: even if the ranges were right, whatever they said. */
import type { Chance } from '../chance.js';
import type { Distribution } from '../range/distribution.js';
import type { Units } from '../score.js';

/**
 * From the chance of less than what happened to the chance of no more. What a score was is taken to be spread
 * evenly over that, the nonrandomized probability integral transform of Czado, Gneiting and Held, Biometrics
 * 65 (2009), 1254-1261 (from memory), since scores lie on a grid.
 */
export type Placed = readonly [below: Chance, upTo: Chance];

export function placedIn({ scores, chances }: Distribution, happened: Units): Placed {
  let [below, upTo] = [0, 0];
  for (const [i, score] of scores.entries()) {
    const p = chances[i] ?? 0;
    if (score < happened) below += p;
    if (score <= happened) upTo += p;
  }
  return [Math.min(below, 1), Math.min(upTo, 1)];
}

/** How much of it lies from one chance to another. */
export function shareWithin([below, upTo]: Placed, from: Chance, to: Chance): number {
  if (upTo > below) {
    return Math.max(Math.min(upTo, to) - Math.max(below, from), 0) / (upTo - below);
  }
  return below >= from && (below < to || to === 1) ? 1 : 0;
}
