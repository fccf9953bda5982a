/**
 * What a meet that is followed was and is, as steps from one state to the next. A state goes by its
 * sequence, `131.482913007`: the rows of the log that were read, and nine digits made from all that is
 * known after them. Both come from the files alone, so a server that was started anew counts as the one
 * before it did, and knows whether somebody saw what the files say now. Nothing is kept for a reader.
 */
import { createHash } from 'node:crypto';
import type { Followed, SoundFiles } from '../../lib/files/index.js';
import { atRow, type LogPoint } from '../../lib/index.js';

/** What was known after so many rows. */
export interface Point extends LogPoint {
  readonly sequence: string;
}

/** From what a reader has to what comes after it; from null: all there is. */
export interface Step {
  readonly since: Point | null;
  readonly to: Point;
}

export interface Feed {
  readonly now: () => Present;
  /** Another state of the files. */
  readonly take: (followed: Followed<SoundFiles>) => void;
  /** The state a reader says it has, by its sequence or the number of rows; null where it is not known here. */
  readonly known: (since: string) => string | null;
  /** What comes after the state that a reader has; null where that is the present one. */
  readonly after: (sequence: string | null) => Step | null;
  /** Resolves with the next change, or when it is time for a sign of life. */
  readonly pulse: () => Promise<Beat>;
  readonly close: () => void;
}

export type Beat = 'changed' | 'alive' | 'closed';

export interface Present {
  readonly files: SoundFiles;
  readonly point: Point;
  readonly stale: string | null;
  /** Counts how often the files were read anew. */
  readonly revision: number;
}

/** Further behind than so many rows, somebody is brought up to date in one step. */
const MOST_STEPS = 100;

/** So many states that the files no longer show are known all the same, for those who had them last. */
const MOST_TURNS = 64;

/** So many states are kept whole. */
const MOST_POINTS = 8;

/** `aliveMs`: after so long without a change there is a sign of life. */
export function openFeed(first: Followed<SoundFiles>, aliveMs: number): Feed {
  /** Of the present files, the sequences by the number of rows. */
  let marks = new Map<number, string>();
  const points = new Map<string, Point>();
  const turns = new Map<string, string>();

  const pointAt = (files: SoundFiles, rows: number): Point => {
    const known = points.get(marks.get(rows) ?? '');
    if (known !== undefined) return known;
    const point = atRow(files.meet, files.log, rows);
    const sequence = `${rows}.${digitsOf(point)}`;
    marks.set(rows, sequence);
    keepIn(points, sequence, { ...point, sequence }, MOST_POINTS);
    return { ...point, sequence };
  };
  const last = (files: SoundFiles) => pointAt(files, atRow(files.meet, files.log).rows);

  let present: Present = {
    files: first.value,
    point: last(first.value),
    stale: first.stale,
    revision: 0,
  };
  const sequenceAt = (rows: number): string | null => {
    if (rows > present.point.rows) return null;
    return marks.get(rows) ?? pointAt(present.files, rows).sequence;
  };
  const isStanding = (sequence: string) => sequenceAt(rowsOf(sequence)) === sequence;

  const pulses = pulsing(aliveMs);
  return {
    now: () => present,
    take: ({ value: files, stale }) => {
      const before = present;
      if (files === before.files) present = { ...before, stale };
      else {
        if (!isContinued(before.files, files)) marks = new Map();
        present = { files, stale, point: last(files), revision: before.revision + 1 };
        const { sequence } = before.point;
        // Not by more rows, but by another meet file or a log that was mended.
        if (!isStanding(sequence)) {
          keepIn(points, sequence, before.point, MOST_POINTS);
          keepIn(turns, sequence, present.point.sequence, MOST_TURNS);
        }
      }
      pulses.beat('changed');
    },
    known: (since) => {
      if (/^\d{1,9}$/.test(since)) return sequenceAt(Number(since));
      if (!/^\d{1,9}\.\d{9}$/.test(since)) return null;
      return turns.has(since) || isStanding(since) ? since : null;
    },
    after: (sequence) => {
      const { point, files } = present;
      if (sequence === point.sequence) return null;
      if (sequence === null) return { since: null, to: point };
      const rows = rowsOf(sequence);
      if (isStanding(sequence)) {
        const to = point.rows - rows > MOST_STEPS ? point : pointAt(files, rows + 1);
        return { since: pointAt(files, rows), to };
      }
      const since = points.get(sequence);
      const isTurn = turns.has(sequence) && since !== undefined;
      return { since: isTurn ? since : null, to: point };
    },
    pulse: pulses.next,
    close: pulses.close,
  };
}

function rowsOf(sequence: string): number {
  return Number.parseInt(sequence, 10);
}

/** Whether what was known after each row is known still: the same meet file, and more rows at most. */
function isContinued(before: SoundFiles, now: SoundFiles): boolean {
  const isMore = (now.log?.text ?? '').startsWith(before.log?.text ?? '');
  return isMore && before.meet.planned === now.meet.planned;
}

function digitsOf({ meet, before, at }: LogPoint): string {
  const known = JSON.stringify([meet, before.results, at]);
  const number = createHash('sha256').update(known).digest().readUInt32BE();
  return String(number % 1_000_000_000).padStart(9, '0');
}

/** Keeps the newest. */
export function keepIn<K, V>(kept: Map<K, V>, key: K, value: V, most: number): void {
  kept.delete(key);
  kept.set(key, value);
  for (const oldest of kept.keys()) {
    if (kept.size <= most) return;
    kept.delete(oldest);
  }
}

/** One promise for all who wait, and one timer. */
function pulsing(aliveMs: number) {
  let resolve: (beat: Beat) => void = () => {};
  let next = Promise.resolve<Beat>('alive');
  let isClosed = false;
  const beat = (what: Beat) => {
    const wake = resolve;
    next = new Promise((done) => {
      resolve = done;
    });
    wake(what);
    timer.refresh();
  };
  const timer = setInterval(() => beat('alive'), aliveMs);
  beat('alive');
  return {
    beat,
    next: () => (isClosed ? Promise.resolve<Beat>('closed') : next),
    close: () => {
      isClosed = true;
      beat('closed');
      clearInterval(timer);
    },
  };
}
