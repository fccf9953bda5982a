/** A meet that stays open: what is read again, and only when its files have changed. */
import { LastRotationError } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { resultShown } from '../meet/names.js';
import type { Problem } from '../meet/problems.js';
import type { ToRecord } from '../needs/to-record.js';
import { follow } from './follow.js';
import { type Following, followMeet, type SoundFiles } from './followed.js';
import { logPathOf } from './meet-file.js';
import { type RecordedBetween, type RecordInLogOptions, recordBetween } from './score-log.js';

/** A meet at a desk: read again whenever somebody writes to its files, and written to. */
export interface LiveBoard extends Omit<Following<SoundFiles>, 'acceptMend'> {
  /** The meet with everything its log holds now; while the files are not what they should be, as it last was. */
  readonly meet: () => Meet;
  /** Rows of the log that did not count when it was last read: half written, or of who is no longer in the plan. */
  readonly notCounted: () => readonly Problem[];
  /** The gymnast and the apparatus of the last row that stands; null when there is none. */
  readonly lastRow: () => {
    /** Whose row it is, by id. */
    gymnast: string;
    /** The code of the apparatus. */
    apparatus: string;
    /** As the log has it: a score or a word. */
    score: string;
  } | null;
  /**
   * As `recordBetween`. Throws, with nothing written, while the files cannot be read or the log lacks rows
   * that stood: what is recorded then would begin another log. A few rows may be missing, as after a mend.
   */
  readonly record: (told: ToRecord, options?: RecordInLogOptions) => Promise<RecordedBetween>;
}

/**
 * Reads the meet, and again whenever its files have changed.
 * @param meetPath - The meet file; its log is beside it.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: the meet file to begin with
 * @throws the code of a problem: the meet is not sound to begin with; of `record`, the files are not sound or
 *   `check` would call the row an error or a warning
 * @throws `nothing-to-accept`: of `accept`: nothing is wrong with the log
 * @throws `ambiguous-gymnast`, `unknown-gymnast`, `unknown-contest`, `unknown-apparatus`, `wrong-apparatus`,
 *   `wrong-score`, `far-from-range`, `nothing-to-come`, `nothing-to-void`: of `record`, as `recordBetween`
 * @throws `log-gone`, `log-shrunk`, `missing-column`, `not-utf-8`, `not-written`: of `record`, nothing being
 *   written then
 * @example
 * const board = openBoard('harbour.yaml');
 * await board.record({ gymnast: 'brondt', apparatus: 'BB', score: '14.5' });
 * board.lastRow() // → { gymnast: 'brondt', apparatus: 'BB', score: '14.500' }
 * needs(board.meet(), 'brondt').apparatus // → 'FX'
 */
export function openBoard(meetPath: string): LiveBoard {
  // The first score of the evening should not wait for it.
  import('proper-lockfile').catch(() => undefined);
  const following = followMeet(meetPath, { make: (files) => files });
  const files = () => following.look().value;
  return {
    ...following,
    meet: () => files().meet,
    notCounted: () =>
      files().problems.filter(
        (p) => p.severity === 'warning' && p.line !== null && p.file === logPathOf(meetPath),
      ),
    lastRow: () => lastRowOf(files().meet),
    record: (told, options = {}) => recordOn(following, meetPath, told, options),
  };
}

function lastRowOf(meet: Meet): ReturnType<LiveBoard['lastRow']> {
  const last = meet.told.at(-1);
  if (last === undefined) return null;
  const { gymnast, apparatus, act } = last;
  const word = 'whom' in act ? `${act.kind}:${act.whom}` : act.kind;
  return {
    gymnast,
    apparatus,
    score: act.kind === 'result' ? resultShown(meet, act.result) : word,
  };
}

async function recordOn(
  { settled, acceptMend }: Following<SoundFiles>,
  meetPath: string,
  told: ToRecord,
  options: RecordInLogOptions,
): Promise<RecordedBetween> {
  for (;;) {
    const state = await settled();
    const { value } = state.wrong === null ? state : acceptMend();
    try {
      return await recordBetween(meetPath, told, { ...options, seen: value.log });
    } catch (error) {
      // It has just happened, and the next look says what it is.
      if (!isLoss(error)) throw error;
    }
  }
}

function isLoss(error: unknown): boolean {
  return error instanceof LastRotationError && /^log-(gone|shrunk)$/.test(error.code);
}

/**
 * Tells of every change of a meet's log until it is closed.
 * @param meetPath - The meet file; its log is beside it.
 * @param changed - Called after every change.
 * @returns `close` ends it.
 * @example
 * const watcher = watchLog('harbour.yaml', () => console.log('a new score'));
 * watcher.close() // → undefined
 */
export function watchLog(meetPath: string, changed: () => void): { readonly close: () => void } {
  return { close: follow([logPathOf(meetPath)], changed) };
}
