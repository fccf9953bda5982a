/**
 * The two scoring systems: what limits a score, what a fall costs, on which grid scores lie, and
 * whether ties are broken where a meet does not say.
 */
import type { Decimals, Units } from './score.js';
import { unitsPerPoint } from './score.js';

interface ScoringSystem {
  /** The judges' E scores that count, and their step in millionths of a point. */
  readonly panel: { readonly counting: number; readonly stepMillionths: number };
  /** What a fall costs, in thousandths of a point. */
  readonly fallThousandths: number;
  /** The highest score there is, in points; null where it depends on the D score. */
  readonly limitPoints: number | null;
  /** Whether contests break ties by rules where the meet does not say; otherwise ties stand. */
  readonly breaksTies: boolean;
}

/**
 * `open`: D + E - ND without a ceiling; three counting E scores in tenths; a fall is 1.000; ties by
 * the all-around, apparatus-final and team-final rules of the FIG (docs/rules.md).
 * `ten`: out of 10.000; two judges in steps of 0.05; a fall is 0.500; ties stand.
 */
export const SCORING_SYSTEMS = {
  open: {
    panel: { counting: 3, stepMillionths: 100_000 },
    fallThousandths: 1000,
    limitPoints: null,
    breaksTies: true,
  },
  ten: {
    panel: { counting: 2, stepMillionths: 50_000 },
    fallThousandths: 500,
    limitPoints: 10,
    breaksTies: false,
  },
} as const satisfies Record<string, ScoringSystem>;

export type ScoringSystemName = keyof typeof SCORING_SYSTEMS;

/** The highest E score: 10.000, in points. */
const HIGHEST_E_POINTS = 10;

/** A score grid: the values an average of judges' scores, cut to the unit, can take. */
export interface Grid {
  readonly counting: number;
  /** In millionths of a point. */
  readonly stepMillionths: number;
  readonly decimals: Decimals;
}

/** How a meet scores. All amounts in units. */
export interface Scoring {
  readonly system: ScoringSystemName;
  readonly decimals: Decimals;
  readonly grid: Grid;
  /** What a fall costs. */
  readonly fall: Units;
}

function millionthsPerUnit(decimals: Decimals): number {
  return 10 ** (6 - decimals);
}

/**
 * The lowest point of the grid at or above a score. The points are
 * floor(j · step / (counting · unit)) for j = 0, 1, 2 …: with three counting scores in tenths the
 * thousandths end in 00, 33 and 66.
 */
export function gridAtOrAbove(score: Units, grid: Grid): Units {
  return Math.floor((firstAtOrAbove(score, grid) * grid.stepMillionths) / cellsOf(grid));
}

function firstAtOrAbove(score: Units, grid: Grid): number {
  return Math.ceil((Math.max(score, 0) * cellsOf(grid)) / grid.stepMillionths);
}

function cellsOf({ counting, decimals }: Grid): number {
  return counting * millionthsPerUnit(decimals);
}

/** The highest point of the grid at or below a score. */
export function gridAtOrBelow(score: Units, grid: Grid): Units {
  const cells = cellsOf(grid);
  // The last j whose point, cut to the unit, is not above the score.
  const j = Math.ceil(((score + 1) * cells) / grid.stepMillionths) - 1;
  return Math.floor((j * grid.stepMillionths) / cells);
}

/** Whether a score is a point of the grid. A real score off it is possible, and never refused. */
export function isOnGrid(score: Units, grid: Grid): boolean {
  return gridAtOrAbove(score, grid) === score;
}

/** Every grid point from `low` to `high`, both included. */
export function gridPoints(low: Units, high: Units, grid: Grid): Units[] {
  const cells = cellsOf(grid);
  const points: Units[] = [];
  for (let j = firstAtOrAbove(low, grid), last = -1; ; j++) {
    const p = Math.floor((j * grid.stepMillionths) / cells);
    if (p > high) return points;
    if (p !== last) points.push(p);
    last = p;
  }
}

/**
 * The highest score the rules allow for a routine: the apparatus' own limit where it has one,
 * 10.000 in `ten`, D + 10.000 in `open` where D is known, and null where there is none.
 */
export function scoreLimit(
  scoring: Pick<Scoring, 'system' | 'decimals'>,
  apparatusLimit: Units | null,
  d: Units | null,
): Units | null {
  if (apparatusLimit !== null) return apparatusLimit;
  const point = unitsPerPoint(scoring.decimals);
  const { limitPoints } = SCORING_SYSTEMS[scoring.system];
  if (limitPoints !== null) return limitPoints * point;
  return d === null ? null : d + HIGHEST_E_POINTS * point;
}
