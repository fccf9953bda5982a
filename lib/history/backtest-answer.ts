/** What is asked of a backtest, and what it answers. */
import type { DisciplineCode } from '../apparatus.js';
import type { Chance } from '../chance.js';
import type { Bin } from './calibration.js';
import type { Comparison } from './comparison.js';
import type { FinalName } from './final-kinds.js';
import type { ForecastRow } from './forecast-rows.js';
import type { ByForecaster, ForecastScores, Smoothings } from './forecasters.js';
import type { RangesFrom } from './known.js';
import type { LeftOut } from './routine.js';
import type { RoutineScore } from './routine-scores.js';

/** Which finals are replayed, and what is known before them. */
export interface BacktestOptions {
  /** Only finals and routines of this one; both without it. */
  readonly discipline?: DisciplineCode | null | undefined;
  /** Which finals; `all` for every kind. All-around finals without it. */
  readonly contest?: FinalName | 'all' | null | undefined;
  /** Only finals and routines on this day and later, `2023-01-01`; what was before is still known. */
  readonly since?: string | null | undefined;
  /** What the chances rest on; `rounds` without it. */
  readonly ranges?: RangesFrom | null | undefined;
  /** What else they could rest on: the same finals are forecast with both, and compared. */
  readonly against?: RangesFrom | null | undefined;
  /** Whether every single forecast is wanted as well. */
  readonly forecasts?: boolean | undefined;
  /** Of everything that is drawn; 1 without it. */
  readonly seed?: number | null | undefined;
  /** Told how much is done, in hundredths of the finals first, then of the single routines where they are judged. */
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
  /** What `backtestPart` gave for each part; without it all is done here and now. */
  readonly parts?: readonly BacktestPart[] | undefined;
}

/** Some of the work of a backtest, done. */
export interface BacktestPart {
  /** The finals that were replayed, for `backtest` alone to look into. */
  readonly finals: readonly unknown[];
  /** Single routines against their ranges; null in all parts but the first. */
  readonly routines: RoutineScore | null;
}

/** Boards with as many rotations gone. */
export interface RotationScores {
  /** The kind of final they are of. */
  readonly contest: FinalName;
  /** Women's or men's; boards of the two are not taken together. */
  readonly discipline: DisciplineCode;
  /** How many rotations are gone; of an apparatus final, how many have been up. */
  readonly rotation: number;
  /** How many boards the means are over, one a final. */
  readonly boards: number;
  /** By forecaster: the mean over the boards of minus the logarithm of the chance given to whoever won. */
  readonly winLog: ByForecaster;
}

/** One final, and how far off the forecasts of it were. */
export interface FinalScores {
  /** Which kind of final it is. */
  readonly contest: FinalName;
  /** Of an apparatus final; null for the others. */
  readonly apparatus: string | null;
  /** Women's or men's. */
  readonly discipline: DisciplineCode;
  /** As the history calls it. */
  readonly competition: string;
  /** The day of the first of its rows in the history, `2023-05-01`. */
  readonly date: string;
  /** How many were up in it; of a team final the gymnasts, not the teams. */
  readonly gymnasts: number;
  /**
   * Who went up when: `known` from the history; `assumed`, by place in qualification or in Olympic order; or,
   * of an apparatus final without it, `drawn`.
   */
  readonly order: 'known' | 'assumed' | 'drawn';
  /** Of so many of the gymnasts nothing was known before: theirs is the usual range. */
  readonly unknown: number;
  /** By forecaster: the mean over its boards of minus the logarithm of the chance given to whoever won. */
  readonly winLog: ByForecaster;
  /**
   * By forecaster: the same for the first three places, contender by contender, of the chance given to what
   * happened, a medal or none.
   */
  readonly medalLog: ByForecaster;
}

/** Boards of one kind of final. */
export interface ContestScores {
  /** The kind. */
  readonly contest: FinalName;
  /** How many finals of it there are. */
  readonly finals: number;
  /** How many boards of them were forecast. */
  readonly boards: number;
  /** How far off each forecaster was over these boards, `chances` first. */
  readonly scores: readonly ForecastScores[];
}

/** How honest the chances were, over the finals of a history. */
export interface Backtest {
  /** The finals that were replayed, by day. */
  readonly rounds: readonly FinalScores[];
  /** Boards that were forecast: of each final one with no rotation gone, and one after every rotation but the last. */
  readonly boards: number;
  /** How far off each forecaster was over all boards, `chances` first. */
  readonly scores: readonly ForecastScores[];
  /** The same by kind of final; those there are. */
  readonly byContest: readonly ContestScores[];
  /** How far off they were early and late, by kind of final, discipline and rotations gone. */
  readonly byRotation: readonly RotationScores[];
  /** What the chances said against how often it happened, tenth by tenth. */
  readonly reliability: {
    /** Of the chances to win. */
    readonly win: readonly Bin[];
    /** Of those to be one of the first three. */
    readonly medal: readonly Bin[];
  };
  /** The share the simple rivals give to those in front: as good as hindsight allows. */
  readonly smoothing: Smoothings;
  /** In the log scores every chance, ours and theirs, was taken to be at least this. */
  readonly least: Chance;
  /** What the ranges said of single routines, against what was scored. */
  readonly routines: RoutineScore;
  /** What the chances rested on: `rounds`, `days`, or the name of a ranges file. */
  readonly rangesFrom: string;
  /** What else they were compared with; null where nothing was named. */
  readonly comparison: Comparison | null;
  /** The day from which on finals and routines were judged; null for all. */
  readonly since: string | null;
  /** Of everything that was drawn; the same seed gives the same answer. */
  readonly seed: number;
  /** Every single forecast; null where they were not asked for. */
  readonly forecasts: readonly ForecastRow[] | null;
  /** How many rows of the history could be used. */
  readonly used: number;
  /** Rows that could not, in the order of the file. */
  readonly leftOut: readonly LeftOut[];
  /** What was understood, but is worth knowing. */
  readonly notes: readonly LeftOut[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}
