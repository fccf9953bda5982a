/** Tables as people and spreadsheets write them: commas, semicolons or tabs, quotes, any order. */
import Papa from 'papaparse';
import { didYouMean, type ProblemList, plain, report } from './problems.js';

export interface Line {
  /** Counted from 1. */
  readonly number: number;
  readonly text: string;
  /** False for what stands after the last end of line. */
  readonly ended: boolean;
}

/** The lines of a text, whatever ends them. */
export function physicalLines(text: string): Line[] {
  return [...linesOf([text])];
}

/** The lines of a text that comes in pieces. */
export function* linesOf(pieces: Iterable<string>): Generator<Line> {
  let [number, rest] = [0, ''];
  for (const piece of pieces) {
    const text = rest + piece;
    const ends = /\r\n|\n|\r/g;
    let start = 0;
    for (let end = ends.exec(text); end !== null; end = ends.exec(text)) {
      // What follows a last `\r` may belong to it.
      if (end[0] === '\r' && ends.lastIndex === text.length) break;
      yield { number: ++number, text: text.slice(start, end.index), ended: true };
      start = ends.lastIndex;
    }
    rest = text.slice(start);
  }
  if (rest === '') return;
  const ended = rest.endsWith('\r');
  yield { number: ++number, text: ended ? rest.slice(0, -1) : rest, ended };
}

/** Nothing, or only what separates values: spreadsheets write such rows under a table. */
export function isEmptyRow(text: string): boolean {
  return /^[\s,;]*$/.test(text);
}

/** The values of one row, without surrounding blanks. */
export function splitLine(text: string, delimiter: string): string[] {
  if (!text.includes('"')) return text.split(delimiter).map((field) => field.trim());
  const { data } = Papa.parse<string[]>(text, { delimiter });
  // A stray quote can break one line into several for the parser; they are one row all the same.
  return data.flat().map((field) => field.trim());
}

/**
 * Whether a text ends inside a quoted value. Only a quote at the beginning of a value opens one, so
 * that an inch mark in a note does not; `malformed` when something follows the closing quote.
 */
export function quoteState(
  text: string,
  delimiter: string,
  within = false,
): 'closed' | 'open' | 'malformed' {
  let atStart = true;
  for (let i = 0; i < text.length || within; i++) {
    const c = text[i];
    if (within || (c === '"' && atStart)) {
      if (!within) i++;
      within = false;
      for (; ; i++) {
        const close = text.indexOf('"', i);
        if (close < 0) return 'open';
        i = close + 1;
        if (text[i] !== '"') break;
      }
      while (text[i] === ' ') i++;
      if (i < text.length && text[i] !== delimiter) return 'malformed';
      atStart = true;
      continue;
    }
    atStart = c === delimiter || (atStart && c === ' ');
  }
  return 'closed';
}

/** No value of a table runs over more lines than this. */
const MOST_LINES = 100;

/**
 * A line with those that follow it, up to the one that closes its last quote; null when none does.
 */
export function quotedRow(
  lines: readonly Line[],
  at: number,
  delimiter: string,
): { row: Line; lines: number } | null {
  const [first, ...rest] = lines.slice(at, at + MOST_LINES);
  if (first === undefined) return null;
  if (quoteState(first.text, delimiter) !== 'open') return { row: first, lines: 1 };
  const texts = [first.text];
  for (const next of rest) {
    texts.push(next.text);
    const state = quoteState(next.text, delimiter, true);
    if (state === 'malformed') return null;
    if (state === 'closed') {
      const row = { ...first, text: texts.join('\n'), ended: next.ended };
      return { row, lines: texts.length };
    }
  }
  return null;
}

/** A quoted value may run over several lines; they are one row. */
export function joinQuoted(lines: readonly Line[], delimiter: string, list: ProblemList): Line[] {
  return [...joinedRows(lines, delimiter, list)];
}

/** The same of lines that come one by one. */
export function* joinedRows(
  lines: Iterable<Line>,
  delimiter: string,
  list: ProblemList,
): Generator<Line> {
  const source = lines[Symbol.iterator]();
  const ahead: Line[] = [];
  const next = () => ahead.shift() ?? (source.next().value as Line | undefined);
  for (let line = next(); line !== undefined; line = next()) {
    if (!line.text.includes('"') || quoteState(line.text, delimiter) !== 'open') {
      yield line;
      continue;
    }
    while (ahead.length < MOST_LINES - 1) {
      const more = source.next();
      if (more.done === true) break;
      ahead.push(more.value);
    }
    const quoted = quotedRow([line, ...ahead], 0, delimiter);
    if (quoted !== null) {
      ahead.splice(0, quoted.lines - 1);
      yield quoted.row;
      continue;
    }
    report(
      list,
      'error',
      'open-quote',
      line.number,
      'a quote is opened in this row and never closed',
      'close it, or delete it',
    );
  }
}

/** What the first line says: the separator, and which column stands where. */
export interface Header<C extends string> {
  readonly delimiter: string;
  /** By position; null for a column that is not known. */
  readonly columns: readonly (C | null)[];
}

/** The column that a name in small letters means; null for none. */
export type AlsoCalled<C extends string> = (name: string) => C | null;

/** No first line of a table is longer than this. */
const LONGEST_HEADER = 20_000;

/**
 * Reads the first line of a table; null when a required column is missing or one stands twice.
 * `alsoCalled`: the column that is meant by another name for it; it counts where nothing before it, and
 * nothing by the column's own name, is that column.
 */
export function readHeader<C extends string>(
  line: Line,
  known: readonly C[],
  required: readonly C[],
  list: ProblemList,
  alsoCalled: AlsoCalled<C> = () => null,
): Header<C> | null {
  if (line.text.length > LONGEST_HEADER) {
    const message = `the first line is far too long; it should name columns: ${known.join(', ')}`;
    report(list, 'error', 'too-many-columns', line.number, message, 'is it the right file?');
    return null;
  }
  const readings = [',', ';', '\t'].map((delimiter) => {
    const names = splitLine(line.text, delimiter);
    const columns = columnsOf(names, known, alsoCalled);
    return { delimiter, names, columns, hits: columns.filter((c) => c !== null).length };
  });
  const best = readings.reduce((a, b) => (b.hits > a.hits ? b : a));
  const before = list.problems.length;
  for (const column of required.filter((c) => !best.columns.includes(c))) {
    const strange = best.names.filter((_, i) => best.columns[i] === null);
    const near = strange.find((n) => didYouMean(n, [column], '').includes(`\`${column}\``));
    report(
      list,
      'error',
      'missing-column',
      line.number,
      `the first line has no column ${column}`,
      near === undefined
        ? `begin with a line that names the columns: ${required.join(',')}`
        : `did you mean \`${column}\` by ${near}?`,
    );
  }
  for (const column of known) {
    if (best.columns.indexOf(column) === best.columns.lastIndexOf(column)) continue;
    report(
      list,
      'error',
      'column-twice',
      line.number,
      `there are two columns ${column}`,
      'keep one',
    );
  }
  if (list.problems.length > before) return null;
  for (const [i, name] of best.names.entries()) {
    if (best.columns[i] !== null || name === '') continue;
    report(
      list,
      'note',
      'unknown-column',
      line.number,
      `the column ${name} is not used`,
      didYouMean(name, known, 'the columns are'),
    );
  }
  return { delimiter: best.delimiter, columns: best.columns };
}

/** Which column each name is; null where it is none. */
function columnsOf<C extends string>(
  names: readonly string[],
  known: readonly C[],
  alsoCalled: AlsoCalled<C>,
): (C | null)[] {
  const columns = names.map((name) => known.find((c) => c === plain(name)) ?? null);
  for (const [i, name] of names.entries()) {
    const other = columns[i] === null ? alsoCalled(plain(name).replace(/\.$/, '')) : null;
    if (other !== null && !columns.includes(other)) columns[i] = other;
  }
  return columns;
}

/** The values of a row by column, '' where there is none; null when there are too many. */
export function namedValues<C extends string>(
  fields: readonly string[],
  header: Header<C>,
  known: readonly C[],
  line: number,
  list: ProblemList,
): Record<C, string> | null {
  const { length } = header.columns;
  if (fields.length > length && fields.slice(length).some((f) => f !== '')) {
    report(
      list,
      'error',
      'too-many-values',
      line,
      `this row has ${fields.length} values for ${header.columns.length} columns`,
      'put a value with a comma in quotes: "13,566"',
    );
    return null;
  }
  const values = {} as Record<C, string>;
  for (const column of known) values[column] = '';
  for (const [i, column] of header.columns.entries()) {
    if (column !== null) values[column] = fields[i] ?? '';
  }
  return values;
}
