/**
 * A results history: routines of earlier meets, one a row, dirty as such data are. What can be used
 * is used; what cannot is left out, with its line and the reason.
 */
import { LastRotationError } from '../error.js';
import { isEmptyRow, joinedRows, type Line, linesOf, splitLine } from '../meet/csv.js';
import { type Problem, type ProblemList, plain } from '../meet/problems.js';
import { type Decimals, formatScore, unitsPerPoint } from '../score.js';
import type { ScoringSystemName } from '../scoring.js';
import { type Column, headerOf, REQUIRED, valuesOf } from './columns.js';
import { type DateOrder, dateOrderOf, orderInWords } from './date.js';
import type { LeftOut, PastRoutine } from './routine.js';
import { rowReader, TEN } from './row.js';

/** Results of the past, as they were read. */
export interface History {
  /** How many the scores have: units are of the last of them. */
  readonly decimals: Decimals;
  /** By which system they were given, as far as that can be seen. */
  readonly scoring: ScoringSystemName;
  /** In the order of the file. */
  readonly routines: readonly PastRoutine[];
  /** Rows that are not used, and why. */
  readonly leftOut: readonly LeftOut[];
  /** What was understood, but is worth knowing: another spelling, a column that is not used. */
  readonly notes: readonly LeftOut[];
}

/** No history has a tenth of them. */
const MOST_ROWS = 2_000_000;

/**
 * Reads a history.
 * @param source - The text of the file, CSV (docs/ranges.md), and the name it goes by in messages.
 * @throws the code of a problem: its first line cannot be understood: `missing-column`, …
 * @throws `no-rows`, `few-rows`: none of its rows, or less than half, can be used
 * @throws `too-many-rows`: more than can be read
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quillmore,wag,2024-05-01,Quay Cup,final,FX,13.4`;
 * readHistory({ file: 'results.csv', text }).routines[0]?.score // → 13400
 */
export function readHistory({ file, text }: { file: string; text: string }): History {
  return readHistoryIn({ file, pieces: () => [text] });
}

/** A history that comes in pieces, each time anew: it is gone through twice, and never held as a whole. */
export interface HistoryInPieces {
  readonly file: string;
  readonly pieces: () => Iterable<string>;
}

/** Reads a history in pieces, as `readHistory` reads one as a whole. */
export function readHistoryIn({ file, pieces }: HistoryInPieces): History {
  const { decimals, dates, bySlashes } = lookedThrough({ file, pieces });
  const problems: Problem[] = [];
  const { rows, notes: onColumns } = rowsIn(pieces, { file, problems });
  const leftOut: LeftOut[] = [];
  const notes: LeftOut[] = [...onColumns, ...bySlashes];
  const names = new Map<string, { name: string; line: number }>();
  const spellings = new Map<string, string>();
  const all: PastRoutine[] = [];
  const readRow = rowReader(decimals, dates);
  for (const { line, values } of rows) {
    const read = readRow(line, values);
    if ('why' in read) {
      leftOut.push(read);
      continue;
    }
    if (values.rotation !== '' && read.rotation === null) {
      notes.push({ line, why: `"${values.rotation}" is not a rotation, and is ignored` });
    }
    const gymnast = knownName(read.gymnast, line);
    all.push(gymnast === read.gymnast ? read : { ...read, gymnast });
  }
  const again = repeated(all);
  const routines = again.size === 0 ? all : all.filter((r) => !again.has(r));
  for (const [{ line, score }, first] of again) {
    const why =
      first.score === score
        ? `the same routine as line ${first.line}`
        : `another score for the routine of line ${first.line}: ${formatScore(first.score, decimals)} there, ${formatScore(score, decimals)} here`;
    leftOut.push({ line, why });
  }
  for (const { severity, line, message } of problems) {
    (severity === 'error' ? leftOut : notes).push({ line: line ?? 1, why: message });
  }
  leftOut.sort((a, b) => a.line - b.line);
  notes.sort((a, b) => a.line - b.line);
  if (routines.length === 0) throw nothingUsable(file, leftOut);
  requireMost(file, routines.length, leftOut);
  const isTen = routines.every((r) => r.d === null && r.score <= TEN * unitsPerPoint(decimals));
  return { decimals, scoring: isTen ? 'ten' : 'open', routines, leftOut, notes };

  /** One gymnast is one gymnast, whatever the case, accents and blanks of her name. */
  function knownName(name: string, line: number): string {
    const met = spellings.get(name);
    if (met !== undefined) return met;
    const key = plain(name).replace(/[\s.,'’_-]+/g, ' ');
    const known = names.get(key) ?? { name, line };
    names.set(key, known);
    spellings.set(name, known.name);
    if (known.name !== name) {
      notes.push({ line, why: `${name} is taken to be ${known.name} (line ${known.line})` });
    }
    return known.name;
  }
}

interface Row {
  readonly line: number;
  readonly values: Record<Column, string>;
}

/** The rows under the first line, and what is to be said of that. */
function rowsIn(
  pieces: HistoryInPieces['pieces'],
  list: ProblemList,
): { rows: Iterable<Row>; notes: readonly LeftOut[] } {
  const lines = filledLines(pieces());
  const first: IteratorResult<Line, undefined> = lines.next();
  const { header, notes } = headerOf(list.file, first.value, list);
  const rows = function* (): Generator<Row> {
    let count = 0;
    for (const line of joinedRows(lines, header.delimiter, list)) {
      if (++count > MOST_ROWS) throw tooManyRows(list.file);
      const fields = splitLine(line.text, header.delimiter);
      const values = valuesOf(fields, header, line.number, list);
      if (values !== null) yield { line: line.number, values };
    }
  };
  return { rows: rows(), notes };
}

function* filledLines(pieces: Iterable<string>): Generator<Line, undefined> {
  for (const line of linesOf(pieces)) {
    const text = line.number === 1 ? line.text.replace(/^\uFEFF/, '') : line.text;
    if (!isEmptyRow(text)) yield { ...line, text };
  }
  return undefined;
}

/** What only the whole tells: how many decimals there are, and what comes first in dates with slashes. */
function lookedThrough({ file, pieces }: HistoryInPieces): {
  decimals: Decimals;
  dates: DateOrder | null;
  bySlashes: readonly LeftOut[];
} {
  let decimals: Decimals = 3;
  const texts = new Map<string, number>();
  for (const { line, values } of rowsIn(pieces, { file, problems: [] }).rows) {
    if (/[.,]\d{4}$/.test(values.score)) decimals = 4;
    if (!texts.has(values.date)) texts.set(values.date, line);
  }
  const dates = dateOrderOf(texts.keys());
  const [found] = [...texts].filter(([text]) => orderInWords(text, dates) !== null);
  if (found === undefined) return { decimals, dates, bySlashes: [] };
  const [text, line] = found;
  const why = `"${text}" is read as ${orderInWords(text, dates)}`;
  return { decimals, dates, bySlashes: [{ line, why }] };
}

/** Routines of a gymnast who has one in the same round and on the same apparatus already, with that one. */
function repeated(routines: readonly PastRoutine[]): Map<PastRoutine, PastRoutine> {
  const rounds = new Map<string, PastRoutine[]>();
  const plainly = new Map<string, string>();
  for (const routine of routines) {
    const { discipline, date, competition, round, apparatus } = routine;
    const meet = plainly.get(competition) ?? plain(competition);
    plainly.set(competition, meet);
    const key = [discipline, apparatus, date, meet, round.name].join('\n');
    const known = rounds.get(key);
    if (known === undefined) rounds.set(key, [routine]);
    else known.push(routine);
  }
  const again = new Map<PastRoutine, PastRoutine>();
  for (const round of rounds.values()) {
    const byGymnast = new Map<string, PastRoutine>();
    for (const routine of round) {
      const first = byGymnast.get(routine.gymnast);
      if (first === undefined) byGymnast.set(routine.gymnast, routine);
      else again.set(routine, first);
    }
  }
  return again;
}

function tooManyRows(file: string): LastRotationError {
  return new LastRotationError(`the history has more than ${MOST_ROWS} rows`, {
    kind: 'file',
    code: 'too-many-rows',
    file,
    mend: 'is it the right file?',
  });
}

/** A repeated row, and one that says that there was no score, is no loss. */
const NO_LOSS = /^(the same routine|no score)/;

/** Of a history that is mostly not understood nothing should be believed. */
function requireMost(file: string, used: number, leftOut: readonly LeftOut[]): void {
  const lost = leftOut.filter(({ why }) => !NO_LOSS.test(why));
  const [first] = lost;
  if (first === undefined || lost.length <= used) return;
  const { line, why } = first;
  throw new LastRotationError(`only ${used} of ${used + lost.length} rows can be used: ${why}`, {
    kind: 'file',
    code: 'few-rows',
    file,
    line,
    mend: 'see docs/ranges.md for what is understood',
  });
}

function nothingUsable(file: string, leftOut: readonly LeftOut[]): LastRotationError {
  const [first] = leftOut;
  return new LastRotationError(
    first === undefined ? 'there is no row in it' : `no row can be used: ${first.why}`,
    {
      kind: 'file',
      code: 'no-rows',
      file,
      line: first?.line ?? null,
      mend: `give rows of ${REQUIRED.join(',')}`,
    },
  );
}
