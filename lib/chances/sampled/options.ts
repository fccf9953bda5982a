/** What is asked of a sample, checked. */
import { badUsage } from '../../error.js';
import type { Score } from '../../score.js';

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

/** Options that were checked, with nothing left open. */
export interface Sampling {
  /** The most meets that are drawn. */
  readonly sample: number;
  readonly seed: number;
  readonly dayForm: number;
  readonly precision: number | null;
  readonly onProgress: ((done: number, of: number | null) => void) | null;
  readonly onDraw: ((meet: readonly DrawnEnd[]) => void) | null;
}

/** How one contender ended in one of the meets that were drawn. */
export interface DrawnEnd {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** At the end, in units, with what was carried in. */
  readonly total: Score;
  /** Counted from 1; those who share it have the same. */
  readonly place: number;
}

/** What is counted besides places and medals. */
export interface SampleWishes {
  /** What is at stake in every routine to come. */
  readonly stakes?: boolean;
  /** A routine to come, by whose score its entrant's places are wanted. */
  readonly routine?: number | null;
}

/** No sample is larger. */
export const MOST_SAMPLES = 1_000_000_000;

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
