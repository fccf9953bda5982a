/** Chances as a function of the next score: the curve behind what she needs. */
import type { Meet } from '../meet/meet.js';
import type { Score } from '../score.js';
import { placeChances } from './exact.js';
import { ifScored, type Race, routineDistribution } from './runner.js';

/** What one score would do for whoever scores it. */
export interface PointByScore {
  readonly score: Score;
  /** Of this score. */
  readonly chance: number;
  /** Of every place, given this score. */
  readonly places: readonly number[];
}

export interface PlacesByScore {
  /** Every score that can happen, in rising order. */
  readonly points: readonly PointByScore[];
  /** A bound on how wrong a chance of a place, or a sum of the first few, can be. */
  readonly error: number;
}

/** The places of runner `who` of a race by the score of one of its routines to come. */
export function placesByScore(meet: Meet, race: Race, who: number, routine: number): PlacesByScore {
  const { scores, chances } = routineDistribution(meet, routine);
  let error = 0;
  const points = scores.flatMap((score, k): PointByScore[] => {
    if (chances[k] === 0) return [];
    const then = placeChances(meet, ifScored(meet, race, who, routine, score));
    error = Math.max(error, then.error);
    return [{ score, chance: chances[k]!, places: then.places[who]! }];
  });
  return { points, error };
}
