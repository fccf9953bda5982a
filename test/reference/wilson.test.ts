/** Wilson's interval against Newcombe, Statistics in Medicine 17 (1998), 857-872, method 3. */
import { describe, expect, it } from 'vitest';
import { wilson } from '../../lib/history/wilson.js';

describe('Wilson, 95%', () => {
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('%i of %i: %f to %f', (successes, cases, low, high) => {
    const found = wilson(successes, cases);
    expect(found[0]).toBeCloseTo(low, 4);
    expect(found[1]).toBeCloseTo(high, 4);
    // The other way round it is the mirror image.
    const [mirroredLow, mirroredHigh] = wilson(cases - successes, cases);
    expect(mirroredLow).toBeCloseTo(1 - found[1], 12);
    expect(mirroredHigh).toBeCloseTo(1 - found[0], 12);
  });

  it('of nothing is anything', () => {
    expect(wilson(0, 0)).toEqual([0, 1]);
  });
});
