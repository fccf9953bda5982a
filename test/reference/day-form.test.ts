/**
 * Sampling against what can be worked out by hand. With a day form r two routines share their
 * quantile with chance r and are independent otherwise, so that with equal ranges the correlation of
 * their scores is r, and the chance of a pair (x, y) is r · [x = y] p(x) + (1 - r) p(x) p(y) (the
 * Fréchet family of copulas without its lower bound; Nelsen, An Introduction to Copulas, 2006).
 */
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { routineDistribution } from '../../lib/chances/open-part.js';
import { type SampleOptions, samplingOf } from '../../lib/chances/sampled/options.js';
import { samplePlaces } from '../../lib/chances/sampled/sampled.js';
import { findContest } from '../../lib/contest/contest.js';
import type { Distribution, Meet } from '../../lib/index.js';
import { routineOf } from '../../lib/meet/meet.js';
import { quantile } from '../../lib/range/distribution.js';
import { meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';

const SAMPLE = times(50_000);

/** So many standard errors at most, of a chance of so many meets. */
const NEAR = 5 * Math.sqrt(0.25 / SAMPLE);

function meetOf(ranges: string, rivals = ''): Meet {
  return meetFrom(
    `discipline: [{ code: A, name: a }, { code: B, name: b }]\nscoring: open\nties: []\n` +
      `gymnasts:\n  - { id: her, ranges: ${ranges} }\n${rivals}`,
  );
}

const EQUAL =
  '{ A: { low: 10.000, likely: 12.500, high: 15.000, falls: 0 }, B: { low: 10.000, likely: 12.500, high: 15.000, falls: 0 } }';
const UNEQUAL =
  '{ A: { low: 12.000, likely: 13.500, high: 14.000, falls: 0.1 }, B: { low: 11.000, likely: 12.000, high: 15.000, falls: 0.2 } }';
const RIVAL =
  '  - { id: rival, ranges: { A: { low: 13.000, likely: 13.000, high: 13.000, falls: 0 }, B: { low: 12.500, likely: 12.500, high: 12.500, falls: 0 } } }\n';
const MARK = 25_500;

function sampledFor(meet: Meet, options: SampleOptions, routine: number | null = null) {
  const sampling = samplingOf({ sample: SAMPLE, seed: 5, ...options });
  if (sampling === null) throw new RangeError('nothing asks for sampling');
  const model = modelOf(meet, findContest(meet, null));
  return samplePlaces(model, sampling, { stakes: true, routine });
}

function varianceOf({ scores, chances }: Distribution): number {
  const mean = scores.reduce((sum, s, i) => sum + s * (chances[i] ?? 0), 0);
  return scores.reduce((sum, s, i) => sum + (s - mean) ** 2 * (chances[i] ?? 0), 0);
}

function ofHer(meet: Meet, code: string): { index: number; distribution: Distribution } {
  const index = routineOf(meet, 'her', code)?.index ?? -1;
  return { index, distribution: routineDistribution(meet, index) };
}

/** The cells of [0, 1] that mean each score, rising. */
function cellsOf({ scores, chances }: Distribution) {
  let to = 0;
  return scores.map((score, i) => {
    const from = to;
    to += chances[i] ?? 0;
    return { score, from, to };
  });
}

/** The chance that B scores at least `least`, given what A scored: by cells that overlap. */
function followsBy(a: Distribution, b: Distribution, scored: number, least: number, r: number) {
  const cell = cellsOf(a).find((c) => c.score === scored) ?? { from: 0, to: 1 };
  let [alone, shared] = [0, 0];
  for (const { score, from, to } of cellsOf(b)) {
    if (score < least) continue;
    alone += to - from;
    shared += Math.max(0, Math.min(to, cell.to) - Math.max(from, cell.from));
  }
  return (1 - r) * alone + (r * shared) / (cell.to - cell.from);
}

describe('a day form', () => {
  it.each([0.1, 0.3, 0.75, 1])('of %d is the correlation of two equal ranges', (r) => {
    const meet = meetOf(EQUAL);
    const one = ofHer(meet, 'A').distribution;
    const { totals } = sampledFor(meet, { dayForm: r });
    const correlation = varianceOf(totals[0]!) / (2 * varianceOf(one)) - 1;
    // The standard error of a variance is at most √(2/n) of it here, and there are two of them.
    expect(Math.abs(correlation - r)).toBeLessThan(5 * 2 * Math.sqrt(2 / SAMPLE));
    // The chance of a total of at most t, by hand.
    const cells = cellsOf(one);
    const below = (least: number) => cells.reduce((p, c) => (c.score <= least ? c.to : p), 0);
    for (const t of [22_000, 24_000, 25_000, 26_500]) {
      const apart = cells.reduce((sum, c) => sum + (c.to - c.from) * below(t - c.score), 0);
      const { scores, chances } = totals[0]!;
      const said = scores.reduce((sum, s, i) => sum + (s <= t ? (chances[i] ?? 0) : 0), 0);
      expect(Math.abs(said - (r * below(t / 2) + (1 - r) * apart))).toBeLessThan(NEAR);
    }
  });

  it.each([0, 0.4, 1])('of %d says what follows from a score for the other one', (r) => {
    const meet = meetOf(UNEQUAL, RIVAL);
    const [a, b] = [ofHer(meet, 'A'), ofHer(meet, 'B')];
    const { byScore, stakes } = sampledFor(meet, { dayForm: r }, a.index);
    expect(byScore?.points.length).toBeGreaterThan(50);
    for (const { score, places } of byScore?.points ?? []) {
      const win = followsBy(a.distribution, b.distribution, score, MARK - score, r);
      expect(Math.abs(places[0]! - win)).toBeLessThan(NEAR);
    }
    for (const [mine, other] of [
      [a, b],
      [b, a],
    ] as const) {
      const title = stakes[mine === a ? 0 : 2]?.title.find((t) => t.id === 'her');
      for (const [end, q] of [
        ['low', 0.1],
        ['high', 0.9],
      ] as const) {
        const score = quantile(mine.distribution, q);
        const win = followsBy(mine.distribution, other.distribution, score, MARK - score, r);
        expect(Math.abs((title?.[end] ?? 0) - win)).toBeLessThan(NEAR);
      }
    }
  });
});

describe('a sample', () => {
  const meet = meetOf(UNEQUAL, RIVAL);

  it('draws other meets for another seed, and goes on to others', () => {
    const wins = [1, 2, 3, -1, 2 ** 32 + 1, 2 ** 40].map((seed) =>
      JSON.stringify(sampledFor(meet, { seed, sample: 4096 }).stakes),
    );
    expect(new Set(wins).size).toBe(wins.length);
    const [one, two] = [4096, 8192].map(
      (sample) => sampledFor(meet, { sample }).places[0]![0]! * sample,
    );
    expect(two! - one!).not.toBe(one);
  });

  it('is the same one on every machine', () => {
    const wins = [0, 0.5].map((dayForm) =>
      Math.round(sampledFor(meet, { sample: 10_000, seed: 11, dayForm }).places[0]![0]! * 10_000),
    );
    expect(wins).toEqual([4356, 4579]);
  });

  it('does not take what it never met for impossible', () => {
    const sure = meetOf(EQUAL, RIVAL.replaceAll('13.000', '17.000'));
    const { places, error } = sampledFor(sure, { sample: 1000 });
    expect(places).toEqual([
      [0, 1],
      [1, 0],
    ]);
    // √(p(1-p)/n) with p = 1/1002.
    expect(error).toBeCloseTo(Math.sqrt(((1 / 1002) * (1001 / 1002)) / 1000), 15);
  });
});
