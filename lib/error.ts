import type { ErrorCode } from './codes.js';

/**
 * What went wrong, in kinds: the question has no answer (an unknown gymnast, nothing to come), it
 * was put wrongly (an unknown contest, a refused score), a file is not what it should be, or a
 * file could not be written.
 */
export type ErrorKind = 'question' | 'usage' | 'file' | 'writing';

/** Where and how: whatever of it is known. */
export interface ErrorDetails {
  /** Whose matter it is: the question's, the usage's, a file's, the disk's. */
  readonly kind: ErrorKind;
  /** Short, stable, for programs: `unknown-gymnast`. */
  readonly code: ErrorCode;
  /** The file it is about; null, or left out, where it is no matter of a file. */
  readonly file?: string | null;
  /** Counted from 1. */
  readonly line?: number | null;
  /** What to do about it. */
  readonly mend?: string | null;
  /** What else is wrong with the same file. */
  readonly others?: readonly OtherProblem[];
}

/** One of several things that are wrong with a file. */
export interface OtherProblem {
  /** Counted from 1; null for a problem of the whole file. */
  readonly line: number | null;
  /** What is wrong, as one line without an end. */
  readonly message: string;
  /** What to do about it; empty where nothing can be said. */
  readonly mend: string;
}

/**
 * The only error this library throws on purpose.
 * @example
 * const why = (error: unknown) => (error instanceof LastRotationError ? error.mend : null);
 * let mend: string | null = null;
 * try { needs(meet, 'bront'); } catch (error) { mend = why(error); }
 * mend // → 'did you mean `brondt`?'
 */
export class LastRotationError extends Error {
  /**
   * Whose matter it is; the command's exit code follows from it (1 question, 2 usage or file, 3
   * writing).
   */
  readonly kind: ErrorKind;
  /** What went wrong, short and stable, for programs: `unknown-gymnast`. */
  readonly code: ErrorCode;
  /** The file it is about; null where it is no matter of a file. */
  readonly file: string | null;
  /** The line of that file, counted from 1; null where it is about all of it. */
  readonly line: number | null;
  /** What to do about it, for people: "did you mean `brondt`?"; null where nothing can be said. */
  readonly mend: string | null;
  /** What else is wrong with the same file; empty where nothing is known to be. */
  readonly others: readonly OtherProblem[];

  constructor(message: string, details: ErrorDetails) {
    super(message);
    this.name = 'LastRotationError';
    this.kind = details.kind;
    this.code = details.code;
    this.file = details.file ?? null;
    this.line = details.line ?? null;
    this.mend = details.mend ?? null;
    this.others = details.others ?? [];
  }
}

/** The question has no answer as things stand. */
export function noAnswer(code: ErrorCode, message: string, mend: string | null = null) {
  return new LastRotationError(message, { kind: 'question', code, mend });
}

/** The question, or a score, was put in a way that cannot be taken. */
export function badUsage(code: ErrorCode, message: string, mend: string | null = null) {
  return new LastRotationError(message, { kind: 'usage', code, mend });
}

/**
 * Whatever stands in a file or a question, what is said of it stays short.
 * @param text - Anything somebody else has written.
 * @returns The same, every word of more than 80 characters cut to 77 and an ellipsis.
 * @example
 * shortened('a name and a word') // → 'a name and a word'
 * shortened('x'.repeat(100)).length // → 78
 */
export function shortened(text: string): string {
  return text.replace(/\S{81,}/g, (word) => `${word.slice(0, 77)}…`);
}
