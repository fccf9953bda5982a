/** Chances as a function of the next score: the curve behind what she needs. */
import type { Meet } from '../meet/meet.js';
import type { Units } from '../score.js';
import { routineDistribution } from './open-part.js';
import type { Case, CaseChances } from './place-chances.js';

/** What one score would do for whoever scores it. */
export interface PointByScore {
  readonly score: Units;
  /** Of this score. */
  readonly chance: number;
  /** Of every place, given this score. */
  readonly places: readonly number[];
  /** Of going on, given this score; null where that was not asked, or nobody does. */
  readonly advance: number | null;
}

/** A case for every score a routine can have. */
export function casesOf(meet: Meet, who: number, routine: number): Case[] {
  const { scores, chances } = routineDistribution(meet, routine);
  return scores.flatMap((score, k) =>
    (chances[k] ?? 0) > 0 ? [{ who, routine, score, title: false }] : [],
  );
}

export function pointsOf(
  meet: Meet,
  cases: readonly Case[],
  found: readonly CaseChances[],
): PointByScore[] {
  return cases.map(({ routine, score }, h) => {
    const { scores, chances } = routineDistribution(meet, routine);
    const { places = [], advance = null } = found[h] ?? {};
    return { score, chance: chances[scores.indexOf(score)] ?? 0, places, advance };
  });
}
