/**
 * What reading a meet asks of the tie rules and the kinds of contest there are. Each of them is a
 * record in a file of its own (lib/rules/); the reader is given them and knows none by its name.
 */
import type { Apparatus } from '../apparatus.js';
import type { ProblemCode } from '../codes.js';
import type { Score } from '../score.js';
import type { ContestSettings, Gymnast, Meet, Team } from './meet.js';
import type { Severity } from './problems.js';

/** Reports a problem of one key of a contest, or of a list of the meet file. */
export type Complain = (key: string, code: ProblemCode, message: string, mend: string) => void;

/**
 * Reports a problem of the field: at a list of the meet file, or at the line-up of a team, by its id, on
 * an apparatus.
 */
export type ComplainOfField = (
  at: 'contests' | 'gymnasts' | { readonly team: string; readonly apparatus: string | null },
  severity: Severity,
  code: ProblemCode,
  message: string,
  mend: string,
) => void;

/** Who competes, as far as a contest has to be checked against it. */
export interface FieldOfMeet {
  readonly gymnasts: readonly Gymnast[];
  readonly teams: readonly Team[];
  readonly apparatus: readonly Apparatus[];
}

/** A kind of contest as the meet file has it. */
export interface ContestReader<Settings = ContestSettings> {
  /** The word for it in the meet file, under `kind`, or alone where it has no keys that must be there. */
  readonly name: string;
  /** How it is written. */
  readonly example: string;
  /** The keys it has of its own, with the schema of each (values.ts). */
  readonly keys: Readonly<Record<string, unknown>>;
  /** What those keys ask for; null where they make no contest, which has been reported. */
  readonly settingsFrom: (
    given: ContestSettings,
    discipline: readonly Apparatus[],
    complain: Complain,
  ) => Settings | null;
  readonly idByDefault: (settings: Settings) => string;
  /** Tie rules where the meet names none, in a scoring system that breaks ties. */
  readonly tiesByDefault: (settings: Settings) => readonly string[];
  /** Whom it ranks. */
  readonly ranks: 'gymnasts' | 'teams';
  /** Whether `ties` of the meet are its tie rules. */
  readonly hasTiesOfMeet: boolean;
  /** Codes of the apparatus it makes part of the meet, of all there are in the discipline. */
  readonly counts: (settings: Settings, all: readonly Apparatus[]) => readonly string[];
  /** Whether it counts every apparatus of the discipline, as an all-around does and a final does not. */
  readonly countsEverything: boolean;
  /** Whether whoever is in it competes on every apparatus. */
  readonly needsEveryApparatus: boolean;
  /** Reports problems of the field for this contest. */
  readonly checkField: (settings: Settings, field: FieldOfMeet, complain: ComplainOfField) => void;
}

export interface KnownRules {
  /** Names of tie rules. */
  readonly ties: readonly string[];
  /** The first is the contest of a meet that names none. */
  readonly contests: readonly ContestReader[];
  /** The totals of a contest of a meet, by contender; null where it has none of that id. */
  readonly totals: (meet: Meet, contest: string) => ReadonlyMap<string, Score> | null;
}
