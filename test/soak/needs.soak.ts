/**
 * The properties of test/properties on many more meets, other ones every time: `npm run soak`;
 * `SOAK_RUNS=n` for each law. What fails shows its seed: `PROPERTY_SEED=n` tries the same again.
 */
import { randomInt } from 'node:crypto';
import { LAWS } from '../properties/all.js';
import { tryAll } from '../properties/runs.js';

const runs = Number(process.env.SOAK_RUNS ?? 20_000);

tryAll(Object.values(LAWS).flat(), { runs, seed: randomInt(2 ** 31) });
