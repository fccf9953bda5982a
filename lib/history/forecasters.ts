/** Who forecasts, the chances and simple rivals, and how far off each was. */
import type { Chance, Measure, MeasureChange } from '../chance.js';
import { drawnAnew, sharesBy } from './bootstrap.js';
import { type Board, MEDALS, TARGETS, type TargetName } from './final-boards.js';

/** Who forecasts: the chances, and simple rivals. */
export const FORECASTERS = [
  'chances',
  'leader-now',
  'leader-projected',
  'normal',
  'equal',
] as const;
/**
 * Who forecasts: `chances`, what `chances` answers; `leader-now` and `leader-projected`, most for whoever is in
 * front by total or by projected total; `normal`, normal distributions around everybody's own mean; `equal`, all
 * alike.
 */
export type Forecaster = (typeof FORECASTERS)[number];

/** A measure by forecaster. */
export type ByForecaster = Readonly<Record<Forecaster, Measure>>;

/** How much further off one was than the other, over the same boards or routines. */
export interface Behind {
  /** The mean difference, in what is compared; below 0 where this one was closer. */
  readonly by: MeasureChange;
  /** 95%, by drawing meets, or of single routines gymnasts, anew; null where there are fewer than two. */
  readonly interval: readonly [low: MeasureChange, high: MeasureChange] | null;
}

/** Mean scores over some boards; lower is better. */
export interface ForecastScores {
  /** Whose forecasts they are. */
  readonly forecaster: Forecaster;
  /** Minus the natural logarithm of the chance that was given to whoever won. */
  readonly winLog: Measure;
  /** Of the chances to win: the mean squared difference from what happened (1 or 0), contender by contender. */
  readonly winBrier: Measure;
  /** Minus the logarithm of the chance given to what happened, a medal or none, contender by contender. */
  readonly medalLog: Measure;
  /** Of the chances to be one of the first three: the same as `winBrier`. */
  readonly medalBrier: Measure;
  /** Minus the logarithm of the chance of the place she took, contender by contender; null for the rivals. */
  readonly placeLog: Measure | null;
  /**
   * How little the forecast committed itself: the entropy of its chances to win. Of two that are equally
   * right the sharper says more; a log score that is higher than this was said with too much confidence.
   */
  readonly winEntropy: Measure;
  /** How much further off than the chances, in `winLog`; null for the chances themselves. */
  readonly winLogBehind: Behind | null;
  /** The same in `medalLog`. */
  readonly medalLogBehind: Behind | null;
}

/** No chance is taken to be less: a single surprise would outweigh everything else. */
export const LEAST = 0.005;

/** The share of the whole that goes to those in front together, by target: to win, to medal. */
export type Smoothing = Readonly<Record<'win' | 'medal', Chance>>;
/** The shares of the two rivals who go by who leads. */
export type Smoothings = Readonly<Record<'leader-now' | 'leader-projected', Smoothing>>;

/** What each gave for one of the first places, by contender. */
export type Forecasting = (board: Board, forecaster: Forecaster, target: TargetName) => number[];

/** The forecasters for some boards: the simple ones with the shares that suit them best there. */
export function forecastersFor(boards: readonly Board[]): {
  readonly smoothing: Smoothings;
  readonly forecast: Forecasting;
} {
  const sharesOf = (f: 'leader-now' | 'leader-projected'): Smoothing => ({
    win: bestShare(boards, f, 'win'),
    medal: bestShare(boards, f, 'medal'),
  });
  const smoothing: Smoothings = {
    'leader-now': sharesOf('leader-now'),
    'leader-projected': sharesOf('leader-projected'),
  };
  const forecast: Forecasting = (board, forecaster, target) => {
    const isSimple = forecaster === 'leader-now' || forecaster === 'leader-projected';
    return chancesOf(board, forecaster, target, isSimple ? smoothing[forecaster][target] : 1);
  };
  return { smoothing, forecast };
}

/** What a forecaster gives each for one of the first places. */
function chancesOf(
  board: Board,
  forecaster: Forecaster,
  target: TargetName,
  share: number,
): number[] {
  const places = placesOf(board, target);
  if (forecaster === 'chances') return board.places.map((p) => amongFirst(p, places));
  if (forecaster === 'normal') return [...board.normal[target]];
  const count = board.ended.length;
  const equal = board.ended.map(() => places / count);
  if (forecaster === 'equal') return equal;
  const inFront = inFrontOf(board, forecaster, places);
  return inFront === null ? equal : sharedOut(inFront, places, share);
}

/** A share of all the places goes to those in front together, and the rest to the others. */
function sharedOut(inFront: readonly boolean[], places: number, share: number): number[] {
  const front = inFront.filter((f) => f).length;
  const others = inFront.length - front;
  return inFront.map((f) => places * (f ? share / front : (1 - share) / others));
}

function placesOf({ ended }: Board, target: TargetName): number {
  return Math.min(TARGETS[target], ended.length);
}

/** Who is in front, by contender; null where nobody is: before the first score, or where all are level. */
function inFrontOf(
  board: Board,
  forecaster: 'leader-now' | 'leader-projected',
  places: number,
): boolean[] | null {
  const totals = forecaster === 'leader-now' ? board.totals : board.projected;
  const least = [...totals].sort((a, b) => b - a)[places - 1] ?? 0;
  const inFront = totals.map((t) => t >= least);
  return least <= 0 || inFront.every((f) => f) ? null : inFront;
}

export function amongFirst(chances: readonly number[], places: number): number {
  return chances.slice(0, places).reduce((a, b) => a + b, 0);
}

/** The share for those in front with the best log score, in hindsight. */
function bestShare(
  boards: readonly Board[],
  forecaster: 'leader-now' | 'leader-projected',
  target: TargetName,
): number {
  // Where nobody is in front the share changes nothing.
  const led = boards.flatMap((board) => {
    const places = placesOf(board, target);
    const inFront = inFrontOf(board, forecaster, places);
    return inFront === null ? [] : [{ board, places, inFront }];
  });
  const best = (hundredths: readonly number[]): number => {
    const scores = hundredths.map((n) => {
      let sum = 0;
      for (const { board, places, inFront } of led) {
        sum += logOf(board, target, sharedOut(inFront, places, n / 100));
      }
      return sum;
    });
    return hundredths[scores.indexOf(Math.min(...scores))] ?? 1;
  };
  // A sum of logarithms has one lowest point, which is near the lowest of the tenths.
  const near = best([10, 20, 30, 40, 50, 60, 70, 80, 90]);
  return best(Array.from({ length: 19 }, (_, i) => near - 9 + i)) / 100;
}

/** The log score of chances to win, or for a medal. */
export function logOf(board: Board, target: TargetName, chances: readonly number[]): number {
  return target === 'win' ? winLog(board, chances) : binaryLog(chances, board.ended, MEDALS);
}

/** Minus the logarithm of what the winner was given; of the mean of several who share the title. */
function winLog({ ended }: Board, chances: readonly number[]): number {
  return mean(
    ended.flatMap((place, i) => (place === 1 ? [-Math.log(Math.max(chances[i] ?? 0, LEAST))] : [])),
  );
}

/** Minus the logarithm of the chance of the place that was taken, over all contenders. */
export function placeLog({ ended, places }: Board): number {
  return mean(ended.map((place, i) => -Math.log(Math.max(places[i]?.[place - 1] ?? 0, LEAST))));
}

export function brier(chances: readonly number[], ended: readonly number[], place: number): number {
  return mean(chances.map((p, i) => (p - ((ended[i] ?? 0) <= place ? 1 : 0)) ** 2));
}

export function binaryLog(
  chances: readonly number[],
  ended: readonly number[],
  place: number,
): number {
  return mean(
    chances.map((chance, i) => {
      const p = Math.min(Math.max(chance, LEAST), 1 - LEAST);
      return -Math.log((ended[i] ?? 0) <= place ? p : 1 - p);
    }),
  );
}

/** In the units of the log score; chances of a shared title add up to more than 1, and are scaled. */
function entropy(chances: readonly number[]): number {
  const sum = chances.reduce((a, b) => a + b, 0);
  if (sum === 0) return 0;
  return chances.reduce((e, p) => (p > 0 ? e - (p / sum) * Math.log(p / sum) : e), 0);
}

export function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;
}

/** Means over boards, so that a large field counts no more than a small one. */
export function scoresOf(
  boards: readonly Board[],
  forecast: Forecasting,
  seed: number,
): ForecastScores[] {
  const logs = (f: Forecaster, target: TargetName) =>
    boards.map((b) => logOf(b, target, forecast(b, f, target)));
  const ours = { win: logs('chances', 'win'), medal: logs('chances', 'medal') };
  return FORECASTERS.map((forecaster): ForecastScores => {
    const over = (score: (board: Board) => number) => mean(boards.map(score));
    const theirs = { win: logs(forecaster, 'win'), medal: logs(forecaster, 'medal') };
    const isOurs = forecaster === 'chances';
    const behind = (target: TargetName) =>
      isOurs ? null : differenceOf(boards, theirs[target], ours[target], seed);
    return {
      forecaster,
      winLog: mean(theirs.win),
      winBrier: over((b) => brier(forecast(b, forecaster, 'win'), b.ended, 1)),
      medalLog: mean(theirs.medal),
      medalBrier: over((b) => brier(forecast(b, forecaster, 'medal'), b.ended, MEDALS)),
      placeLog: isOurs ? over(placeLog) : null,
      winEntropy: over((b) => entropy(forecast(b, forecaster, 'win'))),
      winLogBehind: behind('win'),
      medalLogBehind: behind('medal'),
    };
  });
}

/** How much larger the first scores are, board by board, with the boards of one meet drawn together. */
export function differenceOf(
  boards: readonly Board[],
  first: readonly number[],
  second: readonly number[],
  seed: number,
): Behind {
  const by = boards.map((board, i) => ({ board, more: (first[i] ?? 0) - (second[i] ?? 0) }));
  const shares = sharesBy(
    by,
    ({ board }) => board.meetKey,
    ({ more }) => ({ sum: more, of: 1 }),
  );
  return { by: mean(by.map(({ more }) => more)), interval: drawnAnew(shares, seed) };
}
