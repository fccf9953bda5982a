/** What is promised of `error` where it is hardest to keep: full fields with everything to come. */
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { groupsOf, placeChances } from '../../lib/chances/place-chances.js';
import { massesOf } from '../../lib/chances/results/placed.js';
import { findContest } from '../../lib/contest/contest.js';
import { chances, type Meet } from '../../lib/index.js';
import { rankCount } from '../../lib/range/rank-scale.js';
import { logFrom, meetFrom } from '../support/meet.js';

const contestOf = (meet: Meet) => [meet, findContest(meet, null)] as const;

/** Invented gymnasts, `level` points about 13.2 apart at most, with ranges of so many points. */
function field(width: number, level: number, count = 24, men = false): string {
  let state = 11;
  const random = () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
  const gymnasts = Array.from({ length: count }, (_, i) => {
    const own = 13.2 + level * random();
    const codes = men ? ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'] : ['VT', 'UB', 'BB', 'FX'];
    const ranges = codes.map((code, a) => {
      const likely = own + (random() - 0.5) * 0.6;
      const [low, high] = [likely - 0.6 * width, likely + 0.4 * width];
      const three = [low, likely, high].map((x) => x.toFixed(3));
      return `${code}: { low: ${three[0]}, likely: ${three[1]}, high: ${three[2]}, falls: ${[0.04, 0.12, 0.14, 0.06][a % 4]} }`;
    });
    return `  - { id: g${i}, ranges: { ${ranges.join(', ')} } }`;
  });
  return `discipline: ${men ? 'mag' : 'wag'}\nscoring: open\nties: [best-scores]\ngymnasts:\n${gymnasts.join('\n')}\n`;
}

describe('with 24 contenders and four to come the error of all of `chances`', () => {
  it.each([
    [1, 1],
    [0.5, 0.5],
    [0.3, 0],
    [0.25, 0.2],
  ])('is at most 0.0005 with ranges %f wide and levels %f apart', (width, level) => {
    const found = chances(meetFrom(field(width, level)));
    expect(found.error).toBeLessThanOrEqual(0.0005);
    // It is not a bound of nothing: every result that ties is not told apart.
    expect(found.error).toBeGreaterThan(1e-5);
  });
});

it('is no more with twelve of whom half have finished', () => {
  const scores = Array.from({ length: 6 }, (_, k) =>
    ['VT', 'UB', 'BB', 'FX'].map((code, a) => `g${2 * k},${code},13.${(k * 7 + a * 3) % 10}${k}3`),
  );
  const found = chances(meetFrom(field(1, 0.3, 12), logFrom(...scores.flat())));
  expect(found.error).toBeLessThanOrEqual(0.0005);
});

// Once 0.001: where ranges are narrow, cells of three scores told too little of six.
it('is no more for 24 men with four of six to come and ranges of a quarter of a point', () => {
  const scores = Array.from({ length: 24 }, (_, i) =>
    ['FX', 'PH'].map((code, a) => `g${i},${code},13.${(i * 7 + a * 3) % 10}33`),
  );
  const found = chances(meetFrom(field(0.25, 0, 24, true), logFrom(...scores.flat())));
  expect(found.error).toBeLessThanOrEqual(0.0005);
  expect(found.error).toBeGreaterThan(1e-5);
});

// Once 0.0007: what D breaks was left open where all scores are told.
it('is no more where D breaks what scores do not', () => {
  let n = 0;
  const text = field(0.2, 0.1)
    .replace('ties: [best-scores]', 'ties: [best-scores, difficulty]')
    .replaceAll(/falls: [\d.]+/g, (falls) => `${falls}, d: 5.${(n++ * 7) % 10}`);
  const found = chances(meetFrom(text));
  expect(found.skipped).toEqual([]);
  expect(found.error).toBeLessThanOrEqual(0.0005);
});

// Once 0.001: with no room for every lowest score nothing told equal totals apart.
it('is no more on a grid of thousandths with two to come for eight', () => {
  const scores = Array.from({ length: 8 }, (_, i) => [`g${i},VT,13.50${i}`, `g${i},UB,13.49${i}`]);
  const text = `${field(1, 0.3, 8)}panel: { counting: 1, step: 0.001 }\n`;
  const found = chances(meetFrom(text, logFrom(...scores.flat())));
  expect(found.error).toBeLessThanOrEqual(0.0005);
  expect(found.error).toBeGreaterThan(1e-5);
});

it.each([0.1, 0.2, 0.3])(
  'bounds the difference where some cells tell all and some do not, %d wide',
  (width) => {
    const model = modelOf(...contestOf(meetFrom(field(width, 0.1, 4))));
    const exact = placeChances(model, { mostResults: 1e7 });
    expect(exact.error).toBeLessThan(1e-11);
    for (const wanted of [0.0005, 0.002, 0.01, 0.05]) {
      const found = placeChances(model, { mostResults: 0, wanted });
      const apart = found.places.flatMap((hers, i) =>
        hers.map((p, k) => Math.abs(p - (exact.places[i]?.[k] ?? 0))),
      );
      expect(Math.max(...apart)).toBeLessThanOrEqual(found.error);
    }
  },
);

it('only who are on one rank share a place', () => {
  const model = modelOf(...contestOf(meetFrom(field(0.1, 0.1, 12))));
  const { groups, coarse } = groupsOf(model, { mostResults: 0 }, 0.001);
  if (coarse === null) throw new Error('every result is told apart');
  const masses = massesOf(coarse).filter((mass) => mass > 0);
  for (const [g, shared] of groups.isShared.entries()) {
    const there = groups.chances.subarray(groups.starts[g], groups.starts[g + 1]);
    if (shared === 0 || there.length < 2) continue;
    const all = there.reduce((sum, p) => sum + p, 0);
    expect(masses.some((mass) => Math.abs(mass - all) < 1e-13 + 1e-6 * all)).toBe(true);
  }
  expect(coarse.order.isTold.filter((told) => told).length).toBeGreaterThan(10);
});

// Once 4.2 GB and 21 s: each of 98 ranks before the scores had 98 after them, in every cell that told all scores.
it('takes no more room than there is where many rules are fixed before and after the scores', () => {
  let n = 0;
  const text = field(0.2, 0, 98)
    .replace('ties: [best-scores]', 'ties: [difficulty, best-scores, execution]')
    .replaceAll(/falls: [\d.]+/g, (falls) => `${falls}, d: 5.${(n++ * 7) % 10}${n % 8}`);
  const meet = meetFrom(text);
  const { coarse, groups } = groupsOf(modelOf(...contestOf(meet)), {}, 0.00075);
  expect(groups.size).toBe(98);
  const ranks = coarse === null ? 0 : rankCount(coarse.scale);
  expect(ranks).toBeGreaterThan(1_000_000);
  expect(ranks).toBeLessThan(70_000_000);
});
