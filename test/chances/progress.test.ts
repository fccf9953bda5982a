/** How far a long answer is: told while places and medals are counted, and no part of the answer. */
import { describe, expect, it } from 'vitest';
import { chances } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const NAMES = ['adeyemi', 'brondt', 'costeira', 'duval', 'eriksen', 'farkas'];

const CODES = ['VT', 'UB', 'BB', 'FX'];

/** Six with some routines done and the others to come. */
function fieldWith(done: number) {
  const ranges = (i: number) =>
    CODES.map((code, a) => {
      const likely = 13 + i * 0.1 + a * 0.2;
      const [low, high] = [likely - 0.6, likely + 0.4].map((x) => x.toFixed(3));
      return `${code}: { low: ${low}, likely: ${likely.toFixed(3)}, high: ${high}, falls: 0.1 }`;
    }).join(', ');
  const rows = NAMES.map((id, i) => `  - { id: ${id}, ranges: { ${ranges(i)} } }`);
  const scores = NAMES.flatMap((id, i) =>
    CODES.slice(0, done).map((code) => `${id},${code},13.${i}00`),
  );
  const meet = `discipline: wag\nscoring: open\nties: [best-scores]\ngymnasts:\n${rows.join('\n')}\n`;
  return meetFrom(meet, logFrom(...scores));
}

describe.each([
  { count: 'result by result', done: 2 },
  { count: 'total by total', done: 0 },
])('progress, $count', ({ done }) => {
  const meet = fieldWith(done);

  it('is told in steps that never go back, up to the last one', () => {
    const calls: [number, number | null][] = [];
    chances(meet, null, { onProgress: (done, of) => calls.push([done, of]) });
    const steps = calls.map(([k]) => k);
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
    expect(new Set(calls.map(([, of]) => of))).toEqual(new Set([1000]));
    expect(calls.at(-1)).toEqual([1000, 1000]);
    expect(steps.filter((k) => k > 0 && k < 1000).length).toBeGreaterThan(2);
  });

  it('changes nothing in the answer', () => {
    expect(chances(meet, null, { onProgress: () => {} })).toEqual(chances(meet));
  });
});
