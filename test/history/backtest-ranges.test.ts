/** What was known before a final, and the same finals with other ranges. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRanges } from '../../lib/history/fit.js';
import { knownIn, rangesFor } from '../../lib/history/known.js';
import { finalsOf, wasKnownTo } from '../../lib/history/rounds.js';
import { backtest } from '../../lib/index.js';
import { CODES, history, row } from '../support/june-cup.js';
import { times } from '../support/times.js';

describe('what was known before a final', () => {
  const gymnasts = ['ann', 'bea', 'cleo', 'dora'];
  const past = fc.array(
    fc.record({
      who: fc.constantFrom(...gymnasts, 'eve', 'fay'),
      on: fc.constantFrom(...CODES),
      day: fc.integer({ min: 1, max: 28 }),
      round: fc.constantFrom('qualification', 'team final', 'final'),
      score: fc.integer({ min: 1000, max: 1500 }),
    }),
    { maxLength: 40 },
  );
  const final = gymnasts.flatMap((g, i) =>
    CODES.map((on) => row(g, 'all-around final', on, 13 + i / 10)),
  );

  it('makes the ranges that `ranges` makes of those rows', () => {
    fc.assert(
      fc.property(past, (rows) => {
        const texts = rows.map(({ who, on, day, round, score }) =>
          row(who, round, on, score / 100, '', `2026-05-${String(day).padStart(2, '0')}`).replace(
            'June Cup',
            day % 3 === 0 ? 'June Cup' : `Cup ${day}`,
          ),
        );
        const whole = history(...texts, ...final);
        const [round] = finalsOf(whole);
        for (const from of ['rounds', 'days'] as const) {
          const of = rangesFor(whole, knownIn(whole), from)(round!);
          const fitted = fitRanges(whole, {
            before: round!.date,
            also: (r) => from === 'rounds' && wasKnownTo(round!, r),
            competition: from === 'rounds' ? round!.competition : null,
          });
          for (const g of gymnasts) {
            expect(of(g)).toEqual(fitted.find((f) => f.id === g)?.ranges);
          }
        }
      }),
      { numRuns: times(25) },
    );
  });

  it('is nothing of another year, though the competition has the same name', () => {
    const later = row('ann', 'qualification', 'VT', 14, '', '2027-06-01');
    const near = row('ann', 'qualification', 'VT', 14, '', '2026-06-02');
    const of = (extra: string) => backtest(history(...final, extra)).rounds[0]?.unknown;
    expect([of(later), of(near)]).toEqual([4, 3]);
  });

  it('is a ranges file where one is given, by name, whatever the history says', () => {
    const text = 'ann: { VT: { low: 12, likely: 13, high: 14, falls: 0.1 } }\n';
    const of = rangesFor(history(...final), knownIn(history(...final)), { file: 'r.yaml', text });
    expect(of(finalsOf(history(...final))[0]!)('Ann')?.VT).toMatchObject({
      likely: 13_000,
      d: null,
    });
    const wrong = { file: 'r.yaml', text: 'ann: { VT: { low: twelve } }\n' };
    expect(() => backtest(history(...final), { ranges: wrong })).toThrow(/low/);
  });

  it('since a day leaves earlier finals out, and what they showed in', () => {
    const early = final.map((r) => r.replaceAll('2026-06-01', '2026-01-01').replace('June', 'May'));
    const both = history(...early, ...final);
    expect(backtest(both).rounds.length).toBe(2);
    const late = backtest(both, { since: '2026-02-01' });
    expect(late.rounds).toMatchObject([{ date: '2026-06-01', unknown: 0 }]);
    expect(() => backtest(both, { since: '2027-01-01' })).toThrow(/on or after 2027-01-01/);
    expect(() => backtest(both, { since: 'soon' })).toThrow(/--since/);
  });
});

describe('two sets of ranges', () => {
  const final = ['ann', 'bea', 'cleo', 'dora'].flatMap((g, i) =>
    CODES.map((on) => row(g, 'all-around final', on, 14 - i)),
  );
  const file = (likely: readonly number[]) => ({
    file: 'r.yaml',
    text: ['ann', 'bea', 'cleo', 'dora']
      .map((g, i) => {
        const at = likely[i] ?? 0;
        const of = CODES.map(
          (c) => `${c}: { low: ${at - 1}, likely: ${at}, high: ${at + 1}, falls: 0.1 }`,
        );
        return `${g}: { ${of.join(', ')} }`;
      })
      .join('\n'),
  });

  it('the one that says what happened is closer', () => {
    const right = file([14, 13, 12, 11]);
    const wrong = { ...file([11, 12, 13, 14]), file: 'wrong.yaml' };
    const { comparison } = backtest(history(...final), { ranges: right, against: wrong });
    expect(comparison?.against).toBe('wrong.yaml');
    for (const { behind, these, others } of comparison?.scores ?? []) {
      expect(behind.by).toBeGreaterThan(0.1);
      expect(behind.by).toBeCloseTo(others - these, 12);
      // One meet: nothing can be drawn anew.
      expect(behind.interval).toBeNull();
    }
    const turned = backtest(history(...final), { ranges: wrong, against: right }).comparison;
    expect(turned?.scores[0]?.behind.by).toBeCloseTo(-(comparison?.scores[0]?.behind.by ?? 0), 12);
  });

  it('that are the same are the same', () => {
    const { comparison } = backtest(history(...final), { ranges: 'days', against: 'rounds' });
    expect(comparison?.scores.map((s) => s.behind.by)).toEqual([0, 0, 0]);
    expect(comparison?.routines).toBeNull();
  });
});
