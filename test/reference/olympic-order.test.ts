/** The way round the hall, against what is written about it elsewhere. */
import { describe, expect, it } from 'vitest';
import type { Meet } from '../../lib/index.js';
import { meetFrom } from '../support/meet.js';
import { board, MEN, rowsOn, WOMEN } from './published.js';

/** Where a gymnast is, rotation by rotation. */
function wayOf(meet: Meet, gymnast: string): (string | null)[] {
  return meet.rotations.flatMap((r) =>
    r.stations.filter((s) => s.order.includes(gymnast)).map((s) => s.apparatus),
  );
}

/** The order on an apparatus in a rotation. */
function orderOn(meet: Meet, rotation: number, code: string): readonly string[] {
  const stations = meet.rotations.find((r) => r.rotation === rotation)?.stations ?? [];
  return stations.find((s) => s.apparatus === code)?.order ?? [];
}

// An encyclopaedia's article on Olympic order [press, unnamed].
describe('Olympic order', () => {
  it.each([
    ['wag', ['VT', 'UB', 'BB', 'FX']],
    ['mag', ['FX', 'PH', 'SR', 'VT', 'PB', 'HB']],
  ])('%s goes round in this order', (discipline, codes) => {
    const meet = meetFrom(`
discipline: ${discipline}
scoring: open
gymnasts: [{ id: a }, { id: b }]
`);
    expect(meet.apparatus.map((a) => a.code)).toEqual(codes);
    expect(wayOf(meet, 'b')).toEqual(codes);
    expect(meet.routines.filter((r) => r.gymnast === 'b').map((r) => r.apparatus)).toEqual(codes);
  });

  it.each([
    ['VT', ['VT', 'UB', 'BB', 'FX']],
    ['UB', ['UB', 'BB', 'FX', 'VT']],
    ['BB', ['BB', 'FX', 'VT', 'UB']],
    ['FX', ['FX', 'VT', 'UB', 'BB']],
  ])('women who start on %s come round the circle from there', (start, way) => {
    const meet = meetFrom(`
discipline: wag
scoring: open
gymnasts: [{ id: a }]
groups: [{ start: ${start}, order: [a] }]
`);
    expect(wayOf(meet, 'a')).toEqual(way);
  });

  it.each([
    ['FX', ['FX', 'PH', 'SR', 'VT', 'PB', 'HB']],
    ['PH', ['PH', 'SR', 'VT', 'PB', 'HB', 'FX']],
    ['SR', ['SR', 'VT', 'PB', 'HB', 'FX', 'PH']],
    ['VT', ['VT', 'PB', 'HB', 'FX', 'PH', 'SR']],
    ['PB', ['PB', 'HB', 'FX', 'PH', 'SR', 'VT']],
    ['HB', ['HB', 'FX', 'PH', 'SR', 'VT', 'PB']],
  ])('men who start on %s come round the circle from there', (start, way) => {
    const meet = meetFrom(`
discipline: mag
scoring: open
gymnasts: [{ id: a }]
groups: [{ start: ${start}, order: [a] }]
`);
    expect(wayOf(meet, 'a')).toEqual(way);
  });
});

/** A final of 24: the groups in the order of their starts, `a1` the first of group a. */
function finalOf24(discipline: 'wag' | 'mag'): Meet {
  const starts = discipline === 'wag' ? WOMEN : MEN;
  const size = 24 / starts.length;
  const groups = starts.map((start, g) => ({
    start,
    order: Array.from({ length: size }, (_, i) => `${'abcdef'[g] ?? '?'}${i + 1}`),
  }));
  return meetFrom(`
discipline: ${discipline}
scoring: open
gymnasts: [${groups.flatMap((g) => g.order.map((id) => `{ id: ${id} }`)).join(', ')}]
groups:
${groups.map((g) => `  - { start: ${g.start}, order: [${g.order.join(', ')}] }`).join('\n')}
`);
}

// Four groups of six (women), six of four (men); the best qualifiers' group (here group a) starts
// on VT (women), on FX (men): common practice, no published source. 24 in the final [data].
describe('the all-around final of 24', () => {
  it.each([
    ['wag', 'VT', 4, 6],
    ['mag', 'FX', 6, 4],
  ] as const)(
    '%s: the best group starts on %s; %i rotations, groups of %i',
    (discipline, start, rotations, size) => {
      const meet = finalOf24(discipline);
      expect(meet.rotations).toHaveLength(rotations);
      for (const { stations } of meet.rotations) {
        expect(stations.map((s) => s.order.length)).toEqual(Array(rotations).fill(size));
      }
      expect(orderOn(meet, 1, start)).toContain('a1');
      expect(meet.routines).toHaveLength(24 * rotations);
      expect(meet.routines[0]).toMatchObject({ gymnast: 'a1', apparatus: start, rotation: 1 });
    },
  );

  it('the best women end on floor, the best men on high bar', () => {
    expect(wayOf(finalOf24('wag'), 'a1').at(-1)).toBe('FX');
    expect(wayOf(finalOf24('mag'), 'a1').at(-1)).toBe('HB');
  });

  // Inferred from reports of 2020 and 2024 [press, unnamed].
  it('first up goes last in the next rotation', () => {
    const women = finalOf24('wag');
    expect(orderOn(women, 1, 'VT')).toEqual(['a1', 'a2', 'a3', 'a4', 'a5', 'a6']);
    expect(orderOn(women, 2, 'UB')).toEqual(['a2', 'a3', 'a4', 'a5', 'a6', 'a1']);
    expect(orderOn(women, 3, 'BB')).toEqual(['a3', 'a4', 'a5', 'a6', 'a1', 'a2']);
    expect(orderOn(women, 4, 'FX')).toEqual(['a4', 'a5', 'a6', 'a1', 'a2', 'a3']);
    const men = finalOf24('mag');
    expect(orderOn(men, 5, 'PB')).toEqual(['a1', 'a2', 'a3', 'a4']);
    expect(orderOn(men, 6, 'HB')).toEqual(['a2', 'a3', 'a4', 'a1']);
  });

  it('the four stations go up side by side: all firsts, then all seconds', () => {
    const up = finalOf24('wag').routines.slice(0, 8);
    expect(up.map((r) => `${r.gymnast} ${r.apparatus}`)).toEqual([
      'a1 VT',
      'b1 UB',
      'c1 BB',
      'd1 FX',
      'a2 VT',
      'b2 UB',
      'c2 BB',
      'd2 FX',
    ]);
  });
});

// Apparatus finals: the order is drawn: common practice, no published source. Eight start; nine
// started at some [data].
describe('apparatus finals', () => {
  it('the order of each final is as drawn, whatever it was on the apparatus before', () => {
    const meet = meetFrom(`
discipline: wag
scoring: open
contests: [{ kind: apparatus, on: UB }, { kind: apparatus, on: BB }]
gymnasts: [{ id: a }, { id: b }, { id: c }, { id: d }]
rotations: [{ UB: [c, a, b] }, { BB: [b, d, c] }]
`);
    expect(meet.routines.map((r) => `${r.gymnast} ${r.apparatus}`)).toEqual([
      'c UB',
      'a UB',
      'b UB',
      'b BB',
      'd BB',
      'c BB',
    ]);
  });

  it('nine can start, and the ninth has a place', () => {
    const ids = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i'];
    const scores = Object.fromEntries(ids.map((id, i) => [id, `14.${9 - i}00`]));
    const meet = meetFrom(
      `
discipline: mag
scoring: open
contests: [{ kind: apparatus, on: SR }]
gymnasts: [${ids.map((id) => `{ id: ${id} }`).join(', ')}]
`,
      `gymnast,apparatus,score\n${rowsOn('SR', scores).join('\n')}\n`,
    );
    expect(board(meet)).toHaveLength(9);
    expect(board(meet).at(-1)).toBe('9 i 14.100');
  });
});
