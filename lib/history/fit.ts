/**
 * Ranges from a history: per gymnast and apparatus the four numbers people write by hand. How they
 * are made, and how good they were, is told in docs/ranges.md.
 */

import type { DisciplineCode } from '../apparatus.js';
import type { Chance } from '../chance.js';
import { rangeAround, type UsualFigures, usualFigures } from '../meet/usual.js';
import { asScore, type Decimals, type Score, unitsPerPoint } from '../score.js';
import { highestWith, type ScoringSystemName, usualCeiling } from '../scoring.js';
import { daysBetween, LONGEST_COMPETITION } from './date.js';
import type { History } from './history.js';
import { type Own, ownRoutines, type Pool, poolKey, poolsOf, type Usual } from './pool.js';
import type { PastRoutine } from './routine.js';

/** A range that was made from results. */
export interface FittedRange {
  /** The lowest score without a fall that her range allows: 3.2 standard deviations under `likely`. */
  readonly low: Score;
  /** The most likely score without a fall. */
  readonly likely: Score;
  /** The highest: 2.1 above it, or what her D and the system allow where that is less. */
  readonly high: Score;
  /** The chance of a fall. */
  readonly falls: Chance;
  /** The D score she can be expected to show; null where the history has none. */
  readonly d: Score | null;
  /** How far off `likely` may be: its standard error. Her true level is within it about two times in three. */
  readonly within: Score;
  /** On how many results it rests. */
  readonly results: number;
  /** In how many of them a fall was inferred. */
  readonly fell: number;
}

/** The ranges of one gymnast. */
export interface Fitted {
  /** As the history spelt her first; a ranges file has it as the key of her ranges. */
  readonly id: string;
  /** What she was seen in. */
  readonly discipline: DisciplineCode;
  /** By apparatus. */
  readonly ranges: Readonly<Record<string, FittedRange>>;
}

export interface FitOptions {
  /** Only what was done before this day. */
  readonly before?: string | null;
  /** What was known besides, though it was not done before that day. */
  readonly also?: (routine: PastRoutine) => boolean;
  /** The competition that is going on: what was shown in it so far is the freshest there is. */
  readonly competition?: string | null;
  /** Only of this discipline. */
  readonly discipline?: DisciplineCode | null;
  /** What is usual among more routines than the history has; null: among these. */
  readonly usual?: Usual | null;
}

/** After so many days a result tells half as much of the D score she shows. */
const HALF_LIFE_OF_D = 180;
/** D lies so far from what she shows as a rule towards her best: what failed she will try again. */
const SHARE_OF_BEST_D = 1 / 3;
/** A best D is one of the last so many days, if there is any. */
const DAYS_OF_BEST_D = 730;
/** After so many days a result tells half as much of how she does it. */
const HALF_LIFE_OF_EXECUTION = 1500;
/** What is usual on the apparatus counts as much as so many results of her own. */
const USUAL_EXECUTION = 2;
const USUAL_FALLS = 10;
/** A fallen routine often lacks an element: its D score tells this much. */
const FALLEN_D = 0.5;
/** With n results her level is as far off as the mean of n / 3 routines would be. */
const FEW = 3;
/** A routine in an earlier round of the same competition tells as much as so many others. */
const SAME_COMPETITION = 3;
/** In a competition in which she was seen without a fall her spread is this share of what it is elsewhere. */
const SAME_COMPETITION_SPREAD = 0.85;
/** The figures of the tool itself count as much as so many routines of the history. */
const KNOWN_USUAL = 30;

/** Whether a routine tells what she may score: a vault not valid or a routine broken off does not. */
export function tellsOfScores({ score }: PastRoutine): boolean {
  return score > 0;
}

/** What all fits have in common. */
interface Fit {
  readonly ageOf: (routine: PastRoutine) => number;
  /** Whether it was in the competition that is going on. */
  readonly isFresh: (routine: PastRoutine) => boolean;
  readonly system: ScoringSystemName;
  readonly decimals: Decimals;
}

/** A range for every gymnast and apparatus of a history, in the order in which they come first. */
export function fitRanges(
  history: History,
  {
    before = null,
    also = () => false,
    competition = null,
    discipline = null,
    usual = null,
  }: FitOptions = {},
): Fitted[] {
  const { decimals, scoring } = history;
  const isKnown = (r: PastRoutine) =>
    (discipline === null || r.discipline === discipline) &&
    tellsOfScores(r) &&
    (before === null || r.date < before || also(r));
  // A long history of which everything is known is not copied.
  const known = history.routines.every(isKnown)
    ? history.routines
    : history.routines.filter(isKnown);
  const owns = ownRoutines(known, decimals, usual?.means);
  const pools = usual?.pools ?? poolsOf(owns, decimals);
  const ageOf = agesOn(before ?? lastDay(known));
  const isFresh = (r: PastRoutine) =>
    r.competition === competition && Math.abs(ageOf(r)) <= LONGEST_COMPETITION;
  const fit: Fit = { ageOf, isFresh, system: scoring, decimals };
  const fitted = new Map<string, { id: string; discipline: DisciplineCode; owns: Own[] }>();
  for (const own of owns) {
    const key = `${own.discipline} ${own.gymnast}`;
    const found = fitted.get(key) ?? { id: own.gymnast, discipline: own.discipline, owns: [] };
    found.owns.push(own);
    fitted.set(key, found);
  }
  return [...fitted.values()].map(({ id, discipline: code, owns: hers }) => ({
    id,
    discipline: code,
    ranges: Object.fromEntries(
      hers.map((own) => {
        const pool = pools.get(poolKey(code, own.apparatus))!;
        const figures = usualFigures(scoring, code, own.apparatus);
        return [
          own.apparatus,
          fitOne(own, figures === null ? pool : leanOn(pool, figures, decimals), fit),
        ];
      }),
    ),
  }));
}

/** The latest date there is; '' where there is none. */
function lastDay(routines: readonly PastRoutine[]): string {
  let last = '';
  for (const { date } of routines) if (date > last) last = date;
  return last;
}

/** A pool with few routines says little of its own. */
function leanOn(pool: Pool, usual: UsualFigures, decimals: Decimals): Pool {
  const units = unitsPerPoint(decimals) / 1000;
  const share = pool.routines / (pool.routines + KNOWN_USUAL);
  const mixed = (mine: number, theirs: number) => share * mine + (1 - share) * theirs;
  return {
    ...pool,
    level: mixed(pool.level, usual.level * units),
    execution: mixed(pool.execution, usual.execution * units),
    spread: mixed(pool.spread, usual.spread * units),
    falls: mixed(pool.falls, usual.falls),
  };
}

/** How much a result tells: the older the less, in the same competition more. */
function weightOf(r: PastRoutine, halfLife: number, { ageOf, isFresh }: Fit): number {
  const fresh = isFresh(r) ? SAME_COMPETITION : 1;
  return fresh * 2 ** (-ageOf(r) / halfLife);
}

/** How many days ago a routine was, each date worked out once. */
function agesOn(today: string): Fit['ageOf'] {
  const ages = new Map<string, number>();
  return ({ date }) => {
    const age = ages.get(date) ?? daysBetween(date, today);
    ages.set(date, age);
    return age;
  };
}

/** The D she can be expected to show; null where none is known. */
function dOf({ routines, fell }: Own, fit: Fit): number | null {
  const usually = weighted(
    routines.map((r, i) => ({
      value: r.d,
      weight: weightOf(r, HALF_LIFE_OF_D, fit) * (fell[i] ? FALLEN_D : 1),
    })),
  );
  if (usually === null) return null;
  const late = routines.filter((r) => r.d !== null && fit.ageOf(r) <= DAYS_OF_BEST_D);
  const best = (late.length > 0 ? late : routines).reduce((most, r) => Math.max(most, r.d ?? 0), 0);
  return usually + SHARE_OF_BEST_D * (best - usually);
}

/** What is taken off without a fall where a D of hers is known, else the whole score; leaning on the usual. */
function executionOf({ routines, executions, hasD, fell }: Own, pool: Pool, fit: Fit): number {
  const hits = routines.flatMap((r, i) =>
    fell[i]
      ? []
      : [{ value: executions[i] ?? 0, weight: weightOf(r, HALF_LIFE_OF_EXECUTION, fit) }],
  );
  const usual = { value: hasD ? pool.execution : pool.level, weight: USUAL_EXECUTION };
  return weighted([...hits, usual])!;
}

/** What is taken off her as a share of what is usual; 1 where no D of hers is known. */
function shareTakenOff(execution: number, { hasD }: Own, pool: Pool, { decimals }: Fit): number {
  const most = 10 * unitsPerPoint(decimals);
  return hasD ? (most - execution) / (most - pool.execution) : 1;
}

function fitOne(own: Own, pool: Pool, fit: Fit): FittedRange {
  const { system, decimals, isFresh } = fit;
  const { routines, fell } = own;
  const d = dOf(own, fit);
  const execution = executionOf(own, pool, fit);
  const mean = (d ?? 0) + execution;
  const hits = routines.filter((_, i) => !fell[i]);
  const fresh = hits.filter(isFresh).length;
  const count = Math.max(hits.length + (SAME_COMPETITION - 1) * fresh, 1);
  // What is taken off varies in proportion to how much it is.
  const spread =
    pool.spread *
    shareTakenOff(execution, own, pool, fit) *
    (fresh > 0 ? SAME_COMPETITION_SPREAD : 1);
  // How far off her level may be, on top of how far a routine lies from it.
  const within = spread * Math.sqrt(FEW / count);
  const shown = d === null ? null : roundTo(d, unitsPerPoint(decimals) / 10);
  const ceiling = usualCeiling(system, decimals);
  const limit = shown === null ? ceiling : Math.min(ceiling, highestWith(shown, decimals));
  const { low, likely, high } = rangeAround(mean, Math.hypot(spread, within), limit);
  const step = unitsPerPoint(decimals) / 100;
  const falls = routines.length - hits.length;
  const chance = (falls + USUAL_FALLS * pool.falls) / (routines.length + USUAL_FALLS);
  return {
    // In hundredths, as people write them; a limit is a whole number of those.
    low: roundTo(low, step),
    likely: roundTo(likely, step),
    high: roundTo(high, step),
    falls: Math.round(chance * 1000) / 1000,
    d: shown,
    within: roundTo(within, step),
    results: routines.length,
    fell: falls,
  };
}

function weighted(
  values: readonly { readonly value: number | null; readonly weight: number }[],
): number | null {
  let [sum, weights] = [0, 0];
  for (const { value, weight } of values) {
    if (value === null) continue;
    sum += value * weight;
    weights += weight;
  }
  return weights === 0 ? null : sum / weights;
}

function roundTo(value: number, step: number): Score {
  return asScore(Math.round(value / step) * step);
}
