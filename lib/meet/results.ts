/** What the rows of the score log mean: checked against the meet, then played one after another. */

import type { ProblemCode } from '../codes.js';
import {
  asScore,
  formatScore,
  type Parsed,
  parseScore,
  quote,
  type Score,
  type Units,
  unitsPerPoint,
} from '../score.js';
import { highestE, highestWith, isOnGrid, scoreLimit } from '../scoring.js';
import type { LogRow, LogValues } from './log.js';
import {
  apparatusOf,
  gymnastOf,
  type Meet,
  type Range,
  type Result,
  rangeAt,
  routineOf,
  type Scored,
} from './meet.js';
import { didYouMean, type ProblemList, plain, report } from './problems.js';

/** A row that can be counted: what it does, and what is odd about it. */
export interface CheckedRow {
  /** Index of the routine. */
  readonly routine: number;
  /** `void` takes back the row that stands. */
  readonly result: Result | 'void';
  /** Odd, but accepted: a score off the grid. */
  readonly notes: readonly string[];
}

/** Why a row cannot be counted. */
export interface RefusedRow {
  readonly code: ProblemCode;
  readonly wrong: string;
  readonly mend: string;
}

/** Checks one row against the meet, whether it comes from a log or is about to be written. */
export function checkRow(meet: Meet, values: LogValues): CheckedRow | RefusedRow {
  const gymnast = findById(meet, values.gymnast);
  if (gymnast === undefined) {
    return {
      code: 'unknown-gymnast',
      wrong: `gymnast ${quote(values.gymnast)} is not in the list`,
      mend: didYouMean(
        values.gymnast,
        meet.gymnasts.map((g) => g.id),
        'write her id as in the meet file',
      ),
    };
  }
  const code = values.apparatus.toUpperCase();
  if (apparatusOf(meet, code) === undefined) {
    return {
      code: 'unknown-apparatus',
      wrong: `apparatus ${quote(values.apparatus)} is no part of this meet`,
      mend: `one of: ${meet.apparatus.map((a) => a.code).join(', ')}`,
    };
  }
  const routine = routineOf(meet, gymnast.id, code);
  if (routine === undefined) {
    return {
      code: 'not-her-apparatus',
      wrong: `${gymnast.id} does not compete on ${code}`,
      mend: `hers: ${gymnast.on.join(', ') || 'none'}; mend \`on\` or the rotations in the meet file`,
    };
  }
  const word = values.score.toUpperCase();
  if (word === 'DNS' || word === 'DNF') return { routine: routine.index, result: word, notes: [] };
  if (word === 'VOID') return { routine: routine.index, result: 'void', notes: [] };
  const scored = readScored(meet, code, values);
  if ('wrong' in scored) return { code: 'wrong-score', ...scored };
  return {
    routine: routine.index,
    result: scored.value,
    notes: oddities(meet, routine.index, scored.value),
  };
}

/** By the exact id, or by the only id that differs in case alone. */
function findById(meet: Meet, text: string) {
  const exact = gymnastOf(meet, text);
  if (exact !== undefined) return exact;
  const alike = meet.gymnasts.filter((g) => plain(g.id) === plain(text));
  return alike.length === 1 ? alike[0] : undefined;
}

type Details = Readonly<Record<'score' | 'd' | 'e' | 'nd', Score | null>>;

function readScored(meet: Meet, code: string, values: LogValues): Parsed<Scored> {
  const { decimals } = meet.scoring;
  const details: Record<string, Score | null> = { d: null, e: null, nd: null };
  for (const key of ['score', 'd', 'e', 'nd'] as const) {
    if (key !== 'score' && values[key] === '') continue;
    const parsed = parseScore(values[key], decimals);
    if ('wrong' in parsed) {
      return {
        wrong: key === 'score' ? parsed.wrong : `${key}: ${parsed.wrong}`,
        mend: key === 'score' ? `${parsed.mend}, or DNS, DNF or void` : parsed.mend,
      };
    }
    details[key] = parsed.value;
  }
  return completed(meet, code, details as Details);
}

/** D, E and ND of a score, the one of D and E that is not given worked out from the other. */
function completed(meet: Meet, code: string, given: Details): Parsed<Scored> {
  const show = (s: Units) => formatScore(s, meet.scoring.decimals);
  const score = given.score ?? asScore(0);
  const nd = given.nd ?? asScore(0);
  let { d, e } = given;
  if (d !== null && e !== null) {
    // Deductions never take a score below 0.000.
    if (Math.max(d + e - nd, 0) !== score) {
      return {
        wrong: `D ${show(d)} + E ${show(e)} - ND ${show(nd)} is ${show(d + e - nd)}, not ${show(score)}`,
        mend: 'correct whichever of the four was misheard',
      };
    }
  } else if (d !== null) e = asScore(score + nd - d);
  else if (e !== null) d = asScore(score + nd - e);
  if ((d ?? 0) < 0 || (e ?? 0) < 0) {
    // In `ten` the D score is a start value, which a score does not reach.
    if (meet.scoring.system === 'open') {
      const [name, part] = (d ?? 0) < 0 ? ['E', e ?? 0] : ['D', d ?? 0];
      return {
        wrong: `${name} ${show(part)} alone is more than the score ${show(score)}`,
        mend: `correct the score or ${name}`,
      };
    }
    d = given.d;
    e = given.e;
  }
  const own = apparatusOf(meet, code)?.limit ?? null;
  const limit = scoreLimit(meet.scoring, own);
  if (score > limit) {
    const mend = own === null && meet.scoring.system === 'open' ? ', or raise `ceiling`' : '';
    return {
      wrong: `${show(score)} is over the limit of ${show(limit)}`,
      mend: `check the decimal point${mend}`,
    };
  }
  const most = d === null ? null : highestWith(d, meet.scoring.decimals);
  if (d !== null && most !== null && score > most) {
    return {
      wrong: `${show(score)} is over ${show(most)}, the most there is with a D of ${show(d)}`,
      mend: 'correct the score or D',
    };
  }
  return { value: { score, d, e, nd } };
}

function oddities(meet: Meet, routine: number, { score, e }: Scored): string[] {
  const show = (s: Units) => formatScore(s, meet.scoring.decimals);
  const notes: string[] = [];
  if (!isOnGrid(score, meet.scoring.grid)) {
    notes.push(`${show(score)} is no average of this meet's panel; taken as it is`);
  }
  if (e !== null && e > highestE(meet.scoring.decimals)) {
    notes.push(`E would be ${show(e)}, more than 10`);
  }
  // By what the files give: what is usual after tonight's scores is not known while they are read.
  const given = meet.given[routine];
  const far = given === undefined ? null : farFrom(meet, given, score);
  return far === null ? notes : [...notes, far];
}

/** Farther than this from everything in her range a score is rather misheard, in points. */
const FAR = 3;

/**
 * How a score differs by more than three points from everything in her range, in words; null where it
 * does not: 1.433 was 14.333, or the routine broke off.
 */
export function farFromRange(meet: Meet, routine: number, score: Units): string | null {
  return farFrom(meet, rangeAt(meet, routine), score);
}

function farFrom(meet: Meet, { low, high }: Range, score: Units): string | null {
  const far = FAR * unitsPerPoint(meet.scoring.decimals);
  const show = (s: Units) => formatScore(s, meet.scoring.decimals);
  const { her } = meet.words;
  if (high !== null && score > high + far) {
    return `${show(score)} is more than three points above ${her} best of ${show(high)}`;
  }
  if (low !== null && score < low - far) {
    return `${show(score)} is more than three points below ${her} low of ${show(low)}`;
  }
  return null;
}

/** How a score compares with what was thought realistic, in words, when it lies outside. */
export function outsideRange(meet: Meet, routine: number, score: Units): string | null {
  const range = rangeAt(meet, routine);
  const show = (s: Units) => formatScore(s, meet.scoring.decimals);
  if (range.high !== null && score > range.high) {
    return `${show(score)} is above her realistic best of ${show(range.high)}`;
  }
  const floor = range.low === null ? null : range.low - 2 * meet.scoring.fall;
  if (floor !== null && score < floor) {
    return `${show(score)} is below her low of ${show(range.low ?? 0)} less two falls`;
  }
  return null;
}

/** The last row that stands: a `void` takes away the one before it of the same routine. */
export function lastStandingRow(rows: readonly LogRow[]): LogRow | null {
  const standing: LogRow[] = [];
  for (const row of rows) {
    const { gymnast, apparatus, score } = row.values;
    if (score.trim().toLowerCase() !== 'void') {
      standing.push(row);
      continue;
    }
    const at = standing.findLastIndex(
      ({ values: v }) =>
        plain(v.gymnast) === plain(gymnast) && plain(v.apparatus) === plain(apparatus),
    );
    if (at >= 0) standing.splice(at, 1);
  }
  return standing.at(-1) ?? null;
}

/**
 * Plays the rows in order. A later row supersedes the earlier one, `void` takes back the row that
 * stands and the one before it counts again. Rows that cannot be counted are reported. By routine: all
 * that was entered and not taken back, the last the one that stands.
 */
export function playLog(meet: Meet, rows: readonly LogRow[], list: ProblemList): Result[][] {
  const standing = meet.routines.map((): { result: Result; line: number }[] => []);
  for (const { line, values } of rows) {
    const checked = checkRow(meet, values);
    if ('wrong' in checked) {
      report(list, 'error', checked.code, line, checked.wrong, checked.mend);
      continue;
    }
    for (const note of checked.notes) {
      report(list, 'note', 'odd-score', line, note, 'nothing, if it was announced so');
    }
    const stack = standing[checked.routine];
    if (stack === undefined) continue;
    if (checked.result !== 'void') {
      noteRepeat(stack.at(-1), checked.result, line, list);
      stack.push({ result: checked.result, line });
    } else if (stack.pop() === undefined) {
      report(
        list,
        'warning',
        'nothing-to-void',
        line,
        'there is no row for this to take back',
        'check the gymnast and the apparatus',
      );
    }
  }
  return standing.map((stack) => stack.map(({ result }) => result));
}

function noteRepeat(
  earlier: { result: Result; line: number } | undefined,
  result: Result,
  line: number,
  list: ProblemList,
): void {
  if (earlier === undefined || JSON.stringify(earlier.result) !== JSON.stringify(result)) return;
  report(
    list,
    'note',
    'row-twice',
    line,
    `the same as line ${earlier.line}; it counts once`,
    'nothing',
  );
}
