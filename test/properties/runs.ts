/** How often properties are tried, and from where. */
import fc from 'fast-check';
import { it } from 'vitest';

/** A property, in the words of a test. */
export interface Law {
  readonly says: string;
  readonly law: fc.IRawProperty<unknown>;
  /** How often the tests try it. */
  readonly runs: number;
}

/** The meets every run of the tests tries. */
const SEED = 20241;

/**
 * Tries each law on the same meets every time: a fifth as often as it says, so that the tests stay short,
 * or `times` as often for a longer look. `PROPERTY_SEED=n` tries others, and `PROPERTY_RUNS=n` that many.
 */
export function tryAll(laws: readonly Law[], given: { times?: number; seed?: number } = {}): void {
  const { PROPERTY_SEED, PROPERTY_RUNS } = process.env;
  const seed = Number(PROPERTY_SEED ?? given.seed ?? SEED);
  for (const { says, law, runs } of laws) {
    const numRuns = Number(PROPERTY_RUNS ?? Math.ceil(runs * (given.times ?? 1 / 5)));
    it(says, () => fc.assert(law, { numRuns, seed }));
  }
}
