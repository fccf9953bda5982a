/**
 * Chances by sampling: whole meets are drawn, each ranked by the rules of the model, and counted.
 *
 * Meets come in batches, and every batch has random numbers of its own, which follow from the seed
 * and its number alone. All that is kept are whole numbers. So the same seed and sample give the
 * same answer on every machine, and however the batches are divided up.
 *
 * With a day form r each routine takes, with chance √r and independently of the others, the quantile
 * that its gymnast has for all of her routines in that meet, and one of its own otherwise. Both of
 * two routines take the common one with chance r, so that r is the correlation of their quantiles,
 * while every routine by itself keeps exactly its range.
 */
import { badUsage } from '../../error.js';
import { routineAt } from '../../meet/meet.js';
import type { Distribution } from '../../range/distribution.js';
import type { Units } from '../../score.js';
import { advancingOnBoard } from '../advancing.js';
import type { PlacesByScore } from '../curve.js';
import { outcomesOnBoard, type Podium, podiumPlaces } from '../medals/podiums.js';
import { type ContestModel, totalOf } from '../model.js';
import { routineDistribution } from '../open-part.js';
import { placeChances } from '../place-chances.js';
import { ENDS, type Stake } from '../stakes.js';
import { BATCH, batchCounter } from './batches.js';
import { noCounts, podiumCounts, type SampleCounts } from './counts.js';
import {
  type DrawnEnd,
  MOST_SAMPLES,
  type Plan,
  planOf,
  type SampleWishes,
  type Sampling,
} from './plan.js';

export type { SampleWishes, Sampling };

/** How chances are drawn; without `sample`, `precision` and `dayForm` they are computed. */
export interface SampleOptions {
  /** How many meets: 1 to 1,000,000,000. With `precision` no more than so many. */
  readonly sample?: number | null | undefined;
  /** A whole number; the same one gives the same answer. Default 1. */
  readonly seed?: number | null | undefined;
  /** How alike a gymnast's own routines go: the correlation of their quantiles, 0 to 1; default 0. */
  readonly dayForm?: number | null | undefined;
  /** Goes on until no standard error is larger than this chance. */
  readonly precision?: number | null | undefined;
  /**
   * Told how much is done, and of how much: meets drawn, null where it is not known of how many; of
   * what is computed, thousandths.
   */
  readonly onProgress?: ((done: number, of: number | null) => void) | null | undefined;
  /**
   * Told how every meet that is drawn ended, from the best to the worst; who is out of the contest is not in it.
   * Never called where nothing is to come.
   */
  readonly onDraw?: ((meet: readonly DrawnEnd[]) => void) | null | undefined;
}

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
  /** How many meets were drawn; 0 where nothing was to come, and so nothing was left to chance. */
  readonly samples: number;
  /** All medal outcomes that were drawn, the likeliest first. */
  readonly podiums: readonly Podium[];
  /** By entrant: of the total at the end. Computed where there is no day form, else drawn. */
  readonly totals: readonly Distribution[];
  /** In the order the routines go up; none where they were not asked for. */
  readonly stakes: readonly Stake[];
  /** Places by the score of the routine asked for. `error` is the largest standard error in it. */
  readonly byScore: PlacesByScore | null;
}

/** The standard error is then at most 0.001. */
const DEFAULT_SAMPLE = 250_000;

/**
 * The options checked, or null where nothing asks for sampling: no `sample`, no `precision`, and no
 * `dayForm` above 0. Throws where one of them is no such number.
 */
export function samplingOf(options: SampleOptions): Sampling | null {
  const { sample = null, seed = null, dayForm = null, precision = null } = options;
  if (sample !== null && !(Number.isInteger(sample) && sample >= 1 && sample <= MOST_SAMPLES)) {
    throw badUsage(
      'wrong-sample',
      `a sample of ${sample} meets cannot be drawn`,
      'give a whole number from 1 to 1000000000',
    );
  }
  if (seed !== null && !Number.isSafeInteger(seed)) {
    throw badUsage('wrong-seed', `${seed} is not a seed`, 'give a whole number, such as 1');
  }
  if (dayForm !== null && !(dayForm >= 0 && dayForm <= 1)) {
    throw badUsage(
      'wrong-day-form',
      `${dayForm} is not a day form`,
      'give a share from 0 (each routine by itself) to 1 (all of hers alike)',
    );
  }
  if (precision !== null && !(precision > 0 && precision < Number.POSITIVE_INFINITY)) {
    throw badUsage(
      'wrong-precision',
      `${precision} is not a precision`,
      'give the largest standard error that will do, such as 0.001',
    );
  }
  if (sample === null && precision === null && (dayForm ?? 0) === 0) return null;
  return {
    sample: sample ?? (precision === null ? DEFAULT_SAMPLE : MOST_SAMPLES),
    seed: seed ?? 1,
    dayForm: dayForm ?? 0,
    precision,
    onProgress: options.onProgress ?? null,
    onDraw: options.onDraw ?? null,
  };
}

/** The chances of all places by sampling, in this process. Never throws. */
export function samplePlaces(
  model: ContestModel,
  sampling: Sampling,
  wishes: SampleWishes = {},
): SampledPlaces {
  if (model.over) return overPlaces(model);
  const plan = planOf(model, sampling, wishes);
  const { sample, precision, onProgress } = sampling;
  const countBatch = batchCounter(plan);
  const counts = noCounts(plan);
  for (let batch = 0; batch * BATCH < sample; batch++) {
    countBatch(batch, counts);
    onProgress?.(counts.meets, precision === null ? sample : null);
    if (precision === null) continue;
    // More meets make no medal outcome any more precise once they are not kept of every meet.
    const areKept = counts.podiumMeets === counts.meets;
    if (errorOf(plan, counts, areKept ? counts.podiums.values() : []) <= precision) break;
  }
  return answerFrom(plan, counts);
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
  const chances = (from: Float64Array, row: number) =>
    Array.from(from.subarray(row * size, (row + 1) * size), (k) => k / meets);
  return {
    places: plan.entrants.map((_, i) => chances(counts.places, i)),
    advance: plan.advancing === null ? null : [...counts.advancing].map((k) => k / meets),
    error: errorOf(plan, counts),
    samples: meets,
    podiums: podiumCounts(counts).map(({ sets, count }) => ({
      places: placesOf(model, sets),
      chance: count / podiumMeets,
    })),
    totals: totalsFrom(plan, counts),
    stakes: plan.stakes ? stakesFrom(plan, counts) : [],
    byScore: plan.asked === null ? null : byScoreFrom(plan, plan.asked, counts, chances),
  };
}

/** Who has which medal place, by sets of entrants from the best to the worst. */
function placesOf(
  { contest, entrants }: ContestModel,
  sets: readonly (readonly number[])[],
): Podium['places'] {
  return podiumPlaces(
    sets,
    entrants.map((e) => e.contender.id),
    contest.medals,
  );
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

function stakesFrom(plan: Plan, counts: SampleCounts): Stake[] {
  const { model, slots, size } = plan;
  const order = [...slots.entries()].sort(([, a], [, b]) => a.routine - b.routine);
  return order.map(([s, { routine }]): Stake => {
    const { gymnast, apparatus } = routineAt(model.meet, routine);
    const chanceOf = (end: number, i: number) =>
      (counts.titles[(s * ENDS.length + end) * size + i] ?? 0) / counts.meets;
    const title = model.entrants.map(({ contender }, i) => ({
      id: contender.id,
      low: chanceOf(0, i),
      high: chanceOf(1, i),
    }));
    return { gymnast, apparatus, title: title.filter((t) => t.low > 0 || t.high > 0) };
  });
}

function byScoreFrom(
  { model, slots, size, advancing }: Plan,
  asked: number,
  { byScore, advancingByScore, meets }: SampleCounts,
  chances: (from: Float64Array, row: number) => number[],
): PlacesByScore {
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

/** Nothing is to come: the places of the board, and nothing to draw. */
function overPlaces(model: ContestModel): SampledPlaces {
  return {
    places: placeChances(model).places,
    advance: advancingOnBoard(model),
    error: 0,
    samples: 0,
    podiums: outcomesOnBoard(model).map(({ sets, chance }) => ({
      places: placesOf(model, sets),
      chance,
    })),
    totals: model.entrants.map(totalOf),
    stakes: [],
    byScore: null,
  };
}
