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
  /** No score is above it, in points: by rule, or as long as a meet sets no other. */
  readonly ceilingPoints: number;
  /** Whether a meet may set another. */
  readonly takesCeiling: boolean;
  /** Whether contests break ties by rules where the meet does not say; otherwise ties stand. */
  readonly breaksTies: boolean;
}

/**
 * `open`: D + E - ND. D has no end, so the ceiling is what no score is taken to be above: the highest
 * of the open data is 16.166 (test/reference/open-data.test.ts). Three counting E scores in tenths; a
 * fall is 1.000; ties by the all-around, apparatus-final and team-final rules of the FIG (docs/rules.md).
 * `ten`: out of 10.000; two judges in steps of 0.05; a fall is 0.500; ties stand.
 */
export const SCORING_SYSTEMS = {
  open: {
    panel: { counting: 3, stepMillionths: 100_000 },
    fallThousandths: 1000,
    ceilingPoints: 17,
    takesCeiling: true,
    breaksTies: true,
  },
  ten: {
    panel: { counting: 2, stepMillionths: 50_000 },
    fallThousandths: 500,
    ceilingPoints: 10,
    takesCeiling: false,
    breaksTies: false,
  },
} as const satisfies Record<string, ScoringSystem>;

/** The scoring system of a meet: `open` is D + E - ND, of any height; `ten` is out of 10.000. */
export type ScoringSystemName = keyof typeof SCORING_SYSTEMS;

/** The highest E score: 10.000. */
export function highestE(decimals: Decimals): Units {
  return 10 * unitsPerPoint(decimals);
}

/** The highest score with a D score: E is then 10.000, and nothing is taken off. */
export function highestWith(d: Units, decimals: Decimals): Units {
  return d + highestE(decimals);
}

/** A score grid: the values an average of judges' scores, cut to the unit, can take. */
export interface Grid {
  /** How many judges' scores are averaged. */
  readonly counting: number;
  /** In millionths of a point. */
  readonly stepMillionths: number;
  /** To how many decimals the average is cut. */
  readonly decimals: Decimals;
}

/** How a meet scores. All amounts in units. */
export interface Scoring {
  /** The set of rules the meet file names; required there. */
  readonly system: ScoringSystemName;
  /** How many decimals every score of the meet has: 3, so that one unit is a thousandth, or 4. */
  readonly decimals: Decimals;
  /** Which scores judges can arrive at. */
  readonly grid: Grid;
  /** What a fall costs. */
  readonly fall: Units;
  /** No score is above it, but on an apparatus with a limit of its own. */
  readonly ceiling: Units;
}

/** Women's and men's D scores have never come near this, in points (the highest in the open data is 6.900). */
export const HIGHEST_D = 10;

/** The ceiling of a meet that sets none. */
export function usualCeiling(system: ScoringSystemName, decimals: Decimals): Units {
  return SCORING_SYSTEMS[system].ceilingPoints * unitsPerPoint(decimals);
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
 * The highest score there can be for a routine: the apparatus' own limit where it has one, else the
 * ceiling. The D score she is expected to show is no limit, since she may show another.
 */
export function scoreLimit(
  { ceiling }: Pick<Scoring, 'ceiling'>,
  apparatusLimit: Units | null,
): Units {
  return apparatusLimit ?? ceiling;
}
