/** The sheet of needs for one routine, and the table of everyone's. */
import {
  type Meet,
  type Need,
  type NeedsOptions,
  type NeedsSheet,
  needChances,
} from '../../lib/index.js';
import { colour, safe, terminalWidth, wrap, writeLine, writeWords } from '../terminal.js';
import {
  apparatusName,
  chanceAskedInWords,
  chancesInWords,
  nameOf,
  needInWords,
  ordinal,
  percent,
  settledInWords,
  shower,
  statusInWords,
  tieInWords,
  toComeInWords,
  wordsFor,
} from '../words.js';
import { printSkipped } from './board.js';
import { type Column, renderTable } from './table.js';
import { isFilled, printUsual } from './usual.js';

/** So many falls that nobody counts them. */
const MANY_FALLS = 5;

/** Needs that say the same, said once. */
interface Row {
  readonly labels: readonly string[];
  readonly need: Need;
  /** In words, where chances are asked for. */
  readonly chances: readonly string[];
}

/** Where she stands: "3rd with 42.799, 0.101 behind Ida Brandt, 0.566 ahead of Mei Tan". */
function standingLine(meet: Meet, sheet: NeedsSheet): string {
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

function rangeLine(meet: Meet, { gymnast, range, apparatus }: NeedsSheet): string {
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

/** A sheet as it was asked for: with how often each need is enough, or without. */
export interface SheetOptions extends NeedsOptions {
  readonly chances?: boolean;
}

function rowsOf(meet: Meet, sheet: NeedsSheet, asked: SheetOptions): Row[] {
  const rows: { labels: string[]; need: Need; chances: string[] }[] = [];
  const chances = asked.chances ? needChances(meet, sheet, asked) : [];
  for (const [i, need] of sheet.needs.entries()) {
    const label = needInWords(meet, sheet, need);
    const words = chancesInWords(meet, sheet, need, chances[i] ?? null, asked.chance ?? null);
    const same = rows.find((r) => saysTheSame(r.need, need));
    if (same === undefined) rows.push({ labels: [label], need, chances: words });
    else {
      same.labels.push(label);
      same.chances.push(...words.filter((w) => !same.chances.includes(w)));
    }
  }
  return rows;
}

function saysTheSame(a: Need, b: Need): boolean {
  const said = ({ target, when, rivals, rest, boards, ...rest_ }: Need) => JSON.stringify(rest_);
  return said(a) === said(b);
}

function columnsOf(meet: Meet, sheet: NeedsSheet): Column<Row>[] {
  const show = shower(meet);
  const number = (value: number | null) => (value === null ? '–' : show(value));
  const secured = ({ need }: Row) => need.status === 'secured';
  const plain = (value: (need: Need) => number | null) => (row: Row) =>
    row.need.status === null || secured(row) ? '' : number(value(row.need));
  return [
    {
      head: '',
      cell: (r) => r.labels.map((l, i) => (i === 0 ? l : `and ${l}`)).join('\n'),
      flexible: true,
      style: () => colour.bold,
    },
    { head: 'level', cell: plain((n) => n.level), align: 'right' },
    {
      head: 'ahead',
      cell: plain((n) => n.ahead),
      align: 'right',
      style: () => colour.bold,
    },
    { head: 'in practice', cell: plain((n) => n.onGrid), align: 'right' },
    {
      head: 'E score',
      cell: (r) => (sheet.range.d === null ? '' : plain((n) => n.e)(r)),
      align: 'right',
      spare: 1,
    },
    {
      head: 'falls',
      cell: (r) => {
        const { status, fallsAffordable } = r.need;
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

/** The words under a row: what its status means, where a tie goes, whose total is the mark. */
function underRow(meet: Meet, sheet: NeedsSheet, { need, chances }: Row): string[] {
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

export function printSheet(meet: Meet, sheet: NeedsSheet, asked: SheetOptions = {}): void {
  const who = nameOf(meet, sheet.gymnast);
  const team = sheet.gymnast === sheet.contender ? '' : ` for ${sheet.name}`;
  const where = `${apparatusName(meet, sheet.apparatus)}, rotation ${sheet.rotation}`;
  writeWords(`${who}${team} on ${where} (${sheet.contest})`, colour.bold);
  writeWords(`  ${standingLine(meet, sheet)}`);
  const facts = `${rangeLine(meet, sheet)}; to come: ${toComeInWords(sheet.toCome)}`;
  for (const line of wrap(safe(facts), terminalWidth() - 2)) writeLine(`  ${line}`);
  writeLine();
  const { text } = renderTable(columnsOf(meet, sheet), rowsOf(meet, sheet, asked), (row) =>
    underRow(meet, sheet, row),
  );
  writeLine(text);
  writeLine();
  for (const settled of sheet.settled) {
    writeWords(`For certain: ${settledInWords(settled, sheet.place)}.`);
  }
  if (sheet.settled.length === 0) writeLine('For certain: nothing is settled yet.');
  if (asked.chances) {
    writeWords('Chances consider everyone’s ranges, and rest on them.', colour.dim);
  }
  printSkipped([...new Set(sheet.needs.flatMap((n) => n.skipped))]);
  printUsual(meet);
}

/** One row a contender in the order they go up. */
export function printNeedsOfAll(
  meet: Meet,
  sheets: readonly NeedsSheet[],
  contest: string,
  chance: number | null = null,
): void {
  if (sheets.length === 0) {
    writeLine(`Nobody has a routine to come in ${contest}.`);
    return;
  }
  const show = shower(meet);
  const whole = sheets.some((s) => s.needs.length > 3);
  const shown = whole ? SHOWN : [...new Set(sheets.flatMap((s) => s.needs.map((n) => n.target)))];
  const columns: Column<NeedsSheet>[] = [
    { head: 'rotation', cell: (s) => String(s.rotation), align: 'right', spare: 2 },
    { head: 'on', cell: (s) => s.apparatus },
    { head: 'name', cell: (s) => nameOf(meet, s.contender) },
    { head: '', cell: (s) => (s.place === null ? '–' : ordinal(s.place)), align: 'right' },
    { head: 'total', cell: (s) => show(s.total), align: 'right', spare: 1 },
    ...shown.map(
      (target): Column<NeedsSheet> => ({
        head: target === 'lead' && whole ? 'lead now' : target,
        cell: (s) =>
          (chance === null ? cellFor : chanceCellFor)(
            meet,
            s.needs.find((n) => n.target === target && isMain(n, whole)),
          ),
        align: 'right',
      }),
    ),
  ];
  const what = chance === null ? '' : ` for ${chanceAskedInWords(chance)}`;
  writeWords(`What each needs in the next routine${what} (${contest})`, colour.bold);
  writeLine(renderTable(columns, sheets).text);
  if (chance !== null) {
    writeWords(
      'The lowest scores that give it, everyone’s ranges considered · ✓ any score · no: none within the limit',
      colour.dim,
    );
    return;
  }
  writeWords(
    'Scores put her ahead; the end counts rivals, and her own rest, at their likely.',
    colour.dim,
  );
  writeWords(
    '+ beyond her realistic best · = only a tie is left · ✓ secured on that assumption',
    colour.dim,
  );
  printUsual(meet);
}

const SHOWN = ['lead', 'medal', 'win', 'hold'];

/** Of the several rows a sheet has for a target: to lead now, and all else with likely rivals. */
function isMain({ target, when, rivals }: Need, whole: boolean): boolean {
  if (!whole) return true;
  return target === 'lead' ? when === 'now' : rivals === 'likely';
}

/** A need in a few characters. */
export function cellFor(meet: Meet, need: Need | undefined): string {
  const show = shower(meet);
  if (need === undefined) return '';
  switch (need.status) {
    case 'secured':
      return '✓';
    case 'impossible':
      return 'no';
    case 'level-only':
      return `${show(need.level ?? 0)} =`;
    case 'beyond':
      return `${show(need.ahead ?? 0)} +`;
    case 'needs':
      return show(need.ahead ?? 0);
    default:
      return '?';
  }
}

/** The score for a chance in a few characters. */
function chanceCellFor(meet: Meet, need: Need | undefined): string {
  if (need === undefined) return '';
  if (need.status === null) return '?';
  if (need.scoreForChance === null) return 'no';
  return need.scoreForChance === 0 ? '✓' : shower(meet)(need.scoreForChance);
}

/** `--why`: the two boards between which the target is won. */
export function printBoards(
  meet: Meet,
  sheet: NeedsSheet,
  print: (board: NonNullable<Need['boards']>['at'], heading: string) => void,
): void {
  const show = shower(meet);
  for (const need of sheet.needs) {
    if (need.boards === null || need.ahead === null) continue;
    const label = needInWords(meet, sheet, need);
    const score = (s: number) => `${nameOf(meet, sheet.gymnast)} scores ${show(s)}`;
    writeLine();
    print(need.boards.at, `Why, ${label}: ${score(need.ahead)}`);
    if (need.boards.below === null) continue;
    writeLine();
    print(need.boards.below, `and one unit less: ${score(need.ahead - 1)}`);
  }
}
