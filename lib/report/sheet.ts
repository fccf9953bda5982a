/** The sheet of needs for one routine. */
import { findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { enoughFor, type Need, reachOfEnough } from '../needs/need.js';
import type { NeedChances } from '../needs/need-chances.js';
import type { NeedsSheet, Neighbour } from '../needs/sheet.js';
import type { Score } from '../score.js';
import { boardSection, skippedOnBoard } from './board.js';
import { caution, chanceInWords, settledInWords } from './chance-words.js';
import { countingLines } from './counting.js';
import { figureOf } from './figure.js';
import { isAskedIn } from './goals.js';
import {
  assumptionInWords,
  isAsExpected,
  marginInWords,
  needInWords,
  needWithAssumption,
  rivalsInWords,
} from './need-words.js';
import { openSection } from './open.js';
import { overAll } from './over-all.js';
import { remarkOn } from './remarks.js';
import { detail, type Report, reportOf, type Section, sentence, title } from './report.js';
import { areEven, boardNow, namingOf, standingInWords } from './standing.js';
import { type ColumnOf, tableOf } from './table.js';
import { isFilled, restsOnUsual } from './usual.js';
import {
  contestInWords,
  listed,
  nameOf,
  percent,
  shortName,
  shower,
  spokenName,
  toComeInWords,
  whereInWords,
  wordsFor,
} from './words.js';

/** So many falls that nobody counts them. */
const MANY_FALLS = 5;

/** What is said with a sheet besides. */
export interface SheetOptions {
  /** How often each need of the sheet is enough, one a need; null to leave it out. */
  readonly often?: readonly (NeedChances | null)[] | null;
  /** The chance that was asked for. */
  readonly chance?: number | null | undefined;
  /** By how much she is to be ahead, where that was asked. */
  readonly margin?: Score | null | undefined;
}

/** A sheet, and the boards that prove its needs where they were asked for. */
export function needsReport(meet: Meet, sheet: NeedsSheet, options: SheetOptions = {}): Report {
  const { often = null } = options;
  const who = spokenName(meet, sheet.gymnast);
  const team = sheet.gymnast === sheet.contender ? '' : ` for ${sheet.name}`;
  const where = whereInWords(meet, sheet);
  const margin = marginInWords(meet, options.margin ?? null);
  const isAsked = asksAbout(meet, sheet);
  const isGoal = isAskedIn(findContest(meet, sheet.contest));
  const settled = sheet.settled
    .filter((s) => isGoal(s.target))
    .map((s) =>
      sentence(
        `For certain: ${settledInWords(findContest(meet, sheet.contest), s, sheet.hold?.place ?? null)}.`,
      ),
    );
  const assumption = assumptionInWords(meet, sheet);
  return reportOf(
    [
      title(`${who}${team} on ${where} (${contestInWords(meet, sheet.contest)})${margin}`),
      detail(standingText(meet, sheet)),
      detail(`${rangeText(meet, sheet)}; to come: ${toComeInWords(sheet.toCome)}`),
    ],
    [
      tableOf(columnsOf(meet, sheet, options), linesOf(sheet, often, isAsked)),
      ...(assumption === '' ? [] : [sentence(assumption)]),
      ...overAll(meet, sheet, isAsked),
      ...skippedOnBoard([...new Set(sheet.needs.flatMap((n) => n.skipped))]),
      ...restsOnUsual(meet),
      ...(sheet.needs.some((n) => n.reach !== null) ? [caution()] : []),
    ],
    countingLines(meet, sheet).map((line) => sentence(line)),
    [...openSection(meet, sheet), ...settled],
    ...proofs(meet, sheet),
  );
}

/**
 * Where she stands: "42.799, 3rd, 0.101 behind Ida Brondt, 0.566 ahead of Mei Tan". The gaps are to
 * those next to her on the board who have done as many routines.
 */
function standingText(meet: Meet, sheet: NeedsSheet): string {
  const { name, show } = namingOf(meet);
  if (sheet.place === null) return 'not on the board yet';
  const board = boardNow(meet, sheet.contest);
  const gapText = (neighbour: Neighbour | null, side: string) => {
    const done = neighbour === null ? null : board.of.get(neighbour.id)?.row.done;
    // With whom she is level is said before; beside a place by projection a gap on the board is none.
    const isFair = board.progress.footing !== 'uneven' && done === sheet.done;
    if (neighbour === null || neighbour.gap === 0 || !isFair) return [];
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
  if (likely === null && low === null && high === null) return `no range on ${apparatus}`;
  const known = (score: number | null) => (score === null ? '?' : show(score));
  const fall = falls === null ? 'how often a fall is not known' : `a fall ${percent(falls)}`;
  const difficulty = d === null ? '' : `, D ${show(d)}`;
  return `expected ${known(likely)} (${known(low)} to ${known(high)}), ${fall}${difficulty}${source}`;
}

/** A need, or what is settled. */
type Asked = { readonly target: string } & Partial<Pick<Need, 'when' | 'mark'>>;

/**
 * Which needs are shown. Where only the winner has a medal, or everybody, nobody asks for one, and being ahead of
 * who has done fewer routines is no lead; who asks for just that is answered.
 */
function asksAbout(meet: Meet, sheet: NeedsSheet) {
  const { contest, needs } = sheet;
  const isAlone = new Set(needs.map((n) => n.target)).size === 1;
  const isGoal = isAskedIn(findContest(meet, contest));
  const isFair = ({ target, when, mark }: Asked) =>
    target !== 'lead' || when !== 'now' || areEven(meet, { ...sheet, rival: mark?.id ?? null }, 1);
  return (asked: Asked) => isAlone || (isGoal(asked.target) && isFair(asked));
}

/** Needs that say the same, said once. */
interface Line {
  readonly needs: readonly Need[];
  readonly need: Need;
  readonly often: NeedChances | null;
}

function linesOf(
  sheet: NeedsSheet,
  often: SheetOptions['often'],
  isAsked: (need: Need) => boolean,
): Line[] {
  const lines: { needs: Need[]; need: Need; often: NeedChances | null }[] = [];
  for (const [i, need] of sheet.needs.entries()) {
    if (!isAsked(need)) continue;
    const chances = often?.[i] ?? null;
    const same = lines.find(
      (l) =>
        saysTheSame(l.need, need) &&
        enoughFor(l.need) === enoughFor(need) &&
        l.often?.any === chances?.any,
    );
    if (same === undefined) lines.push({ needs: [need], need, often: chances });
    else same.needs.push(need);
  }
  return lines;
}

/**
 * What a line asks: "to win and to hold 3rd"; "for a medal, even with the others at their realistic best",
 * where that comes to the same.
 */
function labelOf(
  meet: Meet,
  sheet: NeedsSheet,
  { needs }: Line,
  how: { readonly isShort: boolean },
): string {
  const expected = needs.filter(isAsExpected);
  const known = new Set(expected.map((n) => n.target));
  const others = needs.filter((n) => !isAsExpected(n));
  const own = others.filter((n) => !known.has(n.target));
  const isEven = others.some((n) => known.has(n.target) && n.rivals === 'high');
  const labels = [...expected, ...own].map((n) => needInWords(meet, sheet, n, how));
  const said = listed(labels).replace(/(to lead now and) to lead/, '$1');
  return `${said}${isEven ? `, even with ${rivalsInWords('high')}` : ''}`;
}

function saysTheSame(a: Need, b: Need): boolean {
  const said = ({ target, when, rivals, rest, boards, ...rest_ }: Need) => JSON.stringify(rest_);
  return said(a) === said(b);
}

function columnsOf(meet: Meet, sheet: NeedsSheet, options: SheetOptions): ColumnOf<Line>[] {
  const show = shower(meet);
  const { she } = wordsFor(meet, sheet.contender);
  const { her } = meet.words;
  const chance = (p: number | null | undefined, error: number) =>
    p == null ? '' : chanceInWords(p, error);
  const { chance: asked = null } = options;
  return [
    {
      head: '',
      cell: (line) => ({
        text: labelOf(meet, sheet, line, { isShort: false }),
        shorter: [labelOf(meet, sheet, line, { isShort: true })],
      }),
      isFlexible: true,
      tone: () => 'strong',
    },
    {
      head: 'chance\nin all',
      // Everyone's ranges considered: of no other assumption.
      cell: ({ often, need }) =>
        need.status === null || !isAsExpected(need) ? '' : chance(often?.any, often?.error ?? 0),
      align: 'right',
    },
    {
      head: `${she} ${she === 'they' ? 'need' : 'needs'}`,
      cell: ({ need }) =>
        need.status === 'secured'
          ? 'any score'
          : isOpen(need)
            ? number(meet, shownScore(meet, need))
            : '',
      align: 'right',
      tone: () => 'strong',
    },
    {
      head: `${her} chance\nof it`,
      cell: ({ need }) => {
        const reach = reachOfEnough(meet, need, sheet.range);
        return reach === null ? '' : chanceInWords(reach, 0);
      },
      align: 'right',
    },
    {
      head: 'chance\nwith it',
      cell: ({ often, need }) =>
        need.reach === 1 ? '' : chance(often?.onceAhead, often?.error ?? 0),
      align: 'right',
      spare: 2,
    },
    {
      head: asked === null ? '' : `for ${+(asked * 100).toFixed(3)}%`,
      cell: ({ need }) => (asked === null ? '' : forChance(meet, need)),
      align: 'right',
    },
    ...routineColumns(meet, sheet),
    {
      head: 'the score\nto beat',
      cell: ({ need }) =>
        need.mark === null || need.mark.id === null || !isOpen(need)
          ? ''
          : `${shortName(meet, need.mark.id)} ${show(need.mark.total)}`,
    },
    { head: '', cell: (line) => remarkOn(meet, sheet, line.need), goesUnder: true },
  ];
}

/** Whether any score does it, if only by a tie that is enough. */
function isAny(meet: Meet, need: Need): boolean {
  return figureOf(meet, need)?.way === 'any';
}

/** The lowest real score that is enough. */
function shownScore(meet: Meet, need: Need): number | null {
  return figureOf(meet, need)?.score ?? null;
}

/** Some score is asked for: neither is any enough, nor is a range missing. */
function isOpen({ status }: Need): boolean {
  return status !== null && status !== 'secured';
}

function number(meet: Meet, value: number | null): string {
  return value === null ? '–' : shower(meet)(value);
}

/** What the score takes of her routine: its E score, and how many falls there are to spare. */
function routineColumns(meet: Meet, sheet: NeedsSheet): ColumnOf<Line>[] {
  return [
    {
      head: 'E score',
      // Of the score that is shown, which is the lowest real one.
      cell: ({ need }) => {
        const { e, ahead } = need;
        if (sheet.range.d === null || !isOpen(need)) return '';
        const score = shownScore(meet, need);
        const shown = e === null || ahead === null || score === null ? null : e + score - ahead;
        // Where the D score alone does it there is no E to speak of.
        return e === 0 ? '' : number(meet, shown);
      },
      align: 'right',
      spare: 3,
    },
    {
      head: 'falls\nto spare',
      cell: ({ need }) => {
        const { status, fallsAffordable } = need;
        if (status === null) return '';
        if (isAny(meet, need) || (fallsAffordable ?? 0) >= MANY_FALLS) return 'any';
        return fallsAffordable === null ? 'no' : String(fallsAffordable);
      },
      align: 'right',
      spare: 1,
    },
  ];
}

/** The score that gives a target the chance that was asked for. */
function forChance(meet: Meet, { scoreForChance: score, status }: Need): string {
  if (status === null) return '?';
  if (score === null) return 'no score';
  return score === 0 ? 'any score' : shower(meet)(score);
}

/** The two boards between which each target is won, where they were asked for. */
export function proofs(meet: Meet, sheet: NeedsSheet): Section[] {
  const scores = (score: number) => `${nameOf(meet, sheet.gymnast)} scores ${shower(meet)(score)}`;
  return sheet.needs.flatMap((need): Section[] => {
    const { boards, ahead } = need;
    if (boards === null || ahead === null) return [];
    const label = needWithAssumption(meet, sheet, need);
    const why = boardSection(meet, boards.at, `Why, ${label}: ${scores(ahead)}`);
    if (boards.below === null) return [why];
    const less = `and one unit less: ${scores(ahead - 1)}`;
    return [why, boardSection(meet, boards.below, less)];
  });
}
