/** The sheet of needs for one routine. */
import { findContest } from '../contest/contest.js';
import { progressAfter } from '../contest/like-for-like.js';
import { type Meet, routineOf } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { NeedChances } from '../needs/need-chances.js';
import type { NeedsSheet, Neighbour } from '../needs/sheet.js';
import { boardSection, skippedOnBoard } from './board.js';
import { caution, settledInWords } from './chance-words.js';
import {
  anotherDInWords,
  chancesInWords,
  needInWords,
  statusInWords,
  tieInWords,
  tieScoreOf,
} from './need-words.js';
import { openSection } from './open.js';
import { detail, type Report, reportOf, type Section, sentence, title } from './report.js';
import { boardNow, namingOf, someHaveDone, standingInWords } from './standing.js';
import { type ColumnOf, tableOf } from './table.js';
import { isFilled, restsOnUsual } from './usual.js';
import {
  apparatusName,
  nameOf,
  percent,
  shower,
  spokenName,
  toComeInWords,
  wordsFor,
} from './words.js';

/** So many falls that nobody counts them. */
const MANY_FALLS = 5;

export interface SheetOptions {
  /** How often each need of the sheet is enough, one a need; null to leave it out. */
  readonly often?: readonly (NeedChances | null)[] | null;
  /** The chance that was asked for. */
  readonly chance?: number | null | undefined;
}

/** A sheet, and the boards that prove its needs where they were asked for. */
export function needsReport(meet: Meet, sheet: NeedsSheet, options: SheetOptions = {}): Report {
  const { often = null } = options;
  const who = spokenName(meet, sheet.gymnast);
  const team = sheet.gymnast === sheet.contender ? '' : ` for ${sheet.name}`;
  const where = `${apparatusName(meet, sheet.apparatus)}, rotation ${sheet.rotation}`;
  const settled = sheet.settled.map(
    (s) => `For certain: ${settledInWords(s, sheet.hold?.place ?? null)}.`,
  );
  return reportOf(
    [
      title(`${who}${team} on ${where} (${sheet.contest})`),
      detail(standingText(meet, sheet)),
      detail(`${rangeText(meet, sheet)}; to come: ${toComeInWords(sheet.toCome)}`),
    ],
    [
      tableOf(columnsOf(meet, sheet), linesOf(meet, sheet, options), {
        under: (line) => underLine(meet, sheet, line),
      }),
    ],
    [
      ...openSection(meet, sheet),
      ...(settled.length > 0 ? settled : ['For certain: nothing is settled yet.']).map((text) =>
        sentence(text),
      ),
      ...(often === null
        ? []
        : [sentence('Chances are calculated from everyone’s ranges.', 'quiet')]),
      ...skippedOnBoard([...new Set(sheet.needs.flatMap((n) => n.skipped))]),
      ...restsOnUsual(meet),
      ...(sheet.needs.some((n) => n.reach !== null) ? [caution()] : []),
    ],
    ...proofs(meet, sheet),
  );
}

/**
 * Where she stands: "42.799, 3rd, 0.101 behind Ida Brandt, 0.566 ahead of Mei Tan". The gaps are to
 * those next to her on the board who have done as many routines.
 */
function standingText(meet: Meet, sheet: NeedsSheet): string {
  const { name, show } = namingOf(meet);
  if (sheet.place === null) return 'not on the board yet';
  const board = boardNow(meet, sheet.contest);
  const gapText = (neighbour: Neighbour | null, side: string) => {
    const done = neighbour === null ? null : board.of.get(neighbour.id)?.row.done;
    // With whom she is level is said before.
    if (neighbour === null || neighbour.gap === 0 || done !== sheet.done) return [];
    return [`${show(neighbour.gap)} ${side} ${name(neighbour.id)}`];
  };
  return [
    standingInWords(board, sheet.contender, { name, show }),
    ...gapText(sheet.above, 'behind'),
    ...gapText(sheet.below, 'ahead of'),
  ].join(', ');
}

function rangeText(meet: Meet, { gymnast, range, apparatus }: NeedsSheet): string {
  const show = shower(meet);
  const { low, likely, high, falls, d, from } = range;
  const routine = meet.routines.find((r) => r.gymnast === gymnast && r.apparatus === apparatus);
  const { her } = wordsFor(meet, gymnast);
  const source =
    routine !== undefined && isFilled(meet, routine.index)
      ? ` (what is usual, by ${her} scores tonight)`
      : from === 'usual'
        ? ' (what is usual for everyone)'
        : from === 'file'
          ? ' (ranges file)'
          : '';
  const parts =
    likely === null && low === null && high === null
      ? [`no range on ${apparatus}`]
      : [
          `range ${low === null ? '?' : show(low)} to ${high === null ? '?' : show(high)}`,
          `likely ${likely === null ? '?' : show(likely)}`,
          falls === null ? 'chance of a fall unknown' : `a fall ${percent(falls)}`,
        ];
  return `${parts.join(', ')}${source}; ${d === null ? 'D not known' : `D ${show(d)}`}`;
}

/** Needs that say the same, said once. */
interface Line {
  readonly labels: readonly string[];
  readonly need: Need;
  /** In words, where chances are asked for. */
  readonly chances: readonly string[];
}

function linesOf(meet: Meet, sheet: NeedsSheet, { often, chance }: SheetOptions): Line[] {
  const lines: { labels: string[]; need: Need; chances: string[] }[] = [];
  for (const [i, need] of sheet.needs.entries()) {
    const label = needInWords(meet, sheet, need);
    const words = chancesInWords(meet, sheet, need, often?.[i] ?? null, chance ?? null);
    const same = lines.find((line) => saysTheSame(line.need, need));
    if (same === undefined) lines.push({ labels: [label], need, chances: words });
    else {
      same.labels.push(label);
      same.chances.push(...words.filter((w) => !same.chances.includes(w)));
    }
  }
  return lines;
}

function saysTheSame(a: Need, b: Need): boolean {
  const said = ({ target, when, rivals, rest, boards, ...rest_ }: Need) => JSON.stringify(rest_);
  return said(a) === said(b);
}

function columnsOf(meet: Meet, sheet: NeedsSheet): ColumnOf<Line>[] {
  const show = shower(meet);
  const number = (value: number | null) => (value === null ? '–' : show(value));
  const plain = (value: (need: Need) => number | null) => (line: Line) =>
    line.need.status === null || line.need.status === 'secured' ? '' : number(value(line.need));
  return [
    {
      head: '',
      cell: (line) => line.labels.map((l, i) => (i === 0 ? l : `and ${l}`)).join('\n'),
      isFlexible: true,
      tone: () => 'strong',
    },
    { head: 'ties', cell: plain((n) => tieScoreOf(meet, n)), align: 'right' },
    { head: 'ahead', cell: plain((n) => n.ahead), align: 'right' },
    { head: 'in practice', cell: plain((n) => n.onGrid), align: 'right', tone: () => 'strong' },
    {
      head: 'E score',
      cell: (line) => (sheet.range.d === null ? '' : plain((n) => n.e)(line)),
      align: 'right',
      spare: 1,
    },
    {
      head: 'falls',
      cell: ({ need: { status, fallsAffordable } }) => {
        if (status === null) return '';
        if (status === 'secured' || (fallsAffordable ?? 0) >= MANY_FALLS) return 'any';
        return fallsAffordable === null ? '–' : String(fallsAffordable);
      },
      align: 'right',
    },
    {
      head: 'reach',
      cell: ({ need }) => (need.reach === null ? '' : percent(need.reach)),
      align: 'right',
    },
  ];
}

/** The words under a line: what its status means, where a tie goes, whose total is the mark. */
function underLine(meet: Meet, sheet: NeedsSheet, { need, chances }: Line): string[] {
  const show = shower(meet);
  const tie = need.status === 'secured' ? '' : tieInWords(meet, need, sheet.name);
  const mark =
    need.mark?.id == null || need.status === 'secured' || tie !== ''
      ? ''
      : `the mark is ${nameOf(meet, need.mark.id)}'s ${show(need.mark.total)}`;
  const words = [
    need.when === 'now' ? unevenThen(meet, sheet) : '',
    statusInWords(meet, sheet, need),
    anotherDInWords(meet, sheet, need),
    tie,
    mark,
  ].filter((w) => w !== '');
  const over = overAll(meet, sheet, need);
  return [words.join('; '), over, ...chances].filter((l) => l !== '');
}

/** That the board right after her routine compares no like with like: "right after it some …". */
function unevenThen(meet: Meet, { contest, gymnast, apparatus }: NeedsSheet): string {
  const asked = routineOf(meet, gymnast, apparatus);
  const progress = progressAfter(meet, findContest(meet, contest), (r) => r === asked);
  return progress.footing === 'even' ? '' : `right after it ${someHaveDone(progress)}`;
}

/** What she needs over all she has to come, and how it splits. */
function overAll(
  meet: Meet,
  sheet: NeedsSheet,
  { remainingTotal, split, status, rivals }: Need,
): string {
  const { she } = wordsFor(meet, sheet.contender);
  const show = shower(meet);
  if (remainingTotal === null || status === 'secured' || rivals !== 'likely') return '';
  const whole = `over all to come ${she} needs ${show(remainingTotal)}`;
  if (split === null) return whole;
  const scores = split.scores.map((s) => `${s.apparatus} ${show(s.score)}`).join(', ');
  const above = percent(Math.max(0, 1 - split.quantile));
  return `${whole}: at an even pace ${scores} (each that good ${above} of the time, without a fall)`;
}

/** The two boards between which each target is won, where they were asked for. */
export function proofs(meet: Meet, sheet: NeedsSheet): Section[] {
  const scores = (score: number) => `${nameOf(meet, sheet.gymnast)} scores ${shower(meet)(score)}`;
  return sheet.needs.flatMap((need): Section[] => {
    const { boards, ahead } = need;
    if (boards === null || ahead === null) return [];
    const label = needInWords(meet, sheet, need);
    const why = boardSection(meet, boards.at, `Why, ${label}: ${scores(ahead)}`);
    if (boards.below === null) return [why];
    const less = `and one unit less: ${scores(ahead - 1)}`;
    return [why, boardSection(meet, boards.below, less)];
  });
}
