/** `record`: the next meet, and what a row changed. */

import { rank } from '../contest/board.js';
import { type Contest, contestCounting, findContest } from '../contest/contest.js';
import { goalsOf } from '../contest/goal.js';
import { bothSenses, type Settled, settledIn } from '../contest/settled.js';
import { contenderFor } from '../contest/who.js';
import { badUsage } from '../error.js';
import type { LogValues } from '../meet/log.js';
import {
  type Act,
  isScored,
  isToCome,
  type Meet,
  type Result,
  type Routine,
  resultFor,
  routineOf,
} from '../meet/meet.js';
import { resultShown } from '../meet/names.js';
import { farFromRange, outsideRange, type ReadRow } from '../meet/rows.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score } from '../score.js';
import { type Rows, rowsToRecord, type ToRecord } from './to-record.js';
import { outOfTurn } from './turn.js';

/** A row as it stands in the log; null where it has no value. */
export interface WrittenRow {
  /** Whose it is, by id; every row has it. */
  readonly gymnast: string | null;
  /** The code of the apparatus, or `all`; every row has it. */
  readonly apparatus: string | null;
  /** A score with the meet's decimals, or one of the words for one: `DNS`, `up`, `void`, … */
  readonly score: string | null;
  /** The difficulty score. */
  readonly d: string | null;
  /** The execution score. */
  readonly e: string | null;
  /** Neutral deductions. */
  readonly nd: string | null;
  /** `inquiry` where the score stands and may change. */
  readonly status: string | null;
  /** Anything that was to be kept with the row. */
  readonly note: string | null;
  /** When it was written, as a time in ISO form. */
  readonly at: string | null;
}

/** What a row is to the routine it speaks of: a new score, one changed by an inquiry, one corrected, … */
export type RecordedKind =
  | 'score'
  | 'changed'
  | 'corrected'
  | 'confirmed'
  | 'inquiry'
  | 'withdrawn'
  | 'taken-back'
  | 'up'
  | 'steps-in'
  | 'order';

/** What a row changed. */
export interface Recorded {
  /** The row that was written, or the first of several. */
  readonly row: WrittenRow;
  /** More than one when she was withdrawn from several routines. */
  readonly rows: readonly WrittenRow[];
  /** Always true: what is refused throws. */
  readonly accepted: true;
  /** What the row is to the routine it speaks of. */
  readonly kind: RecordedKind;
  /** What sort of row was taken back; null where none was. */
  readonly took: Act['kind'] | null;
  /** What stood of her routine before; null where nothing did. */
  readonly was: Score | 'DNS' | 'DNF' | null;
  /** What stands of it now. */
  readonly now: Score | 'DNS' | 'DNF' | null;
  /** The contest that total, place, changes and settled speak of. */
  readonly contest: string;
  /** What is odd about the row, and what it replaced, in sentences without an end. */
  readonly warnings: readonly string[];
  /** Of the gymnast, or her team, in the contest; null where she is no contender. */
  readonly total: Score | null;
  /** The place with the row; null without one. */
  readonly place: number | null;
  /** Whose place on the board changed; null is no place. */
  readonly changes: readonly {
    /** Of a gymnast or a team that the contest ranks. */
    id: string;
    /** Before the row. */
    from: number | null;
    /** With it. */
    to: number | null;
  }[];
  /** What this row settled. */
  readonly settled: readonly ({
    /** For whom it is settled now. */
    id: string;
  } & Settled)[];
  /** What was settled before it and is not any more. */
  readonly unsettled: readonly ({
    /** For whom it is open again. */
    id: string;
  } & Settled)[];
}

/** A meet with a score recorded, and what that changed. */
export interface RecordedMeet {
  /** The next meet, with the row in it; the one that was passed in stays as it is. */
  readonly meet: Meet;
  /** What the row changed, as the command `record` prints it. */
  readonly recorded: Recorded;
}

/** Which contest is spoken of, and whether an unlikely score is refused. */
export interface RecordOptions {
  /** Which contest is spoken of: the first without it. */
  readonly contest?: string | null | undefined;
  /**
   * Refuse a score more than three points from everything in her range (1.433 where 14.333 was meant),
   * as the command does without `--yes`. Without it such a score is taken, with a warning: routines do
   * break off.
   */
  readonly careful?: boolean | undefined;
}

/**
 * Records a score in memory: the next meet, and what it changed. Nothing is written, and the meet that is
 * passed in stays as it is.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param told - Whose score it is, on which apparatus, and how much.
 * @param options - Which contest is spoken of, and whether an unlikely score is refused.
 * @throws the code of a problem: what `check` would call an error or a warning of the row: `wrong-score` for
 *   a score over the limit, `not-her-apparatus`, …
 * @throws `far-from-range`: with `careful`, more than three points from everything in her range
 * @throws `nothing-to-come`: she is withdrawn from `all`, and nothing of hers is to come
 * @throws `nothing-to-void`: `void`, and no row of hers stands there
 * @throws `wrong-score`: no score and no word for one
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.5' };
 * const { meet: next, recorded } = record(meet, told);
 * [recorded.total, recorded.place] // → [43466, 2]
 * [needs(meet, 'brondt').apparatus, needs(next, 'brondt').apparatus] // → ['BB', 'FX']
 * record(meet, { ...told, d: '5.5', e: '8.5' }) // → throws wrong-score
 * record(meet, { ...told, score: '1.45' }, { careful: true }) // → throws far-from-range
 */
export function record(meet: Meet, told: ToRecord, options: RecordOptions = {}): RecordedMeet {
  return recordRows(meet, rowsToRecord(meet, told), options);
}

/** The same with rows that were checked already. */
export function recordRows(meet: Meet, rows: Rows, options: RecordOptions): RecordedMeet {
  if (options.careful === true) refuseFar(meet, rows);
  return { meet: rows.next.meet, recorded: whatChanged(meet, rows, options) };
}

function refuseFar(meet: Meet, { read }: Rows): void {
  for (const { act, ...whose } of read) {
    const routine = routineIn(meet, whose);
    if (routine === undefined || act === 'void' || act.kind !== 'result') continue;
    if (!isScored(act.result)) continue;
    const far = farFromRange(meet, routine.index, act.result.score);
    if (far === null) continue;
    throw badUsage('far-from-range', far, 'check the decimal point; if it is right, say --yes');
  }
}

/** What the rows did to the board of the meet before them. */
function whatChanged(before: Meet, { rows, read, next }: Rows, options: RecordOptions): Recorded {
  const after = next.meet;
  const [first] = read;
  const [row] = rows;
  if (first === undefined || row === undefined) throw new RangeError('no rows');
  const contest =
    options.contest == null
      ? contestCounting(after, routineIn(after, first))
      : findContest(after, options.contest);
  const gymnast = after.gymnasts.find((g) => g.id === row.gymnast);
  const contender = gymnast && contenderFor(contest, gymnast);
  const contestBefore = findContest(before, contest.id);
  const was = placesOf(before, contestBefore);
  const is = placesOf(after, contest);
  const settledBefore = settledOf(before, contestBefore);
  const settledNow = settledOf(after, contest);
  return {
    row: writtenRow(row),
    rows: rows.map(writtenRow),
    accepted: true,
    kind: kindOf(before, after, first, row.note),
    took: first.act === 'void' ? lastAct(before, first) : null,
    was: standsOf(before, first),
    now: standsOf(after, first),
    contest: contest.id,
    warnings: [
      ...read.flatMap((r) => warningsFor(before, r)),
      ...next.lost.map(
        ({ told, wrong }) =>
          `a row of ${told.gymnast} on ${told.apparatus} counts no more: ${wrong}`,
      ),
    ],
    total:
      contender === undefined
        ? null
        : asScore(entryOf(contender, recordedPerformances(after)).total),
    place: contender === undefined ? null : (is.get(contender.id) ?? null),
    changes: contest.contenders.flatMap(({ id }) => {
      const [from, to] = [was.get(id) ?? null, is.get(id) ?? null];
      return from === to ? [] : [{ id, from, to }];
    }),
    settled: settledNow.filter((s) => !isAmong(settledBefore, s, 'exactly')),
    unsettled: settledBefore.filter((s) => !isAmong(settledNow, s, 'in any sense')),
  };
}

function writtenRow(row: LogValues): WrittenRow {
  const { gymnast, apparatus, score, d, e, nd, status, note, at } = row;
  const written = (value: string) => (value === '' ? null : value);
  return {
    gymnast: written(gymnast),
    apparatus: written(apparatus),
    score: written(score),
    d: written(d),
    e: written(e),
    nd: written(nd),
    status: written(status),
    note: written(note),
    at: written(at),
  };
}

function placesOf(meet: Meet, contest: Contest): Map<string, number | null> {
  const { rows } = rank(contest, recordedPerformances(meet));
  return new Map(rows.map((r) => [r.entry.contender.id, r.place]));
}

function settledOf(meet: Meet, contest: Contest): ({ id: string } & Settled)[] {
  const senses = bothSenses(meet, contest);
  const targets = goalsOf(contest);
  return contest.contenders.flatMap((c) =>
    settledIn(senses, contest, c, targets).map((s) => ({ id: c.id, ...s })),
  );
}

function isAmong(
  all: readonly ({ id: string } & Settled)[],
  { id, target, status, by }: { id: string } & Settled,
  how: 'exactly' | 'in any sense',
): boolean {
  return all.some(
    (s) =>
      s.id === id &&
      s.target === target &&
      s.status === status &&
      (how !== 'exactly' || s.by === by),
  );
}

type Whose = Pick<ReadRow, 'gymnast' | 'apparatus'>;

function routineIn(meet: Meet, { gymnast, apparatus }: Whose): Routine | undefined {
  return routineOf(meet, gymnast, apparatus);
}

function resultIn(meet: Meet, { gymnast, apparatus }: Whose): Result | null {
  return resultFor(meet, gymnast, apparatus);
}

/** The sort of the last row of a gymnast on an apparatus that stands. */
function lastAct(meet: Meet, { gymnast, apparatus }: Whose): Act['kind'] | null {
  const last = meet.told.findLast((t) => t.gymnast === gymnast && t.apparatus === apparatus);
  if (last === undefined) return null;
  const { act } = last;
  const isOpen = act.kind === 'result' && isScored(act.result) && act.result.underInquiry;
  return isOpen ? 'inquiry' : act.kind;
}

/** What stands of a routine: a score, or the word for a withdrawal; null where nothing does. */
export function standsOf(meet: Meet, whose: Whose): Recorded['was'] {
  const result = resultIn(meet, whose);
  return isScored(result) ? result.score : result;
}

const KINDS = { up: 'up', inquiry: 'inquiry', for: 'steps-in', after: 'order' } as const;

/** What a row is to the routine it speaks of, between the meets without and with it. */
export function kindOf(
  before: Meet,
  after: Meet,
  { act, ...whose }: ReadRow,
  note: string,
): RecordedKind {
  if (act === 'void') return 'taken-back';
  if (act.kind !== 'result') return KINDS[act.kind];
  const [was, is] = [resultIn(before, whose), resultIn(after, whose)];
  if (!isScored(is)) return 'withdrawn';
  if (was === null) return 'score';
  if (!isScored(was) || was.score !== is.score) {
    const isAfterInquiry = (isScored(was) && was.underInquiry) || /inquir/i.test(note);
    return isAfterInquiry ? 'changed' : 'corrected';
  }
  return is.underInquiry ? 'inquiry' : 'confirmed';
}

function warningsFor(meet: Meet, { act, notes, ...whose }: ReadRow): string[] {
  const warnings = [...notes];
  const { gymnast, apparatus } = whose;
  if (act === 'void' || act.kind !== 'result') return warnings;
  const standing = resultIn(meet, whose);
  if (standing !== null) {
    warnings.unshift(supersedes(resultShown(meet, standing), whose));
  }
  const routine = routineIn(meet, whose);
  if (routine === undefined || !isScored(act.result)) return warnings;
  const { score } = act.result;
  const odd = farFromRange(meet, routine.index, score) ?? outsideRange(meet, routine.index, score);
  if (odd !== null && !warnings.includes(odd)) warnings.push(odd);
  const turn = outOfTurn(meet, routine.index);
  if (turn !== null) warnings.push(turn);
  const earlier = meet.routines.filter(
    (r) => r.gymnast === gymnast && r.at < routine.at && isToCome(meet, r.index),
  );
  if (standing === null && earlier.length > 0) {
    const codes = earlier.map((r) => r.apparatus).join(', ');
    warnings.push(`${gymnast} has ${codes} still to come before ${apparatus}`);
  }
  return warnings;
}

/** That a row takes the place of what stood, as a warning says it. */
export function supersedes(stood: string, { gymnast, apparatus }: Whose): string {
  return `supersedes ${stood} of ${gymnast} on ${apparatus}`;
}
