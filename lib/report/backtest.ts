/** How honest the chances were: scores, and what was said against what happened. */
import type { Backtest, ForecastScores, RotationScores } from '../history/backtest.js';
import type { Bin } from '../history/calibration.js';
import { caution } from './chance-words.js';
import { historyTrouble } from './history-rows.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { ordinal } from './words.js';

const NAMES: Readonly<Record<ForecastScores['forecaster'], string>> = {
  chances: 'the chances',
  'leader-now': 'who leads now',
  'leader-projected': 'who leads by projected total',
  equal: 'all have the same chance',
};

/**
 * The chances and the simple rivals over the finals of a history.
 * @param answer - As `backtest` gave it.
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const rows = ['Ann', 'Bea', 'Cleo', 'Dot'].flatMap((who, i) =>
 *   ['VT', 'UB', 'BB', 'FX'].map((on) =>
 *     `${who},wag,2024-05-01,Quay Cup,all-around final,${on},13.${i}`),
 * );
 * const history = readHistory({ file: 'results.csv', text: [columns, ...rows].join('\n') });
 * reports.backtest(backtest(history)).flat().flatMap((b) => (b.kind === 'title' ? [b.text] : []))[0] // → '1 all-around final, looked at after every rotation: 4 boards'
 */
export function backtestReport(answer: Backtest): Report {
  const { rounds, boards, scores, byRotation, reliability, smoothing, least, routines } = answer;
  const isAssumed = rounds.some((r) => r.order === 'assumed');
  const finals = `${rounds.length} all-around ${rounds.length === 1 ? 'final' : 'finals'}`;
  return reportOf(
    [
      title(`${finals}, looked at after every rotation: ${boards} boards`),
      ...(isAssumed
        ? [
            sentence(
              'Where the history does not say who went up when, groups by place in qualification are taken, or else everyone in Olympic order.',
            ),
          ]
        : []),
      sentence(
        'Known before a final were results of earlier days, and of earlier rounds of its competition: qualification, team final, all-around, apparatus finals; day 1 before day 2.',
      ),
      ...unknownInWords(rounds),
    ],
    [
      title('How far off the forecasts were (lower is better)'),
      tableOf(scoreColumns(), scores),
      sentence(
        `The log score is minus the logarithm of the chance given to what happened, with every chance taken to be at least ${least * 100}%; the Brier score is the mean squared error. The two simple forecasts give whoever is in front the share that suits them best in hindsight: ${share(smoothing['leader-now'])} and ${share(smoothing['leader-projected'])}.`,
        'quiet',
      ),
    ],
    [title('To win: the log score after each rotation'), tableOf(rotationColumns(), byRotation)],
    binsSection('To win', reliability.win),
    [
      ...binsSection('To medal', reliability.medal),
      sentence(
        '│ chance given · ● happened · ─ 95% interval, by drawing the meets anew, since the boards of one meet go together; where it never or always happened, Wilson’s interval with each meet as one case',
        'quiet',
      ),
    ],
    routines.ratio === null
      ? []
      : [
          sentence(
            `One routine at a time: over ${routines.routines} routines of gymnasts with three or more earlier results, the error of the ranges (ranked probability score) is ${routines.ratio.toFixed(3)} of that of a plain bell curve round the gymnast’s own mean.`,
          ),
        ],
    historyTrouble(answer.used, answer),
    [caution()],
  );
}

/** How many had no past, and so were forecast by what is usual alone. */
function unknownInWords(rounds: Backtest['rounds']): Section {
  const gymnasts = rounds.reduce((sum, r) => sum + r.gymnasts, 0);
  const unknown = rounds.reduce((sum, r) => sum + r.unknown, 0);
  if (unknown === 0) return [];
  const isMost = unknown * 2 > gymnasts;
  const said = `Of ${unknown} of the ${gymnasts} gymnasts in them the history has nothing earlier, and what is usual was taken.`;
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
  return `${Math.round(win * 100)}% (to win) and ${Math.round(medal * 100)}% (medals)`;
}

function scoreColumns(): ColumnOf<ForecastScores>[] {
  const number = (value: number | null, digits: number) =>
    value === null ? '' : value.toFixed(digits);
  return [
    { head: '', cell: (s) => NAMES[s.forecaster] },
    { head: 'to win: log', cell: (s) => number(s.winLog, 3), align: 'right' },
    { head: 'Brier', cell: (s) => number(s.winBrier, 4), align: 'right' },
    { head: 'for a medal: log', cell: (s) => number(s.medalLog, 3), align: 'right' },
    { head: 'Brier', cell: (s) => number(s.medalBrier, 4), align: 'right' },
    { head: 'place: log', cell: (s) => number(s.placeLog, 3), align: 'right', spare: 1 },
  ];
}

function rotationColumns(): ColumnOf<RotationScores>[] {
  const log = (f: ForecastScores['forecaster'], head: string): ColumnOf<RotationScores> => ({
    head,
    cell: (r) => r.winLog[f].toFixed(3),
    align: 'right',
  });
  return [
    { head: '', cell: (r) => (r.discipline === 'wag' ? 'women' : 'men') },
    {
      head: 'after',
      cell: (r) => (r.rotation === 0 ? 'no rotation' : `the ${ordinal(r.rotation)}`),
    },
    { head: 'boards', cell: (r) => String(r.boards), align: 'right' },
    log('chances', 'chances'),
    log('leader-now', 'who leads'),
    log('leader-projected', 'projected'),
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
