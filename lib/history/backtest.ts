/** `backtest`: how honest the chances were, over the finals of a history. */
import type { DisciplineCode } from '../apparatus.js';
import { CAUTION } from '../caution.js';
import type { Chance, Measure } from '../chance.js';
import { badUsage, noAnswer } from '../error.js';
import { type Bin, reliability } from './calibration.js';
import { type Comparison, comparisonOf } from './comparison.js';
import { readDate } from './date.js';
import { type Board, boardsOf, MEDALS, type TARGETS } from './final-boards.js';
import { FINALS, type FinalName } from './final-kinds.js';
import { type ForecastRow, forecastRows } from './forecast-rows.js';
import {
  amongFirst,
  FORECASTERS,
  type Forecaster,
  type Forecasting,
  type ForecastScores,
  forecastersFor,
  LEAST,
  logOf,
  mean,
  type Smoothings,
  scoresOf,
} from './forecasters.js';
import type { History } from './history.js';
import { fileRanges, type Known, knownIn, type RangesFrom, rangesFor } from './known.js';
import { normalForecast } from './normal-forecast.js';
import { ownMeans } from './own-means.js';
import { finalsOf, type PastFinal } from './rounds.js';
import type { LeftOut } from './routine.js';
import { type RangesThen, type RoutineScore, routineScores } from './routine-scores.js';

export interface BacktestOptions {
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
  /** Told how much is done, in hundredths of the finals first, then of the single routines. */
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
}

/** Boards with as many rotations gone. */
export interface RotationScores {
  readonly contest: FinalName;
  readonly discipline: DisciplineCode;
  /** Of an apparatus final: how many have been up. */
  readonly rotation: number;
  readonly boards: number;
  /** By forecaster: the mean `winLog`. */
  readonly winLog: Readonly<Record<Forecaster, Measure>>;
}

/** One final, and how far off the forecasts of it were. */
export interface FinalScores {
  readonly contest: FinalName;
  /** Of an apparatus final; null for the others. */
  readonly apparatus: string | null;
  readonly discipline: DisciplineCode;
  readonly competition: string;
  readonly date: string;
  readonly gymnasts: number;
  /** `drawn`: of an apparatus final, where the history does not say who went up when. */
  readonly order: PastFinal['order'];
  /** Of so many of the gymnasts nothing was known before: theirs is the usual range. */
  readonly unknown: number;
  readonly winLog: Readonly<Record<Forecaster, Measure>>;
  readonly medalLog: Readonly<Record<Forecaster, Measure>>;
}

export interface Backtest {
  readonly rounds: readonly FinalScores[];
  /** Boards that were forecast: one a round and rotation, the last excepted. */
  readonly boards: number;
  readonly scores: readonly ForecastScores[];
  /** The same by kind of final. */
  readonly byContest: readonly {
    readonly contest: FinalName;
    readonly finals: number;
    readonly boards: number;
    readonly scores: readonly ForecastScores[];
  }[];
  readonly byRotation: readonly RotationScores[];
  readonly reliability: { readonly win: readonly Bin[]; readonly medal: readonly Bin[] };
  /** The share the simple rivals give to those in front: as good as hindsight allows. */
  readonly smoothing: Smoothings;
  /** Every chance, ours and theirs, was taken to be at least this. */
  readonly least: Chance;
  /** Of single routines. */
  readonly routines: RoutineScore;
  /** What the chances rested on, and what else they were compared with. */
  readonly rangesFrom: string;
  readonly comparison: Comparison | null;
  readonly since: string | null;
  readonly seed: number;
  /** Every single forecast; null where they were not asked for. */
  readonly forecasts: readonly ForecastRow[] | null;
  /** Rows of the history that were used, those that were not, and what was understood of others. */
  readonly used: number;
  readonly leftOut: readonly LeftOut[];
  readonly notes: readonly LeftOut[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/**
 * Replays finals: after each rotation the chances from what was known then, ranges from earlier dates and
 * earlier rounds of the competition only, against what happened. Throws when the history has no such final.
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const final = (gymnast: string, score: string) => ['VT', 'UB', 'BB', 'FX'].map((on) =>
 *   `${gymnast},wag,2024-05-01,Quay Cup,all-around final,${on},${score}`);
 * const rows = [final('ann', '13.2'), final('bea', '13.1'), final('cleo', '13'), final('dot', '12')];
 * const history = readHistory({ file: 'results.csv', text: [columns, ...rows.flat()].join('\n') });
 * backtest(history).boards // → 4
 */
export function backtest(history: History, options: BacktestOptions = {}): Backtest {
  const { onProgress, discipline = null } = options;
  const seed = options.seed ?? 1;
  if (!Number.isInteger(seed)) {
    throw badUsage('wrong-number', `${seed} is not a seed`, 'give a whole number, such as 7');
  }
  const since = options.since == null ? null : dateOf(options.since);
  const contest = options.contest ?? 'all-around';
  const contests = contest === 'all' ? FINALS : [contest];
  const from = { ranges: options.ranges ?? 'rounds', against: options.against ?? null };
  const finals = finalsOf(history, { contests, discipline, since, seed });
  if (finals.length === 0) throw noFinals(contest, since);
  const known = knownIn(history);
  const replayed = replay(history, finals, { ...from, known, seed }, (done) =>
    onProgress?.(Math.round((100 * done) / finals.length), 200),
  );
  const boards = replayed.flatMap((r) => r.boards);
  const { smoothing, forecast } = forecastersFor(boards);
  const then = (source: RangesFrom): RangesThen => rangesThen(history, known, source);
  const routines = routineScores(history, {
    ...{ discipline, since, seed, ranges: then(from.ranges) },
    // Of single routines what was known is the same, whichever rounds count.
    against: from.against !== null && isFile(from.against, from.ranges) ? then(from.against) : null,
    onProgress: (done, of) => onProgress?.(100 + Math.round((100 * done) / of), 200),
  });
  return {
    rounds: replayed.map((r) => finalScores(r, forecast)),
    boards: boards.length,
    scores: scoresOf(boards, forecast, seed),
    byContest: byContest(boards, forecast, seed),
    byRotation: byRotation(boards, forecast),
    reliability: {
      win: reliability(chancesGiven(boards, 1), seed),
      medal: reliability(chancesGiven(boards, MEDALS), seed),
    },
    ...{ smoothing, least: LEAST, routines, rangesFrom: nameOf(from.ranges) },
    comparison:
      from.against === null
        ? null
        : comparisonOf(nameOf(from.against), replayed, routines.behind, seed),
    since,
    seed,
    forecasts: options.forecasts === true ? forecastRows(replayed.map((r) => r.boards)) : null,
    used: history.routines.length,
    leftOut: history.leftOut,
    notes: history.notes,
    caution: CAUTION,
  };
}

function isFile(...sources: readonly RangesFrom[]): boolean {
  return sources.some((source) => typeof source === 'object');
}

function nameOf(source: RangesFrom): string {
  return typeof source === 'object' ? source.file : source;
}

function dateOf(text: string): string {
  const read = readDate(text);
  if ('date' in read) return read.date;
  throw badUsage('wrong-date', `--since: ${read.why}`, 'write it like 2023-01-01');
}

const NEEDED: Readonly<Record<FinalName, string>> = {
  'all-around':
    'rows of one need the round `all-around final` and every apparatus of at least four gymnasts',
  team: 'rows of one need the round `team final`, a nation, and every apparatus of at least four teams',
  apparatus:
    'rows of one need the round `apparatus final` and four to twelve gymnasts on the apparatus',
};

function noFinals(contest: FinalName | 'all', since: string | null) {
  const [kind, mend] =
    contest === 'all' ? ['', NEEDED['all-around']] : [`${contest} `, NEEDED[contest]];
  const when = since === null ? '' : ` on or after ${since}`;
  return noAnswer('no-rounds', `the history has no ${kind}final${when}`, mend);
}

/** A final with the boards it was judged on, and those of the other ranges. */
export interface Replayed {
  readonly final: PastFinal;
  readonly boards: readonly Board[];
  readonly against: readonly Board[];
  readonly unknown: number;
}

interface Setting {
  readonly ranges: RangesFrom;
  readonly against: RangesFrom | null;
  readonly known: Known;
  readonly seed: number;
}

function replay(
  history: History,
  finals: readonly PastFinal[],
  { ranges, against, known, seed }: Setting,
  onDone: (done: number) => void,
): Replayed[] {
  const rangesOf = rangesFor(history, known, ranges);
  const others = against === null ? null : rangesFor(history, known, against);
  const routines = [...history.routines].sort((a, b) =>
    a.date < b.date ? -1 : a.date > b.date ? 1 : 0,
  );
  const means = ownMeans();
  let next = 0;
  return finals.map((final, k) => {
    for (let r = routines[next]; r !== undefined && r.date < final.date; r = routines[++next]) {
      if (r.score > 0) means.add(r);
    }
    const of = rangesOf(final);
    const also = ranges === 'days' ? [] : known.earlierRounds(final);
    const boards = boardsOf(final, of, normalForecast(final, means, also, seed));
    const other = others?.(final);
    onDone(k + 1);
    return {
      final,
      boards,
      against: other === undefined ? [] : boardsOf(final, other),
      unknown: final.gymnasts.filter((g) => of(g) === undefined).length,
    };
  });
}

/** Ranges for single routines, from earlier days or a file. */
function rangesThen(history: History, known: Known, source: RangesFrom): RangesThen {
  if (typeof source === 'object') {
    const of = fileRanges(source, history);
    return () => of;
  }
  return (discipline, date, gymnasts) => {
    const found = known.ranges(discipline, date, gymnasts);
    return (gymnast) => found.get(gymnast);
  };
}

function finalScores({ final, boards, unknown }: Replayed, forecast: Forecasting): FinalScores {
  const { contest, on, discipline, competition, date, gymnasts, order } = final;
  const logs = (target: keyof typeof TARGETS) =>
    byForecaster((f) => mean(boards.map((b) => logOf(b, target, forecast(b, f, target)))));
  return {
    ...{ contest, apparatus: on, discipline, competition, date },
    ...{ gymnasts: gymnasts.length, order, unknown },
    winLog: logs('win'),
    medalLog: logs('medal'),
  };
}

function byForecaster(of: (f: Forecaster) => number): Record<Forecaster, Measure> {
  return Object.fromEntries(FORECASTERS.map((f) => [f, of(f)])) as Record<Forecaster, Measure>;
}

function byContest(
  boards: readonly Board[],
  ofAll: Forecasting,
  seed: number,
): Backtest['byContest'] {
  return FINALS.flatMap((contest) => {
    const these = boards.filter((b) => b.final.contest === contest);
    if (these.length === 0) return [];
    const isAll = these.length === boards.length;
    const forecast = isAll ? ofAll : forecastersFor(these).forecast;
    const finals = new Set(these.map((b) => b.final)).size;
    return [{ contest, finals, boards: these.length, scores: scoresOf(these, forecast, seed) }];
  });
}

function byRotation(boards: readonly Board[], forecast: Forecasting): RotationScores[] {
  const groups = new Map<string, Board[]>();
  for (const board of boards) {
    const { contest, discipline } = board.final;
    const key = `${FINALS.indexOf(contest)} ${discipline} ${String(board.rotation).padStart(3)}`;
    groups.set(key, [...(groups.get(key) ?? []), board]);
  }
  return [...groups.keys()].sort().flatMap((key) => {
    const these = groups.get(key) ?? [];
    const [first] = these;
    if (first === undefined) return [];
    const { contest, discipline } = first.final;
    const winLog = byForecaster((f) =>
      mean(these.map((b) => logOf(b, 'win', forecast(b, f, 'win')))),
    );
    return [{ contest, discipline, rotation: first.rotation, boards: these.length, winLog }];
  });
}

function chancesGiven(boards: readonly Board[], place: number) {
  return boards.flatMap((b) =>
    b.places.map((p, i) => ({
      meet: b.meetKey,
      said: amongFirst(p, place),
      happened: (b.ended[i] ?? 0) <= place,
    })),
  );
}
