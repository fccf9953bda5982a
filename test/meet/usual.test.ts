/** What is usual, where a meet gives no range, or not all of one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chances, needs, score } from '../../lib/index.js';
import { completed, usualFigures, usualRange } from '../../lib/meet/usual.js';
import { asScore } from '../../lib/score.js';
import type { Scoring } from '../../lib/scoring.js';
import { meetFrom, readAll } from '../support/meet.js';
import { times } from '../support/times.js';

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

  // Worked out by hand from docs/ranges.md. Women's floor: level 12.270, E 7.500, spread 0.300, between 0.830.
  // The range is [likely - 3.2 s, likely + 2.1 s] with likely = mean + 1.1 s / 6.
  it('lies around what is usual, as wide as gymnasts differ', () => {
    // s = √(300² + 830²) = 882.553; 12270 + 161.801.
    expect(floor('')).toMatchObject({ low: 9608, likely: 12_432, high: 14_285 });
  });

  it('leans on her own scores tonight; a third of what gymnasts differ by shows on no other apparatus', () => {
    // Vault: level 12.980, between 0.680: (14500 - 12980) / 680 = 2.235294, half of it believed;
    // 12270 + 0.5 · 2.235294 · 830 = 13197.647; s = √(300² + 830² (1/3 + 2/3 · 1/2)) = 741.286; + 135.902.
    const well = floor(`${HEADER}ann,VT,14.500\n`);
    expect(well).toMatchObject({ low: 10_962, likely: 13_334, high: 14_890 });
  });

  it('is around her D and what is usually taken off, where the D is known', () => {
    const of = (log: string) => {
      const list = 'gymnasts: [{ id: ann, ranges: { FX: { d: 5.6 } } }]';
      const one = meetFrom(`discipline: wag\nscoring: open\n${list}\n`, log);
      return one.ranges[one.routines.findIndex((r) => r.apparatus === 'FX')];
    };
    // 5600 + 7500; s = √(300² + (830 / 2)²) = 512.079; + 93.881.
    expect(of('')).toMatchObject({ low: 11_555, likely: 13_194, high: 14_269, d: 5600 });
    // 13100 + 0.5 · 2.235294 · 415 = 13563.824; s = √(300² + 415² · 2/3) = 452.585; + 82.974.
    const well = of(`${HEADER}ann,VT,14.500\n`);
    expect(well).toMatchObject({ low: 12_199, likely: 13_647, high: 14_597 });
    // A D that is only asked about does the same.
    const asked = meetFrom('discipline: wag\nscoring: open\ngymnasts: [{ id: ann }]\n');
    expect(needs(asked, 'ann', { on: 'FX', d: score('5.6') })).toMatchObject({
      range: { low: 11_555, likely: 13_194, high: 14_269, d: 5600 },
    });
  });

  it('leans on the others of the meet who are known, until she has a score', () => {
    const known = (id: string, likely: number) => {
      const [low, high] = [likely - 1, likely + 0.7].map((s) => s.toFixed(3));
      const range = `{ low: ${low}, likely: ${likely}, high: ${high}, falls: 0.1 }`;
      return `{ id: ${id}, ranges: { FX: ${range} } }`;
    };
    const of = (log: string) => {
      const list = `[{ id: ann }, ${known('bea', 13.6)}, ${known('cleo', 13.2)}]`;
      const one = meetFrom(`discipline: wag\nscoring: open\ngymnasts: ${list}\n`, log);
      return one.ranges[
        one.routines.findIndex((r) => r.gymnast === 'ann' && r.apparatus === 'FX')
      ]!;
    };
    // Means of their ranges: 13.550 and 13.150. (13550 + 13150 + 2 · 12270) / 4 = 12810; + 161.801.
    expect(of('')).toMatchObject({ low: 10_148, likely: 12_972, high: 14_825 });
    expect(of(`${HEADER}ann,VT,14.500\n`)).toEqual(floor(`${HEADER}ann,VT,14.500\n`));
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
    expect(own.ranges[0]).toEqual({ ...NOTHING, within: null, from: null });
  });
});

describe('a range that is half given', () => {
  it('is completed around what is given, in order, within the limit', () => {
    const points = fc.option(fc.integer({ min: 0, max: 100_000 }), { nil: null });
    fc.assert(
      fc.property(
        fc.constantFrom(OPEN, TEN),
        fc.constantFrom('VT', 'VT2', 'UB', 'BB', 'FX'),
        fc.tuple(points, points, points),
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
      { numRuns: times(500), seed: 20261125 },
    );
  });
});
