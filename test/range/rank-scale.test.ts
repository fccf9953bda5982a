/** Totals in one order with keys, worked out by hand. */
import { expect, it } from 'vitest';
import {
  chancesBefore,
  rankCount,
  rankOf,
  rankScale,
  totalsOf,
} from '../../lib/range/rank-scale.js';

const scale = rankScale(
  [
    [8, 10],
    [5, 8],
  ],
  3,
);

it('the higher total is ahead, and on one total the lower key', () => {
  expect([rankOf(scale, 10, 0), rankOf(scale, 10, 2)]).toEqual([0, 2]);
  expect([rankOf(scale, 8, 0), rankOf(scale, 5, 1)]).toEqual([3, 7]);
  expect(rankCount(scale)).toBeGreaterThan(rankOf(scale, 5, 2));
  expect([...totalsOf(scale)].slice(0, 3)).toEqual([10, 8, 5]);
});

it('a total is before those that are lower; what is not asked about is behind all', () => {
  const distribution = { scores: [5, 8, 10], chances: [0.5, 0.25, 0.25] };
  expect([...chancesBefore(distribution, scale, 0)]).toEqual([0, 0.25, 0.5, 1, 1]);
  expect([...chancesBefore(distribution, scale, 8)]).toEqual([0, 0.25, 0.5, 0.5, 1]);
  expect([...chancesBefore(distribution, scale, 9)]).toEqual([0, 0.25, 0.25, 0.25, 1]);
});
