/** The durable append: a row is on disk before anyone is told so. */
import {
  closeSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  realpathSync,
  writeSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { findContest } from '../contest/contest.js';
import { LastRotationError } from '../error.js';
import { columnsMissing, LOG_HEADER, type LogDialect, writeRow } from '../meet/log.js';
import type { Meet } from '../meet/meet.js';
import { readLog, type Source } from '../meet/read.js';
import { type Recorded, type RecordOptions, recordRows } from '../needs/recorded.js';
import { type Rows, rowsToRecord, type ToRecord } from '../needs/to-record.js';
import { lossOf } from './lost-rows.js';
import { logPathOf, openMeet, readLogFile, soundMeet } from './meet-file.js';
import { reasonOf } from './reasons.js';
import { LARGEST, readTextIfAny } from './text.js';

/** As of `record` in memory, and what the log is expected to hold. */
export interface RecordInLogOptions extends RecordOptions {
  /** The log as it was last seen: throws, with nothing written, when rows of it are gone. */
  readonly seen?: Source | null | undefined;
}

/** What a row changed, and the meet right before and right after it, whoever else writes. */
export interface RecordedBetween {
  /** With every row before this one. */
  readonly before: Meet;
  /** What the command `record` prints. */
  readonly recorded: Recorded;
  /** With this row as well. */
  readonly after: Meet;
}

/**
 * Adds a told score to the log of a meet, waits until the disk has it, and says what changed.
 * @param meetPath - The meet file; the log is beside it.
 * @param told - Whose score it is, on which apparatus, and how much.
 * @param options - Which contest is spoken of, and whether an unlikely score is refused.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the meet file or one beside it
 * @throws the code of a problem: the meet is not sound, or `check` would call the row an error or a warning
 * @throws `log-gone`, `log-shrunk`: rows that were seen are not there any more
 * @throws `missing-column`, `not-utf-8`: the log has no column for a value, or is written in another encoding
 * @throws `not-written`: the disk refuses it, or another program holds the log for too long
 * @throws `far-from-range`: with `careful`, more than three points from everything in her range
 * @throws `nothing-to-come`: she is withdrawn from `all`, and nothing of hers is to come
 * @throws `nothing-to-void`: `void`, and no row of hers stands there
 * @throws `wrong-score`: no score and no word for one
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two)
 * @example
 * const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.5' };
 * const { total, place } = await record('harbour.yaml', told);
 * [total, place] // → [43466, 2]
 * await record('harbour.yaml', { ...told, score: '27.5', d: '6.1' }) // → throws wrong-score
 */
export async function record(
  meetPath: string,
  told: ToRecord,
  options: RecordInLogOptions = {},
): Promise<Recorded> {
  return (await recordBetween(meetPath, told, options)).recorded;
}

/**
 * As `record`, with the meet before and after it, for those who have more to say of the boards.
 * @param meetPath - The meet file; the log is beside it.
 * @param told - Whose score it is, on which apparatus, and how much.
 * @param options - Which contest is spoken of, and whether an unlikely score is refused.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the meet file or one beside it
 * @throws the code of a problem: the meet is not sound, or `check` would call the row an error or a warning
 * @throws `log-gone`, `log-shrunk`: rows that were seen are not there any more
 * @throws `missing-column`, `not-utf-8`: the log has no column for a value, or is written in another encoding
 * @throws `not-written`: the disk refuses it, or another program holds the log for too long
 * @throws `far-from-range`: with `careful`, more than three points from everything in her range
 * @throws `nothing-to-come`: she is withdrawn from `all`, and nothing of hers is to come
 * @throws `nothing-to-void`: `void`, and no row of hers stands there
 * @throws `wrong-score`: no score and no word for one
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two)
 * @example
 * const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.5' };
 * const { before, after } = await recordBetween('harbour.yaml', told);
 * [before, after].map((m) => needs(m, 'brondt').apparatus) // → ['BB', 'FX']
 */
export async function recordBetween(
  meetPath: string,
  told: ToRecord,
  options: RecordInLogOptions = {},
): Promise<RecordedBetween> {
  const meet = openMeet(meetPath);
  findContest(meet, options.contest);
  const logPath = logPathOf(meetPath);
  return locked(logPath, () => {
    const log = readLogFile(meetPath, []);
    const loss = lossOf(logPath, options.seen ?? null, log);
    if (loss !== null) throw loss.error;
    const { dialect, ...read } = readLog(meet, log);
    const before = soundMeet(read);
    const rows = rowsToRecord(before, { ...told, at: new Date().toISOString() });
    const text = rowsText(rows.rows, dialect, logPath);
    refuseMixing(logPath, text);
    // Worked out before it is written, so that nothing can go wrong once it is.
    const { meet: after, recorded } = recordRows(before, rows, options);
    append(logPath, text);
    return { before, recorded, after };
  });
}

/** Rows are added in UTF-8; in a log of another encoding they would be lost, and it with them. */
function refuseMixing(logPath: string, rows: string): void {
  const log = readTextIfAny(logPath, LARGEST.log);
  if (log === null || log.encoding === 'utf-8') return;
  // Plain letters and figures are the same in the old code pages.
  if (log.encoding === 'western' && Buffer.byteLength(rows) === rows.length) return;
  throw new LastRotationError('the log is not UTF-8, and nothing can be added to it', {
    kind: 'file',
    code: 'not-utf-8',
    file: logPath,
    mend: 'save it as UTF-8 and record the score again',
  });
}

function rowsText(rows: Rows['rows'], dialect: LogDialect | null, file: string): string {
  if (dialect === null) throw new RangeError('an unsound log');
  for (const row of rows) {
    const [column] = columnsMissing(row, dialect);
    if (column === undefined) continue;
    throw new LastRotationError(`the log has no column for ${column}`, {
      kind: 'usage',
      code: 'missing-column',
      file,
      line: 1,
      mend: `add ${column} to its first line, or record without it`,
    });
  }
  const header = dialect.needsHeader ? `${LOG_HEADER}${dialect.newline}` : '';
  return `${dialect.before}${header}${rows.map((r) => writeRow(r, dialect)).join('')}`;
}

/** How long a log may be somebody else's before that is said. */
const PATIENCE_MS = 15_000;

/** Runs while nobody else adds to the log. A lock left by a killed process is broken after 2 s. */
async function locked<T>(logPath: string, action: () => T): Promise<T> {
  const release = await lockWhenFree(logPath);
  try {
    return action();
  } finally {
    await release().catch(() => undefined);
  }
}

async function lockWhenFree(logPath: string): Promise<() => Promise<void>> {
  // Only who records needs it, and every other command should begin sooner.
  const { lock } = await import('proper-lockfile');
  const until = Date.now() + PATIENCE_MS;
  for (;;) {
    try {
      return await lock(realPath(logPath), { realpath: false, stale: 2000, update: 1000 });
    } catch (error) {
      const reason = error as NodeJS.ErrnoException;
      if (reason.code !== 'ELOCKED') throw notWritten(logPath, reason);
      if (Date.now() > until) {
        throw cannotWrite(
          logPath,
          'somebody else has been writing to it for too long',
          'try again',
        );
      }
    }
    await new Promise((resolve) => setTimeout(resolve, 15 + Math.random() * 15));
  }
}

/** Two names of one log must share a lock. */
function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

/** Everything in one write at the end of the file, then to the disk; all of it or nothing. */
function append(path: string, text: string): void {
  const bytes = Buffer.from(text, 'utf8');
  try {
    const file = openSync(path, 'a');
    try {
      const before = fstatSync(file).size;
      let written = 0;
      try {
        while (written < bytes.length) written += writeSync(file, bytes, written);
        fsyncSync(file);
      } catch (error) {
        // Take half a row back, unless somebody has written behind it.
        if (fstatSync(file).size === before + written) ftruncateSync(file, before);
        throw error;
      }
      if (before === 0) syncFolder(dirname(path));
    } finally {
      closeSync(file);
    }
  } catch (error) {
    throw notWritten(path, error);
  }
}

/** A new file is only safe when its folder's entry is; not every system can do that. */
function syncFolder(path: string): void {
  let folder: number;
  try {
    folder = openSync(path, 'r');
  } catch {
    return;
  }
  try {
    fsyncSync(folder);
  } catch {
    // The row itself is on disk; some file systems refuse to sync a folder.
  } finally {
    closeSync(folder);
  }
}

function notWritten(file: string, error: unknown): LastRotationError {
  const { message, mend } = reasonOf(error);
  return cannotWrite(file, message, `${mend} and record the score again`);
}

function cannotWrite(file: string, reason: string, mend: string): LastRotationError {
  return new LastRotationError(`nothing was recorded: ${reason}`, {
    kind: 'writing',
    code: 'not-written',
    file,
    mend,
  });
}
