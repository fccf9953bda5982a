/** The meet on disk: the meet file, the ranges file it names, and the score log beside it. */
import { dirname, extname, resolve } from 'node:path';
import { LastRotationError } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { isSound, type Problem } from '../meet/problems.js';
import { type MeetSources, type ReadMeet, readLog, type Source } from '../meet/read.js';
import { readTexts } from '../rules/reading.js';
import { LARGEST, readText, readTextIfAny, type Text } from './text.js';

/** A meet as it was read from its files. */
export interface MeetFiles extends ReadMeet {
  /** Where the score log is, or would be: beside the meet file. */
  readonly logPath: string;
  /** The score log as it was read; null while there is none. */
  readonly log: Source | null;
  /** Every file that was read, or looked for: meet, log, ranges, those of an earlier day. */
  readonly sources: readonly string[];
}

/**
 * `meet.yaml` → `meet.scores.csv`, in the same folder.
 * @param meetPath - The meet file, whether it is there or not.
 * @example
 * logPathOf('meets/harbour.yaml') // → 'meets/harbour.scores.csv'
 */
export function logPathOf(meetPath: string): string {
  const extension = extname(meetPath);
  return `${meetPath.slice(0, meetPath.length - extension.length)}.scores.csv`;
}

/** The meet file that was read last: who follows an evening reads it once, and its log every time. */
let lastRead: {
  readonly path: string;
  readonly text: string;
  /** The files it names, and those of an earlier day. */
  readonly brought: [path: string, text: string | null][];
  readonly meet: Meet | null;
  /** Without those of the log. */
  readonly problems: readonly Problem[];
} | null = null;

/**
 * Reads a meet with everything beside it, sound or not.
 * @param meetPath - The meet file; log, ranges and earlier days are found from it.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the meet file or one beside it
 * @example
 * const { meet: read, problems, log } = readMeetFiles('harbour.yaml');
 * [read?.gymnasts.length, problems, log?.file] // → [24, [], 'harbour.scores.csv']
 */
export function readMeetFiles(meetPath: string): MeetFiles {
  const problems: Problem[] = [];
  const meetText = readText(
    meetPath,
    LARGEST.meet,
    'name one with --meet, or begin one with: lastrotation new',
  );
  noteGuess(meetPath, meetText, problems);
  const log = readLogFile(meetPath, problems);
  const guesses: Problem[] = [];
  const brought: [path: string, text: string | null][] = [];
  const bring = (path: string, most: number, name: string): Source | null => {
    const text = readTextIfAny(path, most);
    noteGuess(name, text, guesses);
    brought.push([path, text?.text ?? null]);
    return text === null ? null : { file: name, text: text.text };
  };
  const known = lastRead;
  const isSame =
    known !== null &&
    known.path === meetPath &&
    known.text === meetText.text &&
    known.brought.every(
      ([path, text]) => (readTextIfAny(path, LARGEST.log)?.text ?? null) === text,
    );
  const logPath = logPathOf(meetPath);
  const sources = (all: typeof brought) => [meetPath, logPath, ...all.map(([path]) => path)];
  if (isSame && known.meet !== null) {
    const read = readLog(known.meet, log);
    const all = [...problems, ...known.problems, ...read.problems];
    return { ...read, problems: all, logPath, log, sources: sources([...known.brought]) };
  }
  const source = { file: meetPath, text: meetText.text };
  const read = readTexts({ meet: source, log, ...besideOf(meetPath, bring, [resolve(meetPath)]) });
  const alone = [...guesses, ...read.problems.filter((p) => p.file !== log?.file)];
  lastRead = { path: meetPath, text: meetText.text, brought, meet: read.meet, problems: alone };
  return {
    ...read,
    problems: [...problems, ...guesses, ...read.problems],
    logPath,
    log,
    sources: sources(brought),
  };
}

/** Reads a file that may be there; it goes by a name in messages. */
type Bring = (path: string, most: number, name: string) => Source | null;

/** What a meet file names: its ranges, and the meet of an earlier day, which no meet is for itself. */
function besideOf(
  meetPath: string,
  bring: Bring,
  within: readonly string[],
): Pick<MeetSources, 'ranges' | 'earlier'> {
  return {
    ranges: (name) => bring(beside(meetPath, name), LARGEST.meet, name),
    earlier: (name) => {
      const path = meetOf(beside(meetPath, name), bring);
      if (path === null || within.includes(path)) return null;
      const meet = bring(path, LARGEST.meet, name);
      const log = bring(logPathOf(path), LARGEST.log, logPathOf(name));
      return meet && { meet, log, ...besideOf(path, bring, [...within, path]) };
    },
  };
}

/** Brings the meet of an earlier day that the meet of this path names. */
export function earlierOf(meetPath: string): NonNullable<MeetSources['earlier']> {
  const bring: Bring = (path, most, name) => {
    const text = readTextIfAny(path, most);
    return text === null ? null : { file: name, text: text.text };
  };
  const { earlier } = besideOf(meetPath, bring, [resolve(meetPath)]);
  return (name) => earlier?.(name) ?? null;
}

/** The meet file that is named, or that belongs to the log that is. */
function meetOf(path: string, bring: Bring): string | null {
  const stem = /^(.*)\.scores\.csv$/i.exec(path)?.[1];
  if (stem === undefined) return path;
  const names = MEET_EXTENSIONS.map((extension) => `${stem}${extension}`);
  return names.find((name) => bring(name, LARGEST.meet, name) !== null) ?? null;
}

const MEET_EXTENSIONS = ['.yaml', '.yml', '.json'];

function beside(meetPath: string, name: string): string {
  return resolve(dirname(meetPath), name);
}

/** The score log beside a meet file; null while there is none. */
export function readLogFile(meetPath: string, problems: Problem[]): Source | null {
  const path = logPathOf(meetPath);
  const text = readTextIfAny(path, LARGEST.log);
  noteGuess(path, text, problems);
  return text === null ? null : { file: path, text: text.text };
}

function noteGuess(file: string, text: Text | null, problems: Problem[]): void {
  if (text?.encoding !== 'western') return;
  problems.push({
    severity: 'note',
    code: 'not-utf-8',
    file,
    line: null,
    message: 'is not UTF-8, so accents may come out wrong',
    mend: 'save it as UTF-8',
  });
}

/**
 * A meet that answers may be given from.
 * @param meetPath - The meet file; log, ranges and earlier days are found from it.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the meet file or one beside it
 * @throws the code of a problem: the meet is not sound: its first error
 * @example
 * standings(openMeet('harbour.yaml')).rows[0]?.name // → 'Suzu Tanakura'
 * openMeet('nowhere.yaml') // → throws file-missing
 */
export function openMeet(meetPath: string): Meet {
  return soundMeet(readMeetFiles(meetPath));
}

/**
 * The meet that was read.
 * @param read - As `readMeetFiles` gave it.
 * @throws the code of a problem: its first error, where it is not sound
 * @example
 * soundMeet(readMeetFiles('harbour.yaml')).gymnasts.length // → 24
 * const text = 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: ann }]';
 * soundMeet(readMeet({ meet: { file: 'meet.yaml', text } })) // → throws gymnast-twice
 */
export function soundMeet({ meet, problems }: Pick<MeetFiles, 'meet' | 'problems'>): Meet {
  const errors = problems.filter((p) => p.severity === 'error');
  const [first] = errors;
  if (meet !== null && isSound(problems)) return meet;
  const more = errors.length - 1;
  throw new LastRotationError(first?.message ?? 'cannot be read', {
    kind: 'file',
    code: first?.code ?? 'syntax',
    file: first?.file ?? null,
    line: first?.line ?? null,
    mend: `${first?.mend ?? 'see lastrotation check'}${
      more > 0 ? ` (${more} more: lastrotation check)` : ''
    }`,
  });
}
