/** What is kept from one score to the next makes no difference: everything is as if worked out anew. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { podiumsOf } from '../../lib/chances/medals/podiums.js';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { findContest } from '../../lib/contest/contest.js';
import type { Meet } from '../../lib/index.js';
import { derived } from '../../lib/meet/sound.js';
import { meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';

const TIES = ['[]', '[best-scores]', '[execution, best-scores]', '[best-scores, difficulty]'];

interface Field {
  readonly count: number;
  readonly ties: string;
  /** By gymnast: how far she is above the others, in steps of the grid. */
  readonly levels: readonly number[];
  /** Who scores, on which apparatus, and how high above her low. */
  readonly scores: readonly (readonly [number, number, number])[];
}

const fields: fc.Arbitrary<Field> = fc.integer({ min: 2, max: 5 }).chain((count) =>
  fc.record({
    count: fc.constant(count),
    ties: fc.constantFrom(...TIES),
    levels: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: count, maxLength: count }),
    scores: fc.array(
      fc.tuple(
        fc.integer({ min: 0, max: count - 1 }),
        fc.integer({ min: 0, max: 1 }),
        // The last leaves the range, and what is known of the keys, behind.
        fc.constantFrom(0, 33, 67, 100, 3000),
      ),
      { minLength: 1, maxLength: 6 },
    ),
  }),
);

const CODES = ['VT', 'UB'] as const;

/** Narrow ranges on a coarse grid, so that ties are common. */
function textOf({ count, ties, levels }: Field): string {
  const gymnasts = Array.from({ length: count }, (_, i) => {
    const low = (12_000 + 100 * Math.floor(levels[i]! / 2)) / 1000;
    const three = [low, low + 0.067, low + 0.1].map((x) => x.toFixed(3));
    const range = `{ low: ${three[0]}, likely: ${three[1]}, high: ${three[2]}, falls: 0.1, d: 5.${i} }`;
    return `  - { id: g${i}, carried: 20.000, on: [VT, UB], ranges: { VT: ${range}, UB: ${range} } }`;
  });
  return `discipline: wag\nscoring: open\nties: ${ties}\ngymnasts:\n${gymnasts.join('\n')}\n`;
}

function logOf({ scores, levels }: Field, upTo: number): string {
  const rows = scores.slice(0, upTo).map(([who, code, above]) => {
    const score = (12_000 + 100 * Math.floor(levels[who]! / 2) + above) / 1000;
    return `g${who},${CODES[code]},${score.toFixed(3)},,,,`;
  });
  return `gymnast,apparatus,score,d,e,nd,note\n${rows.join('\n')}\n`;
}

function found(meet: Meet) {
  const model = modelOf(meet, findContest(meet, null));
  const { places, error, groups } = placeChances(model);
  return { places, error, medals: podiumsOf(model, groups, places, () => undefined).podiums };
}

function expectSame(meet: Meet, fresh: Meet): void {
  const [here, there] = [found(meet), found(fresh)];
  expect(here.error).toBe(there.error);
  for (const [i, places] of here.places.entries()) {
    for (const [k, chance] of places.entries()) {
      expect(chance).toBeCloseTo(there.places[i]![k]!, 12);
      // Certain is certain either way.
      expect(chance === 0).toBe(there.places[i]![k] === 0);
    }
  }
  expect(here.medals.length).toBe(there.medals.length);
  for (const [k, { chance }] of here.medals.entries()) {
    expect(chance).toBeCloseTo(there.medals[k]!.chance, 12);
  }
}

it('after every score the chances are those of a meet that is read anew', () => {
  fc.assert(
    fc.property(fields, (field) => {
      const text = textOf(field);
      const first = meetFrom(text);
      found(first);
      for (let k = 1; k <= field.scores.length; k++) {
        const fresh = meetFrom(text, logOf(field, k));
        expectSame(derived(first, { results: fresh.results }), fresh);
      }
    }),
    { numRuns: times(25) },
  );
});
