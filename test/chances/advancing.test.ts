/** Who goes through where ties on total are left unresolved: half of each, and the error says so. */
import { expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { findContest } from '../../lib/contest/contest.js';
import { logFrom, meetFrom } from '../support/meet.js';

// Both end on 51.000. The best three of ann are 14, 13 and 12, those of bea 13, 13 and 12.5: 39.0 to 38.5.
const meet = meetFrom(
  `discipline: wag
scoring: open
contests: [{ kind: all-around, ties: [best-scores], advance: { places: 1 } }]
gymnasts:
  - { id: ann, ranges: { FX: { low: 12.0, likely: 12.0, high: 12.0, falls: 0 } } }
  - { id: bea, ranges: { FX: { low: 12.5, likely: 12.5, high: 12.5, falls: 0 } } }
`,
  logFrom(
    ...['ann,VT,14.0', 'ann,UB,13.0', 'ann,BB,12.0'],
    ...['bea,VT,13.0', 'bea,UB,13.0', 'bea,BB,12.5'],
  ),
);
const model = modelOf(meet, findContest(meet, null));

it('the rule decides where it is looked at', () => {
  const { advance, error } = placeChances(model, { advance: true });
  expect(advance).toEqual([1, 0]);
  expect(error).toBeLessThanOrEqual(1e-12);
});

it('and is all the error where it is not', () => {
  for (const isRough of [true, false]) {
    const { advance, error } = placeChances(model, { advance: true, isByTotal: true, isRough });
    expect(advance).toEqual([0.5, 0.5]);
    expect(error).toBeGreaterThanOrEqual(0.5);
    expect(error).toBeLessThan(0.51);
  }
});

it('neighbours taken together are bounded by what they differ by', () => {
  // Sixty of one kind for one place: 1/60 each but for ties, which count for all who share them.
  const field = meetFrom(
    `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [], advance: { places: 1 } }]
gymnasts:
${Array.from({ length: 60 }, (_, i) => `  - { id: g${i}, ranges: { FX: { low: 12.0, likely: 13.0, high: 14.0, falls: 0.1 } } }`).join('\n')}
`,
  );
  const all = modelOf(field, findContest(field, null));
  const [exact, rough] = [false, true].map((isRough) =>
    placeChances(all, { advance: true, only: [], isRough }),
  );
  const [truth = 0] = exact?.advance ?? [];
  const [found = 0] = rough?.advance ?? [];
  expect(exact?.error).toBeLessThanOrEqual(1e-12);
  expect(Math.abs(found - truth)).toBeLessThanOrEqual(rough?.error ?? 0);
  expect(rough?.error).toBeGreaterThan(Math.abs(found - truth));
});
