/** The sheet of needs for one routine. */
import type { Meet } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { NeedChances } from '../needs/need-chances.js';
import type { NeedsSheet } from '../needs/sheet.js';
import { boardSection, skippedOnBoard } from './board.js';
import { settledInWords } from './chance-words.js';
import { chancesInWords, needInWords, statusInWords, tieInWords } from './need-words.js';
import { detail, type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { isFilled, restsOnUsual } from './usual.js';
import {
  apparatusName,
  nameOf,
  ordinal,
  percent,
  shower,
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
  const who = nameOf(meet, sheet.gymnast);
  const team = sheet.gymnast === sheet.contender ? '' : ` for ${sheet.name}`;
  const where = `${apparatusName(meet, sheet.apparatus)}, rotation ${sheet.rotation}`;
  const settled = sheet.settled.map((s) => `For certain: ${settledInWords(s, sheet.place)}.`);
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
      ...(settled.length > 0 ? settled : ['For certain: nothing is settled yet.']).map((text) =>
        sentence(text),
      ),
      ...(often === null
        ? []
        : [sentence('Chances consider everyone’s ranges, and rest on them.', 'quiet')]),
      ...skippedOnBoard([...new Set(sheet.needs.flatMap((n) => n.skipped))]),
      ...restsOnUsual(meet),
    ],
    ...proofs(meet, sheet),
  );
}

/** Where she stands: "3rd with 42.799, 0.101 behind Ida Brandt, 0.566 ahead of Mei Tan". */
function standingText(meet: Meet, sheet: NeedsSheet): string {
  const show = shower(meet);
  if (sheet.place === null) return 'not on the board yet';
  const gaps = [
    sheet.above && gapText(sheet.above.gap, 'behind', nameOf(meet, sheet.above.id)),
    sheet.below && gapText(sheet.below.gap, 'ahead of', nameOf(meet, sheet.below.id)),
  ].filter((g) => g !== null);
  return [`${ordinal(sheet.place)} with ${show(sheet.total)}`, ...gaps].join(', ');

  function gapText(gap: number, side: string, name: string): string {
    return gap === 0 ? `level with ${name}` : `${show(gap)} ${side} ${name}`;
  }
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
    { head: 'level', cell: plain((n) => n.level), align: 'right' },
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
  const mark =
    need.mark?.id == null || need.status === 'secured'
      ? ''
      : `the mark is ${nameOf(meet, need.mark.id)}'s ${show(need.mark.total)}`;
  const words = [
    statusInWords(meet, sheet, need),
    need.status === 'secured' ? '' : tieInWords(meet, need, sheet.name),
    mark,
  ].filter((w) => w !== '');
  const over = overAll(meet, sheet, need);
  return [words.join('; '), over, ...chances].filter((l) => l !== '');
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
