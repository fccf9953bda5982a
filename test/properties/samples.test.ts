import { describe, expect, it } from 'vitest';
import { samplingOf } from '../../lib/chances/sampled/options.js';
import { LAWS } from './all.js';
import { tryAll } from './runs.js';

tryAll(LAWS.samples);

describe('what is asked of sampling', () => {
  it('is sampled only where something asks for it', () => {
    expect(samplingOf({})).toBeNull();
    expect(samplingOf({ seed: 7, dayForm: 0 })).toBeNull();
    expect(samplingOf({ sample: null, precision: null, dayForm: null })).toBeNull();
    const left = { seed: 1, dayForm: 0, onDraw: null, precision: null, onProgress: null };
    expect(samplingOf({ sample: 5 })).toEqual({ ...left, sample: 5 });
    expect(samplingOf({ dayForm: 0.3 })).toEqual({ ...left, dayForm: 0.3, sample: 250_000 });
    expect(samplingOf({ precision: 0.01 })?.sample).toBe(1e9);
    expect(samplingOf({ precision: 0.01, sample: 9000, seed: -3 })).toEqual({
      ...left,
      precision: 0.01,
      sample: 9000,
      seed: -3,
    });
  });

  it.each([
    ['wrong-sample', { sample: 0 }],
    ['wrong-sample', { sample: 1.5 }],
    ['wrong-sample', { sample: 1e9 + 1 }],
    ['wrong-sample', { sample: Number.NaN }],
    ['wrong-seed', { sample: 1, seed: 0.5 }],
    ['wrong-seed', { seed: Number.POSITIVE_INFINITY }],
    ['wrong-day-form', { dayForm: -0.1 }],
    ['wrong-day-form', { dayForm: 1.01 }],
    ['wrong-day-form', { dayForm: Number.NaN }],
    ['wrong-precision', { precision: 0 }],
    ['wrong-precision', { precision: Number.NaN }],
  ])('is refused as %s: %j', (code, options) => {
    expect(() => samplingOf(options)).toThrow(
      expect.objectContaining({ code, kind: 'usage', mend: expect.any(String) }),
    );
  });
});
