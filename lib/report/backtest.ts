/** How honest the chances were: scores, and what was said against what happened. */
import type { Backtest, RotationScores } from '../history/backtest-answer.js';
import type { Bin } from '../history/calibration.js';
import type { FinalName } from '../history/final-kinds.js';
import type { Forecaster, ForecastScores } from '../history/forecasters.js';
import { byHowMuch, comparisonSection, intervalOf, routinesSections } from './backtest-routines.js';
import { caution } from './chance-words.js';
import { historyTrouble } from './history-rows.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { listed, ordinal } from './words.js';

const NAMES: Readonly<Record<Forecaster, string>> = {
  chances: 'the chances',
  'leader-now': 'who leads now',
  'leader-projected': 'who leads by projected total',
  normal: 'bell curves, simulated',
  equal: 'all have the same chance',
};

/**
 * The chances and the simple rivals over the finals of a history.
 * @param answer - From `backtest`.
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const final = (gymnast: string, score: string) => ['VT', 'UB', 'BB', 'FX'].map((on) =>
 *   `${gymnast},wag,2024-05-01,Quay Cup,all-around final,${on},${score}`);
 * const rows = [final('ann', '13.2'), final('bea', '13.1'), final('cleo', '13'), final('dot', '12')];
 * const history = readHistory({ file: 'results.csv', text: [columns, ...rows.flat()].join('\n') });
 * reports.backtest(backtest(history)).flat().flatMap((b) => (b.kind === 'title' ? [b.text] : []))[0] // → '1 all-around final, looked at after every rotation: 4 boards'
 */
export function backtestReport(answer: Backtest): Report {
  const { rounds, byContest, byRotation, reliability, smoothing, least, routines } = answer;
  const isOne = byContest.length === 1;
  return reportOf(
    aboutSection(answer),
    ...byContest.map(({ contest, scores, finals, boards }): Section => {
      const which = isOne ? '' : ` in ${finalsInWords(finals, contest)}, ${boards} boards`;
      return [
        title(`How far off the forecasts were${which} (lower is better)`),
        tableOf(scoreColumns(), scores),
        tableOf(behindColumns(), scores.slice(1)),
      ];
    }),
    [
      sentence(
        `The log score is minus the logarithm of the chance given to what happened, with every chance taken to be at least ${least * 100}%; the Brier score is the mean squared error; the entropy is how little a forecast committed itself: a log score well over it was too sure. "Further off" is by how much a rival’s log score is worse, with a 95% interval from drawing the meets anew. The two forecasts by who leads give those in front the share that suits them best in hindsight${isOne ? `: ${share(smoothing['leader-now'])} by who leads now, ${share(smoothing['leader-projected'])} by projected total` : ''}. The bell curves have each gymnast’s own mean and the spread of all around theirs, a thousand ends drawn for every board.`,
        'quiet',
      ),
    ],
    [
      title(
        rounds.some((r) => r.contest === 'apparatus')
          ? 'To win: the log score after each rotation, or after so many have been up'
          : 'To win: the log score after each rotation',
      ),
      tableOf(rotationColumns(isOne), byRotation),
    ],
    binsSection('To win', reliability.win),
    [
      ...binsSection('For a medal', reliability.medal),
      sentence(
        '│ chance given · ● happened · ─ 95% interval, by drawing the meets anew, since the boards of one meet go together; where it never or always happened, Wilson’s interval with each meet as one case',
        'quiet',
      ),
    ],
    ...routinesSections(routines),
    comparisonSection(answer),
    historyTrouble(answer.used, answer),
    [caution()],
  );
}

/** Which finals, in which order, and what was known before them. */
function aboutSection(answer: Backtest): Section {
  const { rounds, byContest, boards, since, rangesFrom } = answer;
  const finals = listed(byContest.map((c) => finalsInWords(c.finals, c.contest)));
  const from = since === null ? '' : ` since ${since}`;
  const orders = new Set(rounds.map((r) => r.order));
  return [
    title(`${finals}${from}, looked at after every rotation: ${boards} boards`),
    ...(orders.has('assumed')
      ? [
          sentence(
            'Where the history does not say who went up when, groups by place in qualification are taken, or else everyone in Olympic order.',
          ),
        ]
      : []),
    ...(orders.has('drawn')
      ? [
          sentence(
            'Where it does not say so of an apparatus final, an order is drawn; there is a board after each gymnast.',
          ),
        ]
      : []),
    sentence(tiesInWords(byContest.map((c) => c.contest))),
    sentence(knownInWords(rangesFrom)),
    ...unknownInWords(answer),
  ];
}

/** "19 all-around finals" */
function finalsInWords(count: number, contest: FinalName): string {
  return `${count} ${contest} ${count === 1 ? 'final' : 'finals'}`;
}

/** Ties to come are resolved where that takes no time, and stand elsewhere (docs/honesty.md). */
function tiesInWords(contests: readonly FinalName[]): string {
  const stand = 'ties stand, and whoever is level shares the place';
  if (!contests.includes('apparatus')) return `In these finals ${stand}.`;
  const where = contests.length === 1 ? 'with two vaults' : 'elsewhere, and with two vaults,';
  return `In an apparatus final of one routine E breaks a tie, and then D; ${where} ${stand}.`;
}

function knownInWords(from: string): string {
  if (from === 'days') {
    return 'Known before a final were results of earlier days only, not those of earlier rounds of its competition.';
  }
  if (from !== 'rounds') return `The ranges are those of ${from}, the same before every final.`;
  return 'Known before a final were results of earlier days, and of earlier rounds of its competition: qualification, team final, all-around, apparatus finals; day 1 before day 2.';
}

/** How many had no range, and so were forecast by what is usual alone. */
function unknownInWords({ rounds, rangesFrom }: Backtest): Section {
  const gymnasts = rounds.reduce((sum, r) => sum + r.gymnasts, 0);
  const unknown = rounds.reduce((sum, r) => sum + r.unknown, 0);
  if (unknown === 0) return [];
  const isMost = unknown * 2 > gymnasts;
  const isFile = rangesFrom !== 'rounds' && rangesFrom !== 'days';
  const lacking = isFile ? 'the file has nothing' : 'the history has nothing earlier';
  const said = `For ${unknown} of the ${gymnasts} gymnasts in them ${lacking}, so what is usual stands in.`;
  return isMost
    ? [sentence(`${said} This says little about chances that rest on results.`, 'warning')]
    : [sentence(said)];
}

function binsSection(what: string, bins: readonly Bin[]): Section {
  return [
    title(`${what}: how often it happened, by the chance that was given`),
    tableOf(
      binColumns(),
      bins.filter((b) => b.count > 0),
    ),
  ];
}

function share({ win, medal }: Backtest['smoothing']['leader-now']): string {
  return `${Math.round(win * 100)}% to win and ${Math.round(medal * 100)}% for medals`;
}

function scoreColumns(): ColumnOf<ForecastScores>[] {
  const number = (value: number | null, digits: number) =>
    value === null ? '' : value.toFixed(digits);
  return [
    { head: '', cell: (s) => NAMES[s.forecaster] },
    { head: 'to win: log', cell: (s) => number(s.winLog, 3), align: 'right' },
    { head: 'Brier', cell: (s) => number(s.winBrier, 4), align: 'right' },
    { head: 'entropy', cell: (s) => number(s.winEntropy, 3), align: 'right', spare: 2 },
    { head: 'for a medal: log', cell: (s) => number(s.medalLog, 3), align: 'right' },
    { head: 'Brier', cell: (s) => number(s.medalBrier, 4), align: 'right' },
    { head: 'place: log', cell: (s) => number(s.placeLog, 3), align: 'right', spare: 1 },
  ];
}

function behindColumns(): ColumnOf<ForecastScores>[] {
  return [
    { head: 'further off than the chances', cell: (s) => NAMES[s.forecaster] },
    { head: 'to win', cell: (s) => byHowMuch(s.winLogBehind), align: 'right' },
    { head: '95% interval', cell: (s) => intervalOf(s.winLogBehind), align: 'right' },
    { head: 'for a medal', cell: (s) => byHowMuch(s.medalLogBehind), align: 'right' },
    { head: '95% interval', cell: (s) => intervalOf(s.medalLogBehind), align: 'right' },
  ];
}

function rotationColumns(isOne: boolean): ColumnOf<RotationScores>[] {
  const log = (f: Forecaster, head: string): ColumnOf<RotationScores> => ({
    head,
    cell: (r) => r.winLog[f].toFixed(3),
    align: 'right',
  });
  const gone = (n: number) => (n === 0 ? 'no rotation' : `the ${ordinal(n)}`);
  const up = (n: number) => (n === 0 ? 'nobody' : `${n} up`);
  return [
    ...(isOne ? [] : [{ head: 'final', cell: (r: RotationScores) => r.contest }]),
    { head: '', cell: (r) => (r.discipline === 'wag' ? 'women' : 'men') },
    {
      head: 'after',
      cell: (r) => (r.contest === 'apparatus' ? up(r.rotation) : gone(r.rotation)),
    },
    { head: 'boards', cell: (r) => String(r.boards), align: 'right' },
    log('chances', 'chances'),
    log('leader-now', 'who leads'),
    log('leader-projected', 'projected'),
    log('normal', 'bell curves'),
    log('equal', 'the same'),
  ];
}

function binColumns(): ColumnOf<Bin>[] {
  const percent = (p: number | null) => (p === null ? '' : `${(p * 100).toFixed(1)}%`);
  return [
    { head: 'chance given', cell: (b) => percent(b.said), align: 'right' },
    { head: 'happened', cell: (b) => percent(b.happened), align: 'right' },
    {
      head: '95% interval',
      cell: (b) => (b.interval === null ? '' : b.interval.map(percent).join(' – ')),
      align: 'right',
    },
    { head: 'forecasts', cell: (b) => String(b.count), align: 'right' },
    {
      head: '',
      cell: ({ said, happened, interval }) => ({
        text: '',
        comparison: { said, happened, interval },
      }),
      spare: 1,
      ends: ['0%', '100%'],
    },
  ];
}
