/**
 * The score log as text: its dialect, its rows, and what of it must be set aside. What a row means is
 * told in rows.ts, what they make of the evening in course.ts.
 */
import Papa from 'papaparse';
import {
  type Header,
  isEmptyRow,
  joinQuoted,
  type Line,
  namedValues,
  physicalLines,
  quotedRow,
  readHeader,
  splitLine,
} from './csv.js';
import { type ProblemList, report } from './problems.js';

export const LOG_COLUMNS = [
  'gymnast',
  'apparatus',
  'score',
  'd',
  'e',
  'nd',
  'status',
  'note',
  'at',
] as const;
/** A column that a score log may have. */
export type LogColumn = (typeof LOG_COLUMNS)[number];
const REQUIRED: readonly LogColumn[] = ['gymnast', 'apparatus', 'score'];

/** The first line of a log the tool begins. */
export const LOG_HEADER = LOG_COLUMNS.join(',');

/** First lines of logs the tool began, now and before there was a status. */
export const TOOL_HEADERS: readonly string[] = [
  LOG_HEADER,
  LOG_COLUMNS.filter((column) => column !== 'status').join(','),
];

/**
 * Put behind a line that was found half written before the next row is added, so that it is never
 * taken for a row, whatever follows it.
 */
export const SET_ASIDE = ' <half written: set aside>';

/** Whether the tool wrote a row: then it ends in a whole time of writing. */
export function isWrittenByTool({ at }: LogValues): boolean {
  return WHOLE_AT.test(at);
}

/** The time of writing as the tool writes it; nothing less is whole. */
const WHOLE_AT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;

/** The values of one row as they stand, without surrounding blanks; '' where there is none. */
export type LogValues = Readonly<Record<LogColumn, string>>;

export interface LogRow {
  readonly line: number;
  readonly values: LogValues;
}

/** How a log is written, so that a row can be added in its own manner. */
export interface LogDialect {
  /** What stands between two values: `,` or `;` or a tab. */
  readonly delimiter: string;
  /** By position; null for a column the tool does not know. */
  readonly columns: readonly (LogColumn | null)[];
  /** How a line ends: `\n` or `\r\n`. */
  readonly newline: string;
  /** Begun by the tool: each of its rows ends in the time of writing. */
  readonly begunByTool: boolean;
  /** What must be written before the next row: nothing, an end of line, or the mark of a half row. */
  readonly before: string;
  /** Whether the header has yet to be written. */
  readonly needsHeader: boolean;
}

export interface ParsedLog {
  readonly rows: readonly LogRow[];
  /** Null when the header cannot be understood. */
  readonly dialect: LogDialect | null;
}

export const NEW_LOG: LogDialect = {
  delimiter: ',',
  columns: LOG_COLUMNS,
  newline: '\n',
  begunByTool: true,
  before: '',
  needsHeader: true,
};

/** No evening has a hundredth of them. */
const MOST_ROWS = 100_000;

/** Reads a score log; problems go to `list`. An empty text is a log not yet begun. */
export function parseLog(source: string, list: ProblemList): ParsedLog {
  const text = source.replace(/^\uFEFF/, '');
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const all = physicalLines(text);
  const unended = all.at(-1)?.ended === false ? newline : '';
  const filled = all.filter((l) => !isEmptyRow(l.text));
  const tooMany = filled[MOST_ROWS];
  if (tooMany !== undefined) {
    const message = `the log has more than ${MOST_ROWS} rows`;
    report(list, 'error', 'too-many-rows', tooMany.number, message, 'is it the right file?');
    return { rows: [], dialect: null };
  }
  // A header that was cut off stands marked above the whole one.
  const lines = filled.slice(filled.findIndex((l) => !isMarked(l)));
  const [header, ...data] = filled.every(isMarked) ? [] : lines;
  if (header === undefined) return { rows: [], dialect: { ...NEW_LOG, newline, before: unended } };
  if (!header.ended && isHalfHeader(header.text)) {
    reportHalf(list, header, 'the first line is half written');
    return { rows: [], dialect: { ...NEW_LOG, newline, before: `${SET_ASIDE}${newline}` } };
  }
  const read = readHeader(header, LOG_COLUMNS, REQUIRED, list);
  if (read === null) return { rows: [], dialect: null };

  const begunByTool = TOOL_HEADERS.includes(header.text) && looksBegunByTool(data);
  const found = begunByTool
    ? wholeRows(data, read.columns.length, list)
    : joinQuoted(data, read.delimiter, list);
  const last = data.at(-1);
  const half = begunByTool && last !== undefined && !last.ended && !found.some((l) => !l.ended);
  const rows = found.flatMap((line): LogRow[] => {
    const row = splitLine(line.text, read.delimiter);
    const fields = begunByTool ? withStatus(row, read.columns) : row;
    // Where everything stands in quotes, an empty row does too.
    if (fields.length <= read.columns.length && fields.every((f) => f === '')) return [];
    const values = logValues(fields, read, line.number, list);
    if (values === null) return [];
    if (!line.ended && !begunByTool) {
      report(
        list,
        'note',
        'no-end-of-line',
        line.number,
        'the last row has no line end; it counts as it stands',
        'make sure that its last value is complete',
      );
    }
    return [{ line: line.number, values }];
  });
  const before = half && !isMarked(last) ? `${SET_ASIDE}${newline}` : unended;
  return { rows, dialect: { ...read, newline, begunByTool, before, needsHeader: false } };
}

function isHalfHeader(text: string): boolean {
  return !TOOL_HEADERS.includes(text) && TOOL_HEADERS.some((whole) => whole.startsWith(text));
}

function isMarked(line: Line): boolean {
  return line.text.endsWith(SET_ASIDE);
}

function reportHalf(list: ProblemList, line: Line, message: string): void {
  report(list, 'warning', 'half-written', line.number, message, HALF_MEND);
}

/** The rows of a log the tool began; what is half written, now or before, is set aside. */
function wholeRows(data: readonly Line[], columns: number, list: ProblemList): Line[] {
  const rows: Line[] = [];
  for (let at = 0; at < data.length; at++) {
    const line = data[at];
    if (line === undefined) break;
    if (isMarked(line)) {
      report(
        list,
        'note',
        'set-aside',
        line.number,
        'a row that was left half written does not count',
        'nothing to do, if the score was recorded again',
      );
      continue;
    }
    // The tool writes a row on one line; a spreadsheet may have broken a note since.
    const quoted = quotedRow(data, at, ',');
    const fields = quoted === null ? [] : splitLine(quoted.row.text, ',');
    if (quoted !== null && !isHalfRow(fields, columns, quoted.row.ended)) {
      rows.push(quoted.row);
      at += quoted.lines - 1;
    } else reportHalf(list, line, 'this row is half written, and does not count');
  }
  return rows;
}

const HALF_MEND = 'record the score again if it is not on the board';

/** A row from before there was a status, below a first line that names one. */
function withStatus(fields: readonly string[], columns: LogDialect['columns']): readonly string[] {
  const at = columns.indexOf('status');
  const isOld = fields.length === columns.length - 1 && WHOLE_AT.test(fields.at(-1)?.trim() ?? '');
  return at >= 0 && isOld ? [...fields.slice(0, at), '', ...fields.slice(at)] : fields;
}

/** Whether the first row after the tool's own header was written by the tool, or by hand. */
function looksBegunByTool(data: readonly Line[]): boolean {
  const [first] = data;
  if (first === undefined || !first.ended || data.some(isMarked)) return true;
  return WHOLE_AT.test(splitLine(first.text, ',').at(-1) ?? '');
}

/**
 * In a log the tool began a row is half written unless its time of writing is whole; but a row that
 * has an end, all columns and no time at all was added by hand.
 */
function isHalfRow(row: readonly string[], columns: number, ended: boolean): boolean {
  const fields = columns === LOG_COLUMNS.length ? withStatus(row, LOG_COLUMNS) : row;
  const at = (fields[columns - 1] ?? '').trim();
  if (WHOLE_AT.test(at) && fields.length === columns) return false;
  if (!ended || fields.length < columns) return true;
  return at !== '' && isBeginningOfTime(at);
}

function isBeginningOfTime(at: string): boolean {
  const example = '2000-01-01T00:00:00.000Z';
  return WHOLE_AT.test(at + example.slice(at.length)) && at.length < example.length;
}

/** The values of one row; null, and a problem, where it is not clear what they are. */
export function logValues(
  fields: readonly string[],
  header: Header<LogColumn>,
  line: number,
  list: ProblemList,
): LogValues | null {
  const values = namedValues(fields, header, LOG_COLUMNS, line, list);
  if (values === null) return null;
  if (header.delimiter === ',' && mayBeOneScore(fields, header, values)) {
    const next = fields[header.columns.indexOf('score') + 1] ?? '';
    report(
      list,
      'error',
      'comma-in-score',
      line,
      `"${values.score},${next}" may be one score or a score and what follows it`,
      `write ${values.score}.${next}, or "${values.score},${next}" in quotes, or ${values.score}.000`,
    );
    return null;
  }
  return values;
}

/** `14,233` without quotes is two values: a score without decimals, and digits without a point. */
function mayBeOneScore(
  fields: readonly string[],
  header: Header<LogColumn>,
  { score, d, e }: LogValues,
): boolean {
  const next = fields[header.columns.indexOf('score') + 1] ?? '';
  // Where D and E are both there, their sum tells.
  return /^\d+$/.test(score) && /^\d{1,4}$/.test(next) && (d === '' || e === '');
}

/** One row in a log's own manner, with the end of line. */
export function writeRow(values: LogValues, dialect: LogDialect): string {
  const fields = dialect.columns.map((c) => (c === null ? '' : values[c].replace(/[\r\n]+/g, ' ')));
  return `${Papa.unparse([fields], { delimiter: dialect.delimiter })}${dialect.newline}`;
}

/** The columns a row has values for but the log has not; `at` is the tool's own and may be missing. */
export function columnsMissing(values: LogValues, dialect: LogDialect): LogColumn[] {
  return LOG_COLUMNS.filter((c) => c !== 'at' && values[c] !== '' && !dialect.columns.includes(c));
}
