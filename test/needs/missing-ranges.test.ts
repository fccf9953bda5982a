/** A range that is missing keeps back only what hangs on it. */
import { describe, expect, it } from 'vitest';
import { needs, type Target } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const GIVEN = '{ low: 15.000, likely: 16.000, high: 17.000, falls: 0 }';
const meet = meetFrom(
  `discipline: [{ code: HP, name: hoop, limit: 20.000 }, { code: BL, name: ball, limit: 18.000 }]
scoring: open
gymnasts:
  - { id: ida, ranges: { HP: ${GIVEN}, BL: ${GIVEN} } }
  - { id: una, ranges: { HP: ${GIVEN} } }
  - { id: ola, ranges: { HP: ${GIVEN}, BL: { low: 15.000, likely: 15.500, high: 17.000, falls: 0 } } }
`,
  logFrom('ida,HP,19.500', 'una,HP,17.000', 'ola,HP,16.000'),
);

function asked(target: Target, more: { margin?: string } = {}) {
  const [need] = needs(meet, 'ida', { for: target, ...more }).needs;
  return need;
}

describe('with a rival whose range is missing', () => {
  it('a total is one’s own: 35.000 - 19.500', () => {
    expect(asked('total:35.000')).toMatchObject({ status: 'needs', level: 15_500, ahead: 15_500 });
  });

  it('another rival can be beaten: 16.000 + 15.500 - 19.500 ties, and 19.500 is the better of best scores', () => {
    expect(asked('beat:ola')).toMatchObject({
      level: 12_000,
      ahead: 12_000,
      tieGoesTo: 'her',
      mark: { id: 'ola', total: 31_500 },
      missing: [],
    });
  });

  it.each(['medal', 'place:3', 'place:4'] as const)('%s is theirs who are no more', (target) => {
    expect(asked(target)).toMatchObject({ status: 'secured', ahead: 0, mark: null, missing: [] });
  });

  it.each(['win', 'place:2', 'beat:una'] as const)('%s hangs on her', (target) => {
    expect(() => asked(target)).toThrow('this needs a range for una on BL');
    const sheet = needs(meet, 'ida');
    const win = sheet.needs.find((n) => n.target === 'win' && n.rivals === 'likely');
    expect(win).toMatchObject({ status: null, missing: [{ gymnast: 'una', apparatus: 'BL' }] });
  });
});

it('a margin goes on top of a total as well', () => {
  expect(asked('total:35.000', { margin: '0.500' })).toMatchObject({
    level: 16_000,
    ahead: 16_000,
    mark: { id: null, total: 35_000 },
  });
});
