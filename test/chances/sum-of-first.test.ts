/** A sum of chances that are all there are is 1, whatever rounding leaves of the last digits. */
import { expect, it } from 'vitest';
import { sumOfFirst } from '../../lib/chances/sweep/places.js';

it('is 1 where nothing but rounding is missing, and less where something is', () => {
  const tenths = new Array<number>(10).fill(0.1);
  expect(tenths.reduce((a, b) => a + b, 0)).toBe(0.9999999999999999);
  expect(sumOfFirst(tenths, 10)).toBe(1);
  expect(sumOfFirst(tenths, 9)).toBeCloseTo(0.9, 15);
  expect(sumOfFirst([1 - 1e-14, 0], 2)).toBe(1 - 1e-14);
  expect(sumOfFirst([0.7, 0.4], 2)).toBe(1);
});
