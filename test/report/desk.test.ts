/** The cards of the desk, as they are read. */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { record } from '../../lib/index.js';
import { deskCards } from '../../lib/report/desk.js';
import { EXAMPLES } from '../support/cli.js';

const meet = openMeet(join(EXAMPLES, 'harbour.yaml'));
const read = (name: string, now = meet) => {
  const card = deskCards(now, 'all-around').find((c) => c.name.includes(name));
  return card?.figures.map(({ score, to, aside }) => [score, to, aside].join(' | '));
};

it('say the lowest real score, what it is for and her chance of that score', () => {
  expect(read('Brondt')).toEqual([
    '14.633 | to lead | her chance of that score 6.5% · 14.600 shares the lead',
    '14.700 | to win | her chance of that score 2.2%',
    '13.766 | for a medal | her chance of that score 86%',
  ]);
});

it('say once what no score is enough for', () => {
  expect(read('Silvane')).toEqual([
    ' |  | she cannot take the lead here',
    ' |  | this routine alone is not enough for a medal',
  ]);
  expect(read('Oseiwa')).toEqual([
    '16.966 | to lead | above her realistic best',
    ' |  | this routine alone is not enough for a medal',
  ]);
});

it('say whose score is awaited, and who goes up after the next one', () => {
  const cards = deskCards(meet, 'all-around');
  expect(cards.find((c) => c.gymnast === 'brondt')?.after).toBe('then Costeira');
  const up = record(meet, { gymnast: 'brondt', apparatus: 'BB', score: 'up' }).meet;
  const [first] = deskCards(up, 'all-around');
  expect([first?.gymnast, first?.isAwaited]).toEqual(['brondt', true]);
});
