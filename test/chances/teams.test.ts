/** Teams of which so many are up that what the best of them add up to cannot be worked out. */
import { describe, expect, it } from 'vitest';
import { chances } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const UP = 20;

function team(): string {
  const gymnasts = ['T', 'S'].flatMap((t) =>
    Array.from({ length: UP }, (_, i) => {
      const range = '{ low: 12.500, likely: 13.100, high: 13.500, falls: 0.1 }';
      return `  - { id: ${t}${i}, team: ${t}, on: [VT], ranges: { VT: ${range} } }`;
    }),
  );
  const contest = `{ kind: team, up: ${UP}, count: ${UP - 1}, ties: [] }`;
  return `discipline: wag\nscoring: open\ncontests: [${contest}]\ngymnasts:\n${gymnasts.join('\n')}\n`;
}

describe('a team of twenty', () => {
  it('with all of them to come is refused, and can be sampled', () => {
    const meet = meetFrom(team());
    expect(() => chances(meet)).toThrow(/best 19 of 20 .* too many ways/);
    const { contenders, method } = chances(meet, null, { sample: 2000, seed: 1 });
    expect(method).toBe('sampled');
    for (const { win, total } of contenders) {
      expect(win).toBeGreaterThan(0.4);
      // Nineteen scores, the median of each about 13.1 but for the falls.
      expect(total!.p50).toBeGreaterThan(19 * 12_800);
      expect(total!.p50).toBeLessThan(19 * 13_200);
    }
  });

  it('with few of them to come is computed, what is done and dropped included', () => {
    const rows = ['T', 'S'].flatMap((t) =>
      Array.from({ length: UP - 2 }, (_, i) => `${t}${i},VT,${t === 'T' ? '13.000' : '12.900'}`),
    );
    const meet = meetFrom(team(), logFrom(...rows));
    const { contenders, method } = chances(meet);
    const drawn = chances(meet, null, { sample: 40_000, seed: 2 });
    expect(method).toBe('exact');
    for (const [k, { win, total }] of contenders.entries()) {
      const other = drawn.contenders[k]!;
      expect(Math.abs(win - other.win)).toBeLessThan(4 * Math.sqrt(0.25 / 40_000) + 1e-9);
      expect(Math.abs(total!.p50 - other.total!.p50)).toBeLessThanOrEqual(34);
    }
    // Eighteen done and the better of two to come: the lowest of them all is dropped.
    expect(contenders.map((c) => c.total!.p95 > 18 * 12_900)).toEqual([true, true]);
  });
});
