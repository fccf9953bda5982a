/** What a score would do that she cannot have by her range: it may lie between the totals of everybody else. */
import { expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { findContest } from '../../lib/contest/contest.js';
import { rangeAt } from '../../lib/meet/meet.js';
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
