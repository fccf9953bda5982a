/** What a row of a results history says. */
import type { DisciplineCode } from '../apparatus.js';
import type { Score } from '../score.js';
import type { Round } from './round.js';

/** One routine. Scores in units. */
export interface PastRoutine {
  /** Of the file, counted from 1. */
  readonly line: number;
  /** As it was spelt first. */
  readonly gymnast: string;
  /** By code. */
  readonly discipline: DisciplineCode;
  /** `2022-11-06`; dates compare as texts. */
  readonly date: string;
  /** As the history calls it. */
  readonly competition: string;
  /** Which part of it. */
  readonly round: Round;
  /** By code. */
  readonly apparatus: string;
  /** The final score. */
  readonly score: Score;
  /** The difficulty score; null where the history has none. */
  readonly d: Score | null;
  /** The execution score; null where the history has none. */
  readonly e: Score | null;
  /** Neutral deductions; null where the history does not say. */
  readonly nd: Score | null;
  /** Three letters of her country; null where the history has none. */
  readonly noc: string | null;
  /** In that round, on that apparatus; null where the history does not say. */
  readonly place: number | null;
  /** Counted from 1; null where the history does not say. */
  readonly rotation: number | null;
}

/** A row that is not used, and why. */
export interface LeftOut {
  /** Of the file, counted from 1. */
  readonly line: number;
  /** As a reason people can read. */
  readonly why: string;
}
