/** Scores from a pipe: one a line, one answer a line. */

import { findGymnast } from '../../lib/contest/who.js';
import { type LiveBoard, record as recordInLog } from '../../lib/files/index.js';
import {
  type ErrorCode,
  LastRotationError,
  record,
  type ToRecord,
  written,
} from '../../lib/index.js';
import { splitLine } from '../../lib/meet/csv.js';
import { LOG_COLUMNS, type LogColumn, logValues } from '../../lib/meet/log.js';
import { type Problem, plain } from '../../lib/meet/problems.js';
import { nextApparatus } from '../../lib/needs/typed.js';
import { errorAsJson } from '../errors.js';
import { safeJson } from '../terminal.js';
import { type FeedLine, linesOf } from './lines.js';

/** How the values of a line are told apart, and which is which. */
interface Order {
  readonly delimiter: string;
  readonly columns: readonly (LogColumn | null)[];
}

const DEFAULT: readonly LogColumn[] = ['gymnast', 'apparatus', 'score', 'd', 'e', 'nd', 'note'];
const DELIMITERS = [',', ';', '\t'] as const;

/** No more of a line that cannot be read is repeated. */
const SHOWN = 200;

/** Records what comes in until it ends; a bad line is answered and costs nothing else. */
export async function feed(
  meetPath: string,
  contest: string | undefined,
  board: LiveBoard,
  input: AsyncIterable<Buffer | string>,
): Promise<void> {
  let order: Order | null = null;
  for await (const line of linesOf(input)) {
    if (line.text.trim() === '') continue;
    // Two feeds one behind the other have two headers.
    const header = headerOf(line.text);
    if (header !== null) order = header;
    else await put(await answerTo(line, order));
  }

  async function answerTo(line: FeedLine, how: Order | null): Promise<unknown> {
    let row: unknown = line.text.slice(0, SHOWN);
    try {
      if (line.isCut) throw bad('line-too-long', 'the line is far too long', 'one score a line');
      const told = line.text.trim().startsWith('{')
        ? fromJson(line.text)
        : fromValues(line, how ?? { delimiter: delimiterOf(line.text), columns: DEFAULT });
      row = told;
      const meet = board.meet();
      const apparatus =
        told.apparatus.trim() === ''
          ? nextApparatus(meet, findGymnast(meet, told.gymnast))
          : told.apparatus;
      const whole = { ...told, apparatus };
      // What cannot be a row is refused before anything waits for the disk.
      record(meet, whole, { contest });
      const done = await recordInLog(meetPath, whole, { contest });
      return written('record', done, meet.scoring.decimals);
    } catch (error) {
      return { row, line: line.number, error: errorAsJson(error) };
    }
  }
}

async function put(value: unknown): Promise<void> {
  if (process.stdout.write(`${safeJson(value)}\n`)) return;
  await new Promise((resolve) => process.stdout.once('drain', resolve));
}

function bad(code: ErrorCode, message: string, mend: string): LastRotationError {
  return new LastRotationError(message, { kind: 'usage', code, mend });
}

/** What there is most of; with a decimal comma, `ade;FX;13,5` has commas too. */
function delimiterOf(text: string): string {
  const counts = DELIMITERS.map((d) => text.split(d).length);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ',';
}

/** A line that names columns; null for any other. */
function headerOf(text: string): Order | null {
  if (!/gymnast/i.test(text)) return null;
  const line = text.replace(/^\uFEFF/, '');
  const delimiter = delimiterOf(line);
  const names = splitLine(line, delimiter).map(plain);
  if (!names.includes('gymnast') || !names.includes('score')) return null;
  return { delimiter, columns: names.map((n) => LOG_COLUMNS.find((c) => c === n) ?? null) };
}

function fromValues({ text, number }: FeedLine, order: Order): ToRecord {
  const problems: Problem[] = [];
  const list = { file: 'feed', problems };
  const fields = splitLine(text, order.delimiter);
  const values = logValues(fields, order, number, list);
  if (values === null) {
    const [first] = problems;
    throw bad(first?.code ?? 'wrong-line', first?.message ?? 'cannot be read', first?.mend ?? '');
  }
  return told(values);
}

function fromJson(text: string): ToRecord {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw bad('wrong-json', 'this line is no JSON', 'one object a line, with the keys of the log');
  }
  if (value === null || typeof value !== 'object' || Array.isArray(value)) {
    throw bad('wrong-json', 'this line is no object', 'write {"gymnast": …, "score": …}');
  }
  const entries = Object.entries(value).map(([key, v]) => [key.toLowerCase(), v] as const);
  const texts = Object.fromEntries(
    LOG_COLUMNS.map((column) => {
      const found = entries.find(([key]) => key === column)?.[1] ?? '';
      if (typeof found === 'number') {
        // A number has lost the decimals it was written with: 13.5 may be anything.
        return [column, String(found)];
      }
      if (typeof found !== 'string') {
        throw bad('wrong-json', `${column} is neither a text nor a number`, 'write "13.566"');
      }
      return [column, found];
    }),
  ) as Record<LogColumn, string>;
  return told(texts);
}

function told(values: Readonly<Record<LogColumn, string>>): ToRecord {
  const { gymnast, apparatus, score, d, e, nd, note } = values;
  const part = (text: string) => (text === '' ? null : text);
  if (gymnast.trim() === '' || score.trim() === '') {
    throw bad('wrong-line', 'a line needs a gymnast and a score', 'gymnast,apparatus,score');
  }
  return {
    gymnast,
    apparatus,
    score,
    d: part(d),
    e: part(e),
    nd: part(nd),
    note: part(note),
  };
}
