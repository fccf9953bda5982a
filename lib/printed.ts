/** What `--json` prints, command by command. */

import type { Answers } from './answers.js';
import type { ErrorCode } from './codes.js';
import type { GraphicsChanges } from './graphics/changes.js';
import type { Check } from './meet/check.js';
import type { Problem } from './meet/problems.js';
import type { MeetKind } from './meet/start-kinds.js';
import type { FedRow } from './needs/fed.js';

/**
 * Everything printed as JSON, by the name of its schema; a new answer is one line here, or in `Answers`.
 * The schemas in `dist/schemas` are made from these types when the package is built.
 */
export interface Printed extends Answers {
  /** The meet file that `new` has written. */
  readonly new: MeetMade;
  /** The page that `page` has written. */
  readonly page: PageMade;
  /** Whether a meet is sound, and who performs where: `check`. */
  readonly check: Check;
  /** What `live` answers to a line that is fed to it: recorded, or refused. */
  readonly feed: Answers['record'] | LineRefused;
  /** Why there is no answer; on standard error, in place of one. */
  readonly error: ErrorSaid;
  /**
   * What has become of the files that `graphics --follow` follows; on standard error.
   */
  readonly note: NoteSaid;
  /** One state of the files, in the stream `/events` of `serve`. */
  readonly event: EventSaid;
}

/** What `new` has written. */
export interface MeetMade {
  /** The path of the meet file, as it was asked for. */
  readonly file: string;
  /** What sort of meet it is; null where its contests are left open. */
  readonly kind: MeetKind | null;
  /** Ids of its contests. */
  readonly contests: readonly string[];
  /** How many gymnasts the start list brought. */
  readonly gymnasts: number;
  /** How many groups they start in. */
  readonly groups: number;
  /** What is odd about the start list, or has to be mended in the file that was made. */
  readonly problems: readonly Problem[];
}

/** The page that `page` has written. */
export interface PageMade {
  /** The path of the page, as it was asked for. */
  readonly file: string;
  /** How large the page is. */
  readonly bytes: number;
}

/** What went wrong. */
export interface Wrong {
  /** Short, stable, for programs; `internal` for a fault of the tool. */
  readonly code: ErrorCode | 'internal';
  /** What is wrong, as one line of plain English without an end. */
  readonly message: string;
  /** The file it was found in; null where it is no matter of a file. */
  readonly file: string | null;
  /** Counted from 1. */
  readonly line: number | null;
  /** What to do about it. */
  readonly mend: string | null;
}

/** On standard error, in place of an answer. */
export interface ErrorSaid {
  /** The reason, with its code and what to do. */
  readonly error: Wrong;
}

/** Of a line of the feed that was not recorded. */
export interface LineRefused {
  /** What was understood of the line; its text where nothing was. */
  readonly row: FedRow | string;
  /** Its number, counted from 1. */
  readonly line: number;
  /** Why nothing was recorded of it. */
  readonly error: Wrong;
}

/** On standard error, of a file that is followed. */
export interface NoteSaid {
  /** One thing that happened to the files. */
  readonly note: {
    /**
     * `well-again`: the files can be read once more. `taken-as-it-is`: rows that stood are gone,
     * and their loss was accepted.
     */
    readonly what: 'well-again' | 'taken-as-it-is';
    /** The same as a sentence for people, without an end. */
    readonly message: string;
    /** Which file; null where it is about all of them. */
    readonly file: string | null;
  };
}

/** An event of the stream of `serve`. */
export interface EventSaid {
  /** The state it leads to: the rows of the log, a point, and nine digits for what they and the meet file say. */
  readonly sequence: string;
  /** The state it leads on from; null where it is all there is, whatever was known before. */
  readonly since: string | null;
  /** How many rows of the log had been read. */
  readonly rows: number;
  /** When the last of them was written, as a time in ISO form; null where it does not say. */
  readonly at: string | null;
  /** Null, or since when the files could not be read, as a time in ISO form. */
  readonly stale: string | null;
  /** Nothing has happened since. */
  readonly isLast: boolean;
  /** Of the lines, contest by contest; null where neither a contest nor kinds of lines were asked for. */
  readonly changes: readonly EventChanges[] | null;
}

/** What an event changes in the lines of a contest. */
export type EventChanges = Pick<
  GraphicsChanges,
  'contest' | 'added' | 'changed' | 'withdrawn' | 'awaited' | 'underInquiry' | 'caution'
>;
