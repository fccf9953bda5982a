/** Medal outcomes where there are many medals, or many who share them: against every way it can go. */
import { describe, expect, it } from 'vitest';
import { findContest } from '../../lib/contest/contest.js';
import { chances, distributionOf, type Meet } from '../../lib/index.js';
import { rangeAt } from '../../lib/meet/meet.js';
import { meetFrom } from '../support/meet.js';

/** A final on vault, `apart` units between one gymnast's likely score and the next one's. */
function final(count: number, medals: number, { apart, width }: { apart: number; width: number }) {
  const gymnasts = Array.from({ length: count }, (_, i) => {
    const likely = 14_000 - apart * i;
    const [low, middle, high] = [likely - width, likely, likely + width].map((x) =>
      (x / 1000).toFixed(3),
    );
    return `  - { id: g${i}, ranges: { VT: { low: ${low}, likely: ${middle}, high: ${high}, falls: 0 } } }`;
  });
  const rules = `medals: ${medals}\nties: []\ncontests: [{ kind: apparatus, on: VT }]`;
  return meetFrom(`discipline: wag\nscoring: open\n${rules}\ngymnasts:\n${gymnasts.join('\n')}\n`);
}

/** Every way the scores can go, and how likely each order of the medals is, by name. */
function everyOrder(meet: Meet, medals: number): Map<string, number> {
  const { contenders } = findContest(meet, null);
  const all = contenders.map(({ id, routines }) => {
    const { scores, chances } = distributionOf(meet, rangeAt(meet, routines[0]!))!;
    return { id, scores, chances };
  });
  const found = new Map<string, number>();
  const had: { id: string; score: number }[] = [];
  const go = (k: number, chance: number): void => {
    const one = all[k];
    if (one === undefined) {
      const name = orderOf(had, medals);
      found.set(name, (found.get(name) ?? 0) + chance);
      return;
    }
    for (const [n, score] of one.scores.entries()) {
      if (one.chances[n] === 0) continue;
      had[k] = { id: one.id, score };
      go(k + 1, chance * one.chances[n]!);
    }
  };
  go(0, 1);
  return found;
}

function orderOf(had: readonly { id: string; score: number }[], medals: number): string {
  const places: string[][] = Array.from({ length: medals }, () => []);
  for (const { id, score } of had) {
    places[had.filter((other) => other.score > score).length]?.push(id);
  }
  return nameOf(places);
}

function nameOf(places: readonly (readonly string[])[]): string {
  return places.map((ids) => [...ids].sort().join('=')).join(' ');
}

describe('the order of more medals than three', () => {
  it.each([
    [5, 5, { apart: 33, width: 67 }],
    [6, 4, { apart: 20, width: 50 }],
    [9, 9, { apart: 67, width: 50 }],
  ])('of %i gymnasts and %i medals is as every way it can go', (count, medals, of) => {
    const meet = final(count, medals, of);
    const truth = everyOrder(meet, medals);
    const { podiums } = chances(meet);
    expect(podiums.length).toBeGreaterThan(1);
    for (const { places, chance } of podiums) {
      expect(places).toHaveLength(medals);
      expect(chance).toBeCloseTo(truth.get(nameOf(places)) ?? 0, 12);
    }
    const told = podiums.reduce((sum, p) => sum + p.chance, 0);
    expect(told).toBeGreaterThanOrEqual(0.9);
    // None that is left out is likelier than the last one told.
    const names = new Set(podiums.map((p) => nameOf(p.places)));
    const last = podiums.at(-1)!.chance;
    for (const [name, chance] of truth) {
      if (!names.has(name)) expect(chance).toBeLessThanOrEqual(last + 1e-12);
    }
  });

  it('is told of the first places where no few orders of all of them cover nine in ten', () => {
    const { podiums, contenders } = chances(final(24, 8, { apart: 20, width: 200 }));
    const [first] = podiums;
    expect(first!.places.length).toBeGreaterThanOrEqual(3);
    expect(first!.places.length).toBeLessThan(8);
    expect(podiums.every((p) => p.places.length === first!.places.length)).toBe(true);
    expect(podiums.reduce((sum, p) => sum + p.chance, 0)).toBeGreaterThanOrEqual(0.9);
    for (const { id, places } of contenders) {
      const told = podiums.filter((p) => p.places[0]!.includes(id));
      expect(told.reduce((sum, p) => sum + p.chance, 0)).toBeLessThanOrEqual(places[0]! + 1e-12);
    }
  });
});

it('is not told where everybody may share with everybody', () => {
  const { podiums, contenders } = chances(final(24, 3, { apart: 0, width: 67 }));
  expect(podiums).toEqual([]);
  expect(contenders.every(({ medal }) => medal > 0.1 && medal < 1)).toBe(true);
});

// Once wrong: of so many there are more pairs than may be found, and the search for them never ended.
it('is told of 150 who are equal: each of them wins alone as often as all others score less', () => {
  const meet = final(150, 1, { apart: 0, width: 900 });
  const routine = findContest(meet, null).contenders[0]?.routines[0] ?? 0;
  const distribution = distributionOf(meet, rangeAt(meet, routine));
  if (distribution === null) throw new Error('no range');
  let below = 0;
  let alone = 0;
  for (const chance of distribution.chances) {
    alone += chance * below ** 149;
    below += chance;
  }
  const { podiums } = chances(meet);
  const single = podiums.filter(({ places: [first] }) => first?.length === 1);
  expect(single).toHaveLength(150);
  for (const { chance } of single) expect(chance).toBeCloseTo(alone, 10);
});
