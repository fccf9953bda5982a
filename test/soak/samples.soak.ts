/**
 * Fields as large as a final's, with realistic ranges, against a million sampled meets each: every
 * place within four standard errors and the error that is said. `SOAK_FIELDS=n` for how many of
 * each kind. With some 576 places a field one in 30 fields would be further out by chance alone, so
 * a few places are allowed to be, though none by more than six.
 */
import { randomInt } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { samplingOf } from '../../lib/chances/sampled/options.js';
import { samplePlaces } from '../../lib/chances/sampled/sampled.js';
import { findContest } from '../../lib/contest/contest.js';
import { type Meet, readMeet } from '../../lib/index.js';
import { randomFrom } from '../properties/asking.js';

const MEETS = 1_000_000;
const FIELDS = Number(process.env.SOAK_FIELDS ?? 5);
const CODES = ['VT', 'UB', 'BB', 'FX'];

function meetOf(seed: number, done: number, ties: string): Meet {
  const random = randomFrom(seed);
  const thousandths = (x: number) => (x / 1000).toFixed(3);
  const lines = ['discipline: wag', 'scoring: open', `ties: ${ties}`, 'gymnasts:'];
  const log = ['gymnast,apparatus,score'];
  for (let i = 0; i < 24; i++) {
    const level = 13_200 + random(1000);
    lines.push(`  - id: g${i}`, `    name: G ${i}`, '    ranges:');
    for (const [a, code] of CODES.entries()) {
      const likely = level - 300 + random(600);
      const low = thousandths(likely - 200 - random(600));
      const high = thousandths(likely + 100 + random(500));
      const falls = random(20) / 100;
      lines.push(
        `      ${code}: { low: ${low}, likely: ${thousandths(likely)}, high: ${high}, falls: ${falls} }`,
      );
      const score = Math.floor((Math.round(likely / 100) * 3 + random(3)) * (100 / 3));
      if (a < done) log.push(`g${i},${code},${thousandths(score)}`);
    }
  }
  const { meet } = readMeet({
    meet: { file: 'meet', text: `${lines.join('\n')}\n` },
    log: { file: 'log', text: `${log.join('\n')}\n` },
    ranges: () => null,
  });
  if (meet === null) throw new RangeError('the meet cannot be read');
  return meet;
}

describe('chances, against a million meets', () => {
  const kinds = ['[]', '[best-scores]'].flatMap((ties) =>
    [0, 1, 2, 3].map((done) => ({ ties, done })),
  );
  it.each(kinds)('24 gymnasts, $done done, ties $ties', ({ ties, done }) => {
    for (let field = 0; field < FIELDS; field++) {
      const seed = randomInt(2 ** 31);
      const meet = meetOf(seed, done, ties);
      const model = modelOf(meet, findContest(meet, null));
      const { places, error } = placeChances(model);
      const sampling = samplingOf({ sample: MEETS, seed });
      if (sampling === null) throw new RangeError('nothing is sampled');
      const drawn = samplePlaces(model, sampling).places;
      let far = 0;
      for (const [i, row] of places.entries()) {
        for (const [k, p] of row.entries()) {
          const off = Math.abs((drawn[i]?.[k] ?? -1) - p) - error - 3 / MEETS;
          const sigmas = off / Math.sqrt((p * (1 - p)) / MEETS + 1e-18);
          if (off > 0 && sigmas > 4) far++;
          expect(off <= 0 || sigmas < 6, `seed ${seed}: place ${k + 1} of g${i}`).toBe(true);
        }
      }
      expect(far, `seed ${seed}`).toBeLessThanOrEqual(2);
    }
  });
});
