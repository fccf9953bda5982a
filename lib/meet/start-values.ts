/** The values of a start list that are more than a text: where she begins, what she is on, points. */
import { apparatusWritten, type Called } from '../apparatus.js';
import { formatScore, parseScore, quote } from '../score.js';
import { type ProblemList, plain, report } from './problems.js';
import { BIB, COUNTRY } from './values.js';
import { apparatusMend } from './which-apparatus.js';

/** Where a value stands, and where what is wrong with it is told. */
export interface Cell {
  readonly line: number;
  readonly list: ProblemList;
}

/** A group that was named but is none; it has been reported. */
export const UNKNOWN = '?';

/** As it stands in a start list and in a meet file. */
export const BYE = 'bye';

/**
 * A group by the apparatus it starts on, by its number, or bye; or a route, which is several of them with
 * blanks between.
 */
export function groupIn(text: string, known: readonly Called[], cell: Cell): string {
  if (text === '') return '';
  if (plain(text) === BYE) return BYE;
  const found = apparatusWritten(known, text);
  const numbered = /^\d+$/.test(text) ? known[Number(text) - 1] : undefined;
  const [first = numbered] = found;
  if (first !== undefined && found.length < 2) return first.code;
  const stops = stopsIn(text, known, true);
  if (first === undefined && stops.length > 1 && stops.some((s) => s.code !== null)) {
    return routeIn(stops, known, cell);
  }
  const otherwise = `a number from 1 to ${known.length}, or one of`;
  report(
    cell.list,
    'error',
    'unknown-group',
    cell.line,
    first === undefined
      ? `group "${text}" is no apparatus to start on`
      : `group "${text}" may be ${found.map((a) => a.name).join(' or ')}`,
    apparatusMend(text, known, otherwise, [BYE]),
  );
  return UNKNOWN;
}

/** A route with a blank after each of its stops. */
function routeIn(stops: readonly Stop[], known: readonly Called[], cell: Cell): string {
  let isGood = true;
  const seen = new Set<string>();
  for (const { text, code, found } of stops) {
    if (code === null) reportUnknown(text, found, known, cell, 'in the route ', [BYE]);
    else if (code !== BYE && seen.has(code)) {
      const message = `${code} is twice in the route`;
      report(cell.list, 'error', 'apparatus-twice', cell.line, message, 'keep it in one rotation');
    } else {
      seen.add(code);
      continue;
    }
    isGood = false;
  }
  return isGood ? stops.map((s) => s.code).join(' ') : UNKNOWN;
}

/** A part of a text that should be an apparatus. */
interface Stop {
  readonly text: string;
  /** Null where it is none, or may be several. */
  readonly code: string | null;
  readonly found: readonly Called[];
}

/** No apparatus has a name of more words. */
const MOST_WORDS = 3;

/** `VT FX`, or `vault, uneven bars`, with whatever stands between. */
function stopsIn(text: string, known: readonly Called[], withBye: boolean): Stop[] {
  const words = text
    .replace(/^\[|\]$/g, '')
    .split(/[\s,;/]+/)
    .filter((w) => w !== '');
  const stops: Stop[] = [];
  for (let at = 0; at < words.length; ) {
    const word = words[at] ?? '';
    if (withBye && plain(word) === BYE) {
      stops.push({ text: word, code: BYE, found: [] });
      at++;
      continue;
    }
    // The longest name first: "high bar" is no "bar" that is high.
    const spans = [...Array(MOST_WORDS).keys()].map((n) => words.slice(at, at + MOST_WORDS - n));
    const span = spans.find((s) => apparatusWritten(known, s.join(' ')).length > 0) ?? [];
    const found = apparatusWritten(known, span.join(' '));
    const [only] = found;
    const isOne = only !== undefined && found.length === 1;
    stops.push({
      text: span.length > 0 ? span.join(' ') : word,
      code: isOne ? only.code : null,
      found,
    });
    at += Math.max(span.length, 1);
  }
  return stops;
}

/** The codes of some apparatus, each with a blank after it. */
export function apparatusIn(text: string, known: readonly Called[], cell: Cell): string {
  const stops = stopsIn(text, known, false);
  for (const { text: word, code, found } of stops) {
    if (code === null) reportUnknown(word, found, known, cell);
  }
  return stops.flatMap((s) => s.code ?? []).join(' ');
}

function reportUnknown(
  text: string,
  found: readonly Called[],
  known: readonly Called[],
  { line, list }: Cell,
  where = '',
  more: readonly string[] = [],
): void {
  const mend = apparatusMend(text, known, 'one of', more);
  const names = found.map((a) => a.name).join(' or ');
  const message =
    found.length > 0 ? `"${text}" ${where}may be ${names}` : `"${text}" ${where}is no apparatus`;
  report(list, 'error', 'unknown-apparatus', line, message, mend);
}

/** Points brought in. */
export function carriedIn(text: string, { line, list }: Cell): string {
  if (text === '') return '';
  const parsed = parseScore(text, 3);
  if ('value' in parsed) return formatScore(parsed.value, 3);
  report(list, 'error', 'wrong-score', line, `carried: ${parsed.wrong}`, parsed.mend);
  return '';
}

/** A number that was written and is none; it has been reported. */
export const UNREADABLE = 0;

/** A whole number from 1; null where there is none. */
export function countIn(
  text: string,
  most: number,
  what: string,
  mend: string,
  { line, list }: Cell,
): number | null {
  if (text === '') return null;
  const count = /^\d{1,4}$/.test(text) ? Number(text) : 0;
  if (count >= 1 && count <= most) return count;
  report(list, 'error', 'wrong-value', line, `${what} ${quote(text)} is no number`, mend);
  return UNREADABLE;
}

/** What a meet file would refuse, and nobody needs: the meet is made without it. */
export interface LeftOut {
  readonly column: 'country' | 'bib';
  readonly line: number;
  readonly value: string;
}

/** Once for a column: a whole column is as a rule written the same way. */
export function noteLeftOut(leftOut: readonly LeftOut[], list: ProblemList): void {
  for (const [column, reason, mend] of [
    ['country', 'it is not three letters', COUNTRY],
    ['bib', 'it is too long', BIB],
  ] as const) {
    const [first, ...others] = leftOut.filter((l) => l.column === column);
    if (first === undefined) continue;
    const rows = others.length === 1 ? '1 other row' : `${others.length} other rows`;
    const more = others.length === 0 ? '' : `, as in ${rows}`;
    const message = `the ${column} ${quote(first.value)} is left out${more}: ${reason}`;
    report(list, 'note', 'wrong-value', first.line, message, `write ${mend}`);
  }
}
