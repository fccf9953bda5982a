/** What is asked of a sheet, and what it answers. */

import type { Range } from '../meet/meet.js';
import type { OpenScores } from '../meet/now.js';
import type { Counting } from './counting.js';
import type { Need } from './need.js';
import type { Safe } from './safe.js';
import type { Stands } from './stands.js';
import type { AskedTarget, QuestionOptions } from './target.js';

/** What somebody needs from her next routine, target by target. */
export interface NeedsSheet extends OpenScores, Stands {
  /** The id of the contest it is about. */
  readonly contest: string;
  /** Id of the gymnast or the team that the contest ranks. */
  readonly contender: string;
  /** Of the contender. */
  readonly name: string;
  /** Whose routine is asked. */
  readonly gymnast: string;
  /** Where it is, by code. */
  readonly apparatus: string;
  /** Of that routine, counted from 1. */
  readonly session: number;
  /** Of that routine, counted from 1 within its session. */
  readonly rotation: number;
  /** What she is likely to score there; keys that nobody has given are null. */
  readonly range: Range;
  /** One a target that can be asked, in the order they are said; with `for` exactly that one. */
  readonly needs: readonly Need[];
  /** With `safe`: from which score on nobody can pass her, in two senses; null where it was not asked. */
  readonly safe: readonly Safe[] | null;
  /** Whether her score will count for the team; null where no score of that apparatus is dropped. */
  readonly counting: Counting | null;
  /** Of who has nothing to come, in a `FinishedSheet`. */
  readonly finished: null;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** What of a sheet is asked for, and under which assumption. */
export interface NeedsOptions extends QuestionOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** One target instead of the sheet. */
  readonly for?: AskedTarget | null | undefined;
  /** Ask for another of her routines than the next. */
  readonly on?: string | null | undefined;
  /** Above 0, up to 1: find the score that gives each target this chance. */
  readonly chance?: number | null | undefined;
  /** Add the boards that prove each need. */
  readonly why?: boolean | undefined;
  /** Add the scores from which on nobody can pass her. */
  readonly safe?: boolean | undefined;
}

/** The sheets of all who have a routine to come. */
export interface NeedsOfAll {
  /** The id of the contest it is about. */
  readonly contest: string;
  /** One a contender, in the order their next routines go up. */
  readonly gymnasts: readonly NeedsSheet[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}
