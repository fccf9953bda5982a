/** `backtest`: how honest the chances were, over the finals of a history. */

import type { DisciplineCode } from '../apparatus.js';
import { CAUTION } from '../caution.js';
import { badUsage, noAnswer } from '../error.js';
import type {
  Backtest,
  BacktestOptions,
  BacktestPart,
  FinalScores,
  RotationScores,
} from './backtest-answer.js';
import { reliability } from './calibration.js';
import { comparisonOf } from './comparison.js';
import { readDate } from './date.js';
import { type Board, MEDALS, type TARGETS } from './final-boards.js';
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
import { fileRanges, type Known, knownIn, type RangesFrom } from './known.js';
import { type Replayed, replay } from './replay.js';
import { type FoundFinal, findFinals } from './rounds.js';
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
 * @throws `wrong-option`: `parts` are not all parts of this backtest
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const final = (gymnast: string, score: string) => ['VT', 'UB', 'BB', 'FX'].map((on) =>
 *   `${gymnast},wag,2024-05-01,Quay Cup,all-around final,${on},${score}`);
 * const rows = [final('ann', '13.2'), final('bea', '13.1'), final('cleo', '13'), final('dot', '12')];
 * const history = readHistory({ file: 'results.csv', text: [columns, ...rows.flat()].join('\n') });
 * backtest(history).boards // → 4
 */
export function backtest(history: History, options: BacktestOptions = {}): Backtest {
  const asked = backtestAsked(history, options);
  const done = options.parts ?? [partOf(asked, WHOLE)];
  const numbered = done
    .flatMap(({ finals }) => finals as readonly NumberedFinal[])
    .sort(([a], [b]) => a - b);
  const routines = done.find((part) => part.routines !== null)?.routines;
  const isEach = asked.finals.every((_, k) => numbered[k]?.[0] === k);
  if (routines == null || !isEach || numbered.length !== asked.finals.length) {
    throw badUsage(
      'wrong-option',
      'the parts do not make a whole backtest',
      'give those of backtestPart for each of them, with the same history and options',
    );
  }
  const { seed, since, ranges, against } = asked;
  const replayed = numbered.map(([, final]) => final);
  const boards = replayed.flatMap((r) => r.boards);
  const { smoothing, forecast } = forecastersFor(boards);
  const scores = scoresOf(boards, forecast, seed);
  return {
    rounds: replayed.map((r) => finalScores(r, forecast)),
    boards: boards.length,
    scores,
    byContest: byContest(boards, scores, seed),
    byRotation: byRotation(boards, forecast),
    reliability: {
      win: reliability(chancesGiven(boards, 1), seed),
      medal: reliability(chancesGiven(boards, MEDALS), seed),
    },
    ...{ smoothing, least: LEAST, routines, rangesFrom: nameOf(ranges) },
    comparison:
      against === null ? null : comparisonOf(nameOf(against), replayed, routines.behind, seed),
    since,
    seed,
    forecasts: options.forecasts === true ? forecastRows(replayed.map((r) => r.boards)) : null,
    used: history.routines.length,
    leftOut: history.leftOut,
    notes: history.notes,
    caution: CAUTION,
  };
}

/**
 * A part of the work of a backtest, for threads that share it: what it gives can be cloned from one to another,
 * and `backtest` takes all parts as `parts`. The single routines are in the first.
 * @param history - As `readHistory` gave it.
 * @param options - As for `backtest`, the same for all parts.
 * @param part - Which, from 0.
 * @param of - How many there are.
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
 * const parts = [0, 1, 2].map((part) => backtestPart(history, {}, part, 3));
 * backtest(history, { parts }).boards // → 4
 */
export function backtestPart(
  history: History,
  options: BacktestOptions,
  part: number,
  of: number,
): BacktestPart {
  return partOf(backtestAsked(history, options), {
    hasRoutines: part === 0,
    isIn: (final) => dealtTo(final, of) === part,
  });
}

/** Single routines take about a third as long as the finals. */
const ROUTINES = 1 / 3;

/** Which of so many parts a final is in: as many in each, and fewer in the first, which has the single routines. */
function dealtTo(final: number, of: number): number {
  const first = Math.max((1 + ROUTINES) / of - ROUTINES, 0);
  // Multiples of the golden ratio lie evenly, in any stretch of them, and mix women's finals and men's.
  const at = (final * GOLDEN) % 1;
  return at < first ? 0 : 1 + Math.floor(((at - first) / (1 - first)) * (of - 1));
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** With its place among all. */
type NumberedFinal = readonly [number: number, final: Replayed];

/** Which finals are replayed, and whether single routines are judged. */
interface Share {
  readonly hasRoutines: boolean;
  readonly isIn: (final: number) => boolean;
}

const WHOLE: Share = { hasRoutines: true, isIn: () => true };

/** What is asked, checked, and the finals there are. */
interface Asked extends Pick<BacktestOptions, 'onProgress'> {
  readonly history: History;
  readonly discipline: DisciplineCode | null;
  readonly since: string | null;
  readonly seed: number;
  readonly ranges: RangesFrom;
  readonly against: RangesFrom | null;
  readonly finals: readonly FoundFinal[];
}

function backtestAsked(history: History, options: BacktestOptions): Asked {
  const { onProgress, discipline = null } = options;
  const seed = options.seed ?? 1;
  if (!Number.isInteger(seed)) {
    throw badUsage('wrong-number', `${seed} is not a seed`, 'give a whole number, such as 7');
  }
  const since = options.since == null ? null : dateOf(options.since);
  const contest = options.contest ?? 'all-around';
  const contests = contest === 'all' ? FINALS : [contest];
  const finals = findFinals(history, { contests, discipline, since, seed });
  if (finals.length === 0) throw noFinals(contest, since, history.leftOut.length);
  const from = { ranges: options.ranges ?? 'rounds', against: options.against ?? null };
  return { history, discipline, since, seed, ...from, finals, onProgress };
}

function partOf(asked: Asked, { hasRoutines, isIn }: Share): BacktestPart {
  const { history, discipline, since, seed, ranges, against, onProgress } = asked;
  const known = knownIn(history);
  const finals = [...asked.finals.entries()].filter(([k]) => isIn(k));
  const some = finals.map(([, final]) => final);
  const all = hasRoutines ? 200 : 100;
  const replayed = replay(history, some, { ranges, against, known, seed }, (done) =>
    onProgress?.(Math.round((100 * done) / some.length), all),
  );
  const then = (source: RangesFrom): RangesThen => rangesThen(history, known, source);
  // Of single routines what was known is the same, whichever rounds count.
  const others = against !== null && isFile(against, ranges) ? then(against) : null;
  const onDone = (done: number, of: number) =>
    onProgress?.(100 + Math.round((100 * done) / of), all);
  return {
    finals: replayed.map((one, k): NumberedFinal => [finals[k]?.[0] ?? 0, one]),
    routines: hasRoutines
      ? routineScores(history, {
          ...{ discipline, since, seed, ranges: then(ranges), against: others, onProgress: onDone },
        })
      : null,
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

function noFinals(contest: FinalName | 'all', since: string | null, leftOut: number) {
  const [kind, mend] =
    contest === 'all' ? ['', NEEDED['all-around']] : [`${contest} `, NEEDED[contest]];
  const when = since === null ? '' : ` on or after ${since}`;
  const lost =
    leftOut === 0 ? '' : `; ${leftOut} of its rows could not be used (\`ranges\` says why)`;
  return noAnswer('no-rounds', `the history has no ${kind}final${when}${lost}`, mend);
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
  ofAll: Backtest['scores'],
  seed: number,
): Backtest['byContest'] {
  return FINALS.flatMap((contest) => {
    const these = boards.filter((b) => b.final.contest === contest);
    if (these.length === 0) return [];
    const isAll = these.length === boards.length;
    const scores = isAll ? ofAll : scoresOf(these, forecastersFor(these).forecast, seed);
    const finals = new Set(these.map((b) => b.final)).size;
    return [{ contest, finals, boards: these.length, scores }];
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
