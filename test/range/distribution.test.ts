/**
 * The distribution of a range, against the Beta distribution of another library
 * (`@stdlib/stats-base-dists-beta-cdf`) and against sums done here, from DESIGN.md alone.
 */
import betaCdf from '@stdlib/stats-base-dists-beta-cdf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chanceOfAtLeast,
  type Distribution,
  distributionOf,
  type Meet,
  quantile,
  type Range,
} from '../../lib/index.js';
import { isComplete, supportOf } from '../../lib/meet/realistic.js';
import { cumulative, withoutFalls } from '../../lib/range/distribution.js';
import { asScore } from '../../lib/score.js';
import { meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';

const SEED = 20242;

/** Meets that differ in nothing but their grid. */
const PANELS = [
  { yaml: 'scoring: open', decimals: 3, counting: 3, millionths: 100_000 },
  {
    yaml: 'scoring: open\npanel: { counting: 4, step: 0.05 }',
    decimals: 3,
    counting: 4,
    millionths: 50_000,
  },
  {
    yaml: 'scoring: open\npanel: { counting: 1, step: 0.1 }',
    decimals: 3,
    counting: 1,
    millionths: 100_000,
  },
  { yaml: 'scoring: ten', decimals: 3, counting: 2, millionths: 50_000 },
  {
    yaml: 'scoring: ten\ndecimals: 4\npanel: { counting: 4, step: 0.05 }',
    decimals: 4,
    counting: 4,
    millionths: 50_000,
  },
].map((panel) => ({
  ...panel,
  meet: meetFrom(`discipline: wag\n${panel.yaml}\ngymnasts: [{ id: wren }]\n`),
}));

type Panel = (typeof PANELS)[number];

/** Every grid point up to 20.000: floor(j · step / counting ÷ unit). */
const POINTS = new Map(
  PANELS.map((panel) => {
    const { decimals, counting, millionths } = panel;
    const points: number[] = [];
    for (let j = 0; (points.at(-1) ?? 0) < 20 * 10 ** decimals; j++) {
      points.push(Math.floor((j * millionths) / (counting * 10 ** (6 - decimals))));
    }
    return [panel, [...new Set(points)]] as const;
  }),
);

function gridIn(panel: Panel, low: number, high: number): number[] {
  return (POINTS.get(panel) ?? []).filter((p) => p >= low && p <= high);
}

interface Shape {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly falls: number;
}

function rangeOf(shape: Partial<Shape>): Range {
  const { low = null, likely = null, high = null, falls = null } = shape;
  const part = (units: number | null) => (units === null ? null : asScore(units));
  return {
    low: part(low),
    likely: part(likely),
    high: part(high),
    falls,
    d: null,
    within: null,
    from: 'own',
  };
}

function distribution(meet: Meet, shape: Shape): Distribution {
  const found = distributionOf(meet, rangeOf(shape));
  if (found === null) throw new Error('nothing is missing');
  return found;
}

/** The design in a few lines: masses without falls, then falls. */
function expected(panel: Panel, { low, likely, high, falls }: Shape): Map<number, number> {
  const points = gridIn(panel, low, high);
  const clean = new Map<number, number>();
  if (low === high || points.length === 0) clean.set(likely, 1);
  else {
    const a = 1 + (4 * (likely - low)) / (high - low);
    const b = 1 + (4 * (high - likely)) / (high - low);
    const below = (x: number) => betaCdf((x - low) / (high - low), a, b);
    for (const [i, point] of points.entries()) {
      const from = i === 0 ? low : ((points[i - 1] ?? low) + point) / 2;
      const to = i === points.length - 1 ? high : (point + (points[i + 1] ?? high)) / 2;
      clean.set(point, below(to) - below(from));
    }
  }
  const cost = panel.meet.scoring.fall;
  const all = new Map<number, number>();
  for (const [count, chance] of [1 - falls, falls * (1 - falls), falls * falls].entries()) {
    if (chance === 0) continue;
    for (const [score, mass] of clean) {
      const fallen = score < count * cost ? 0 : score - count * cost;
      all.set(fallen, (all.get(fallen) ?? 0) + chance * mass);
    }
  }
  return all;
}

const panelArb = fc.constantFrom(...PANELS);

/** Ranges of every kind: wide, narrow, lopsided, near 0, of no width, without a grid point. */
const caseArb = panelArb.chain((panel) => {
  const point = 10 ** panel.decimals;
  return fc.record({
    panel: fc.constant(panel),
    shape: fc
      .record({
        low: fc.oneof(fc.integer({ min: 7 * point, max: 9 * point }), fc.nat(2 * point)),
        width: fc.oneof(fc.nat(3 * point), fc.nat(point / 20), fc.constant(0)),
        likely: fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0, 0.5, 1)),
        falls: fc.oneof(fc.constantFrom(0, 1, 0.05), fc.double({ min: 1e-6, max: 1, noNaN: true })),
      })
      .map(({ low, width, likely, falls }): Shape => {
        const high = Math.min(low + width, 10 * point);
        return { low, likely: low + Math.round(likely * (high - low)), high, falls };
      }),
  });
});

function tryAll(check: (panel: Panel, shape: Shape) => void, numRuns = times(150)): void {
  fc.assert(
    fc.property(caseArb, ({ panel, shape }) => check(panel, shape)),
    { numRuns, seed: SEED },
  );
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

describe('the distribution of a range', () => {
  it('has the chances of a Beta distribution between the midpoints of grid points, to 1e-12', () => {
    tryAll((panel, shape) => {
      const { scores, chances } = distribution(panel.meet, shape);
      const all = expected(panel, shape);
      expect(scores).toEqual([...all.keys()].sort((a, b) => a - b));
      const worst = Math.max(
        ...scores.map((s, i) => Math.abs((chances[i] ?? -1) - (all.get(s) ?? -1))),
      );
      expect(worst).toBeLessThan(1e-12);
    });
  });

  it('adds up to 1, nothing negative, scores rising and never below 0', () => {
    tryAll((panel, shape) => {
      const { scores, chances } = distribution(panel.meet, shape);
      expect(Math.abs(sum(chances) - 1)).toBeLessThan(1e-12);
      expect(chances.every((p) => p >= 0)).toBe(true);
      expect(scores.every((s, i) => Number.isInteger(s) && s > (scores[i - 1] ?? -1))).toBe(true);
    });
  });

  it('without falls lies on the grid between low and high', () => {
    tryAll((panel, { low, likely, high }) => {
      const { scores } = distribution(panel.meet, { low, likely, high, falls: 0 });
      const points = gridIn(panel, low, high);
      expect(scores).toEqual(low === high || points.length === 0 ? [likely] : points);
    });
  });

  it.each([
    ['no fall for certain', 0, [[13000, 1]]],
    [
      'a fall now and then',
      0.1,
      [
        [11000, 0.01],
        [12000, 0.09],
        [13000, 0.9],
      ],
    ],
    ['one for certain is two', 1, [[11000, 1]]],
  ] as const)('mixes in falls: none 1-f, one f(1-f), two f·f: %s', (_, falls, all) => {
    const [{ meet }] = PANELS as [Panel];
    const shape = { low: 13000, likely: 13000, high: 13000, falls };
    const { scores, chances } = distribution(meet, shape);
    expect(scores).toEqual(all.map(([s]) => s));
    all.forEach(([, p], i) => {
      expect(chances[i]).toBeCloseTo(p, 15);
    });
  });

  it('a fall never takes a score below 0: both falls of a low one end there', () => {
    const [{ meet }] = PANELS as [Panel];
    const { scores, chances } = distribution(meet, {
      low: 700,
      likely: 700,
      high: 700,
      falls: 0.5,
    });
    expect(scores).toEqual([0, 700]);
    expect(chances).toEqual([0.5, 0.5]);
  });

  it.each([
    ['no width', { low: 13017, likely: 13017, high: 13017 }],
    ['no grid point between', { low: 13001, likely: 13020, high: 13032 }],
  ])('%s: likely for certain, on the grid or not', (_, shape) => {
    const [{ meet }] = PANELS as [Panel];
    const found = distribution(meet, { ...shape, falls: 0 });
    expect(found).toEqual({ scores: [shape.likely], chances: [1] });
  });

  it('a single grid point has it all', () => {
    const [{ meet }] = PANELS as [Panel];
    const found = distribution(meet, { low: 13010, likely: 13020, high: 13040, falls: 0 });
    expect(found).toEqual({ scores: [13033], chances: [1] });
  });

  it.each(['low', 'likely', 'high', 'falls'] as const)(
    'is not made up where %s is missing',
    (key) => {
      const [{ meet }] = PANELS as [Panel];
      const whole: Shape = { low: 13000, likely: 13500, high: 14000, falls: 0.05 };
      const { [key]: _, ...part } = whole;
      expect(distributionOf(meet, rangeOf(whole))).not.toBeNull();
      expect(distributionOf(meet, rangeOf(part))).toBeNull();
      expect(supportOf(meet, rangeOf(part))).toBeNull();
    },
  );

  // Vose, "Risk Analysis" (2008): the mean of a modified PERT distribution. The grid moves it by
  // less than one of its steps.
  it('has about the mean (low + 4 likely + high)/6', () => {
    tryAll((panel, { low, likely, high }) => {
      const { scores, chances } = distribution(panel.meet, { low, likely, high, falls: 0 });
      const widest = Math.max(
        ...scores.slice(1).map((s, i) => s - (scores[i] ?? s)),
        (scores[0] ?? low) - low,
        high - (scores.at(-1) ?? high),
      );
      if (scores.length < 2) return;
      const mean = sum(scores.map((s, i) => s * (chances[i] ?? 0)));
      expect(Math.abs(mean - (low + 4 * likely + high) / 6)).toBeLessThanOrEqual(widest);
    });
  });

  it('a higher likely is better at every score', () => {
    tryAll((panel, { low, likely, high, falls }) => {
      const better = distribution(panel.meet, {
        low,
        likely: Math.min(likely + 50, high),
        high,
        falls,
      });
      const worse = distribution(panel.meet, { low, likely, high, falls });
      // Of a range without a grid point only likely itself is left.
      for (const score of worse.scores) {
        expect(chanceOfAtLeast(better, score)).toBeGreaterThan(
          chanceOfAtLeast(worse, score) - 1e-12,
        );
      }
    });
  });
});

describe('the chance of at least a score, and its quantiles', () => {
  it('the chance of at least a score is the sum of those that reach it', () => {
    tryAll((panel, shape) => {
      const found = distribution(panel.meet, shape);
      const { scores, chances } = found;
      const [lowest = 0] = scores;
      const highest = scores.at(-1) ?? 0;
      for (const score of [0, lowest, lowest + 1, shape.likely, highest, highest + 1]) {
        const reached = sum(chances.filter((_, i) => (scores[i] ?? 0) >= score));
        expect(Math.abs(chanceOfAtLeast(found, score) - reached)).toBeLessThan(1e-12);
      }
      expect(chanceOfAtLeast(found, lowest)).toBe(1);
      expect(chanceOfAtLeast(found, highest + 1)).toBe(0);
    });
  });

  it('a quantile is the lowest score with at least that cumulative chance', () => {
    tryAll((panel, shape) => {
      const found = distribution(panel.meet, shape);
      const { scores, chances } = found;
      for (const q of [0, 1e-9, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 1]) {
        const score = quantile(found, q);
        const at = scores.indexOf(score);
        expect(at).toBeGreaterThanOrEqual(0);
        expect(sum(chances.slice(0, at + 1))).toBeGreaterThanOrEqual(q - 1e-12);
        if (at > 0) expect(sum(chances.slice(0, at))).toBeLessThan(q);
      }
    });
  });

  it('both tell the same: below a quantile lies less than its chance', () => {
    tryAll((panel, shape) => {
      const found = distribution(panel.meet, shape);
      for (const q of [0.1, 0.5, 0.9]) {
        const score = quantile(found, q);
        expect(1 - chanceOfAtLeast(found, score)).toBeLessThan(q + 1e-12);
        expect(1 - chanceOfAtLeast(found, score + 1)).toBeGreaterThan(q - 1e-12);
      }
    });
  });

  it('cumulative chances rise to exactly 1', () => {
    tryAll((panel, shape) => {
      const steps = cumulative(distribution(panel.meet, shape));
      expect(steps.at(-1)).toBe(1);
      expect(steps.every((p, i) => p >= (steps[i - 1] ?? 0) - 1e-15)).toBe(true);
    });
  });
});

describe('the lowest and the highest score a range allows', () => {
  it('are those of its distribution', () => {
    tryAll((panel, shape) => {
      const { scores } = distribution(panel.meet, shape);
      expect(supportOf(panel.meet, rangeOf(shape))).toEqual({
        lowest: scores[0],
        highest: scores.at(-1),
      });
    }, 1500);
  });

  it('the distribution without falls is the same, falls or not', () => {
    tryAll((panel, shape) => {
      const range = rangeOf(shape);
      if (!isComplete(range)) throw new Error('nothing is missing');
      const clean = distribution(panel.meet, { ...shape, falls: 0 });
      expect(withoutFalls(range, panel.meet.scoring.grid)).toEqual(clean);
    });
  });
});
