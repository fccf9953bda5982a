/** How much ranges say of single routines, date by date, and whether what they say is so. */

import { errorFunction } from 'simple-statistics';
import { DISCIPLINES, type DisciplineCode } from '../apparatus.js';
import type { Chance, Measure } from '../chance.js';
import { isComplete } from '../meet/realistic.js';
import { type Distribution, quantile, withFallsOnce } from '../range/distribution.js';
import { type Units, unitsPerPoint } from '../score.js';
import { type Grid, SCORING_SYSTEMS } from '../scoring.js';
import { drawnAnew, sharesBy } from './bootstrap.js';
import { tellsOfScores } from './fit.js';
import type { Behind } from './forecasters.js';
import type { History } from './history.js';
import { type Normal, ownMeans } from './own-means.js';
import { type Placed, placedIn, shareWithin } from './pit.js';
import { ownRoutines } from './pool.js';
import type { GivenRange } from './rounds.js';
import type { PastRoutine } from './routine.js';
import { wilson } from './wilson.js';

/** What was said of some routines, and what happened. */
export interface RoutineFigures {
  /** How many; without any the means are 0. */
  readonly routines: number;
  /** The mean continuous ranked probability score of the ranges, in units; lower is better. */
  readonly ranges: Measure;
  /** The same of a normal distribution with her own mean and the spread of all round theirs. */
  readonly baseline: Measure;
  /** The first as a share of the second: below 1 the ranges say more. Null without a routine. */
  readonly ratio: Measure | null;
  /** Of `ratio`, 95%, by drawing the gymnasts anew; null of fewer than two. */
  readonly interval: readonly [low: Measure, high: Measure] | null;
  /** How many lay in the middle half, four fifths and nine tenths of their ranges. */
  readonly coverage: readonly {
    /** The share: a half, four fifths, nine tenths. */
    readonly said: Chance;
    /** How many of the routines lay in it. */
    readonly happened: Chance;
  }[];
  /** The mean width of the middle four fifths, in units: of two ranges that are right the narrower says more. */
  readonly width: Measure;
  /** How many lay in each tenth of their ranges, from the lowest: a tenth each if the ranges were right. */
  readonly tenths: readonly Chance[];
  /** Falls as the ranges said them, against those that the scores suggest. */
  readonly falls: {
    /** The mean chance of a first fall. */
    readonly said: Chance;
    /** In how many of the routines one is inferred. */
    readonly seen: Chance;
    /** Of `seen`, Wilson's 95%. */
    readonly interval: readonly [low: Chance, high: Chance];
  };
}

/** Those on one apparatus. */
export interface ApparatusFigures extends RoutineFigures {
  /** Women's or men's. */
  readonly discipline: DisciplineCode;
  /** By code; a second vault is `VT2`. */
  readonly apparatus: string;
}

/** What ranges said of single routines, and what happened: of all, and by apparatus. */
export interface RoutineScore extends RoutineFigures {
  /** The same by discipline and apparatus; those that have any. */
  readonly byApparatus: readonly ApparatusFigures[];
  /**
   * How much further off other ranges were, in units, over the routines of which both say something, by drawing
   * the gymnasts anew; null where no others were named, neither is a ranges file, or there is no such routine.
   */
  readonly behind: Behind | null;
}

/** Fewer earlier results than this are no baseline. */
const FEWEST = 3;

const CENTRAL = [0.5, 0.8, 0.9] as const;
/** Sharpness is how wide this share of a range is. */
const WIDE = 0.8;
const TENTHS = 10;

/** Ranges of the gymnasts who were up on a day, as they were known before it. */
export type RangesThen = (
  discipline: DisciplineCode,
  date: string,
  gymnasts: readonly string[],
) => (gymnast: string) => Readonly<Record<string, GivenRange>> | undefined;

export interface RoutineQuestion {
  readonly discipline: DisciplineCode | null;
  readonly since: string | null;
  readonly seed: number;
  readonly ranges: RangesThen;
  /** Other ranges to compare these with. */
  readonly against: RangesThen | null;
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
}

/** One routine, judged. */
interface Judged {
  readonly routine: PastRoutine;
  readonly ours: number;
  readonly theirs: number;
  readonly against: number | null;
  readonly placed: Placed;
  readonly width: number;
  readonly falls: number;
  readonly fell: boolean;
}

/**
 * Each routine of a gymnast with three or more earlier results on the apparatus, against her range
 * from earlier dates, and against a normal distribution with her own mean and the pooled spread. A score of
 * nothing, of a vault not valid or a routine broken off, is no score here.
 */
export function routineScores(history: History, question: RoutineQuestion): RoutineScore {
  const { seed, against } = question;
  const judged = judgedIn(history, question);
  const places = (['wag', 'mag'] as const).flatMap((discipline) => {
    const codes = DISCIPLINES[discipline].apparatus.flatMap(([code]) => [code, `${code}2`]);
    return codes.map((apparatus) => ({ discipline, apparatus }));
  });
  const byApparatus = places.flatMap(({ discipline, apparatus }) => {
    const those = judged.filter(
      ({ routine: r }) => r.discipline === discipline && r.apparatus === apparatus,
    );
    return those.length === 0 ? [] : [{ discipline, apparatus, ...figuresOf(those, seed) }];
  });
  return {
    ...figuresOf(judged, seed),
    byApparatus,
    behind: against === null ? null : behindOf(judged, seed),
  };
}

function judgedIn(history: History, question: RoutineQuestion): Judged[] {
  const { discipline, since, ranges, against, onProgress } = question;
  const judge = judgeFor(history);
  const routines = history.routines.filter(
    (r) => tellsOfScores(r) && (discipline === null || r.discipline === discipline),
  );
  const byDate = groupedBy(routines, (r) => r.date);
  const earlier = ownMeans();
  const judged: Judged[] = [];
  for (const [k, date] of [...byDate.keys()].sort().entries()) {
    onProgress?.(k, byDate.size);
    const today = byDate.get(date) ?? [];
    const isAsked = since === null || date >= since;
    const known = isAsked ? today.filter((r) => earlier.count(r) >= FEWEST) : [];
    for (const [code, those] of groupedBy(known, (r) => r.discipline)) {
      const gymnasts = those.map((r) => r.gymnast);
      const of = ranges(code, date, gymnasts);
      const other = against?.(code, date, gymnasts);
      for (const r of those) {
        const normal = earlier.own(r);
        if (normal === null) continue;
        const range = of(r.gymnast)?.[r.apparatus];
        judged.push(...judge(r, range, other?.(r.gymnast)?.[r.apparatus], normal));
      }
    }
    for (const r of today) earlier.add(r);
  }
  return judged;
}

function groupedBy<K>(routines: readonly PastRoutine[], key: (r: PastRoutine) => K) {
  const groups = new Map<K, PastRoutine[]>();
  for (const r of routines) {
    const group = groups.get(key(r));
    if (group === undefined) groups.set(key(r), [r]);
    else group.push(r);
  }
  return groups;
}

function judgeFor(history: History) {
  const { scoring, decimals } = history;
  const system = SCORING_SYSTEMS[scoring];
  const grid: Grid = { ...system.panel, decimals };
  const fall = (system.fallThousandths * unitsPerPoint(decimals)) / 1000;
  const fallen = new Set<PastRoutine>();
  for (const { routines, fell } of ownRoutines(history.routines.filter(tellsOfScores), decimals)) {
    for (const [i, routine] of routines.entries()) if (fell[i] === true) fallen.add(routine);
  }
  const distribution = (given: GivenRange | undefined): Distribution | null => {
    const range = given === undefined ? null : { ...given, within: null, from: 'file' as const };
    return range !== null && isComplete(range) ? withFallsOnce(range, grid, fall) : null;
  };
  return (
    routine: PastRoutine,
    range: GivenRange | undefined,
    other: GivenRange | undefined,
    { mean, spread }: Normal,
  ): Judged[] => {
    const said = distribution(range);
    if (said === null || spread === 0) return [];
    const otherwise = distribution(other);
    const [low, high] = [(1 - WIDE) / 2, (1 + WIDE) / 2].map((p) => quantile(said, p));
    return [
      {
        routine,
        ours: rankedScore(said, routine.score),
        theirs: normalRankedScore(mean, spread, routine.score),
        against: otherwise === null ? null : rankedScore(otherwise, routine.score),
        placed: placedIn(said, routine.score),
        width: (high ?? 0) - (low ?? 0),
        falls: range?.falls ?? 0,
        fell: fallen.has(routine),
      },
    ];
  };
}

function figuresOf(judged: readonly Judged[], seed: number): RoutineFigures {
  const count = judged.length;
  const over = (of: (one: Judged) => number) =>
    count === 0 ? 0 : judged.reduce((sum, one) => sum + of(one), 0) / count;
  const [ranges, baseline] = [over((j) => j.ours), over((j) => j.theirs)];
  const shares = sharesBy(judged, whose, (j) => ({ sum: j.ours, of: j.theirs }));
  const fell = judged.filter((j) => j.fell).length;
  return {
    routines: count,
    ranges,
    baseline,
    ratio: count === 0 ? null : ranges / baseline,
    interval: drawnAnew(shares, seed),
    coverage: CENTRAL.map((said) => ({
      said,
      happened: over((j) => shareWithin(j.placed, (1 - said) / 2, (1 + said) / 2)),
    })),
    width: over((j) => j.width),
    tenths: Array.from({ length: TENTHS }, (_, k) =>
      over((j) => shareWithin(j.placed, k / TENTHS, (k + 1) / TENTHS)),
    ),
    falls: {
      said: over((j) => j.falls),
      seen: over((j) => Number(j.fell)),
      interval: wilson(fell, count),
    },
  };
}

function whose({ routine: r }: Judged): string {
  return `${r.discipline} ${r.gymnast}`;
}

/** How much more the other ranges were off, over the routines of which both say something. */
function behindOf(judged: readonly Judged[], seed: number): Behind | null {
  const both = judged.flatMap((j) => (j.against === null ? [] : [{ j, more: j.against - j.ours }]));
  if (both.length === 0) return null;
  const shares = sharesBy(
    both,
    ({ j }) => whose(j),
    ({ more }) => ({ sum: more, of: 1 }),
  );
  return {
    by: both.reduce((sum, { more }) => sum + more, 0) / both.length,
    interval: drawnAnew(shares, seed),
  };
}

/** The continuous ranked probability score, E|X - y| - E|X - X'| / 2, in units. */
export function rankedScore({ scores, chances }: Distribution, happened: Units): number {
  let [far, apart, below, sum] = [0, 0, 0, 0];
  for (const [i, x] of scores.entries()) {
    const p = chances[i] ?? 0;
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
