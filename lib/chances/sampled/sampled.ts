/**
 * Chances by sampling: whole meets are drawn, each ranked by the rules of the model, and counted.
 *
 * The random numbers follow from the seed alone, and all that is kept are whole numbers: the same seed
 * gives the same answer on every machine, and a smaller sample is the beginning of a larger one.
 *
 * With a day form r each routine takes, with chance √r and independently of the others, the quantile
 * that its gymnast has for all of her routines in that meet, and one of its own otherwise. Both of
 * two routines take the common one with chance r, so that r is the correlation of their quantiles,
 * while every routine by itself keeps exactly its range.
 */
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Distribution } from '../../range/distribution.js';
import { asScore, type Units } from '../../score.js';
import type { PointByScore } from '../curve.js';
import { type Podium, podiumPlaces } from '../medals/podiums.js';
import { type ContestModel, totalOf } from '../model.js';
import { routineDistribution } from '../open-part.js';
import { ENDS, type Stake, stakeCases, stakesOf } from '../stakes.js';
import { countMeet } from './counting.js';
import { noCounts, podiumCounts, type SampleCounts } from './counts.js';
import { type DrawnMeet, drawMeet, emptyMeet } from './drawn-meet.js';
import type { DrawnEnd, SampleWishes, Sampling } from './options.js';
import { type Plan, planOf, WHOLE } from './plan.js';
import { comparersOf, rankMeet } from './ranking.js';

export interface SampledPlaces {
  /** By entrant of the model and place. */
  readonly places: readonly (readonly number[])[];
  /** By entrant: of going on; null where nobody advances from the contest. */
  readonly advance: readonly number[] | null;
  /**
   * The largest standard error of a chance in this answer but for `byScore`, which has its own: of
   * a place, of one of the first few (so of `win` and of a medal), of a podium, of a title at stake.
   * It is √(p(1-p)/n) with p = (k+1)/(n+2) for k times in n, so that what never happened in a sample
   * does not pass for impossible.
   */
  readonly error: number;
  /** How many meets were drawn. */
  readonly samples: number;
  /** All medal outcomes that were drawn, the likeliest first. */
  readonly podiums: readonly Podium[];
  /** By entrant: of the total at the end. Computed where there is no day form, else drawn. */
  readonly totals: readonly Distribution[];
  /** In the order the routines go up; none where they were not asked for. */
  readonly stakes: readonly Stake[];
  /** Places by the score of the routine asked for. `error` is the largest standard error in it. */
  readonly byScore: { readonly points: readonly PointByScore[]; readonly error: number } | null;
}

/** The generator takes 32 bits of a seed: what is beyond them is mixed in (the golden ratio, of 32 bits). */
const MIXER = 0x9e3779b9;

/** After so many meets it is said how far it is, and looked whether they are enough. */
export const BATCH = 4096;

/** The chances of all places by sampling, where something is to come. */
export function samplePlaces(
  model: ContestModel,
  sampling: Sampling,
  wishes: SampleWishes = {},
): SampledPlaces {
  const plan = planOf(model, sampling, wishes);
  const { sample, seed, precision, onProgress, onDraw } = sampling;
  const random = xoroshiro128plus((seed + Math.imul(Math.floor(seed / WHOLE), MIXER)) | 0);
  const meet = emptyMeet(plan, comparersOf(model));
  const counts = noCounts(plan);
  while (counts.meets < sample) {
    drawMeet(meet, random);
    rankMeet(meet);
    countMeet(meet, counts);
    onDraw?.(endsOf(meet));
    if (counts.meets % BATCH > 0 && counts.meets < sample) continue;
    onProgress?.(counts.meets, precision === null ? sample : null);
    if (precision === null) continue;
    // More meets make no medal outcome any more precise once they are not kept of every meet.
    const areKept = counts.podiumMeets === counts.meets;
    if (errorOf(plan, counts, areKept ? counts.podiums.values() : []) <= precision) break;
  }
  return answerFrom(plan, counts);
}

/** How everybody ended in the meet at hand, from the best to the worst. */
function endsOf({ plan, order, sorted, first }: DrawnMeet): DrawnEnd[] {
  return Array.from(order, (i, k) => ({
    id: plan.model.entrants[i]?.contender.id ?? '',
    total: asScore(sorted[k] ?? 0),
    place: (first[k] ?? 0) + 1,
  }));
}

/** The standard error of a chance that was met `k` times in `n`. */
function standardError(k: number, n: number): number {
  const p = (k + 1) / (n + 2);
  return Math.sqrt((p * (1 - p)) / n);
}

/** The largest standard error of a list of places, by rows of so many, and of the first few. */
function placesError(counts: Float64Array, size: number, n: number): number {
  let error = 0;
  for (let row = 0; row < counts.length; row += size) {
    let sum = 0;
    for (let k = row; k < row + size; k++) {
      const count = counts[k] ?? 0;
      sum += count;
      error = Math.max(error, standardError(count, n), standardError(sum, n));
    }
  }
  return error;
}

function errorOf(
  { size }: Plan,
  counts: SampleCounts,
  podiums: Iterable<number> = counts.podiums.values(),
): number {
  const { meets, podiumMeets } = counts;
  let error = placesError(counts.places, size, meets);
  for (const list of [counts.advancing, counts.titles]) {
    for (const count of list) error = Math.max(error, standardError(count, meets));
  }
  for (const count of podiums) error = Math.max(error, standardError(count, podiumMeets));
  return error;
}

function answerFrom(plan: Plan, counts: SampleCounts): SampledPlaces {
  const { size, model } = plan;
  const { meets, podiumMeets } = counts;
  const ids = model.entrants.map((e) => e.contender.id);
  const chances = (from: Float64Array, row: number) =>
    Array.from(from.subarray(row * size, (row + 1) * size), (k) => k / meets);
  return {
    places: plan.entrants.map((_, i) => chances(counts.places, i)),
    advance: plan.advancing === null ? null : [...counts.advancing].map((k) => k / meets),
    error: errorOf(plan, counts),
    samples: meets,
    podiums: podiumCounts(counts).map(({ sets, count }) => ({
      places: podiumPlaces(sets, ids, model.contest.medals),
      chance: count / podiumMeets,
    })),
    totals: totalsFrom(plan, counts),
    stakes: plan.stakes ? stakesFrom(plan, counts) : [],
    byScore: plan.asked === null ? null : byScoreFrom(plan, plan.asked, counts, chances),
  };
}

function totalsFrom(plan: Plan, { totals, meets }: SampleCounts): Distribution[] {
  const { model, entrants, offsets, drawsTotals } = plan;
  if (!drawsTotals) return model.entrants.map(totalOf);
  return entrants.map(({ lowest }, i) => {
    const counts = totals.subarray(offsets[i], offsets[i + 1]);
    const scores: Units[] = [];
    const chances: number[] = [];
    for (const [k, count] of counts.entries()) {
      if (count === 0) continue;
      scores.push(lowest + k);
      chances.push(count / meets);
    }
    return { scores, chances };
  });
}

function stakesFrom({ model, slots, size }: Plan, { titles, meets }: SampleCounts): Stake[] {
  const cases = stakeCases(model);
  const slotOf = new Map(slots.map(({ routine }, s) => [routine, s]));
  return stakesOf(model, cases, (h, i) => {
    const s = slotOf.get(cases[h]?.routine ?? -1) ?? -1;
    return (titles[(s * ENDS.length + (h % ENDS.length)) * size + i] ?? 0) / meets;
  });
}

function byScoreFrom(
  { model, slots, size, advancing }: Plan,
  asked: number,
  { byScore, advancingByScore, meets }: SampleCounts,
  chances: (from: Float64Array, row: number) => number[],
): SampledPlaces['byScore'] {
  const routine = slots[asked]?.routine ?? -1;
  const distribution = routineDistribution(model.meet, routine);
  const points = distribution.scores.flatMap((score, k) => {
    const chance = distribution.chances[k] ?? 0;
    const advance = advancing === null ? null : (advancingByScore[k] ?? 0) / meets;
    return chance === 0 ? [] : [{ score, chance, places: chances(byScore, k), advance }];
  });
  let error = placesError(byScore, size, meets);
  for (const count of advancingByScore) error = Math.max(error, standardError(count, meets));
  return { points, error };
}
