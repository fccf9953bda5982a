/** The rows that are told make: names, apparatus and words as a log has them, checked against the meet. */
import { codeCalled } from '../contest/where.js';
import { findGymnast } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import type { LogValues } from '../meet/log.js';
import {
  apparatusOf,
  type Gymnast,
  isScored,
  isToCome,
  type Meet,
  routineOf,
} from '../meet/meet.js';
import { type Extended, withRows } from '../meet/recording.js';
import { ALL, INQUIRY, moveIn, type ReadRow, readRow } from '../meet/rows.js';
import { requireSound } from '../meet/sound.js';
import { apparatusMend } from '../meet/which-apparatus.js';
import { formatScore, givenScore, type Score } from '../score.js';

/** A score as it is told. */
export interface ToRecord {
  /** Her id, or any part of her name that fits only one. */
  readonly gymnast: string;
  /** A code, or `all` to withdraw her from everything to come, or for somebody who steps in. */
  readonly apparatus: string;
  /**
   * A score; `DNS` or `DNF`; `up`: she has performed and the score is awaited; `inquiry`: the score that
   * stands may change; `confirmed`: it stays; `for:<id>`: she steps in for somebody from here on;
   * `after:<id>`: she goes up after somebody; or `void`, which takes back the row that stands.
   */
  readonly score: Score | string;
  /** The difficulty score, for tie rules that ask for it. */
  readonly d?: Score | string | null;
  /** The execution score, for tie rules that ask for it. */
  readonly e?: Score | string | null;
  /** Neutral deductions. */
  readonly nd?: Score | string | null;
  /** `inquiry`: the score stands, and may change. */
  readonly status?: string | null;
  /** Anything worth keeping with the row: "hand down on landing". */
  readonly note?: string | null;
  /** The time of writing, for the log. */
  readonly at?: string | null;
}

/** Rows ready to be written, and the meet with them. */
export interface Rows {
  readonly rows: readonly LogValues[];
  readonly read: readonly ReadRow[];
  readonly next: Extended;
}

/**
 * The rows that a told score makes, checked against the meet. Throws with the reason and the mend
 * when it is refused.
 */
export function rowsToRecord(meet: Meet, told: ToRecord): Rows {
  requireSound(meet);
  const gymnast = findGymnast(meet, told.gymnast);
  const rows = valuesOf(meet, gymnast, told).map((values) => normalised(meet, values));
  const read = rows.map((row) => accepted(meet, row));
  const next = withRows(meet, read);
  const [refused] = next.remarks.filter((r) => r.severity === 'warning');
  if (refused !== undefined) throw badUsage(refused.code, refused.wrong, refused.mend);
  const [row] = next.nothingToVoid.flatMap((i) => rows[i] ?? []);
  if (row !== undefined) {
    throw badUsage(
      'nothing-to-void',
      `${row.gymnast} has no row on ${row.apparatus} to take back`,
      'check the gymnast and the apparatus',
    );
  }
  return { rows, read, next };
}

/** One row, or one for each routine she is withdrawn from. */
function valuesOf(meet: Meet, gymnast: Gymnast, told: ToRecord): LogValues[] {
  const { decimals } = meet.scoring;
  const part = (given: Score | string | null | undefined, what: string) => {
    const told = given ?? '';
    if (typeof told === 'string') return told.trim();
    return formatScore(givenScore(told, decimals, what), decimals);
  };
  const values: LogValues = {
    gymnast: gymnast.id,
    apparatus: codeCalled(meet, told.apparatus),
    score: scoreWord(meet, part(told.score, 'score')),
    d: part(told.d, 'd'),
    e: part(told.e, 'e'),
    nd: part(told.nd, 'nd'),
    status: part(told.status, 'status').toLowerCase(),
    note: part(told.note, 'note').replace(/\p{Cc}+/gu, ' '),
    at: part(told.at, 'at'),
  };
  if (values.apparatus !== ALL.toUpperCase()) {
    if (apparatusOf(meet, values.apparatus) === undefined) {
      throw badUsage(
        'unknown-apparatus',
        `apparatus "${told.apparatus}" is no part of this meet`,
        apparatusMend(told.apparatus, meet.apparatus, 'one of'),
      );
    }
    return [withStandingScore(meet, gymnast, values)];
  }
  if (!['DNS', 'DNF'].includes(values.score)) return [{ ...values, apparatus: ALL }];
  const toCome = meet.routines.filter((r) => r.gymnast === gymnast.id && isToCome(meet, r.index));
  if (toCome.length === 0) {
    throw noAnswer('nothing-to-come', `${gymnast.name} has nothing to come`, null);
  }
  return toCome.map((r) => ({ ...values, apparatus: r.apparatus }));
}

const WORDS: readonly string[] = ['void', 'up', 'inquiry', 'confirmed'];

/** A score, or its word as a log has it; somebody else by her id. */
function scoreWord(meet: Meet, text: string): string {
  const word = text.toLowerCase();
  if (word === 'dns' || word === 'dnf') return word.toUpperCase();
  const move = moveIn(text);
  if (move !== null) return `${move.kind}:${findGymnast(meet, move.whom).id}`;
  return WORDS.includes(word) ? word : text;
}

/** An inquiry, and what confirms a score, are rows with the score that stands. */
function withStandingScore(meet: Meet, gymnast: Gymnast, values: LogValues): LogValues {
  if (values.score !== 'inquiry' && values.score !== 'confirmed') return values;
  const routine = routineOf(meet, gymnast.id, values.apparatus);
  const stands = routine && meet.results[routine.index];
  if (!isScored(stands)) {
    throw badUsage(
      'wrong-score',
      `${gymnast.name} has no score on ${values.apparatus} yet`,
      'record the score first',
    );
  }
  const show = (s: Score | null) => (s === null ? '' : formatScore(s, meet.scoring.decimals));
  const { score, d, e, nd } = stands;
  return {
    ...values,
    score: show(score),
    // What one of the two tells is worked out from the other.
    ...(d === null ? {} : { d: show(d), e: show(e), nd: show(nd) }),
    status: values.score === 'inquiry' ? INQUIRY : '',
  };
}

/** Scores with all their decimals and a point, as a log should show them. */
function normalised(meet: Meet, row: LogValues): LogValues {
  const { act } = accepted(meet, row);
  if (act === 'void' || act.kind !== 'result' || !isScored(act.result)) return row;
  const { decimals } = meet.scoring;
  const full = (text: string) => {
    if (text === '') return '';
    const [points = '', fraction = ''] = text.replace(',', '.').split('.');
    return `${points}.${fraction.padEnd(decimals, '0')}`;
  };
  return { ...row, score: full(row.score), d: full(row.d), e: full(row.e), nd: full(row.nd) };
}

function accepted(meet: Meet, row: LogValues): ReadRow {
  const read = readRow(meet, row);
  if ('wrong' in read) throw badUsage(read.code, read.wrong, read.mend);
  return read;
}
