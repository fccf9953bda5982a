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
import { isBefore } from '../../lib/history/round.js';
import { type Distribution, type History, type PastRoutine, readHistory } from '../../lib/index.js';
import { completed, usualFigures } from '../../lib/meet/usual.js';
import { withFalls } from '../../lib/range/distribution.js';
import { asScore } from '../../lib/score.js';
import type { Scoring } from '../../lib/scoring.js';

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

/** Whether a routine told of scores at all: an invalid vault, or one broken off, does not. */
const tells = (r: PastRoutine) => r.score > 0;

interface Ranged {
  readonly routine: PastRoutine;
  readonly range: FittedRange;
  /** Hers on the apparatus from earlier dates. */
  readonly earlier: readonly PastRoutine[];
  /** The score of the baseline. */
  readonly baseline: number;
}

type Known = 'earlier dates' | 'earlier rounds too';

/** Every routine with three or more of hers from earlier dates, and the range from those or from what is known. */
function rangedBy(known: Known): Ranged[] {
  const routines = openData().routines.filter(tells);
  return [...groupedBy(routines, (r) => r.date).entries()].flatMap(([before, today]) => {
    const early = groupedBy(
      routines.filter((r) => r.date < before),
      hers,
    );
    const spreads = spreadsOf([...early.values()]);
    const fits = new Map<string, Map<string, FittedRange>>();
    const fitted = (r: PastRoutine) => {
      const key = known === 'earlier dates' ? '' : `${r.competition} ${r.round.name}`;
      const found = fits.get(key) ?? rangesFor(before, key === '' ? null : r);
      fits.set(key, found);
      return found.get(hers(r));
    };
    return today.flatMap((routine): Ranged[] => {
      const earlier = early.get(hers(routine)) ?? [];
      const spread = spreads.get(`${routine.discipline} ${routine.apparatus}`) ?? 0;
      const range = earlier.length < 3 || spread === 0 ? undefined : fitted(routine);
      if (range === undefined) return [];
      const center = mean(earlier.map((r) => r.score));
      const baseline = normalScore(center, spread, routine.score);
      return [{ routine, range, earlier, baseline }];
    });
  });
}

const keptRanged = new Map<Known, Ranged[]>();
function ranged(known: Known): Ranged[] {
  const found = keptRanged.get(known) ?? rangedBy(known);
  keptRanged.set(known, found);
  return found;
}

/** Around gymnasts' own means, by discipline and apparatus. */
function spreadsOf(owns: readonly PastRoutine[][]): Map<string, number> {
  const sums = new Map<string, { squares: number; free: number }>();
  for (const own of owns) {
    const key = `${own[0]?.discipline} ${own[0]?.apparatus}`;
    const { squares, free } = sums.get(key) ?? { squares: 0, free: 0 };
    const added = own.length > 1 ? (own.length - 1) * variance(own) : 0;
    sums.set(key, { squares: squares + added, free: free + own.length - 1 });
  }
  return new Map(
    [...sums].map(([key, { squares, free }]) => [key, Math.sqrt(squares / free) || 0]),
  );
}

function rangesFor(before: string, of: PastRoutine | null): Map<string, FittedRange> {
  const also = (r: PastRoutine) =>
    of !== null && r.competition === of.competition && isBefore(r.round, of.round);
  const fitted = fitRanges(openData(), { before, also, competition: of?.competition ?? null });
  return new Map(
    fitted.flatMap(({ id, discipline, ranges }) =>
      Object.entries(ranges).map(
        ([code, range]) => [`${discipline} ${id} ${code}`, range] as const,
      ),
    ),
  );
}

type Hits = Pick<FittedRange, 'low' | 'likely' | 'high' | 'falls'>;

const distribution = ({ low, likely, high, falls }: Hits) =>
  withFalls({ low, likely, high, falls, d: null, within: null, from: 'file' }, GRID, POINT);

function ratioOf(of: readonly Ranged[], rangeOf: (one: Ranged) => Hits = (one) => one.range) {
  const ours = mean(of.map((one) => score(distribution(rangeOf(one)), one.routine.score)));
  return ours / mean(of.map((one) => one.baseline));
}

/** How often what happened lay in the middle so much of what was said. */
function coverage(of: readonly { hits: Hits; happened: number }[], middle: number): number {
  return mean(
    of.map(({ hits, happened }) => {
      const { scores, chances } = distribution(hits);
      const below = scores.reduce(
        (sum, s, i) => sum + (s < happened ? 1 : s === happened ? 0.5 : 0) * (chances[i] ?? 0),
        0,
      );
      return Math.abs(below - 0.5) < middle / 2 ? 1 : 0;
    }),
  );
}

const covered = (of: readonly { hits: Hits; happened: number }[]) =>
  [0.5, 0.8, 0.9].map((middle) => coverage(of, middle).toFixed(2)).join(' ');

describe.skipIf(FOLDER === '')(`ranges from results, day by day${WITHOUT}`, () => {
  const limit = { timeout: 120_000 };

  // All figures are those of docs/ranges.md.
  it('say more than her own mean with the usual spread', limit, () => {
    const of = ranged('earlier dates');
    expect(of.length).toBe(5952);
    expect(ratioOf(of).toFixed(3)).toBe('0.918');
    const said = of.map((one) => ({ hits: one.range, happened: one.routine.score }));
    expect(covered(said)).toBe('0.50 0.80 0.89');
  });

  it('say more still where the D she will show is known', limit, () => {
    const of = ranged('earlier dates').filter(
      ({ range, routine }) => range.d !== null && routine.d !== null,
    );
    // The D that was given afterwards, which a fall may have cost a part of: so falls apart, too.
    const moved = ({ range, routine }: Ranged): Hits => {
      const by = (routine.d ?? 0) - (range.d ?? 0);
      const [low, likely, high] = [range.low, range.likely, range.high].map((s) => asScore(s + by));
      return { ...range, low: low!, likely: likely!, high: high! };
    };
    const e = (r: PastRoutine) => r.score - (r.d ?? 0);
    const clean = of.filter(({ routine, earlier }) => {
      const all = earlier.map(e).sort((a, b) => b - a);
      return e(routine) >= mean(all.slice(0, Math.ceil(all.length / 2))) - 0.7 * POINT;
    });
    expect([ratioOf(of), ratioOf(of, moved)].map((r) => r.toFixed(2))).toEqual(['0.92', '0.82']);
    expect([ratioOf(clean), ratioOf(clean, moved)].map((r) => r.toFixed(2))).toEqual([
      '0.80',
      '0.73',
    ]);
  });

  it('say more still with the earlier rounds of the competition', limit, () => {
    const isFollowed = ({ range, earlier }: Ranged) => range.results > earlier.length;
    const late = ranged('earlier rounds too').filter(isFollowed);
    const keys = new Set(late.map(({ routine }) => routine.line));
    const early = ranged('earlier dates').filter(({ routine }) => keys.has(routine.line));
    expect(late.length).toBe(1829);
    expect([ratioOf(early), ratioOf(late)].map((r) => r.toFixed(3))).toEqual(['0.904', '0.833']);
  });

  it('know their own level about as well as they say', limit, () => {
    const fitted = rangesFor(CUT, null);
    const later = groupedBy(
      openData().routines.filter((r) => r.date >= CUT && tells(r)),
      hers,
    );
    const shares = [...later].flatMap(([key, own]) => {
      const range = fitted.get(key);
      const usual = mean(own.map((r) => r.score - (r.d ?? 0)));
      const hits = clean(own, usual);
      if (range === undefined || hits.length < 5) return [];
      // The mean of five and more routines is the level, but for what chance leaves of it.
      const center = (range.low + 4 * range.likely + range.high) / 6;
      const chance = variance(hits) / hits.length;
      return (mean(hits.map((r) => r.score)) - center) ** 2 <= range.within ** 2 + chance
        ? [1]
        : [0];
    });
    expect([shares.length, mean(shares).toFixed(2)]).toEqual([137, '0.67']);
  });
});

describe.skipIf(FOLDER === '')(`where there is no history${WITHOUT}`, () => {
  const OPEN: Scoring = {
    system: 'open',
    decimals: 3,
    grid: GRID,
    fall: POINT,
    ceiling: 17 * POINT,
  };
  const NONE = { low: null, likely: null, high: null, falls: null, d: null };

  /** Routines of gymnasts of whom nothing is known on the apparatus, with the others of the round who are. */
  function unknown() {
    const routines = openData().routines.filter(tells);
    return [...groupedBy(routines, (r) => r.date).entries()].flatMap(([before, today]) => {
      if (before < '2022-06-01') return [];
      const fitted = rangesFor(before, null);
      const round = (r: PastRoutine) => `${r.discipline} ${r.competition} ${r.round.name}`;
      return [...groupedBy(today, round).values()].flatMap((all) =>
        all.flatMap((routine) => {
          if (fitted.has(hers(routine))) return [];
          const others = all
            .filter((r) => r.apparatus === routine.apparatus)
            .flatMap((r) => fitted.get(hers(r)) ?? [])
            .map(({ low, likely, high }) => (low + 4 * likely + high) / 6);
          const field =
            others.length === 0 ? null : { gymnasts: others.length, level: mean(others) };
          // The first of hers on other apparatus, as if they had come before.
          const tonight = all
            .filter((r) => r.gymnast === routine.gymnast)
            .filter((r) => r.apparatus.slice(0, 2) !== routine.apparatus.slice(0, 2))
            .slice(0, 2);
          return [{ routine, field, tonight }];
        }),
      );
    });
  }

  it('what is usual covers what happens, about as often as it says', { timeout: 120_000 }, () => {
    const all = unknown();
    const judged = (rangeOf: (one: (typeof all)[number]) => Hits | null, of = all) => {
      const said = of.flatMap((one) => {
        const hits = rangeOf(one);
        return hits === null ? [] : [{ hits, happened: one.routine.score }];
      });
      const points = mean(said.map(({ hits, happened }) => score(distribution(hits), happened)));
      return `${said.length}: ${(points / POINT).toFixed(2)}, ${covered(said)}`;
    };
    const range = (
      { routine }: (typeof all)[number],
      d: PastRoutine['d'],
      tonight: readonly PastRoutine[],
      field: (typeof all)[number]['field'],
    ) => completed(OPEN, routine.discipline, routine.apparatus, { ...NONE, d }, tonight, field);
    const finals = all.filter(
      ({ routine }) => routine.round.stage === 'final' && routine.round.contest !== 'all-around',
    );
    const two = all.filter(({ tonight }) => tonight.length === 2);
    expect({
      nothing: judged((one) => range(one, null, [], null)),
      field: judged((one) => range(one, null, [], one.field)),
      'field, team and apparatus finals': judged((one) => range(one, null, [], one.field), finals),
      'nothing, team and apparatus finals': judged((one) => range(one, null, [], null), finals),
      'two scores tonight': judged((one) => range(one, null, one.tonight, one.field), two),
      D: judged((one) => range(one, one.routine.d, [], one.field)),
      'D and two scores': judged((one) => range(one, one.routine.d, one.tonight, one.field), two),
    }).toEqual({
      // Scored in points, and how often the middle 50, 80 and 90% held what happened.
      nothing: '6947: 0.73, 0.51 0.78 0.86',
      field: '6947: 0.70, 0.53 0.80 0.87',
      'nothing, team and apparatus finals': '1043: 0.59, 0.51 0.79 0.90',
      'field, team and apparatus finals': '1043: 0.51, 0.62 0.89 0.95',
      'two scores tonight': '5695: 0.54, 0.55 0.81 0.89',
      D: '6947: 0.45, 0.56 0.82 0.90',
      'D and two scores': '5695: 0.41, 0.50 0.77 0.87',
    });
  });
});
