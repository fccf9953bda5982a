/**
 * A results history: routines of earlier meets, one a row, dirty as such data are. What can be used
 * is used; what cannot is left out, with its line and the reason.
 */
import { LastRotationError } from '../error.js';
import { isEmptyRow, joinQuoted, physicalLines, splitLine } from '../meet/csv.js';
import { type Problem, type ProblemList, plain } from '../meet/problems.js';
import { type Decimals, formatScore, unitsPerPoint } from '../score.js';
import type { ScoringSystemName } from '../scoring.js';
import { headerOf, REQUIRED, valuesOf } from './columns.js';
import { dateOrderOf, orderInWords } from './date.js';
import { type LeftOut, type PastRoutine, readRow, TEN } from './row.js';

export type { LeftOut, PastRoutine };

export interface History {
  readonly decimals: Decimals;
  readonly scoring: ScoringSystemName;
  /** In the order of the file. */
  readonly routines: readonly PastRoutine[];
  readonly leftOut: readonly LeftOut[];
  /** What was understood, but is worth knowing: another spelling, a column that is not used. */
  readonly notes: readonly LeftOut[];
}

/** No history has a tenth of them. */
const MOST_ROWS = 2_000_000;

/**
 * Reads a history. Throws a `LastRotationError` when its first line cannot be understood, or when
 * no row of it can be used.
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quill,wag,2024-05-01,Quay Cup,final,FX,13.4`;
 * readHistory({ file: 'results.csv', text }).routines[0]?.score // → 13400
 */
export function readHistory({ file, text }: { file: string; text: string }): History {
  const problems: Problem[] = [];
  const list: ProblemList = { file, problems };
  const filled = physicalLines(text.replace(/^\uFEFF/, '')).filter((l) => !isEmptyRow(l.text));
  const [first, ...data] = filled;
  const { header, notes: onColumns } = headerOf(file, first, list);
  if (data.length > MOST_ROWS) {
    throw new LastRotationError(`the history has more than ${MOST_ROWS} rows`, {
      kind: 'file',
      code: 'too-many-rows',
      file,
      mend: 'is it the right file?',
    });
  }
  const rows = joinQuoted(data, header.delimiter, list).flatMap((line) => {
    const fields = splitLine(line.text, header.delimiter);
    const values = valuesOf(fields, header, line.number, list);
    return values === null ? [] : [{ line: line.number, values }];
  });
  const decimals: Decimals = rows.some((r) => /[.,]\d{4}$/.test(r.values.score)) ? 4 : 3;
  const dates = dateOrderOf(rows.map((r) => r.values.date));
  const leftOut: LeftOut[] = [];
  const notes: LeftOut[] = [...onColumns];
  const bySlashes = rows.find((r) => orderInWords(r.values.date, dates) !== null);
  if (bySlashes !== undefined) {
    const { line, values } = bySlashes;
    notes.push({ line, why: `"${values.date}" is read as ${orderInWords(values.date, dates)}` });
  }
  for (const { severity, line, message } of problems) {
    (severity === 'error' ? leftOut : notes).push({ line: line ?? 1, why: message });
  }
  const names = new Map<string, { name: string; line: number }>();
  const spellings = new Set<string>();
  const seen = new Map<string, PastRoutine>();
  const routines: PastRoutine[] = [];
  for (const { line, values } of rows) {
    const read = readRow(line, values, decimals, dates);
    if ('why' in read) {
      leftOut.push(read);
      continue;
    }
    if (values.rotation !== '' && read.rotation === null) {
      notes.push({ line, why: `"${values.rotation}" is not a rotation, and is ignored` });
    }
    const gymnast = knownName(read.gymnast, line);
    const routine = { ...read, gymnast };
    const key = [
      gymnast,
      routine.discipline,
      routine.date,
      plain(routine.competition),
      routine.round.name,
      routine.apparatus,
    ].join('\n');
    const same = seen.get(key);
    if (same === undefined) {
      seen.set(key, routine);
      routines.push(routine);
    } else if (same.score === routine.score) {
      leftOut.push({ line, why: `the same routine as line ${same.line}` });
    } else {
      leftOut.push({
        line,
        why: `another score for the routine of line ${same.line}: ${formatScore(same.score, decimals)} there, ${formatScore(routine.score, decimals)} here`,
      });
    }
  }
  if (routines.length === 0) throw nothingUsable(file, leftOut);
  requireMost(file, routines.length, leftOut);
  leftOut.sort((a, b) => a.line - b.line);
  const isTen = routines.every((r) => r.d === null && r.score <= TEN * unitsPerPoint(decimals));
  return { decimals, scoring: isTen ? 'ten' : 'open', routines, leftOut, notes };

  /** One gymnast is one gymnast, whatever the case, accents and blanks of her name. */
  function knownName(name: string, line: number): string {
    const key = plain(name).replace(/[\s.,'’_-]+/g, ' ');
    const known = names.get(key);
    if (known === undefined) {
      names.set(key, { name, line });
      return name;
    }
    if (known.name !== name && !spellings.has(name)) {
      notes.push({ line, why: `${name} is taken to be ${known.name} (line ${known.line})` });
      spellings.add(name);
    }
    return known.name;
  }
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
