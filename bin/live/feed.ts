/** Scores from a pipe: one a line, one answer a line. */
import { fileNews } from '../../lib/files/index.js';
import {
  type FeedOrder,
  feedOrderOf,
  hasOpenQuote,
  isPlainLine,
  LastRotationError,
  type LineRefused,
  type Printed,
  pastBest,
  readFed,
  readPlain,
  record,
  scoreInPlace,
  type Written,
  withApparatus,
  written,
} from '../../lib/index.js';
import { errorAsJson, sayNews } from '../errors.js';
import { safeJson } from '../terminal.js';
import type { Evening } from './desk.js';
import { type FeedLine, linesOf } from './lines.js';

/** No more of a line that cannot be read is repeated. */
const SHOWN = 200;

/** How many lines told a score, or tried to, and what became of them. */
export interface Fed {
  readonly lines: number;
  readonly refused: number;
  /** Whether one of those could not be written, and not only not be taken. */
  readonly isUnwritten: boolean;
}

/** Records what comes in until it ends; a bad line is answered and costs nothing else. */
export async function feed(
  { contest, board, history }: Evening,
  input: AsyncIterable<Buffer | string>,
): Promise<Fed> {
  let [lines, refused, isUnwritten] = [0, 0, false];
  let order: FeedOrder | null = null;
  let isInQuotes = false;
  let last = board.look();
  const end = board.watch((now) => {
    for (const news of fileNews(last, now)) sayNews(news, false);
    last = now;
  });
  for await (const line of linesOf(input)) {
    if (line.text.trim() === '') continue;
    // Two feeds one behind the other have two headers.
    const header = feedOrderOf(line.text);
    if (header !== null) order = header;
    else await put(await answerTo(line, order));
  }
  end();
  return { lines, refused, isUnwritten };

  async function answerTo(
    line: FeedLine,
    how: FeedOrder | null,
  ): Promise<Written<Printed['feed']>> {
    lines++;
    let row: LineRefused['row'] = line.text.slice(0, SHOWN);
    try {
      if (line.isCut) throw tooLong();
      const meet = board.meet();
      const isPlain = isPlainLine(line.text) && !(how && line.text.includes(how.delimiter));
      // The rest of a value that began on a line before is no line of its own.
      if (isInQuotes && isPlain) throw inQuotes();
      if (line.text.includes('"')) isInQuotes = hasOpenQuote(line.text);
      const told = isPlain ? readPlain(meet, line.text) : readFed(line.text, line.number, how);
      row = told;
      const whole = withApparatus(meet, told);
      // What cannot be a row is refused before anything waits for the disk.
      record(meet, whole, { contest });
      const { before, recorded, after } = await board.record(whole, { contest });
      isInQuotes = false;
      const inPlace = scoreInPlace(before, after, recorded);
      const past = history && inPlace && pastBest(after, history, inPlace);
      const value = { ...recorded, inPlace, ...(history === null ? {} : { pastBest: past }) };
      return written('record', value, meet.scoring.decimals);
    } catch (error) {
      refused++;
      isUnwritten ||= error instanceof LastRotationError && error.kind === 'writing';
      return { row, line: line.number, error: errorAsJson(error) };
    }
  }
}

async function put(value: unknown): Promise<void> {
  if (process.stdout.write(`${safeJson(value)}\n`)) return;
  await new Promise((resolve) => process.stdout.once('drain', resolve));
}

function inQuotes(): LastRotationError {
  return new LastRotationError('it may belong to the quotation that a line before began', {
    kind: 'usage',
    code: 'open-quote',
    mend: 'write one score on each line, and close every quotation mark',
  });
}

function tooLong(): LastRotationError {
  return new LastRotationError('the line is far too long', {
    kind: 'usage',
    code: 'line-too-long',
    mend: 'write one score on each line',
  });
}
