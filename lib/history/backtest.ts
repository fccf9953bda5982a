/** `backtest`: how honest the chances were, over the finals of a history. */
import { CAUTION } from '../caution.js';
import { badUsage, noAnswer } from '../error.js';
import type { Backtest, BacktestOptions, FinalScores, RotationScores } from './backtest-answer.js';
import { reliability } from './calibration.js';
import { comparisonOf } from './comparison.js';
import { readDate } from './date.js';
import { type Board, boardsOf, MEDALS, type TARGETS } from './final-boards.js';
import { FINALS, type FinalName } from './final-kinds.js';
import { forecastRows } from './forecast-rows.js';
import {
  amongFirst,
  type ByForecaster,
  FORECASTERS,
  type Forecaster,
  type Forecasting,
  forecastersFor,
  LEAST,
  logOf,
  mean,
  scoresOf,
} from './forecasters.js';
import type { History } from './history.js';
import { fileRanges, type Known, knownIn, type RangesFrom, rangesFor } from './known.js';
import { normalForecast } from './normal-forecast.js';
import { ownMeans } from './own-means.js';
import { type FinalFacts, type FoundFinal, findFinals, withoutMeet } from './rounds.js';
import { type RangesThen, routineScores } from './routine-scores.js';

/**
 * Replays finals: after each rotation the chances from what was known then, ranges from earlier dates and
 * earlier rounds of the competition only, against what happened.
 * @param history - As `readHistory` gave it.
 * @param options - Which finals, and what the chances rest on.
 * @throws `no-rounds`: the history has no such final
 * @throws `wrong-date`: `since` is no date
 * @throws `wrong-number`: `seed` is not whole
 * @throws `too-many-routines`: the routines of a team final can add up in too many ways
 * @throws the code of a problem: a ranges file, of `ranges` or `against`, cannot be understood
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
  const finals = findFinals(history, { contests, discipline, since, seed });
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
  team: 'rows of one need the round `team final`, a nation, and every apparatus of at least four teams, none with more than six on one',
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
  readonly final: FinalFacts;
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
  finals: readonly FoundFinal[],
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
  return finals.map(({ replayed }, k) => {
    const final = replayed();
    for (let r = routines[next]; r !== undefined && r.date < final.date; r = routines[++next]) {
      if (r.score > 0) means.add(r);
    }
    const of = rangesOf(final);
    const also = ranges === 'days' ? [] : known.earlierRounds(final);
    const boards = boardsOf(final, of, normalForecast(final, means, also, seed));
    const other = others?.(final);
    onDone(k + 1);
    return {
      final: withoutMeet(final),
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

function byForecaster(of: (f: Forecaster) => number): ByForecaster {
  return Object.fromEntries(FORECASTERS.map((f) => [f, of(f)])) as ByForecaster;
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
