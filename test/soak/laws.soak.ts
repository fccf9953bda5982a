/**
 * The properties of test/properties on many times as many meets, other ones every time:
 * `npm run soak`; `SOAK_TIMES=n` for how many times. What fails shows its seed: `PROPERTY_SEED=n`
 * tries the same again.
 */
import { randomInt } from 'node:crypto';
import { LAWS } from '../properties/all.js';
import { tryAll } from '../properties/runs.js';

const times = Number(process.env.SOAK_TIMES ?? 50);

tryAll(Object.values(LAWS).flat(), { times, seed: randomInt(2 ** 31) });
