/**
 * Ranges from a history: per gymnast and apparatus the four numbers people write by hand. How they
 * are made, and how good they were, is told in docs/ranges.md.
 */

import type { DisciplineCode } from '../apparatus.js';
import type { Chance } from '../chance.js';
import { rangeAround, type UsualFigures, usualFigures } from '../meet/usual.js';
import { asScore, type Decimals, type Score, unitsPerPoint } from '../score.js';
import { highestWith, type ScoringSystemName, usualCeiling } from '../scoring.js';
import { daysBetween } from './date.js';
import type { History } from './history.js';
import { type Own, ownRoutines, type Pool, poolKey, poolsOf, type Usual } from './pool.js';
import type { PastRoutine } from './routine.js';

/** A range that was made from results. */
export interface FittedRange {
  readonly low: Score;
  readonly likely: Score;
  readonly high: Score;
  readonly falls: Chance;
  /** The D score that was shown lately; null where the history has none. */
  readonly d: Score | null;
  /** On how many results it rests. */
  readonly results: number;
  /** In how many of them a fall was inferred. */
  readonly fell: number;
}

export interface Fitted {
  readonly id: string;
  readonly discipline: DisciplineCode;
  /** By apparatus. */
  readonly ranges: Readonly<Record<string, FittedRange>>;
}

export interface FitOptions {
  /** Only what was done before this day. */
  readonly before?: string | null;
  /** What was known besides, though it was not done before that day. */
  readonly also?: (routine: PastRoutine) => boolean;
  /** What is usual among more routines than the history has; null: among these. */
  readonly usual?: Usual | null;
}

/** After so many days a result tells half as much of the D score she shows. */
const HALF_LIFE_OF_D = 90;
/** And of how she does it. */
const HALF_LIFE_OF_EXECUTION = 1500;
/** What is usual on the apparatus counts as much as so many results of her own. */
const USUAL_EXECUTION = 1;
const USUAL_FALLS = 10;
/** A fallen routine often lacks an element: its D score tells this much. */
const FALLEN_D = 0.5;
/** Spreads are this much wider, and wider still by so much for every result that is missing. */
const WIDER = 1.1;
const FEW = 2;
/** The figures of the tool itself count as much as so many routines of the history. */
const KNOWN_USUAL = 30;

/** Whether a routine tells what she may score: a vault not valid or a routine broken off does not. */
export function tellsOfScores({ score }: PastRoutine): boolean {
  return score > 0;
}

/** A range for every gymnast and apparatus of a history, in the order in which they come first. */
export function fitRanges(
  history: History,
  { before = null, also = () => false, usual = null }: FitOptions = {},
): Fitted[] {
  const { decimals, scoring } = history;
  const known = history.routines.filter(
    (r) => tellsOfScores(r) && (before === null || r.date < before || also(r)),
  );
  const owns = ownRoutines(known, decimals, usual?.means);
  const pools = usual?.pools ?? poolsOf(owns, decimals);
  const today = before ?? lastDay(known);
  const fitted = new Map<string, { id: string; discipline: DisciplineCode; owns: Own[] }>();
  for (const own of owns) {
    const key = `${own.discipline} ${own.gymnast}`;
    const found = fitted.get(key) ?? { id: own.gymnast, discipline: own.discipline, owns: [] };
    found.owns.push(own);
    fitted.set(key, found);
  }
  return [...fitted.values()].map(({ id, discipline, owns: hers }) => ({
    id,
    discipline,
    ranges: Object.fromEntries(
      hers.map((own) => {
        const pool = pools.get(poolKey(discipline, own.apparatus))!;
        const figures = usualFigures(scoring, discipline, own.apparatus);
        const around = figures === null ? pool : leanOn(pool, figures, decimals);
        return [own.apparatus, fitOne(own, around, today, scoring, decimals)];
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

function fitOne(
  { routines, executions, hasD, fell }: Own,
  pool: Pool,
  today: string,
  system: ScoringSystemName,
  decimals: Decimals,
): FittedRange {
  const falls = fell.filter((f) => f).length;
  const age = (r: PastRoutine, half: number) => 2 ** (-daysBetween(r.date, today) / half);
  const d = weighted(
    routines.map((r, i) => ({
      value: r.d,
      weight: age(r, HALF_LIFE_OF_D) * (fell[i] ? FALLEN_D : 1),
    })),
  );
  // Where D is known she is followed by what is taken off it, else by the whole score.
  const all = routines.flatMap((r, i) =>
    fell[i] ? [] : [{ value: executions[i] ?? 0, weight: age(r, HALF_LIFE_OF_EXECUTION) }],
  );
  const usual = { value: hasD ? pool.execution : pool.level, weight: USUAL_EXECUTION };
  const execution = weighted([...all, usual])!;
  const mean = (d ?? 0) + execution;
  const spread = pool.spread * WIDER * Math.sqrt(1 + FEW / Math.max(routines.length - falls, 1));
  const shown = d === null ? null : roundTo(d, unitsPerPoint(decimals) / 10);
  const ceiling = usualCeiling(system, decimals);
  const limit = shown === null ? ceiling : Math.min(ceiling, highestWith(shown, decimals));
  const { low, likely, high } = rangeAround(mean, spread, limit);
  const step = unitsPerPoint(decimals) / 100;
  const chance = (falls + USUAL_FALLS * pool.falls) / (routines.length + USUAL_FALLS);
  return {
    // In hundredths, as people write them; a limit is a whole number of those.
    low: roundTo(low, step),
    likely: roundTo(likely, step),
    high: roundTo(high, step),
    falls: Math.round(chance * 1000) / 1000,
    d: shown,
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
