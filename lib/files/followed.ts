/** A meet that is followed: the last good of it is kept, and what is wrong with its files is said. */
import { setTimeout as pause } from 'node:timers/promises';
import { LastRotationError, noAnswer } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { isSound } from '../meet/problems.js';
import type { Source } from '../meet/read.js';
import { follow, lookOf } from './follow.js';
import { dueIn, type Found, isMended, isStale, type Kept, keep } from './kept.js';
import { lossOf } from './lost-rows.js';
import { logPathOf, type MeetFiles, readMeetFiles, soundMeet } from './meet-file.js';

/** The files of a sound meet. */
export interface SoundFiles extends MeetFiles {
  /** Never null here: the files are sound. */
  readonly meet: Meet;
}

/** What is known of a meet that is followed. */
export interface Followed<T> {
  /** Made of the files as they last were good. */
  readonly value: T;
  /** Null, or since when the files could not be read or have lacked rows that stood, as a time in ISO form. */
  readonly stale: string | null;
  /** What is wrong with them; for a moment, while a file may just be being saved, they are not yet stale. */
  readonly wrong: Error | null;
  /** What was missing when they were last taken all the same; null as long as they never were. */
  readonly taken: Error | null;
}

/** The files of a meet, looked at again and again. */
export interface Following<T> {
  /** Looks at the files now. Never throws for what is wrong with them. */
  readonly look: () => Followed<T>;
  /** Waits, where a file may just be being saved, until it is well or stale. */
  readonly settled: () => Promise<Followed<T>>;
  /** Takes the files as they are. Throws when nothing is wrong, or nothing can be read. */
  readonly accept: () => Followed<T>;
  /** The same, when no more is missing than somebody may have mended by hand. */
  readonly acceptMend: () => Followed<T>;
  /** Calls back soon after something of it is not what it was, until the function it returns is called. */
  readonly watch: (changed: (now: Followed<T>) => void) => () => void;
}

/** What is made of the files, and what else it is made of. */
export interface FollowOptions<T> {
  /** Makes the value, each time the files have changed and are sound; what it throws is wrong with them. */
  readonly make: (files: SoundFiles) => T;
  /** Other files that the value is made of. */
  readonly also?: readonly string[];
  /** In milliseconds. */
  readonly now?: () => number;
}

/**
 * Follows the files of a meet. While they cannot be read later, or the log lacks rows that stood, the last
 * good value stays; a log that lacks a few rows is taken once it has stood for ten seconds.
 * @param meetPath - The meet file; its log, ranges and earlier days are followed with it.
 * @param options - `make`: what is to be made of the files each time.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: the meet file to begin with
 * @throws the code of a problem: the meet is not sound to begin with: its first error
 * @throws `nothing-to-accept`: of `accept`: nothing is wrong with the log
 * @example
 * const following = followMeet('harbour.yaml', { make: ({ meet }) => standings(meet).rows[0]?.name });
 * following.look().value // → 'Suzu Tanakura'
 * following.look().stale // → null
 * following.accept() // → throws nothing-to-accept
 */
export function followMeet<T>(meetPath: string, options: FollowOptions<T>): Following<T> {
  const { make, also = [], now = Date.now } = options;
  const read = (files: SoundFiles): Made<T> => ({ files, value: make(files) });
  let paths = [meetPath, logPathOf(meetPath), ...also];
  let seen = lookOf(paths);
  const good = read(soundFiles(readMeetFiles(meetPath)));
  let kept: Kept<Made<T>> = { good, trouble: null, taken: null };
  /** Where these are other files than those that were looked at, they look different, and are read once more. */
  const pathsNow = () => [...kept.good.files.sources, ...also];
  paths = pathsNow();

  const take = () => {
    const { trouble } = kept;
    if (trouble === null || trouble.instead === null) return;
    try {
      kept = { good: trouble.instead(), trouble: null, taken: trouble.wrong };
    } catch (error) {
      kept = keep(kept, wrongBy(error), now());
    }
  };
  const look = (): Followed<T> => {
    const mark = lookOf(paths);
    if (mark !== seen || kept.trouble !== null) {
      kept = keep(kept, findIn(meetPath, kept.good.files.log, read), now());
      if (isMended(kept, now())) take();
      seen = mark;
      paths = pathsNow();
    }
    const { good, trouble, taken } = kept;
    const stale = trouble !== null && isStale(kept, now()) ? isoOf(trouble.since) : null;
    return { value: good.value, stale, wrong: trouble?.said ?? null, taken };
  };
  const accept = (isMendOnly: boolean): Followed<T> => {
    const state = look();
    const { trouble } = kept;
    if (trouble === null) {
      if (isMendOnly) return state;
      throw noAnswer('nothing-to-accept', 'nothing is wrong with the log', null);
    }
    if (trouble.instead === null || (isMendOnly && !trouble.isMend)) throw trouble.wrong;
    take();
    if (kept.trouble !== null) throw kept.trouble.wrong;
    return look();
  };
  return {
    look,
    settled: async () => {
      for (let state = look(); ; state = look()) {
        if (state.wrong === null || state.stale !== null) return state;
        await pause(LOOK_MS);
      }
    },
    accept: () => accept(false),
    acceptMend: () => accept(true),
    watch: watching(look, () => [paths, dueIn(kept, now())]),
  };
}

/** A value and the files it was made of. */
interface Made<T> {
  readonly files: SoundFiles;
  readonly value: T;
}

function findIn<T>(
  meetPath: string,
  stood: Source | null,
  read: (files: SoundFiles) => Made<T>,
): Found<Made<T>> {
  try {
    const files = readMeetFiles(meetPath);
    const isWhole = isSound(files.problems);
    const loss = lossOf(files.logPath, stood, files.log, isWhole);
    if (loss === null) return { good: read(soundFiles(files)) };
    // One row that is gone may stand there unsound; more have been cut off.
    if (!isWhole && loss.lost === 1) soundMeet(files);
    const { error: wrong, isMend, mark } = loss;
    return { wrong, instead: isWhole ? () => read(soundFiles(files)) : null, isMend, mark };
  } catch (error) {
    return wrongBy(error);
  }
}

/** From look to look at a file that may just be being saved, in milliseconds. */
const LOOK_MS = 25;

/** Looks whenever a file changes, and when time alone may change something. */
function watching<T>(
  look: () => Followed<T>,
  next: () => readonly [paths: readonly string[], dueIn: number | null],
): Following<T>['watch'] {
  let last = look();
  return (changed) => {
    let timer: NodeJS.Timeout | null = null;
    let paths: readonly string[] = [];
    let end = () => {};
    const step = () => {
      const state = look();
      const [sources, due] = next();
      if (sources.join() !== paths.join()) {
        end();
        paths = sources;
        end = follow(paths, step);
      }
      if (timer !== null) clearTimeout(timer);
      timer = due === null ? null : setTimeout(step, due);
      if (isSame(state, last)) return;
      last = state;
      changed(state);
    };
    [paths] = next();
    // Followed before it is looked at, so that nothing is missed in between.
    end = follow(paths, step);
    step();
    return () => {
      end();
      if (timer !== null) clearTimeout(timer);
    };
  };
}

function isSame<T>(a: Followed<T>, b: Followed<T>): boolean {
  const wrongs = a.wrong?.message === b.wrong?.message && a.taken === b.taken;
  return a.value === b.value && a.stale === b.stale && wrongs;
}

function soundFiles(files: MeetFiles): SoundFiles {
  return { ...files, meet: soundMeet(files) };
}

function wrongBy(error: unknown): Found<never> {
  const wrong = error instanceof Error ? error : new Error(String(error));
  return { wrong, instead: null, isMend: false, mark: wrong.message };
}

function isoOf(at: number): string {
  return new Date(at).toISOString();
}

/** What is to be said after a look: what is wrong now, or that it is well again. */
export type FileNews =
  | {
      /** Why the files cannot be used now. */
      readonly wrong: Error;
    }
  | {
      /**
       * `well-again`: they can be read once more. `taken-as-it-is`: the loss of rows was accepted.
       */
      readonly what: 'well-again' | 'taken-as-it-is';
      /** Which file; null where it is about all of them. */
      readonly file: string | null;
      /** The same as a sentence for people, without an end. */
      readonly message: string;
    };

/**
 * What is new between two looks, once it is more than a file that is just being saved.
 * @param before - What an earlier look found.
 * @param now - What the latest found.
 * @returns One or two things to say; empty where nothing is new.
 * @example
 * const following = followMeet('harbour.yaml', { make: ({ meet }) => meet });
 * fileNews(following.look(), following.look()) // → []
 */
export function fileNews<T>(before: Followed<T>, now: Followed<T>): readonly FileNews[] {
  const news: FileNews[] = [];
  if (now.taken !== null && now.taken !== before.taken) {
    const { message } = now.taken;
    news.push({
      what: 'taken-as-it-is',
      file: fileOf(now.taken),
      message: `taken as it is; ${message}`,
    });
  } else if (before.stale !== null && now.stale === null) {
    news.push({ what: 'well-again', file: fileOf(before.wrong), message: 'is in order again' });
  }
  const isNew = before.stale === null || before.wrong?.message !== now.wrong?.message;
  if (now.stale !== null && now.wrong !== null && isNew) news.push({ wrong: now.wrong });
  return news;
}

function fileOf(error: Error | null): string | null {
  return error instanceof LastRotationError ? error.file : null;
}
