/** `record`: the next meet, and what a row changed. */

import { fieldExtremes, type Settled, settledIn } from '../chances/settled.js';
import { rank } from '../contest/board.js';
import { type Contest, findContest } from '../contest/contest.js';
import { recordedPerformances } from '../contest/recorded.js';
import { codeCalled } from '../contest/where.js';
import { contenderFor, findGymnast } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import type { LogValues } from '../meet/log.js';
import { apparatusOf, isToCome, type Meet, type Result, routineAt } from '../meet/meet.js';
import { didYouMean } from '../meet/problems.js';
import { withRows } from '../meet/recording.js';
import { type CheckedRow, checkRow, outsideRange } from '../meet/results.js';
import { requireSound } from '../meet/sound.js';
import { entryOf } from '../rules/entry.js';
import { asScore, formatScore, givenScore, type Score } from '../score.js';
import { outOfTurn } from './turn.js';

/** A score as it is told. */
export interface ToRecord {
  readonly gymnast: string;
  /** A code, or `all` to withdraw her from everything to come. */
  readonly apparatus: string;
  /** A score; `DNS` or `DNF`; or `void`, which takes back the row that stands. */
  readonly score: Score | string;
  readonly d?: Score | string | null;
  readonly e?: Score | string | null;
  readonly nd?: Score | string | null;
  readonly note?: string | null;
  /** The time of writing, for the log. */
  readonly at?: string | null;
}

/** Rows ready to be written. */
export interface Rows {
  readonly rows: readonly LogValues[];
  readonly checked: readonly CheckedRow[];
}

/** A row as it stands in the log; null where it has no value. */
export type WrittenRow = { readonly [C in keyof LogValues]: string | null };

/** What a row changed. Scores in units. */
export interface Recorded {
  readonly row: WrittenRow;
  /** More than one when she was withdrawn from several routines. */
  readonly rows: readonly WrittenRow[];
  readonly accepted: true;
  /** The contest that total, place, changes and settled speak of. */
  readonly contest: string;
  readonly warnings: readonly string[];
  /** Of the gymnast, or her team, in the contest; null where she is no contender. */
  readonly total: Score | null;
  readonly place: number | null;
  /** Whose place on the board changed; null is no place. */
  readonly changes: readonly { id: string; from: number | null; to: number | null }[];
  /** What this row settled. */
  readonly settled: readonly ({ id: string } & Settled)[];
}

/**
 * The rows that a told score makes, checked against the meet. Throws with the reason and the mend
 * when it is refused.
 */
export function rowsToRecord(meet: Meet, told: ToRecord): Rows {
  requireSound(meet);
  const gymnast = findGymnast(meet, told.gymnast);
  const { decimals } = meet.scoring;
  const part = (given: Score | string | null | undefined, what: string) => {
    const told = given ?? '';
    if (typeof told === 'string') return told.trim();
    return formatScore(givenScore(told, decimals, what), decimals);
  };
  const values = (apparatus: string): LogValues => ({
    gymnast: gymnast.id,
    apparatus,
    score: scoreWord(part(told.score, 'score')),
    d: part(told.d, 'd'),
    e: part(told.e, 'e'),
    nd: part(told.nd, 'nd'),
    note: part(told.note, 'note').replace(/\p{Cc}+/gu, ' '),
    at: part(told.at, 'at'),
  });
  const code = codeCalled(meet, told.apparatus);
  if (code !== 'ALL') {
    if (apparatusOf(meet, code) === undefined) {
      const codes = meet.apparatus.map((a) => a.code);
      throw badUsage(
        'unknown-apparatus',
        `apparatus "${told.apparatus}" is no part of this meet`,
        didYouMean(code, codes, 'one of'),
      );
    }
    const row = normalised(meet, values(code));
    return { rows: [row], checked: [accepted(meet, row)] };
  }
  if (!['DNS', 'DNF'].includes(values('').score)) {
    throw badUsage('wrong-score', 'only a withdrawal is for all', 'record … all DNS');
  }
  const toCome = meet.routines.filter((r) => r.gymnast === gymnast.id && isToCome(meet, r.index));
  if (toCome.length === 0) {
    throw noAnswer('nothing-to-come', `${gymnast.name} has nothing to come`, null);
  }
  const rows = toCome.map((r) => values(r.apparatus));
  return { rows, checked: rows.map((row) => accepted(meet, row)) };
}

function scoreWord(text: string): string {
  const word = text.toUpperCase();
  if (word === 'DNS' || word === 'DNF') return word;
  return word === 'VOID' ? 'void' : text;
}

/** Scores with all their decimals and a point, as a log should show them. */
function normalised(meet: Meet, row: LogValues): LogValues {
  const checked = accepted(meet, row);
  if (typeof checked.result === 'string') return row;
  const { decimals } = meet.scoring;
  const full = (text: string) => {
    if (text === '') return '';
    const [points = '', fraction = ''] = text.replace(',', '.').split('.');
    return `${points}.${fraction.padEnd(decimals, '0')}`;
  };
  return { ...row, score: full(row.score), d: full(row.d), e: full(row.e), nd: full(row.nd) };
}

function accepted(meet: Meet, row: LogValues): CheckedRow {
  const checked = checkRow(meet, row);
  if ('wrong' in checked) throw badUsage(checked.code, checked.wrong, checked.mend);
  if (checked.result === 'void' && isToCome(meet, checked.routine)) {
    throw badUsage(
      'nothing-to-void',
      `${row.gymnast} has no row on ${row.apparatus} to take back`,
      'check the gymnast and the apparatus',
    );
  }
  return checked;
}

/** A meet with a score recorded, and what that changed. */
export interface RecordedMeet {
  readonly meet: Meet;
  readonly recorded: Recorded;
}

/** Which contest is spoken of: the first without it. */
export interface RecordOptions {
  readonly contest?: string | null | undefined;
}

/**
 * Records a score in memory: the next meet, and what it changed. Nothing is written, and the meet that
 * is passed in stays as it is. Throws with the reason and the mend when the score is refused, as the
 * `record` of `lastrotation/files` does.
 * @example
 * const told = { gymnast: 'brandt', apparatus: 'BB', score: '14.5' };
 * const { meet: next, recorded } = record(meet, told);
 * [recorded.total, recorded.place] // → [43466, 2]
 * [needs(meet, 'brandt').apparatus, needs(next, 'brandt').apparatus] // → ['BB', 'FX']
 * record(meet, { ...told, d: '5.5', e: '8.5' }) // → throws wrong-score
 */
export function record(meet: Meet, told: ToRecord, options: RecordOptions = {}): RecordedMeet {
  return recordRows(meet, rowsToRecord(meet, told), options);
}

/** The same with rows that were checked already. */
export function recordRows(meet: Meet, rows: Rows, options: RecordOptions): RecordedMeet {
  const after = withRows(meet, rows.checked);
  return { meet: after, recorded: whatChanged(meet, after, rows, options) };
}

/** What the rows did to the board: `before` and `after` are the meet without and with them. */
function whatChanged(
  before: Meet,
  after: Meet,
  { rows, checked }: Rows,
  options: RecordOptions,
): Recorded {
  const contest = findContest(after, options.contest);
  const [first] = checked;
  const [row] = rows;
  if (first === undefined || row === undefined) throw new RangeError('no rows');
  const gymnast = after.gymnasts.find((g) => g.id === row.gymnast);
  const contender = gymnast && contenderFor(contest, gymnast);
  const was = placesOf(before, contest);
  const is = placesOf(after, contest);
  const settledBefore = new Set(settledOf(before, contest).map((s) => JSON.stringify(s)));
  return {
    row: writtenRow(row),
    rows: rows.map(writtenRow),
    accepted: true,
    contest: contest.id,
    warnings: checked.flatMap((c) => warningsFor(before, c)),
    total:
      contender === undefined
        ? null
        : asScore(entryOf(contender, recordedPerformances(after)).total),
    place: contender === undefined ? null : (is.get(contender.id) ?? null),
    changes: contest.contenders.flatMap(({ id }) => {
      const [from, to] = [was.get(id) ?? null, is.get(id) ?? null];
      return from === to ? [] : [{ id, from, to }];
    }),
    settled: settledOf(after, contest).filter((s) => !settledBefore.has(JSON.stringify(s))),
  };
}

function writtenRow(row: LogValues): WrittenRow {
  return Object.fromEntries(
    Object.entries(row).map(([column, value]) => [column, value === '' ? null : value]),
  ) as WrittenRow;
}

function placesOf(meet: Meet, contest: Contest): Map<string, number | null> {
  const { rows } = rank(contest, recordedPerformances(meet));
  return new Map(rows.map((r) => [r.entry.contender.id, r.place]));
}

function settledOf(meet: Meet, contest: Contest): ({ id: string } & Settled)[] {
  const senses = (['limit', 'ranges'] as const).map((by) => fieldExtremes(meet, contest, by));
  const targets = [
    { target: 'win', place: 1 },
    { target: 'medal', place: contest.medals },
  ];
  return contest.contenders.flatMap((c) =>
    settledIn(senses, contest, c, targets).map((s) => ({ id: c.id, ...s })),
  );
}

function warningsFor(meet: Meet, { routine, result, notes }: CheckedRow): string[] {
  const warnings = [...notes];
  const standing = meet.results[routine] ?? null;
  const { gymnast, apparatus, rotation } = routineAt(meet, routine);
  if (result !== 'void' && standing !== null) {
    warnings.unshift(`supersedes ${shown(meet, standing)} of ${gymnast} on ${apparatus}`);
  }
  if (typeof result !== 'string') {
    const odd = outsideRange(meet, routine, result.score);
    if (odd !== null) warnings.push(odd);
    const turn = outOfTurn(meet, routine);
    if (turn !== null) warnings.push(turn);
    const earlier = meet.routines.filter(
      (r) => r.gymnast === gymnast && r.rotation < rotation && isToCome(meet, r.index),
    );
    if (standing === null && earlier.length > 0) {
      const codes = earlier.map((r) => r.apparatus).join(', ');
      warnings.push(`${gymnast} has ${codes} still to come before ${apparatus}`);
    }
  }
  return warnings;
}

function shown(meet: Meet, result: Result): string {
  return typeof result === 'string' ? result : formatScore(result.score, meet.scoring.decimals);
}
