/** The rows of a start list. */
import { type Apparatus, apparatusCalled } from '../apparatus.js';
import { formatScore, parseScore, quote } from '../score.js';
import {
  isEmptyRow,
  joinQuoted,
  namedValues,
  physicalLines,
  readHeader,
  splitLine,
} from './csv.js';
import { withIds } from './ids.js';
import { didYouMean, type ProblemList, plain, report } from './problems.js';
import { BIB, COUNTRY, countryIn, isBib } from './values.js';

const COLUMNS = [
  'id',
  'name',
  'family',
  'short',
  'say',
  'country',
  'bib',
  'team',
  'group',
  'on',
  'carried',
] as const;

/** What start lists call them as well. */
const OTHER_NAMES: Readonly<Record<string, (typeof COLUMNS)[number]>> = {
  nation: 'country',
  noc: 'country',
  nat: 'country',
  number: 'bib',
  'start number': 'bib',
  no: 'bib',
};

/** What an apparatus is called. */
type Called = Pick<Apparatus, 'code' | 'name'>;

/** A row of the list; what it leaves open is empty, but for `family`. */
export interface Entrant
  extends Readonly<Record<Exclude<(typeof COLUMNS)[number], 'family'>, string>> {
  readonly family: string | null;
}

/** Everyone on the list, with an id. */
export function readStartList(
  text: string,
  known: readonly Called[],
  list: ProblemList,
): Entrant[] {
  const lines = physicalLines(text.replace(/^\uFEFF/, '')).filter((l) => !isEmptyRow(l.text));
  const [first, ...rest] = lines;
  if (first === undefined) {
    report(list, 'error', 'empty-file', null, 'is empty', 'begin with a line name,team,group');
    return [];
  }
  const header = readHeader(first, COLUMNS, ['name'], list, OTHER_NAMES);
  if (header === null) return [];
  const entrants: Entrant[] = [];
  const leftOut: LeftOut[] = [];
  const fitting = (column: LeftOut['column'], line: number, value: string, fit: string | null) => {
    if (fit === null && value !== '') leftOut.push({ column, line, value });
    return fit ?? '';
  };
  for (const line of joinQuoted(rest, header.delimiter, list)) {
    const fields = splitLine(line.text, header.delimiter);
    const values = namedValues(fields, header, COLUMNS, line.number, list);
    if (values === null) continue;
    if (values.name === '' && values.id === '') {
      report(list, 'error', 'missing-name', line.number, 'this row has no name', 'give one');
      continue;
    }
    const invisible = COLUMNS.find((c) => /\p{Cc}/u.test(values[c].replace(/[\t\r\n]/g, ' ')));
    if (invisible !== undefined) {
      const message = `the ${invisible} holds characters that cannot be seen`;
      report(list, 'error', 'wrong-value', line.number, message, 'write it anew');
      continue;
    }
    const oneLine = (column: (typeof COLUMNS)[number]) => values[column].replace(/\s+/g, ' ');
    const id = oneLine('id');
    if (id !== '' && entrants.some((e) => e.id === id)) {
      const message = `the id ${id} stands twice`;
      report(list, 'error', 'gymnast-twice', line.number, message, 'keep one');
      continue;
    }
    entrants.push({
      ...values,
      name: values.name === '' ? id : oneLine('name'),
      id,
      family: values.family === '' ? null : oneLine('family'),
      short: oneLine('short'),
      say: oneLine('say'),
      country: fitting('country', line.number, values.country, countryIn(values.country)),
      bib: fitting('bib', line.number, values.bib, isBib(oneLine('bib')) ? oneLine('bib') : null),
      team: oneLine('team'),
      group: startOf(values.group, known, line.number, list),
      on: apparatusIn(values.on, known, line.number, list),
      carried: carriedIn(values.carried, line.number, list),
    });
  }
  if (entrants.length === 0 && list.problems.length === 0) {
    report(list, 'error', 'no-gymnasts', null, 'names no gymnast', 'add a row for each');
  }
  noteLeftOut(leftOut, list);
  return withIds(entrants);
}

/** What a meet file would refuse, and nobody needs: the meet is made without it. */
interface LeftOut {
  readonly column: 'country' | 'bib';
  readonly line: number;
  readonly value: string;
}

/** Once for a column: a whole column is as a rule written the same way. */
function noteLeftOut(leftOut: readonly LeftOut[], list: ProblemList): void {
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

/** A group that was named but is none; it has been reported. */
export const UNKNOWN = '?';

/** A group by the apparatus it starts on, by its number, or bye. */
function startOf(group: string, known: readonly Called[], line: number, list: ProblemList): string {
  if (group === '') return '';
  if (plain(group) === 'bye') return 'bye';
  const found = apparatusCalled(known, group);
  const numbered = /^\d+$/.test(group) ? known[Number(group) - 1] : undefined;
  const [first = numbered] = found;
  if (first !== undefined && found.length < 2) return first.code;
  const codes = known.map((a) => a.code);
  report(
    list,
    'error',
    'unknown-group',
    line,
    first === undefined
      ? `group "${group}" is no apparatus to start on`
      : `group "${group}" may be ${found.map((a) => a.name).join(' or ')}`,
    didYouMean(
      group.toUpperCase(),
      [...codes, 'bye'],
      `a number from 1 to ${codes.length}, or one of`,
    ),
  );
  return UNKNOWN;
}

/** No apparatus has a name of more words. */
const MOST_WORDS = 3;

/** `VT FX`, or `vault, uneven bars`, with whatever stands between: the codes, each with a blank after it. */
function apparatusIn(
  on: string,
  known: readonly Called[],
  line: number,
  list: ProblemList,
): string {
  const words = on
    .replace(/^\[|\]$/g, '')
    .split(/[\s,;/]+/)
    .filter((w) => w !== '');
  const given: string[] = [];
  for (let at = 0; at < words.length; ) {
    // The longest name first: "high bar" is no "bar" that is high.
    const spans = [...Array(MOST_WORDS).keys()].map((n) => words.slice(at, at + MOST_WORDS - n));
    const span = spans.find((s) => apparatusCalled(known, s.join(' ')).length > 0) ?? [];
    const found = apparatusCalled(known, span.join(' '));
    const [first] = found;
    if (first !== undefined && found.length === 1) given.push(first.code);
    else reportUnknown(span.length > 0 ? span.join(' ') : (words[at] ?? ''), found);
    at += Math.max(span.length, 1);
  }
  return given.join(' ');

  function reportUnknown(text: string, found: readonly Called[]): void {
    const mend = didYouMean(
      text.toUpperCase(),
      known.map((a) => a.code),
      'one of',
    );
    const names = found.map((a) => a.name).join(' or ');
    const message = found.length > 0 ? `"${text}" may be ${names}` : `"${text}" is no apparatus`;
    report(list, 'error', 'unknown-apparatus', line, message, mend);
  }
}

function carriedIn(carried: string, line: number, list: ProblemList): string {
  if (carried === '') return '';
  const parsed = parseScore(carried, 3);
  if ('value' in parsed) return formatScore(parsed.value, 3);
  report(list, 'error', 'wrong-score', line, `carried: ${parsed.wrong}`, parsed.mend);
  return '';
}
