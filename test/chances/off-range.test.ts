/** What a score would do that she cannot have by her range: it may lie between the totals of everybody else. */
import { expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { findContest } from '../../lib/contest/contest.js';
import { rangeAt, routineOf } from '../../lib/meet/meet.js';
import { distributionIn } from '../../lib/range/distribution.js';
import { meetFrom } from '../support/meet.js';

const MEET = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
gymnasts:
  - { id: ada, ranges: { FX: { low: 12.000, likely: 12.100, high: 12.200, falls: 0 } } }
  - { id: bea, ranges: { FX: { low: 13.000, likely: 13.050, high: 13.100, falls: 0 } } }
`;

it.each([
  [12_999, []],
  [13_000, [13_000]],
  [13_050, [13_000, 13_033]],
  [13_066, [13_000, 13_033, 13_066]],
  [13_101, [13_000, 13_033, 13_066, 13_100]],
])('with %i she wins where the other has %j', (score, lower) => {
  const meet = meetFrom(MEET);
  const model = modelOf(meet, findContest(meet, null));
  const rival = distributionIn(meet, rangeAt(meet, 1));
  const expected = lower.reduce((sum, one) => {
    return sum + (rival?.chances[rival.scores.indexOf(one)] ?? Number.NaN);
  }, 0);
  const routine = meet.routines.findIndex((r) => r.gymnast === 'ada');
  const { cases } = placeChances(model, { cases: [{ who: 0, routine, score, title: false }] });
  expect(cases[0]?.places[0]).toBeCloseTo(expected, 12);
});

// All-around, where ties on total are told apart by cells, or not at all.
it.each([false, true])(
  'ahead of everybody and behind everybody, ties left open: %s',
  (isByTotal) => {
    const gymnasts = ['ada', 'bea', 'cora', 'dana'].map(
      (id, i) =>
        `  - { id: ${id}, ranges: { VT: ${rangeOf(i)}, UB: ${rangeOf(i + 1)}, BB: ${rangeOf(i)}, FX: ${rangeOf(0)} } }`,
    );
    const meet = meetFrom(
      `discipline: wag\nscoring: open\nties: [best-scores]\ngymnasts:\n${gymnasts.join('\n')}\n`,
    );
    const model = modelOf(meet, findContest(meet, null));
    const cases = [20_000, 0].map((score) => ({
      who: 1,
      routine: routineOf(meet, 'bea', 'VT')?.index ?? -1,
      score,
      title: false,
    }));
    const found = placeChances(model, { cases, isByTotal, mostResults: 0 });
    const [high, low] = found.cases;
    expect(high?.places[0]).toBeGreaterThan(1 - 1e-6 - found.error);
    expect(low?.places[3]).toBeGreaterThan(1 - 1e-6 - found.error);
    expect(found.error).toBeLessThan(0.1);
  },
);

const rangeOf = (i: number) =>
  `{ low: 13.${i}00, likely: 13.${i}50, high: 13.${i + 3}00, falls: 0 }`;
