/** What is usual, where a meet gives no range, or not all of one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chances, needs } from '../../lib/index.js';
import { completed, usualFigures, usualRange } from '../../lib/meet/usual.js';
import { asScore } from '../../lib/score.js';
import type { Scoring } from '../../lib/scoring.js';
import { meetFrom, readAll } from '../support/meet.js';

const OPEN: Scoring = {
  system: 'open',
  decimals: 3,
  grid: { counting: 3, stepMillionths: 100_000, decimals: 3 },
  fall: 1000,
  ceiling: 17_000,
};
const TEN: Scoring = {
  system: 'ten',
  decimals: 4,
  grid: { counting: 4, stepMillionths: 50_000, decimals: 4 },
  fall: 5000,
  ceiling: 100_000,
};
const NOTHING = { low: null, likely: null, high: null, falls: null, d: null };

describe('a range nobody has given', () => {
  const meet = (log: string) =>
    meetFrom('discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n', log);
  const floor = (log: string, gymnast = 'ann') => {
    const { routines, ranges } = meet(log);
    return ranges[routines.findIndex((r) => r.gymnast === gymnast && r.apparatus === 'FX')]!;
  };
  const HEADER = 'gymnast,apparatus,score\n';

  it('is what is usual on the apparatus, the falls too', () => {
    const range = floor('');
    const figures = usualFigures('open', 'wag', 'FX')!;
    expect(range.from).toBe('usual');
    expect(range.falls).toBe(figures.falls);
    expect(Math.abs(range.likely! - figures.level)).toBeLessThan(300);
  });

  it('follows her own scores tonight, and is narrower the more of them there are', () => {
    const none = floor('');
    const well = floor(`${HEADER}ann,VT,14.500\n`);
    const twice = floor(`${HEADER}ann,VT,14.500\nann,UB,14.500\n`);
    const badly = floor(`${HEADER}ann,VT,11.500\n`);
    expect(well.likely).toBeGreaterThan(none.likely! + 300);
    expect(badly.likely).toBeLessThan(none.likely! - 300);
    expect(well.high! - well.low!).toBeLessThan(none.high! - none.low!);
    expect(twice.high! - twice.low!).toBeLessThan(well.high! - well.low!);
    // Wider than what is usual around a level that is known.
    const known = usualRange(OPEN, 'wag', 'FX', 13_000)!;
    expect(twice.high! - twice.low!).toBeGreaterThan(known.high - known.low);
    // Another's scores say nothing of her.
    expect(floor(`${HEADER}bea,VT,14.500\n`)).toEqual(none);
  });

  it('is enough for every answer, and check says on whom answers rest so', () => {
    const one = meet(`${HEADER}ann,VT,13.500\n`);
    expect(
      chances(one)
        .contenders.map((c) => c.win)
        .every((p) => p > 0),
    ).toBe(true);
    expect(needs(one, 'bea').needs.every((n) => n.missing.length === 0)).toBe(true);
    const { problems } = readAll(
      'discipline: wag\nscoring: open\ngymnasts: [{ id: ann, ranges: { VT: { low: 12, likely: 13, high: 14, falls: 0 } } }, { id: bea }]\n',
    );
    expect(problems.map((p) => [p.severity, p.code, p.message]).sort()).toEqual([
      ['warning', 'missing-range', 'ann has no range on UB, BB, FX'],
      ['warning', 'missing-range', 'bea has no range on VT, UB, BB, FX'],
    ]);
    expect(problems[0]?.mend).toContain('what is usual on the apparatus stands in');
  });

  it('of apparatus of a meet’s own stays missing', () => {
    const own = meetFrom('discipline: [{ code: HP }]\nscoring: open\ngymnasts: [{ id: ann }]\n');
    expect(own.ranges[0]).toEqual({ ...NOTHING, from: null });
  });
});

describe('a range that is half given', () => {
  it('is completed around what is given, in order, within the limit', () => {
    const score = fc.option(fc.integer({ min: 0, max: 100_000 }), { nil: null });
    fc.assert(
      fc.property(
        fc.constantFrom(OPEN, TEN),
        fc.constantFrom('VT', 'VT2', 'UB', 'BB', 'FX'),
        fc.tuple(score, score, score),
        fc.option(fc.double({ min: 0, max: 1, noNaN: true }), { nil: null }),
        fc.subarray(['VT', 'UB', 'BB'] as const),
        fc.integer({ min: 0, max: 100_000 }),
        (scoring, code, scores, falls, on, tonight) => {
          const top = scoring.ceiling + 1;
          const fits = (s: number | null) => (s === null ? null : asScore(s % top));
          const given = scores.map(fits);
          const order = given.filter((s) => s !== null).sort((a, b) => a - b);
          const sorted = given.map((s) => (s === null ? null : order.shift()!));
          const [low = null, likely = null, high = null] = sorted;
          const part = { low, likely, high, falls, d: null };
          const whole = completed(
            scoring,
            'wag',
            code,
            part,
            on.map((apparatus) => ({ apparatus, score: fits(tonight)! })),
          )!;
          expect(low === null || whole.low === low).toBe(true);
          expect(likely === null || whole.likely === likely).toBe(true);
          expect(high === null || whole.high === high).toBe(true);
          expect(falls === null || whole.falls === falls).toBe(true);
          expect(whole.low).toBeGreaterThanOrEqual(0);
          expect(whole.low).toBeLessThanOrEqual(whole.likely);
          expect(whole.likely).toBeLessThanOrEqual(whole.high);
          expect(whole.high).toBeLessThanOrEqual(scoring.ceiling);
        },
      ),
      { numRuns: 2000, seed: 20261125 },
    );
  });
});
