/** Who steps in for whom, and who goes up after whom, as it is typed at the prompt. */
import { describe, expect, it } from 'vitest';
import { readMove, record } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const MEET = meetFrom(
  `discipline: wag
scoring: open
gymnasts:
  - { id: fitch, name: Nia Fitch }
  - { id: lund, name: Kari Lund }
  - { id: rokafor, name: Ruth Okafor }
  - { id: mokafor, name: Mina Okafor }
  - { id: velde, name: Lena Velde, on: [] }
groups:
  - { start: VT, order: [fitch, lund] }
  - { start: UB, order: [rokafor, mokafor] }
`,
  logFrom('fitch,VT,13.000'),
);

const told = (line: string) => {
  const move = readMove(MEET, line);
  if (move === null) return null;
  const { gymnast, apparatus, score, note } = move.told;
  return [gymnast, apparatus, score, note ?? '', move.question ?? ''].join('|');
};

describe('a line that changes who goes up', () => {
  it.each([
    [
      'velde for fitch',
      'velde|all|for:fitch||Velde steps in for Fitch on everything from here on?',
    ],
    ['velde for fitch on beam', 'velde|BB|for:fitch||Velde steps in for Fitch on beam?'],
    [
      'lena velde steps in for nia fitch floor # ankle',
      'velde|FX|for:fitch|ankle|Velde steps in for Fitch on floor?',
    ],
    ['fitch after lund', 'fitch|UB|after:lund||'],
    ['fitch goes up after lund on floor exercise', null],
    ['fitch goes after lund on floor', 'fitch|FX|after:lund||'],
  ])('%s', (line, wanted) => {
    if (wanted !== null) expect(told(line)).toBe(wanted);
  });

  it.each(['velde 13.2', 'needs fitch', 'fitch for gold', 'nobody for fitch', 'standings after 2'])(
    'is not: %s',
    (line) => {
      expect(told(line)).toBeNull();
    },
  );

  it('asks which of two of one name', () => {
    expect(() => readMove(MEET, 'velde for okafor')).toThrow(/could be either of two/);
  });

  it('is taken by record', () => {
    const move = readMove(MEET, 'velde for fitch');
    if (move === null) throw new Error('no move');
    const { meet } = record(MEET, move.told);
    expect(meet.rotations[1]?.stations[0]?.order).toEqual(['lund', 'velde']);
  });
});
