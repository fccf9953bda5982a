/** Where nothing is to come a sample has nothing to draw: its answer is the board, and certain. */
import { expect, it } from 'vitest';
import { chances } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const MEET = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: UB, ties: [execution] }]
gymnasts: [{ id: ann }, { id: bea }, { id: cleo }]
`;
/** Ann and Bea are level on 13.500, and Ann has the higher E score; Cleo has none to compare. */
const LOG = logFrom('ann,UB,13.500,5.500,8.000', 'bea,UB,13.500,5.600,7.900', 'cleo,UB,13.000');

it('is the board', () => {
  const meet = meetFrom(MEET, LOG);
  const told: unknown[] = [];
  const drawn = chances(meet, null, { sample: 1000, onDraw: (end) => told.push(end) });
  expect(drawn).toEqual({ ...chances(meet), method: 'sampled' });
  expect(drawn.error).toBe(0);
  expect(drawn.contenders.map((c) => [c.id, c.win, c.places])).toEqual([
    ['ann', 1, [1, 0, 0]],
    ['bea', 0, [0, 1, 0]],
    ['cleo', 0, [0, 0, 1]],
  ]);
  expect(drawn.podiums).toEqual([{ places: [['ann'], ['bea'], ['cleo']], chance: 1 }]);
  expect(told).toEqual([]);
});
