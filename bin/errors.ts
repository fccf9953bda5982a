/** Errors in two lines and an exit code; never a stack trace. */
import { CommanderError } from 'commander';
import type { FileNews } from '../lib/files/index.js';
import {
  type ErrorKind,
  type ErrorSaid,
  LastRotationError,
  type NoteSaid,
  shortened,
  type Wrong,
} from '../lib/index.js';
import { safe, safeJson } from './terminal.js';

const EXIT: Readonly<Record<ErrorKind, number>> = { question: 1, usage: 2, file: 2, writing: 3 };

/** What went wrong, as programs read it. */
export function errorAsJson(error: unknown): Wrong {
  return short(wrongOf(error));
}

function wrongOf(error: unknown): Wrong {
  if (error instanceof LastRotationError) return { ...pick(error), message: error.message };
  if (error instanceof CommanderError) {
    const [message = '', hint] = error.message.replace(/^error: /, '').split('\n');
    const mend = hint?.replace(/^\((.*)\)$/, '$1') ?? 'see: lastrotation help';
    return { code: 'bad-usage', message, file: null, line: null, mend };
  }
  const message = `something went wrong inside: ${error instanceof Error ? error.message : error}`;
  return { code: 'internal', message, file: null, line: null, mend: 'please report it' };
}

/** Says what went wrong on standard error, and returns the exit code. */
export function sayError(error: unknown, json: boolean): number {
  if (error instanceof CommanderError && error.exitCode === 0) return 0;
  say(wrongOf(error), json);
  if (error instanceof CommanderError) return 2;
  if (!(error instanceof LastRotationError)) return 1;
  if (!json) sayOthers(error);
  return EXIT[error.kind];
}

/** So many more are said of one file. */
const MOST_OTHERS = 9;

/** What else is wrong with the file, each in two lines as the first. */
function sayOthers({ code, file, others }: LastRotationError): void {
  for (const other of others.slice(0, MOST_OTHERS)) say({ ...other, code, file }, false);
  const more = others.length - MOST_OTHERS;
  if (more > 0) process.stderr.write(`  and ${more} more\n`);
}

/** Says what is wrong with a file that is followed, or on one line that it is well again. */
export function sayNews(news: FileNews, json: boolean): void {
  if ('wrong' in news) {
    sayError(news.wrong, json);
    return;
  }
  const { what, file, message } = news;
  if (json) {
    const said: NoteSaid = { note: { what, message, file } };
    process.stderr.write(`${safeJson(said)}\n`);
  } else process.stderr.write(`${safe(`${file ?? 'lastrotation'}: ${shortened(message)}`)}\n`);
}

function pick({ code, file, line, mend }: LastRotationError): Omit<Wrong, 'message'> {
  return { code, file, line, mend };
}

function short(long: Wrong): Wrong {
  const mend = long.mend === null ? null : shortened(long.mend);
  return { ...long, message: shortened(long.message), mend };
}

function say(long: Wrong, json: boolean): void {
  const error = short(long);
  if (json) {
    process.stderr.write(`${safeJson({ error } satisfies ErrorSaid)}\n`);
    return;
  }
  const where =
    error.file === null
      ? 'lastrotation'
      : `${error.file}${error.line === null ? '' : `:${error.line}`}`;
  const mend = error.mend === null ? '' : `  ${safe(error.mend)}\n`;
  process.stderr.write(`${safe(`${where}: ${error.message}`)}\n${mend}`);
}
