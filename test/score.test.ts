import { describe, expect, it } from 'vitest';
import { formatScore, parseScore } from '../lib/score.js';

describe('scores as people write them', () => {
  it.each([
    ['13.566', 13566],
    ['13,566', 13566],
    ['13.5', 13500],
    [' 14 ', 14000],
    ['0', 0],
    ['0.001', 1],
    ['007.5', 7500],
    ['999.999', 999999],
  ])('%s is read', (text, units) => {
    expect(parseScore(text, 3)).toEqual({ value: units });
  });

  it.each(['', '-1', '+1', '13.', '.5', '1e1', '13.5.6', '0x10', 'NaN', '13 566', '١٣'])(
    '"%s" is refused',
    (text) => {
      expect(parseScore(text, 3)).toHaveProperty('wrong');
    },
  );

  it('more decimals than the meet publishes are refused, even zeros', () => {
    expect(parseScore('13.5000', 3)).toHaveProperty('wrong');
    expect(parseScore('9.9375', 4)).toEqual({ value: 99375 });
    expect(parseScore('9.9375', 3)).toHaveProperty('wrong');
  });

  it('a lost point is noticed', () => {
    expect(parseScore('13566', 3)).toHaveProperty('wrong');
  });

  it('is printed with all decimals, and gaps keep their sign', () => {
    expect(formatScore(13500, 3)).toBe('13.500');
    expect(formatScore(7, 3)).toBe('0.007');
    expect(formatScore(-101, 3)).toBe('-0.101');
    expect(formatScore(1980375, 4)).toBe('198.0375');
  });
});
