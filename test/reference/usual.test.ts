/**
 * What is usual on each apparatus, and how good ranges from results are, against open data: 20,815
 * routines, 27 February 2022 to 27 August 2023, from the UCSAS 2024 data challenge (University of
 * Connecticut). The file is read from the folder that LASTROTATION_DATA names; no row of it is here.
 * The score of a distribution is the continuous ranked probability score; of a normal distribution
 * by the formula of Gneiting and Raftery, Journal of the American Statistical Association 102
 * (2007), 359-378, from memory.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { type FittedRange, fitRanges } from '../../lib/history/fit.js';
import { type Distribution, type History, type PastRoutine, readHistory } from '../../lib/index.js';
import { usualFigures } from '../../lib/meet/usual.js';
import { withFalls } from '../../lib/range/distribution.js';

const FOLDER = process.env.LASTROTATION_DATA ?? '';
const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';
const GRID = { counting: 3, stepMillionths: 100_000, decimals: 3 } as const;
const POINT = 1000;
const CUT = '2023-01-01';

let kept: History | null = null;
function openData(): History {
  const file = 'routines-2022-2023.csv';
  kept ??= readHistory({ file, text: readFileSync(join(FOLDER, file), 'utf8') });
  return kept;
}

function groupedBy(routines: readonly PastRoutine[], key: (r: PastRoutine) => string) {
  const groups = new Map<string, PastRoutine[]>();
  for (const r of routines) groups.set(key(r), [...(groups.get(key(r)) ?? []), r]);
  return groups;
}

const hers = (r: PastRoutine) => `${r.discipline} ${r.gymnast} ${r.apparatus}`;

/** E more than 0.7 under her own better half, or 1.3 under the mean of all where it is her only one. */
function clean(own: readonly PastRoutine[], usual: number): PastRoutine[] {
  const e = (r: PastRoutine) => r.score - (r.d ?? 0);
  if (own.length === 1) return own.filter((r) => e(r) >= usual - 1.3 * POINT);
  const all = own.map(e).sort((a, b) => b - a);
  const half = mean(all.slice(0, Math.ceil(all.length / 2)));
  return own.filter((r) => e(r) >= half - 0.7 * POINT);
}

describe.skipIf(FOLDER === '')(`what is usual${WITHOUT}`, () => {
  it.each([
    ['wag', ['VT', 'VT2', 'UB', 'BB', 'FX']],
    ['mag', ['FX', 'PH', 'SR', 'VT', 'VT2', 'PB', 'HB']],
  ] as const)('in %s is as the routines say', (discipline, codes) => {
    for (const code of codes) {
      const all = openData().routines.filter(
        (r) => r.discipline === discipline && r.apparatus === code,
      );
      const usual = mean(all.map((r) => r.score - (r.d ?? 0)));
      const owns = [...groupedBy(all, hers).values()].map((own) => clean(own, usual));
      const hits = owns.flat();
      const within = owns.filter((o) => o.length > 1);
      const squares = within.map((o) => (o.length - 1) * variance(o));
      const spread = Math.sqrt(
        squares.reduce((a, b) => a + b, 0) / (within.flat().length - within.length),
      );
      const means = owns.filter((o) => o.length > 0);
      const apart = standardDeviation(means.map((o) => mean(o.map((r) => r.score)))) ** 2;
      const chance = mean(means.map((o) => spread ** 2 / o.length));
      const figures = usualFigures('open', discipline, code);
      const near = (found: number, said: number | undefined, by: number) =>
        expect(Math.abs(found - (said ?? Number.NaN)), `${code}: ${found}`).toBeLessThanOrEqual(by);
      near(mean(hits.map((r) => r.score)), figures?.level, 10);
      near(mean(hits.map((r) => r.score - (r.d ?? 0))), figures?.execution, 10);
      near(spread, figures?.spread, 10);
      near(Math.sqrt(apart - chance), figures?.between, 10);
      near(1 - hits.length / all.length, figures?.falls, 0.006);
    }
  });
});

/** With the divisor for a sample. */
function variance(own: readonly PastRoutine[]): number {
  const center = mean(own.map((r) => r.score));
  return own.reduce((sum, r) => sum + (r.score - center) ** 2, 0) / (own.length - 1);
}

/** E|X - y| - E|X - X'| / 2 */
function score({ scores, chances }: Distribution, y: number): number {
  let [far, apart, below, sum] = [0, 0, 0, 0];
  for (const [i, x] of scores.entries()) {
    const p = chances[i] ?? 0;
    far += p * Math.abs(x - y);
    apart += p * (x * below - sum);
    below += p;
    sum += p * x;
  }
  return far - apart;
}

/** Of a normal distribution. */
function normalScore(center: number, sd: number, y: number): number {
  const z = (y - center) / sd;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  return sd * (z * (2 * normalCdf(z) - 1) + 2 * density - 1 / Math.sqrt(Math.PI));
}

/** Abramowitz and Stegun 7.1.26, within 1.5e-7. */
function normalCdf(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp(-x * x);
  return z >= 0 ? 1 - tail / 2 : tail / 2;
}

describe.skipIf(FOLDER === '')(`ranges from results before 2023${WITHOUT}`, () => {
  it('say more of later routines than her own mean with the usual spread: at most 0.93 of its score', () => {
    const { routines } = openData();
    const early = groupedBy(
      routines.filter((r) => r.date < CUT),
      hers,
    );
    const pooled = new Map<string, { squares: number; free: number }>();
    for (const own of early.values()) {
      const key = `${own[0]?.discipline} ${own[0]?.apparatus}`;
      const { squares, free } = pooled.get(key) ?? { squares: 0, free: 0 };
      const added = own.length > 1 ? (own.length - 1) * variance(own) : 0;
      pooled.set(key, { squares: squares + added, free: free + own.length - 1 });
    }
    const fitted = new Map<string, FittedRange>();
    for (const { id, discipline, ranges } of fitRanges(openData(), { before: CUT })) {
      for (const [code, range] of Object.entries(ranges)) {
        fitted.set(`${discipline} ${id} ${code}`, range);
      }
    }
    let [ours, theirs, count] = [0, 0, 0];
    for (const r of routines) {
      const own = early.get(hers(r)) ?? [];
      const range = fitted.get(hers(r));
      if (r.date < CUT || own.length < 3 || range === undefined) continue;
      const { squares = 0, free = 1 } = pooled.get(`${r.discipline} ${r.apparatus}`) ?? {};
      const center = mean(own.map((o) => o.score));
      theirs += normalScore(center, Math.sqrt(squares / free), r.score);
      ours += score(withFalls({ ...range, from: 'file' }, GRID, POINT), r.score);
      count++;
    }
    expect(count).toBeGreaterThan(3000);
    expect(ours / theirs).toBeLessThanOrEqual(0.93);
    // What docs/ranges.md says.
    expect((ours / theirs).toFixed(2)).toBe('0.92');
  });
});
