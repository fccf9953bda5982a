/** `backtest`: how honest the chances were, over the all-around finals of a history. */

import type { DisciplineCode } from '../apparatus.js';
import { CAUTION } from '../caution.js';
import type { Chance, Measure } from '../chance.js';
import { modelOf } from '../chances/model.js';
import { placeChances } from '../chances/place-chances.js';
import { findContest } from '../contest/contest.js';
import { badUsage, noAnswer } from '../error.js';
import { isToCome, type Meet, rangeAt } from '../meet/meet.js';
import { type Bin, type Forecast, reliability } from './calibration.js';
import { fitRanges } from './fit.js';
import type { History } from './history.js';
import {
  type AllAroundRound,
  allAroundRounds,
  asItStood,
  entriesIn,
  finalBoard,
  wasKnownTo,
} from './rounds.js';
import type { LeftOut } from './routine.js';
import { type RoutineScore, routineScores } from './routine-scores.js';

/** Of which finals, with which seed. */
export interface BacktestOptions {
  /** Only finals of this one; all without it. */
  readonly discipline?: DisciplineCode | null | undefined;
  /** Of the bootstrap; 1 without it. */
  readonly seed?: number | null | undefined;
  /** Told how much is done, in hundredths of the finals first, then of the single routines. */
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
}

/** Who forecasts: the chances, and simple rivals. */
export const FORECASTERS = ['chances', 'leader-now', 'leader-projected', 'equal'] as const;
/**
 * Whose forecasts they are: ours, or simple rivals': whoever leads now, whoever leads by
 * projection, all alike.
 */
export type Forecaster = (typeof FORECASTERS)[number];

/** Mean scores over some boards; lower is better. */
export interface ForecastScores {
  /** Whose they are. */
  readonly forecaster: Forecaster;
  /** Minus the logarithm of the chance that was given to whoever won. */
  readonly winLog: Measure;
  /** The mean squared difference, gymnast by gymnast. */
  readonly winBrier: Measure;
  /** As `winLog`, of medals, each gymnast a yes or no. */
  readonly medalLog: Measure;
  /** As `winBrier`, of medals. */
  readonly medalBrier: Measure;
  /** Minus the logarithm of the chance of the place she took; of the chances only. */
  readonly placeLog: Measure | null;
}

/** Boards with as many rotations gone. */
export interface RotationScores {
  /** Finals of which discipline. */
  readonly discipline: DisciplineCode;
  /** How many rotations were over. */
  readonly rotation: number;
  /** How many boards that were. */
  readonly boards: number;
  /** By forecaster: the mean `winLog`. */
  readonly winLog: Readonly<Record<Forecaster, Measure>>;
}

/** How honest chances were over the finals of a history. */
export interface Backtest {
  /** The finals that were replayed. */
  readonly rounds: readonly {
    /** By code. */
    readonly discipline: DisciplineCode;
    /** As the history calls it. */
    readonly competition: string;
    /** The day it was held: `2022-11-06`. */
    readonly date: string;
    /** How many took part. */
    readonly gymnasts: number;
    /** Whether the history says in which order they went up, or that was assumed. */
    readonly order: 'known' | 'assumed';
    /** Of so many of them nothing was known before: theirs is the usual range. */
    readonly unknown: number;
  }[];
  /** Boards that were forecast: one a round and rotation, the last excepted. */
  readonly boards: number;
  /** One a forecaster, over all boards. */
  readonly scores: readonly ForecastScores[];
  /** The same, by how much was over. */
  readonly byRotation: readonly RotationScores[];
  /** Whether what was given a chance of 30% happened three times in ten. */
  readonly reliability: {
    /** Of chances to win. */
    readonly win: readonly Bin[];
    /** Of chances of a medal. */
    readonly medal: readonly Bin[];
  };
  /** The share the simple rivals give to those in front: as good as hindsight allows. */
  readonly smoothing: Smoothings;
  /** Every chance, ours and theirs, was taken to be at least this. */
  readonly least: Chance;
  /** Of single routines. */
  readonly routines: RoutineScore;
  /** Rows of the history that were used, those that were not, and what was understood of others. */
  readonly used: number;
  /** Rows that were not used, in the order of the file. */
  readonly leftOut: readonly LeftOut[];
  /** What was understood of rows, but is worth knowing. */
  readonly notes: readonly LeftOut[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** No chance is taken to be less: a single surprise would outweigh everything else. */
const LEAST = 0.005;

/** Medals in these rounds. */
const MEDALS = 3;

/** One board of one round, and what came of it. */
interface Board {
  readonly meetKey: string;
  readonly discipline: DisciplineCode;
  readonly rotation: number;
  /** By gymnast: the chance of every place. */
  readonly places: readonly (readonly number[])[];
  /** By gymnast: the total as it stood, and with the likely scores of what was to come. */
  readonly totals: readonly number[];
  readonly projected: readonly number[];
  /** By gymnast: the place in the end. */
  readonly ended: readonly number[];
}

/**
 * Replays every all-around final: after each rotation the chances from what was known then, ranges from
 * earlier dates and earlier rounds of the competition only, against what happened.
 * @param history - As `readHistory` gave it.
 * @param options - Which finals, and the seed.
 * @throws `no-rounds`: the history has no all-around final of four or more on every apparatus
 * @throws `wrong-number`: `seed` is no whole number
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const final = (gymnast: string, score: string) => ['VT', 'UB', 'BB', 'FX'].map((on) =>
 *   `${gymnast},wag,2024-05-01,Quay Cup,all-around final,${on},${score}`);
 * const rows = [final('ann', '13.2'), final('bea', '13.1'), final('cleo', '13'), final('dot', '12')];
 * const history = readHistory({ file: 'results.csv', text: [columns, ...rows.flat()].join('\n') });
 * backtest(history).boards // → 4
 */
export function backtest(history: History, options: BacktestOptions = {}): Backtest {
  const { discipline = null, onProgress } = options;
  const seed = options.seed ?? 1;
  if (!Number.isInteger(seed)) {
    throw badUsage('wrong-number', `${seed} is not a seed`, 'give a whole number, such as 7');
  }
  const rounds = allAroundRounds(history).filter(
    (r) => discipline === null || r.discipline === discipline,
  );
  if (rounds.length === 0) {
    throw noAnswer(
      'no-rounds',
      'the history has no all-around final',
      'rows of one need the round `all-around final` and every apparatus of at least four gymnasts',
    );
  }
  const replayed = rounds.map((round, k) => {
    const found = boardsOf(round, history);
    onProgress?.(Math.round((100 * (k + 1)) / rounds.length), 200);
    return { round, ...found };
  });
  const boards = replayed.flatMap((r) => r.boards);
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
  return {
    rounds: replayed.map(
      ({ round: { discipline: d, competition, date, gymnasts, order }, unknown }) => ({
        ...{ discipline: d, competition, date, gymnasts: gymnasts.length, order, unknown },
      }),
    ),
    boards: boards.length,
    scores: FORECASTERS.map((f) => scoresOf(boards, f, forecast)),
    byRotation: byRotation(boards, forecast),
    reliability: {
      win: reliability(forecasts(boards, 1), seed),
      medal: reliability(forecasts(boards, MEDALS), seed),
    },
    smoothing,
    least: LEAST,
    routines: routineScores(history, discipline, (done, of) =>
      onProgress?.(100 + Math.round((100 * done) / of), 200),
    ),
    used: history.routines.length,
    leftOut: history.leftOut,
    notes: history.notes,
    caution: CAUTION,
  };
}

function boardsOf(
  round: AllAroundRound,
  history: History,
): { boards: readonly Board[]; unknown: number } {
  const fitted = new Map(
    fitRanges(history, {
      before: round.date,
      also: (r) => wasKnownTo(round, r),
      competition: round.competition,
    })
      .filter((f) => f.discipline === round.discipline)
      .map((f) => [f.id, f.ranges]),
  );
  const ended = finalBoard(round).map((b) => b.place);
  const boards: Board[] = [];
  for (let rotation = 0; rotation < round.rotations; rotation++) {
    const meet = asItStood(round, rotation, (gymnast) => fitted.get(gymnast));
    const model = modelOf(meet, findContest(meet, null));
    const found = placeChances(model).places;
    const places = new Map(model.entrants.map((e, i) => [e.contender.id, found[i] ?? []]));
    const { totals, projected } = totalsOf(meet);
    boards.push({
      meetKey: `${round.competition} ${round.date}`,
      discipline: round.discipline,
      rotation,
      places: meet.gymnasts.map((g) => places.get(g.id) ?? []),
      totals,
      projected,
      ended,
    });
  }
  return { boards, unknown: round.gymnasts.filter((g) => !fitted.has(g)).length };
}

/** On the board, and with the likely scores of what is to come. */
function totalsOf(meet: Meet): { totals: number[]; projected: number[] } {
  const totals = entriesIn(meet).map((e) => e.total);
  const projected = meet.gymnasts.map((g, i) =>
    meet.routines
      .filter((r) => r.gymnast === g.id && isToCome(meet, r.index))
      .reduce((sum, r) => sum + (rangeAt(meet, r.index).likely ?? 0), totals[i]!),
  );
  return { totals, projected };
}

/** Shares for those in front, by target: to win, to medal. */
export type Smoothing = Readonly<Record<'win' | 'medal', Chance>>;
/** Those shares, by simple rival. */
export type Smoothings = Readonly<Record<'leader-now' | 'leader-projected', Smoothing>>;

const TARGETS = { win: 1, medal: MEDALS } as const;
type TargetName = keyof typeof TARGETS;

/** What a forecaster gives each for one of the first places. */
function chancesOf(
  board: Board,
  forecaster: Forecaster,
  target: TargetName,
  share: number,
): number[] {
  const places = Math.min(TARGETS[target], board.ended.length);
  if (forecaster === 'chances') {
    return board.places.map((p) => p.slice(0, places).reduce((a, b) => a + b, 0));
  }
  const count = board.ended.length;
  const equal = board.ended.map(() => places / count);
  if (forecaster === 'equal') return equal;
  const totals = forecaster === 'leader-now' ? board.totals : board.projected;
  const least = [...totals].sort((a, b) => b - a)[places - 1]!;
  const inFront = totals.map((t) => t >= least);
  const front = inFront.filter((f) => f).length;
  // Before the first score nobody leads.
  if (least <= 0 || front === count) return equal;
  return inFront.map((f) => places * (f ? share / front : (1 - share) / (count - front)));
}

/** The share for those in front with the best log score, in hindsight. */
function bestShare(
  boards: readonly Board[],
  forecaster: 'leader-now' | 'leader-projected',
  target: TargetName,
): number {
  let best = { share: 0, score: Number.POSITIVE_INFINITY };
  for (let hundredths = 1; hundredths < 100; hundredths++) {
    const share = hundredths / 100;
    const score = mean(
      boards.map((b) => {
        const chances = chancesOf(b, forecaster, target, share);
        return target === 'win' ? winLog(b, chances) : binaryLog(chances, b.ended, MEDALS);
      }),
    );
    if (score < best.score) best = { share, score };
  }
  return best.share;
}

/** Minus the logarithm of what the winner was given; of the mean of several who share the title. */
function winLog({ ended }: Board, chances: readonly number[]): number {
  return mean(
    ended.flatMap((place, i) => (place === 1 ? [-Math.log(Math.max(chances[i]!, LEAST))] : [])),
  );
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;
}

/** What each gave for one of the first places. */
type Forecasting = (board: Board, forecaster: Forecaster, target: TargetName) => number[];

/** Mean over boards, so that a large field counts no more than a small one. */
function scoresOf(
  boards: readonly Board[],
  forecaster: Forecaster,
  forecast: Forecasting,
): ForecastScores {
  const over = (score: (board: Board) => number) => mean(boards.map(score));
  const placeLog = (b: Board) =>
    mean(b.ended.map((place, i) => -Math.log(Math.max(b.places[i]![place - 1] ?? 0, LEAST))));
  return {
    forecaster,
    winLog: over((b) => winLog(b, forecast(b, forecaster, 'win'))),
    winBrier: over((b) => brier(forecast(b, forecaster, 'win'), b.ended, 1)),
    medalLog: over((b) => binaryLog(forecast(b, forecaster, 'medal'), b.ended, MEDALS)),
    medalBrier: over((b) => brier(forecast(b, forecaster, 'medal'), b.ended, MEDALS)),
    placeLog: forecaster === 'chances' ? over(placeLog) : null,
  };
}

export function brier(chances: readonly number[], ended: readonly number[], place: number): number {
  return mean(chances.map((p, i) => (p - (ended[i]! <= place ? 1 : 0)) ** 2));
}

export function binaryLog(
  chances: readonly number[],
  ended: readonly number[],
  place: number,
): number {
  return mean(
    chances.map((chance, i) => {
      const p = Math.min(Math.max(chance, LEAST), 1 - LEAST);
      return -Math.log(ended[i]! <= place ? p : 1 - p);
    }),
  );
}

function byRotation(boards: readonly Board[], forecast: Forecasting): RotationScores[] {
  const keys = [...new Set(boards.map((b) => `${b.discipline} ${b.rotation}`))].sort();
  return keys.map((key) => {
    const these = boards.filter((b) => `${b.discipline} ${b.rotation}` === key);
    const { discipline, rotation } = these[0]!;
    const winLogs = FORECASTERS.map((f) => [
      f,
      mean(these.map((b) => winLog(b, forecast(b, f, 'win')))),
    ]);
    return {
      discipline,
      rotation,
      boards: these.length,
      winLog: Object.fromEntries(winLogs) as RotationScores['winLog'],
    };
  });
}

function forecasts(boards: readonly Board[], place: number): Forecast[] {
  return boards.flatMap((b) =>
    b.places.map((p, i) => ({
      meet: b.meetKey,
      said: p.slice(0, place).reduce((x, y) => x + y, 0),
      happened: b.ended[i]! <= place,
    })),
  );
}
