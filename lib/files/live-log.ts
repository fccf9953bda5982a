/** A meet that stays open: what is read again, and only when its log has changed. */
import { statSync } from 'node:fs';
import { LastRotationError } from '../error.js';
import { parseLog } from '../meet/log.js';
import type { Meet } from '../meet/meet.js';
import type { Problem } from '../meet/problems.js';
import { readLog } from '../meet/read.js';
import { lastStandingRow } from '../meet/rows.js';
import { follow } from './follow.js';
import { logPathOf, openMeet, readLogFile, soundMeet } from './meet-file.js';

export interface LiveBoard {
  /** The meet with everything its log holds now. Throws when the log is gone or cannot be read any more. */
  readonly meet: () => Meet;
  /** Rows of the log that were lost half written, when last read. */
  readonly halfWritten: () => readonly Problem[];
  /** The gymnast and the apparatus of the last row that stands; null when there is none. */
  readonly lastRow: () => { gymnast: string; apparatus: string; score: string } | null;
}

/**
 * Reads the meet file once, and its log whenever it has changed. Throws when the meet is unsound.
 * @example
 * const board = openBoard('harbour.yaml');
 * await record('harbour.yaml', { gymnast: 'brandt', apparatus: 'BB', score: '14.5' });
 * board.lastRow() // → { gymnast: 'brandt', apparatus: 'BB', score: '14.500' }
 * needs(board.meet(), 'brandt').apparatus // → 'FX'
 */
export function openBoard(meetPath: string): LiveBoard {
  let meet = openMeet(meetPath);
  // The first score of the evening should not wait for it.
  import('proper-lockfile').catch(() => undefined);
  let problems: Problem[] = [];
  let read = '';
  const path = logPathOf(meetPath);
  const refresh = (): Meet => {
    const now = markOf(path);
    if (now === GONE) throwIfLost(path, meet);
    if (now === read) return meet;
    problems = [];
    const found = readLog(meet, readLogFile(meetPath, problems));
    problems.push(...found.problems);
    meet = soundMeet(found);
    read = now;
    return meet;
  };
  return {
    meet: refresh,
    halfWritten: () => problems.filter((p) => p.code === 'half-written'),
    lastRow: () => {
      const source = readLogFile(meetPath, []);
      const { rows } = parseLog(source?.text ?? '', { file: path, problems: [] });
      const values = lastStandingRow(rows)?.values;
      if (values === undefined) return null;
      return { gymnast: values.gymnast, apparatus: values.apparatus, score: values.score };
    },
  };
}

/** The mark of a file that is not there, or is as yet empty while it is being put back. */
const GONE = 'none';

/** A log that is gone is not one without scores: what is recorded next would begin another. */
function throwIfLost(path: string, { results }: Meet): void {
  const count = results.filter((result) => result !== null).length;
  if (count === 0) return;
  const what = count === 1 ? 'a result' : `${count} results`;
  throw new LastRotationError(`the log is gone, and ${what} with it`, {
    kind: 'file',
    code: 'log-gone',
    file: path,
    mend: 'put it back; to begin another, quit and open it again',
  });
}

/** Changes whenever somebody has written to the file. */
function markOf(path: string): string {
  try {
    const { size, mtimeMs, ino } = statSync(path);
    return size === 0 ? GONE : `${ino} ${size} ${mtimeMs}`;
  } catch {
    return GONE;
  }
}

/**
 * Tells of every change of a meet's log until it is closed.
 * @example
 * const watcher = watchLog('harbour.yaml', () => console.log('a new score'));
 * watcher.close() // → undefined
 */
export function watchLog(meetPath: string, changed: () => void): { readonly close: () => void } {
  return { close: follow([logPathOf(meetPath)], changed) };
}
