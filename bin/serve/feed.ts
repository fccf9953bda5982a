/**
 * What a meet that is followed was and is, as steps from one state to the next. A state goes by its
 * sequence, `131.482913007`: the rows of the log that were read, and nine digits made from all that is
 * known after them. Both come from the files alone, so a server that was started anew counts as the one
 * before it did, and knows whether somebody saw what the files say now. Nothing is kept for a reader.
 */
import { createHash } from 'node:crypto';
import type { Followed, SoundFiles } from '../../lib/files/index.js';
import { atRow, type LogPoint } from '../../lib/index.js';

/** A state by its name. */
export interface Mark {
  readonly sequence: string;
  readonly rows: number;
  /** When the last row was written; null where it does not say. */
  readonly at: string | null;
}

/** From what a reader has to what comes after it; from null: all there is. */
export interface Step {
  readonly since: Mark | null;
  readonly to: Mark;
}

export interface Feed {
  readonly now: () => Present;
  /** Another state of the files. */
  readonly take: (followed: Followed<SoundFiles>) => void;
  /** The state a reader says it has, by its sequence or the number of rows; null where it is not known here. */
  readonly known: (since: string) => string | null;
  /** What comes after the state that a reader has; null where that is the present one. */
  readonly after: (sequence: string | null) => Step | null;
  /** The meet in a state; null where it is not known any more. */
  readonly pointOf: (mark: Mark) => LogPoint | null;
  /** Resolves with the next change, or when it is time for a sign of life. */
  readonly pulse: () => Promise<Beat>;
  readonly close: () => void;
}

export type Beat = 'changed' | 'alive' | 'closed';

export interface Present {
  readonly files: SoundFiles;
  readonly mark: Mark;
  readonly stale: string | null;
  /** Counts how often the files were read anew. */
  readonly revision: number;
}

/** Further behind than so many rows, somebody is brought up to date in one step. */
const MOST_STEPS = 100;

/** So many states that the files no longer show are known all the same, for those who had them last. */
const MOST_TURNS = 64;

/** Of so many of them the meet is kept, and of so many states that were read from the files just now. */
const MOST_POINTS = 8;

/** `aliveMs`: after so long without a change there is a sign of life. */
export function openFeed(first: Followed<SoundFiles>, aliveMs: number): Feed {
  const points = new Map<string, LogPoint>();
  const turns = new Map<string, { readonly since: Mark; readonly to: Mark }>();
  const marks = marksBy(points);
  const last = (files: SoundFiles) => marks.at(files, atRow(files.meet, files.log).rows);

  let present: Present = {
    files: first.value,
    mark: last(first.value),
    stale: first.stale,
    revision: 0,
  };
  /** Whether the files, as they are, said this after so many rows. */
  const standing = (sequence: string): Mark | null => {
    const rows = Number.parseInt(sequence, 10);
    if (rows > present.mark.rows) return null;
    const mark = marks.at(present.files, rows);
    return mark.sequence === sequence ? mark : null;
  };
  const pointOf = (mark: Mark): LogPoint | null => {
    const { sequence, rows } = mark;
    const { meet, log } = present.files;
    const point = points.get(sequence) ?? (standing(sequence) && atRow(meet, log, rows));
    if (point !== null) keepIn(points, sequence, point, MOST_POINTS);
    return point;
  };

  const pulses = pulsing(aliveMs);
  return {
    now: () => present,
    take: ({ value: files, stale }) => {
      const before = present;
      if (files === before.files) present = { ...before, stale };
      else {
        const wasPoint = pointOf(before.mark);
        if (!isContinued(before.files, files)) marks.forget();
        present = { files, stale, mark: last(files), revision: before.revision + 1 };
        const since = before.mark;
        // Not by more rows, but by another meet file or a log that was mended.
        if (standing(since.sequence) === null) {
          if (wasPoint !== null) keepIn(points, since.sequence, wasPoint, MOST_POINTS);
          keepIn(turns, since.sequence, { since, to: present.mark }, MOST_TURNS);
        }
      }
      pulses.beat('changed');
    },
    known: (since) => {
      if (/^\d{1,9}$/.test(since)) {
        const rows = Number(since);
        return rows > present.mark.rows ? null : marks.at(present.files, rows).sequence;
      }
      if (!/^\d{1,9}\.\d{9}$/.test(since)) return null;
      return turns.has(since) || standing(since) !== null ? since : null;
    },
    after: (sequence) => {
      const { mark, files } = present;
      if (sequence === mark.sequence) return null;
      if (sequence === null) return { since: null, to: mark };
      const since = standing(sequence);
      if (since !== null) {
        const isFar = mark.rows - since.rows > MOST_STEPS;
        return { since, to: isFar ? mark : marks.at(files, since.rows + 1) };
      }
      const turn = turns.get(sequence);
      // From where it leads on there is a way that stands, or all is told anew.
      return turn ?? { since: null, to: mark };
    },
    pointOf,
    pulse: pulses.next,
    close: pulses.close,
  };
}

/** Marks of the files as they are, by the number of rows; what each stands for is added to `points`. */
function marksBy(points: Map<string, LogPoint>) {
  let marks = new Map<number, Mark>();
  return {
    at: (files: SoundFiles, rows: number): Mark => {
      const known = marks.get(rows);
      if (known !== undefined) return known;
      const point = atRow(files.meet, files.log, rows);
      const mark = { sequence: `${rows}.${digitsOf(point)}`, rows, at: point.at };
      marks.set(rows, mark);
      keepIn(points, mark.sequence, point, MOST_POINTS);
      return mark;
    },
    /** They are other files. */
    forget: (): void => {
      marks = new Map();
    },
  };
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
