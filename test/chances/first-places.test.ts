/** Where only the first places are asked about, what is behind them is left out, and changes nothing of them. */
import { describe, expect, it } from 'vitest';
import { modelOf, totalOf } from '../../lib/chances/model.js';
import { type Case, placeChances } from '../../lib/chances/place-chances.js';
import { findContest } from '../../lib/contest/contest.js';
import { leastTotalFor } from '../../lib/range/least-total.js';
import { logFrom, meetFrom } from '../support/meet.js';

const CODES = ['VT', 'UB', 'BB', 'FX'];

/** Nine invented gymnasts, each 0.200 behind the one before, with so many routines done. */
function modelWith(ties: string, done: number, of = 9) {
  const gymnasts = Array.from({ length: of }, (_, i) => {
    const [low, likely, high] = [12.4, 12.9, 13.3].map((x) => (x - 0.2 * i).toFixed(3));
    const range = `{ low: ${low}, likely: ${likely}, high: ${high}, falls: 0.1 }`;
    return `  - { id: g${i}, ranges: { ${CODES.map((code) => `${code}: ${range}`).join(', ')} } }`;
  });
  const text = `discipline: wag\nscoring: open\nties: ${ties}\ngymnasts:\n${gymnasts.join('\n')}\n`;
  const rows = CODES.slice(0, done).flatMap((code, a) =>
    gymnasts.map((_, i) => `g${i},${code},${(12.8 - 0.2 * i + 0.1 * ((i + a) % 3)).toFixed(3)}`),
  );
  const meet = meetFrom(text, logFrom(...rows));
  return modelOf(meet, findContest(meet, null));
}

describe.each([
  ['[]', 0],
  ['[]', 3],
  ['[best-scores]', 0],
  ['[best-scores]', 1],
  ['[best-scores]', 2],
  ['[best-scores]', 3],
  ['[execution]', 1],
] as const)('ties %s, %i of four done', (ties, done) => {
  const model = modelWith(ties, done);
  const all = placeChances(model);
  const lowest = Math.min(...model.entrants.map((e) => e.fixed + (e.sum(0).scores[0] ?? 0)));

  it.each([1, 2, 3, 6, 9])('one of the first %i', (count) => {
    const found = placeChances(model, { among: [1, count] });
    const off = found.places.flatMap((hers, i) =>
      hers.map((p, k) => Math.abs(p - (all.places[i]?.[k] ?? 2))),
    );
    expect(found.places.map((hers) => hers.length)).toEqual(model.entrants.map(() => count));
    expect(Math.max(...off)).toBeLessThanOrEqual(all.error + found.error);
    expect(leastTotalFor(model.entrants.map(totalOf), count)).toBeGreaterThan(
      count > 3 ? 0 : lowest,
    );
  });

  it.each([0, 8])('if %i has a score, too', (who) => {
    const [routine = -1] = model.entrants[who]?.toCome ?? [];
    const cases = [9_000, 11_000, 12_000, 13_000, 17_000].map(
      (score): Case => ({ who, routine, score, title: false }),
    );
    const whole = placeChances(model, { cases });
    const first = placeChances(model, { cases, only: [], among: [3] });
    for (const [h, { places }] of first.cases.entries()) {
      const off = places.map((p, k) => Math.abs(p - (whole.cases[h]?.places[k] ?? 2)));
      expect(places.length).toBe(3);
      expect(Math.max(...off)).toBeLessThanOrEqual(whole.error + first.error);
    }
    expect(first.cases.at(-1)?.places[0]).toBeGreaterThan(0.01);
  });
});

it('is the lowest total that may still have a place: five who have finished', () => {
  const { entrants } = modelWith('[]', 4, 5);
  const totals = entrants.map(totalOf);
  const sorted = entrants.map((e) => e.fixed).sort((a, b) => b - a);
  expect([1, 2, 3, 4, 5].map((count) => leastTotalFor(totals, count))).toEqual(sorted);
  expect(leastTotalFor(totals, 6)).toBe(0);
});
