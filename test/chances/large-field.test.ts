/** Forty in a final, and twenty-four with much to come: what the order of the list must not change. */
import { describe, expect, it } from 'vitest';
import { type Chances, chances, distributionOf, type Meet } from '../../lib/index.js';
import { rangeAt, routineOf } from '../../lib/meet/meet.js';
import { logFrom, meetFrom } from '../support/meet.js';

const points = (units: number) => (units / 1000).toFixed(3);

/** The lowest score with at least that cumulative chance. */
function percentile(meet: Meet, gymnast: string, apparatus: string, share: number): number {
  const routine = routineOf(meet, gymnast, apparatus);
  const found = distributionOf(meet, rangeAt(meet, routine?.index ?? -1));
  let sum = 0;
  for (const [k, score] of (found?.scores ?? []).entries()) {
    sum += found?.chances[k] ?? 0;
    // With a fall in ten the sum at the 10th percentile is a tenth but for rounding.
    if (sum >= share - 1e-12) return score;
  }
  throw new RangeError(`no range for ${gymnast}`);
}

/** Medal outcomes by name; those who share a place in the order of their ids. */
function outcomes({ podiums }: Chances): Map<string, number> {
  const nameOf = (ids: readonly string[]) => [...ids].sort().join('=');
  return new Map(podiums.map(({ places, chance }) => [places.map(nameOf).join(' '), chance]));
}

describe('a final of forty on floor', () => {
  // Invented: g0 is well ahead, g1 to g4 are close behind her and each other, the rest far behind.
  const IDS = Array.from({ length: 40 }, (_, k) => `g${k}`);
  const linesOf = IDS.map((id, k) => {
    const likely = k === 0 ? 14_400 : k < 5 ? 14_000 - 20 * k : 12_000 + 15 * k;
    const [low, high] = [likely - 300, likely + 150];
    const three = `low: ${points(low)}, likely: ${points(likely)}, high: ${points(high)}`;
    const d = points(5000 + 100 * (k % 4));
    return `  - { id: ${id}, ranges: { FX: { ${three}, falls: 0.1, d: ${d} } } }`;
  });
  const answerTo = (order: readonly number[], ties: string) => {
    const contest = `contests: [{ kind: apparatus, on: FX, ties: ${ties} }]`;
    const list = order.map((k) => linesOf[k]).join('\n');
    return chances(meetFrom(`discipline: wag\nscoring: open\n${contest}\ngymnasts:\n${list}\n`));
  };
  const inOrder = IDS.map((_, k) => k);
  // The favourite thirty-first, and after her those who are closest to her.
  const favouriteLate = [...inOrder.slice(10), ...inOrder.slice(0, 10)];

  it.each([['[]'], ['[execution]']])(
    'has the same medal outcomes wherever the favourite is listed, ties %s',
    (ties) => {
      expect(favouriteLate.indexOf(0)).toBe(30);
      const [first, late] = [inOrder, favouriteLate].map((order) => answerTo(order, ties));
      if (first === undefined || late === undefined) throw new RangeError('two answers');
      const [here, there] = [outcomes(first), outcomes(late)];
      expect(here.size).toBeGreaterThan(10);
      // One that is as likely as the last told may stand in its place.
      const least = Math.max(...[here, there].map((all) => Math.min(...all.values())));
      for (const [all, other] of [
        [here, there],
        [there, here],
      ] as const) {
        for (const [name, chance] of all) {
          if (chance > least + 1e-9) expect(other.get(name), name).toBeCloseTo(chance, 12);
        }
      }
      for (const { id, places, win, medal } of first.contenders) {
        const same = late.contenders.find((c) => c.id === id);
        expect(same?.win).toBeCloseTo(win, 12);
        expect(same?.medal).toBeCloseTo(medal, 12);
        for (const [k, p] of places.entries()) expect(same?.places[k]).toBeCloseTo(p, 12);
      }
      expect(first.contenders.find((c) => c.id === 'g0')?.win).toBeGreaterThan(0.8);
      expect(first.contenders.find((c) => c.id === 'g0')?.win).toBeLessThan(0.99);
    },
  );
});

describe('what is at stake in a field of twenty-four', () => {
  /** Everybody has so many routines to come, the first few in Olympic order done. */
  function field(
    ties: string,
    done: number,
    forced: ReadonlyMap<string, number> = new Map(),
  ): Meet {
    const codes = ['VT', 'UB', 'BB', 'FX'];
    const gymnasts = Array.from({ length: 24 }, (_, k) => {
      const ranges = codes.slice(done).map((code, a) => {
        const likely = 13_000 + 25 * ((k * 7) % 12) + 40 * ((k + 3 * a) % 5);
        const sure = forced.get(`g${k}/${code}`);
        const [low, middle, high] =
          sure === undefined ? [likely - 400, likely, likely + 250] : [sure, sure, sure];
        const three = `low: ${points(low)}, likely: ${points(middle)}, high: ${points(high)}`;
        const falls = sure === undefined ? 0.1 : 0;
        return `${code}: { ${three}, falls: ${falls}, d: ${points(5000 + 100 * ((k + a) % 3))} }`;
      });
      return `  - { id: g${k}, ranges: { ${ranges.join(', ')} } }`;
    });
    const rows = codes.slice(0, done).flatMap((code, a) =>
      Array.from({ length: 24 }, (_, k) => {
        const d = 5000 + 100 * ((k + a) % 3);
        return `g${k},${code},${points(13_000 + 100 * ((k * 5 + a) % 4))},${points(d)}`;
      }),
    );
    const rules = `discipline: wag\nscoring: open\nties: ${ties}`;
    return meetFrom(
      `${rules}\ngymnasts:\n${gymnasts.join('\n')}\n`,
      rows.length === 0 ? '' : logFrom(...rows),
    );
  }

  it.each([
    ['[]', 3, 'g5/FX'],
    ['[best-scores]', 2, 'g5/BB'],
    ['[execution]', 2, 'g17/FX'],
    ['[highest-score]', 3, 'g22/FX'],
    ['[best-scores]', 1, 'g5/FX'],
  ])('is who wins if that score is certain, ties %s, %i done', (ties, done, key) => {
    const meet = field(ties, done);
    const answer = chances(meet);
    const [gymnast = '', apparatus = ''] = key.split('/');
    const stake = answer.atStake.find((s) => s.gymnast === gymnast && s.apparatus === apparatus);
    const ends = [0.1, 0.9].map((share) => percentile(meet, gymnast, apparatus, share));
    expect(ends[0]).toBeLessThan(ends[1] ?? 0);
    for (const [k, score] of ends.entries()) {
      const sure = chances(field(ties, done, new Map([[key, score]])));
      for (const { id, win } of sure.contenders) {
        const told = stake?.title.find((t) => t.id === id);
        const said = (k === 0 ? told?.low : told?.high) ?? 0;
        expect(Math.abs(said - win), `${id} if ${key} is ${score}`).toBeLessThanOrEqual(
          answer.error + sure.error,
        );
      }
    }
  });
});

describe('what is at stake for who falls behind everybody with a fall', () => {
  // Without one she is among the three others, with one too far behind to win.
  const meetWith = (beam: string): Meet => {
    const others = ['a', 'b', 'c'].map(
      (id) =>
        `  - { id: ${id}, ranges: { FX: { low: 13.6, likely: 13.8, high: 14.0, falls: 0 } } }`,
    );
    const hers = `{ BB: { ${beam}, falls: 0 }, FX: { low: 13.9, likely: 14.0, high: 14.1, falls: 0.3 } }`;
    const rows = ['a', 'b', 'c', 'd'].flatMap((id) =>
      (id === 'd' ? ['VT', 'UB'] : ['VT', 'UB', 'BB']).map((code) => `${id},${code},13.000`),
    );
    return meetFrom(
      `discipline: wag\nscoring: open\nties: []\ngymnasts:\n${others.join('\n')}\n  - { id: d, ranges: ${hers} }\n`,
      logFrom(...rows),
    );
  };

  it('the others win as they do if her score on beam is certain', () => {
    const meet = meetWith('low: 12.9, likely: 13.0, high: 13.1');
    const stake = chances(meet).atStake.find(
      ({ gymnast, apparatus }) => gymnast === 'd' && apparatus === 'BB',
    );
    for (const [end, share] of [
      ['low', 0.1],
      ['high', 0.9],
    ] as const) {
      const score = points(percentile(meet, 'd', 'BB', share));
      const sure = chances(meetWith(`low: ${score}, likely: ${score}, high: ${score}`));
      expect(sure.contenders.find(({ id }) => id === 'a')?.win).toBeGreaterThan(0.05);
      for (const { id, win } of sure.contenders) {
        expect(stake?.title.find((t) => t.id === id)?.[end]).toBeCloseTo(win, 11);
      }
    }
  });
});
