/** Single routines of a backtest, and two sets of ranges beside each other. */
import type { Backtest } from '../history/backtest-answer.js';
import type { Compared } from '../history/comparison.js';
import type { Behind } from '../history/forecasters.js';
import type { RoutineFigures, RoutineScore } from '../history/routine-scores.js';
import { type Report, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';

interface Line extends RoutineFigures {
  readonly head: string;
}

/** How much the ranges said of single routines, and where the scores fell in them. */
export function routinesSections(routines: RoutineScore): Report {
  if (routines.ratio === null) return [];
  const lines: Line[] = [
    { head: 'all', ...routines },
    ...routines.byApparatus.map((of) => ({
      head: `${of.discipline === 'wag' ? 'women' : 'men'} ${of.apparatus}`,
      ...of,
    })),
  ];
  return [
    [
      title(`One routine at a time, from earlier days: ${routines.routines} routines`),
      sentence(
        `Over the routines of gymnasts with three or more earlier results, the error of the ranges (ranked probability score) is ${routines.ratio.toFixed(3)} of that of a plain bell curve around the gymnast’s own mean${routines.interval === null ? '' : ` (95% interval ${between(routines.interval, 3)}, by drawing the gymnasts anew)`}.`,
      ),
      tableOf(routineColumns(), lines, {
        notes: [
          'middle 50%, 80% and 90%: how many scores fell in that middle part of their range; scores lie on a grid, and one that straddles an edge counts in part',
          {
            text: 'width: of the middle 80%, on average, in units of the last decimal',
            about: 'width',
          },
          'falls: as the ranges said, and as they are inferred from the scores',
          { text: 'the last interval is Wilson’s, for the falls seen', about: 'its 95% interval' },
        ],
      }),
    ],
    [
      title('How many scores fell in each tenth of their range, from the lowest'),
      tableOf(tenthColumns(), lines),
      sentence('10% in each if the ranges are right.', 'quiet'),
    ],
  ];
}

function between(interval: readonly [number, number], digits: number): string {
  return interval.map((n) => n.toFixed(digits)).join(' to ');
}

function percent(p: number, digits = 0): string {
  return `${(p * 100).toFixed(digits)}%`;
}

function routineColumns(): ColumnOf<Line>[] {
  const covered = (k: number): ColumnOf<Line> => ({
    head: `middle ${['50%', '80%', '90%'][k]}`,
    cell: ({ coverage }) => percent(coverage[k]?.happened ?? 0, 1),
    align: 'right',
  });
  return [
    { head: '', cell: (l) => l.head },
    { head: 'routines', cell: (l) => String(l.routines), align: 'right' },
    { head: 'error', cell: (l) => l.ratio?.toFixed(3) ?? '', align: 'right' },
    {
      head: '95% interval',
      cell: (l) => (l.interval === null ? '' : between(l.interval, 3)),
      align: 'right',
      spare: 1,
    },
    ...[0, 1, 2].map(covered),
    { head: 'width', cell: (l) => l.width.toFixed(0), align: 'right', spare: 2 },
    { head: 'falls: said', cell: (l) => percent(l.falls.said, 1), align: 'right' },
    { head: 'seen', cell: (l) => percent(l.falls.seen, 1), align: 'right' },
    {
      head: 'its 95% interval',
      cell: (l) => l.falls.interval.map((p) => percent(p, 1)).join(' – '),
      align: 'right',
      spare: 3,
    },
  ];
}

function tenthColumns(): ColumnOf<Line>[] {
  return [
    { head: '', cell: (l) => l.head },
    ...Array.from(
      { length: 10 },
      (_, k): ColumnOf<Line> => ({
        head: k === 0 ? 'lowest' : k === 9 ? 'highest' : String(k + 1),
        cell: ({ tenths }) => percent(tenths[k] ?? 0),
        align: 'right',
      }),
    ),
  ];
}

const SCORES: Readonly<Record<Compared['score'], string>> = {
  win: 'to win',
  medal: 'for a medal',
  place: 'the place taken',
};

/** What ranges rest on; a file by its name. */
function fromInWords(from: string): string {
  if (from === 'days') return 'earlier days alone';
  return from === 'rounds' ? 'earlier days and rounds' : from;
}

/** The same finals with other ranges. */
export function comparisonSection({ comparison, rangesFrom }: Backtest): Section {
  if (comparison === null) return [];
  const { against, scores, routines } = comparison;
  return [
    title(
      `With ranges from ${fromInWords(against)} instead of ${fromInWords(rangesFrom)}: the log score (lower is better)`,
    ),
    tableOf(
      [
        { head: '', cell: (c: Compared) => SCORES[c.score] },
        { head: rangesFrom, cell: (c) => c.these.toFixed(3), align: 'right' },
        { head: against, cell: (c) => c.others.toFixed(3), align: 'right' },
        { head: 'further off', cell: (c) => byHowMuch(c.behind), align: 'right' },
        { head: '95% interval', cell: (c) => intervalOf(c.behind), align: 'right' },
      ],
      scores,
    ),
    sentence(
      'The boards are compared in pairs, and the meets drawn anew together; an interval on both sides of 0 says that these finals cannot tell which is better.',
      'quiet',
    ),
    ...(routines === null
      ? []
      : [
          sentence(
            `One routine at a time ${against} is off by ${byHowMuch(routines)} more (ranked probability score, in units of the last decimal; 95% interval ${intervalOf(routines)}, by drawing the gymnasts anew).`,
          ),
        ]),
  ];
}

/** "+0.801"; nothing where nothing is compared. */
export function byHowMuch(behind: Behind | null): string {
  return behind === null ? '' : signed(behind.by);
}

/** "+0.506 to +1.092" */
export function intervalOf(behind: Behind | null): string {
  return behind?.interval?.map(signed).join(' to ') ?? '';
}

function signed(value: number): string {
  return `${value < 0 ? '' : '+'}${value.toFixed(3)}`;
}
