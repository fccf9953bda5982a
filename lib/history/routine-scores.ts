/** How much ranges say of single routines, date by date. */

import { errorFunction } from 'simple-statistics';
import type { DisciplineCode } from '../apparatus.js';
import type { Measure } from '../chance.js';
import { type Distribution, withFalls } from '../range/distribution.js';
import { type Units, unitsPerPoint } from '../score.js';
import { type Grid, SCORING_SYSTEMS } from '../scoring.js';
import { fitRanges, tellsOfScores } from './fit.js';
import type { History } from './history.js';
import type { PastRoutine } from './routine.js';

/** How much ranges say about single routines. */
export interface RoutineScore {
  /** How many were judged. */
  readonly routines: number;
  /** Mean continuous ranked probability score, in units: of the ranges, and of the baseline. */
  readonly ranges: Measure;
  /** The same of the baseline: her own mean with the spread of all. */
  readonly baseline: Measure;
  /** The first as a share of the second: below 1 the ranges say more. */
  readonly ratio: Measure | null;
}

/** Fewer earlier results than this are no baseline. */
const FEWEST = 3;

/**
 * Each routine of a gymnast with three or more earlier results on the apparatus, against her range
 * from earlier dates, and against a normal distribution with her own mean and the pooled spread. A score of
 * nothing, of a vault not valid or a routine broken off, is no score here.
 */
export function routineScores(
  history: History,
  discipline: DisciplineCode | null = null,
  onProgress: (done: number, of: number) => void = () => {},
): RoutineScore {
  const { scoring, decimals } = history;
  const system = SCORING_SYSTEMS[scoring];
  const grid: Grid = { ...system.panel, decimals };
  const fall = (system.fallThousandths * unitsPerPoint(decimals)) / 1000;
  const routines = history.routines.filter(
    (r) => tellsOfScores(r) && (discipline === null || r.discipline === discipline),
  );
  const byDate = new Map<string, PastRoutine[]>();
  for (const r of routines) {
    const same = byDate.get(r.date);
    if (same === undefined) byDate.set(r.date, [r]);
    else same.push(r);
  }
  const earlier = new Map<string, Units[]>();
  let [ours, theirs, count] = [0, 0, 0];
  for (const [k, date] of [...byDate.keys()].sort().entries()) {
    onProgress(k, byDate.size);
    const today = byDate.get(date)!;
    const known = today.filter((r) => (earlier.get(keyOf(r))?.length ?? 0) >= FEWEST);
    if (known.length > 0) {
      const spreads = pooledSpreads(earlier);
      const ranges = new Map(
        fitRanges(history, { before: date }).map((f) => [`${f.discipline} ${f.id}`, f.ranges]),
      );
      for (const r of known) {
        const range = ranges.get(`${r.discipline} ${r.gymnast}`)?.[r.apparatus];
        const own = earlier.get(keyOf(r))!;
        const spread = spreads.get(`${r.discipline} ${r.apparatus}`) ?? 0;
        if (range === undefined || spread === 0) continue;
        const center = own.reduce((a, b) => a + b, 0) / own.length;
        ours += rankedScore(withFalls({ ...range, from: 'file' }, grid, fall), r.score);
        theirs += normalRankedScore(center, spread, r.score);
        count++;
      }
    }
    for (const r of today) earlier.set(keyOf(r), [...(earlier.get(keyOf(r)) ?? []), r.score]);
  }
  if (count === 0) return { routines: 0, ranges: 0, baseline: 0, ratio: null };
  return { routines: count, ranges: ours / count, baseline: theirs / count, ratio: ours / theirs };
}

function keyOf(r: PastRoutine): string {
  return `${r.discipline} ${r.apparatus} ${r.gymnast}`;
}

/** By discipline and apparatus: the standard deviation around gymnasts' own means. */
function pooledSpreads(earlier: ReadonlyMap<string, readonly Units[]>): Map<string, number> {
  const sums = new Map<string, { squares: number; free: number }>();
  for (const [key, own] of earlier) {
    const apparatus = key.split(' ', 2).join(' ');
    const mean = own.reduce((a, b) => a + b, 0) / own.length;
    const { squares, free } = sums.get(apparatus) ?? { squares: 0, free: 0 };
    sums.set(apparatus, {
      squares: squares + own.reduce((sum, s) => sum + (s - mean) ** 2, 0),
      free: free + own.length - 1,
    });
  }
  return new Map(
    [...sums].map(([key, { squares, free }]) => [key, free > 0 ? Math.sqrt(squares / free) : 0]),
  );
}

/** The continuous ranked probability score, E|X - y| - E|X - X'| / 2, in units. */
export function rankedScore({ scores, chances }: Distribution, happened: Units): number {
  let [far, apart, below, sum] = [0, 0, 0, 0];
  for (const [i, x] of scores.entries()) {
    const p = chances[i]!;
    far += p * Math.abs(x - happened);
    apart += p * (x * below - sum);
    below += p;
    sum += p * x;
  }
  return far - apart;
}

/** The same of a normal distribution: Gneiting and Raftery, JASA 102 (2007), 359-378 (from memory). */
export function normalRankedScore(mean: number, spread: number, happened: Units): number {
  const z = (happened - mean) / spread;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  return spread * (z * errorFunction(z / Math.SQRT2) + 2 * density - 1 / Math.sqrt(Math.PI));
}
