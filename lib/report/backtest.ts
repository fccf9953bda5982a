/** How honest the chances were: scores, and what was said against what happened. */
import type { Backtest, ForecastScores, RotationScores } from '../history/backtest.js';
import type { Bin } from '../history/calibration.js';
import { caution } from './chance-words.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { ordinal } from './words.js';

const NAMES: Readonly<Record<ForecastScores['forecaster'], string>> = {
  chances: 'the chances',
  'leader-now': 'whoever leads now',
  'leader-projected': 'whoever leads by projected total',
  equal: 'all alike',
};

/** The chances and the simple rivals over the finals of a history. */
export function backtestReport(answer: Backtest): Report {
  const { rounds, boards, scores, byRotation, reliability, smoothing, least, routines } = answer;
  const isAssumed = rounds.some((r) => r.order === 'assumed');
  const finals = `${rounds.length} all-around ${rounds.length === 1 ? 'final' : 'finals'}`;
  return reportOf(
    [
      title(`${finals}, ${boards} boards, one a rotation`),
      ...(isAssumed
        ? [
            sentence(
              'Their order is assumed where the history has no rotations: groups by place in qualification, or else all in Olympic order.',
            ),
          ]
        : []),
    ],
    [
      title('Scores (lower is better)'),
      tableOf(scoreColumns(), scores),
      sentence(
        `log: minus the logarithm of the chance of what happened; every chance, ours and theirs, taken to be at least ${least * 100}%. The simple rivals give those in front the share that suits them best in hindsight: ${share(smoothing['leader-now'])} and ${share(smoothing['leader-projected'])}.`,
        'quiet',
      ),
    ],
    [title('To win, by rotations gone: log score'), tableOf(rotationColumns(), byRotation)],
    binsSection('To win', reliability.win),
    [
      ...binsSection('A medal', reliability.medal),
      sentence(
        '│ said · ● happened · ─ 95% interval, by drawing meets anew (the boards of one meet are not independent); over a bin that never or always happened Wilson’s, as if each meet were one case',
        'quiet',
      ),
    ],
    routines.ratio === null
      ? []
      : [
          sentence(
            `Single routines: over ${routines.routines} of gymnasts with three or more earlier results the ranges have ${routines.ratio.toFixed(3)} of the ranked probability score of a normal distribution with her own mean and the usual spread.`,
          ),
        ],
    [caution()],
  );
}

function binsSection(what: string, bins: readonly Bin[]): Section {
  return [
    title(`${what}: what was said, and what happened`),
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
    { head: 'win: log', cell: (s) => number(s.winLog, 3), align: 'right' },
    { head: 'Brier', cell: (s) => number(s.winBrier, 4), align: 'right' },
    { head: 'medal: log', cell: (s) => number(s.medalLog, 3), align: 'right' },
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
      cell: (r) => (r.rotation === 0 ? 'none' : `the ${ordinal(r.rotation)}`),
    },
    { head: 'boards', cell: (r) => String(r.boards), align: 'right' },
    log('chances', 'chances'),
    log('leader-now', 'leads now'),
    log('leader-projected', 'projected'),
    log('equal', 'all alike'),
  ];
}

function binColumns(): ColumnOf<Bin>[] {
  const percent = (p: number | null) => (p === null ? '' : `${(p * 100).toFixed(1)}%`);
  return [
    { head: 'said', cell: (b) => percent(b.said), align: 'right' },
    { head: 'happened', cell: (b) => percent(b.happened), align: 'right' },
    {
      head: '95%',
      cell: (b) => (b.interval === null ? '' : b.interval.map(percent).join(' – ')),
      align: 'right',
    },
    { head: 'cases', cell: (b) => String(b.count), align: 'right' },
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
