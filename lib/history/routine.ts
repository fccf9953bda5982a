/** What a row of a results history says. */
import type { DisciplineCode } from '../apparatus.js';
import type { Score } from '../score.js';
import type { Round } from './round.js';

/** One routine. Scores in units. */
export interface PastRoutine {
  readonly line: number;
  /** As it was spelt first. */
  readonly gymnast: string;
  readonly discipline: DisciplineCode;
  /** `2022-11-06`; dates compare as texts. */
  readonly date: string;
  readonly competition: string;
  readonly round: Round;
  readonly apparatus: string;
  readonly score: Score;
  readonly d: Score | null;
  readonly e: Score | null;
  readonly nd: Score | null;
  readonly noc: string | null;
  readonly place: number | null;
  /** Counted from 1; null where the history does not say. */
  readonly rotation: number | null;
}

/** A row that is not used, and why. */
export interface LeftOut {
  readonly line: number;
  readonly why: string;
}
