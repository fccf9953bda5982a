/** A meet that stays open: what is read again, and only when its log has changed. */
import { type FSWatcher, statSync, watch } from 'node:fs';
import { basename, dirname } from 'node:path';
import { parseLog } from '../meet/log.js';
import type { Meet } from '../meet/meet.js';
import type { Problem } from '../meet/problems.js';
import { readLog } from '../meet/read.js';
import { lastStandingRow } from '../meet/results.js';
import { logPathOf, openMeet, readLogFile, soundMeet } from './meet-file.js';

export interface LiveBoard {
  /** The meet with everything its log holds now. Throws when the log cannot be read any more. */
  readonly meet: () => Meet;
  /** Rows of the log that were lost half written, when last read. */
  readonly halfWritten: () => readonly Problem[];
  /** The gymnast and the apparatus of the last row that stands; null when there is none. */
  readonly lastRow: () => { gymnast: string; apparatus: string; score: string } | null;
}

/** Reads the meet file once, and its log whenever it has changed. Throws when the meet is unsound. */
export function openBoard(meetPath: string): LiveBoard {
  let meet = openMeet(meetPath);
  // The first score of the evening should not wait for it.
  import('proper-lockfile').catch(() => undefined);
  let problems: Problem[] = [];
  let read = '';
  const path = logPathOf(meetPath);
  const refresh = (): Meet => {
    const now = markOf(path);
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

/** Changes whenever somebody has written to the file. */
function markOf(path: string): string {
  try {
    const { size, mtimeMs, ino } = statSync(path);
    return `${ino} ${size} ${mtimeMs}`;
  } catch {
    return 'none';
  }
}

/** How often it is looked whether a log has changed, where the system does not say so, in ms. */
const POLL = 250;

/** Tells of every change of a meet's log until it is closed. */
export function watchLog(meetPath: string, changed: () => void): { readonly close: () => void } {
  const path = logPathOf(meetPath);
  let mark = markOf(path);
  const look = () => {
    const now = markOf(path);
    if (now === mark) return;
    mark = now;
    changed();
  };
  const timer = setInterval(look, POLL);
  timer.unref();
  let watcher: FSWatcher | null = null;
  try {
    watcher = watch(dirname(path), (_, name) => {
      if (name === null || name === basename(path)) look();
    });
    watcher.on('error', () => undefined);
  } catch {
    // Some file systems cannot be watched; the timer looks all the same.
  }
  return {
    close: () => {
      clearInterval(timer);
      watcher?.close();
    },
  };
}
