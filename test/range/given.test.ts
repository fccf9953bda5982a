/** A range that somebody gives is checked, and what comes of it is the caller's own. */
import { expect, it } from 'vitest';
import {
  chanceOfAtLeast,
  chances,
  distributionOf,
  LastRotationError,
  type Range,
  score,
} from '../../lib/index.js';
import { meetFrom } from '../support/meet.js';

const FX = 'FX: { low: 12.500, likely: 13.200, high: 13.800, falls: 0.1 }';
const MEET = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
usual: { ${FX} }
gymnasts: [{ id: ann }, { id: bea }]
`;
const [low, likely, high] = [score('12.500'), score('13.200'), score('13.800')];
const meet = meetFrom(MEET);
const range: Range = { ...(meet.ranges[0] as Range), low, likely, high, falls: 0.1 };

function codeOf(ask: () => unknown): string | null {
  try {
    ask();
    return null;
  } catch (error) {
    if (error instanceof LastRotationError) return error.code;
    throw error;
  }
}

it.each<[what: string, given: object, code: string]>([
  ['points', { low: 12.5, likely: 13.2, high: 13.8 }, 'wrong-score'],
  ['falls above 1', { falls: 2 }, 'wrong-range'],
  ['falls that are no number', { falls: Number.NaN }, 'wrong-range'],
  ['low above likely', { low: high, likely: low }, 'wrong-range'],
  ['likely above high', { likely: score('14.000') }, 'wrong-range'],
])('%s are refused', (_, given, code) => {
  expect(codeOf(() => distributionOf(meet, { ...range, ...given } as Range))).toBe(code);
});

it('a range of which something is missing has no distribution', () => {
  expect(distributionOf(meet, {} as Range)).toBeNull();
  expect(distributionOf(meet, { ...range, falls: null })).toBeNull();
});

it('what is done to a distribution changes no answer', () => {
  const before = chances(meet);
  const given = distributionOf(meet, meet.ranges[0] as Range);
  if (given === null) throw new Error('no distribution');
  (given.chances as number[]).fill(0);
  (given.scores as number[]).reverse();
  expect(chances(meet)).toEqual(before);
  expect(distributionOf(meet, meet.ranges[0] as Range)).not.toEqual(given);
});

it('a chance is not asked of points', () => {
  const distribution = distributionOf(meet, range);
  if (distribution === null) throw new Error('no distribution');
  expect(chanceOfAtLeast(distribution, score('13.800'))).toBeLessThan(0.01);
  expect(codeOf(() => chanceOfAtLeast(distribution, 13.8))).toBe('wrong-score');
});
