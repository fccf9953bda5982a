/** What was said against what happened. */

import type { Chance } from '../chance.js';
import { drawnAnew } from './bootstrap.js';
import { wilson } from './wilson.js';

/** One chance that was given, in one meet. */
export interface Forecast {
  readonly meet: string;
  readonly said: number;
  readonly happened: boolean;
}

/** Chances from one tenth to the next. */
export interface Bin {
  /** The lower end. */
  readonly from: Chance;
  /** The upper end; it belongs to the next bin, but for 1. */
  readonly to: Chance;
  /** How many chances were given in it. */
  readonly count: number;
  /** The mean chance that was given. */
  readonly said: Chance | null;
  /** How often it happened. */
  readonly happened: Chance | null;
  /** 95%, by drawing meets anew: the boards of one meet are not independent of each other. */
  readonly interval: readonly [low: Chance, high: Chance] | null;
}

const BINS = 10;

/** Ten bins; the intervals are the same for the same seed. */
export function reliability(forecasts: readonly Forecast[], seed: number): Bin[] {
  const meets = [...new Set(forecasts.map((f) => f.meet))];
  const at = new Map(meets.map((meet, i) => [meet, i]));
  return Array.from({ length: BINS }, (_, bin): Bin => {
    const [from, to] = [bin / BINS, (bin + 1) / BINS];
    const here = forecasts.filter((f) => Math.min(Math.floor(f.said * BINS), BINS - 1) === bin);
    if (here.length === 0)
      return { from, to, count: 0, said: null, happened: null, interval: null };
    const counts = meets.map(() => ({ count: 0, happened: 0 }));
    for (const { meet, happened } of here) {
      const of = counts[at.get(meet)!]!;
      of.count++;
      if (happened) of.happened++;
    }
    const happened = here.filter((f) => f.happened).length;
    return {
      from,
      to,
      count: here.length,
      said: here.reduce((sum, f) => sum + f.said, 0) / here.length,
      happened: happened / here.length,
      interval: intervalOf(
        counts.filter((c) => c.count > 0),
        happened,
        here.length,
        seed,
      ),
    };
  });
}

interface Counted {
  readonly count: number;
  readonly happened: number;
}

function intervalOf(
  meets: readonly Counted[],
  happened: number,
  count: number,
  seed: number,
): readonly [number, number] {
  // Drawing anew from what never, or always, happened says nothing: Wilson's, as if each meet was one case.
  if (meets.length < 2) return [0, 1];
  if (happened === 0) return wilson(0, meets.length);
  if (happened === count) return wilson(meets.length, meets.length);
  return (
    drawnAnew(
      meets.map((m) => ({ sum: m.happened, of: m.count })),
      seed,
    ) ?? [0, 1]
  );
}
