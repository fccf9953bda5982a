/** `hold`: the place on the board where all have done equally many routines, else that by projection. */
import { describe, expect, it } from 'vitest';
import { claim, needs, standings } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const RANGE = '{ low: 12.0, likely: 13.0, high: 14.0, falls: 0.0 }';

/** Floor and high bar; the first two begin on floor, the third on high bar. */
const MEET = `
discipline: [{ code: FX, name: floor, limit: 16.000 }, { code: HB, name: high bar, limit: 16.000 }]
scoring: open
startOrder: fixed
usual: { FX: ${RANGE}, HB: ${RANGE} }
gymnasts:
  - { id: ott, name: Bo Ott }
  - { id: lind, name: Per Lind }
  - { id: wren, name: Cy Wren }
groups: [{ start: FX, order: [ott, lind] }, { start: HB, order: [wren] }]
`;

/** After the first rotation: Lind 14.000, Wren 13.500, Ott 12.000. */
const ONE = ['ott,FX,12.000', 'lind,FX,14.000', 'wren,HB,13.500'];

const meetAfter = (...rows: string[]) => meetFrom(MEET, logFrom(...ONE, ...rows));

describe('the place to hold', () => {
  it('is that of the board while all have done equally many', () => {
    const sheet = needs(meetAfter(), 'ott');
    expect(sheet).toMatchObject({ place: 3, hold: { place: 3, by: 'board' } });
    expect(needs(meetAfter(), 'lind', { for: 'hold' }).needs[0]).toMatchObject({
      // Wren is likely to have 26.500.
      mark: { id: 'wren', total: 26_500 },
      level: 12_500,
    });
  });

  it('is that by projection in the middle of a rotation, and no board of unequal sets', () => {
    // Ott has two routines and leads with 24.500; Lind will likely have 27.000, Wren 26.500.
    const meet = meetAfter('ott,HB,12.500');
    expect(standings(meet).rows.map((r) => r.id)).toEqual(['ott', 'lind', 'wren']);
    const sheet = needs(meet, 'wren');
    expect(sheet).toMatchObject({ place: 3, hold: { place: 2, by: 'projection' } });
    expect(needs(meet, 'wren', { for: 'hold' }).needs[0]).toMatchObject({
      // Of his rivals the second best: Ott, with 24.500; the tie rule decides at 11.000.
      mark: { id: 'ott', total: 24_500 },
      level: 11_000,
    });
  });

  it('is what a claim to hold is about', () => {
    const meet = meetAfter('ott,HB,12.500');
    const [hold, second] = (['hold', 'place:2'] as const).map((to) => claim(meet, 'wren', { to }));
    expect(hold?.target).toBe('hold');
    expect([hold?.chance, hold?.stresses]).toEqual([second?.chance, second?.stresses]);
  });

  it('is what is settled of it', () => {
    // Whatever Wren and Lind score within 12.000 to 14.000, they end ahead of 24.500.
    const meet = meetAfter('ott,HB,12.500');
    const { settled } = needs(meet, 'wren');
    expect(settled).toContainEqual({ target: 'hold', status: 'secured', by: 'ranges' });
  });

  it('is none before there is a place', () => {
    const meet = meetFrom(MEET, logFrom('ott,FX,12.000'));
    expect(needs(meet, 'wren').hold).toBeNull();
    expect(() => needs(meet, 'wren', { for: 'hold' })).toThrow('Cy Wren has no place to hold yet');
  });

  it('by projection takes everybody’s likely, and says whose is missing', () => {
    const text = MEET.replace(`usual: { FX: ${RANGE}, HB: ${RANGE} }`, `usual: { HB: ${RANGE} }`);
    const meet = meetFrom(text, logFrom(...ONE, 'ott,HB,12.500'));
    expect(needs(meet, 'lind')).toMatchObject({ place: 2, hold: null });
    expect(() => needs(meet, 'lind', { for: 'hold' })).toThrow('a range for wren on FX');
  });
});
