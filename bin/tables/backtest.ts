/** How honest the chances were: scores, and a picture of what was said against what happened. */
import type { Backtest, Bin, ForecastScores, RotationScores } from '../../lib/index.js';
import { colour, writeLine, writeWords } from '../terminal.js';
import { ordinal } from '../words.js';
import { type Column, renderTable } from './table.js';

const NAMES: Readonly<Record<ForecastScores['forecaster'], string>> = {
  chances: 'the chances',
  'leader-now': 'whoever leads now',
  'leader-projected': 'whoever leads by projected total',
  equal: 'all alike',
};

/** Columns of the picture. */
const PICTURE = 41;

export function printBacktest(answer: Backtest): void {
  const { rounds, boards, scores, byRotation, reliability, smoothing, least, routines } = answer;
  const isAssumed = rounds.some((r) => r.order === 'assumed');
  writeWords(
    `${rounds.length} all-around ${rounds.length === 1 ? 'final' : 'finals'}, ${boards} boards, one a rotation`,
    colour.bold,
  );
  if (isAssumed) {
    writeWords(
      'Their order is assumed where the history has no rotations: groups by place in qualification, or else all in Olympic order.',
    );
  }
  writeLine();
  writeWords('Scores (lower is better)', colour.bold);
  writeLine(renderTable(scoreColumns(), scores).text);
  writeWords(
    `log: minus the logarithm of the chance of what happened; every chance, ours and theirs, taken to be at least ${least * 100}%. The simple rivals give those in front the share that suits them best in hindsight: ${share(smoothing['leader-now'])} and ${share(smoothing['leader-projected'])}.`,
    colour.dim,
  );
  writeLine();
  writeWords('To win, by rotations gone: log score', colour.bold);
  writeLine(renderTable(rotationColumns(), byRotation).text);
  for (const [what, bins] of [
    ['To win', reliability.win],
    ['A medal', reliability.medal],
  ] as const) {
    writeLine();
    writeWords(`${what}: what was said, and what happened`, colour.bold);
    writeLine(
      renderTable(
        binColumns(),
        bins.filter((b) => b.count > 0),
      ).text,
    );
  }
  writeWords(
    '│ said · ● happened · ─ 95% interval, by drawing meets anew (the boards of one meet are not independent); over a bin that never or always happened Wilson’s, as if each meet were one case',
    colour.dim,
  );
  writeLine();
  if (routines.ratio !== null) {
    writeWords(
      `Single routines: over ${routines.routines} of gymnasts with three or more earlier results the ranges have ${routines.ratio.toFixed(3)} of the ranked probability score of a normal distribution with her own mean and the usual spread.`,
    );
  }
}

function share({ win, medal }: Backtest['smoothing']['leader-now']): string {
  return `${Math.round(win * 100)}% (to win) and ${Math.round(medal * 100)}% (medals)`;
}

function scoreColumns(): Column<ForecastScores>[] {
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

function rotationColumns(): Column<RotationScores>[] {
  const log = (f: ForecastScores['forecaster'], head: string): Column<RotationScores> => ({
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

function binColumns(): Column<Bin>[] {
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
    { head: `0%${' '.repeat(PICTURE - 6)}100%`, cell: picture, spare: 1 },
  ];
}

/** What was said and what happened on one line from 0 to 100%. */
function picture({ said, happened, interval }: Bin): string {
  const at = (p: number) => Math.round(p * (PICTURE - 1));
  const line = new Array<string>(PICTURE).fill(' ');
  if (interval !== null) line.fill('─', at(interval[0]), at(interval[1]) + 1);
  if (said !== null) line[at(said)] = '│';
  if (happened !== null) line[at(happened)] = '●';
  return line.join('');
}
