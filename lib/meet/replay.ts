/** A log played again, row by row: the meet as it stood after each. */
import { standingRows } from './course.js';
import { type LogValues, parseLog } from './log.js';
import type { Meet } from './meet.js';
import type { ProblemList } from './problems.js';
import type { Source } from './read.js';
import { withTold } from './recording.js';
import { type ReadRow, readRow } from './rows.js';
import { asSound, requireSound } from './sound.js';

/** A row of a log, counted from 1. */
export interface ReplayedRow {
  readonly row: number;
  readonly values: LogValues;
  /** What it says; null where it does not count, such as one of somebody who is not in the meet file. */
  readonly read: ReadRow | null;
}

export interface Replay {
  readonly rows: readonly ReplayedRow[];
  /** The meet as it stood after so many rows: after none, before the first score. */
  readonly after: (rows: number) => Meet;
}

/** The log of a meet, to be played again; the meet's own results are left aside. */
export function replayOf(meet: Meet, source: Source | null): Replay {
  requireSound(meet);
  const list: ProblemList = { file: source?.file ?? '', problems: [] };
  const rows = parseLog(source?.text ?? '', list).rows.map(({ values }, i): ReplayedRow => {
    const read = readRow(meet, values);
    return { row: i + 1, values, read: 'wrong' in read ? null : read };
  });
  const after = (count: number) => {
    const read = rows.slice(0, count).flatMap((row) => row.read ?? []);
    return asSound(withTold(meet, standingRows([], read).told).meet);
  };
  return { rows, after };
}
