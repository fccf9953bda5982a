/** A backtest in parts, as threads share it, is the backtest. */
import { describe, expect, it } from 'vitest';
import { type BacktestOptions, backtest, backtestPart, readHistory } from '../../lib/index.js';
import { refusal } from '../support/refusal.js';

const CODES = ['VT', 'UB', 'BB', 'FX'];
const GYMNASTS = ['ann', 'bea', 'cleo', 'dora', 'edda'];

/** Nine competitions of five gymnasts, with a qualification and a final each. */
const ROWS = Array.from({ length: 9 }, (_, meet) =>
  ['qualification', 'all-around final'].flatMap((round, day) =>
    GYMNASTS.flatMap((id, g) =>
      CODES.map((on, a) => {
        const score = 12 + ((7 * meet + 5 * g + 3 * a + day) % 11) / 5;
        return `${id},wag,2026-0${meet + 1}-1${day},Cup ${meet},${round},${on},${score.toFixed(3)}`;
      }),
    ),
  ),
).flat();
const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score';
const history = readHistory({ file: 'h.csv', text: [HEADER, ...ROWS].join('\n') });

const partsOf = (options: BacktestOptions, of: number) =>
  Array.from({ length: of }, (_, part) =>
    structuredClone(backtestPart(history, options, part, of)),
  );

describe('a backtest in parts', () => {
  it.each([2, 3, 4, 7])('of %i, in any order, is the same to the last digit', (of) => {
    const options: BacktestOptions = { against: 'days', forecasts: true, seed: 7 };
    const whole = backtest(history, options);
    const dates = whole.rounds.map(({ date }) => date);
    expect(dates).toEqual([...dates].sort());
    expect(dates.length).toBe(9);
    expect(whole.routines.routines).toBeGreaterThan(100);
    const parts = partsOf(options, of);
    expect(backtest(history, { ...options, parts: parts.reverse() })).toEqual(whole);
  });

  it('gives every final to one part, about as many to each, and the first fewer', () => {
    const counts = partsOf({}, 3).map(({ finals }) => finals.length);
    expect(counts.reduce((a, b) => a + b, 0)).toBe(9);
    expect(counts[0]).toBeLessThan(3);
    expect(Math.abs((counts[1] ?? 0) - (counts[2] ?? 0))).toBeLessThan(2);
  });

  it('is refused where a part is missing', () => {
    const [first, second, third] = partsOf({}, 3);
    for (const parts of [[], [first!, second!], [second!, third!], [first!, third!, third!]]) {
      expect(refusal(() => backtest(history, { parts })).code).toBe('wrong-option');
    }
  });
});
