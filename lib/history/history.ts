/**
 * A results history: routines of earlier meets, one a row, dirty as such data are. What can be used
 * is used; what cannot is left out, with its line and the reason.
 */
import { DISCIPLINES, type DisciplineCode, withFollowUps } from '../apparatus.js';
import { LastRotationError } from '../error.js';
import {
  type Header,
  isEmptyRow,
  joinQuoted,
  namedValues,
  physicalLines,
  readHeader,
  splitLine,
} from '../meet/csv.js';
import { didYouMean, type Problem, type ProblemList, plain, report } from '../meet/problems.js';
import {
  type Decimals,
  formatScore,
  parseScore,
  type Score,
  type Units,
  unitsPerPoint,
} from '../score.js';
import type { ScoringSystemName } from '../scoring.js';
import { readDate } from './date.js';
import { type Round, readRound } from './round.js';

const REQUIRED = [
  'gymnast',
  'discipline',
  'date',
  'competition',
  'round',
  'apparatus',
  'score',
] as const;
const COLUMNS = [...REQUIRED, 'd', 'e', 'nd', 'noc', 'place', 'rotation'] as const;
type Column = (typeof COLUMNS)[number];

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

export interface History {
  readonly decimals: Decimals;
  readonly scoring: ScoringSystemName;
  /** In the order of the file. */
  readonly routines: readonly PastRoutine[];
  readonly leftOut: readonly LeftOut[];
  /** What was understood, but is worth knowing: another spelling, a column that is not used. */
  readonly notes: readonly LeftOut[];
}

/** The highest score of `ten`, and the highest E score of `open`, in points. */
const TEN = 10;
/** No D score has ever come near this, in points. */
const HIGHEST_D = 10;

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
  const header = first && readHeader(first, COLUMNS, REQUIRED, list);
  if (!header) throw unreadable(file, problems);
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
  const leftOut: LeftOut[] = [];
  const notes: LeftOut[] = [];
  for (const { severity, line, message } of problems) {
    (severity === 'error' ? leftOut : notes).push({ line: line ?? 1, why: message });
  }
  const names = new Map<string, { name: string; line: number }>();
  const spellings = new Set<string>();
  const seen = new Map<string, PastRoutine>();
  const routines: PastRoutine[] = [];
  for (const { line, values } of rows) {
    const read = readRow(line, values, decimals);
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

function valuesOf(
  fields: readonly string[],
  header: Header<Column>,
  line: number,
  list: ProblemList,
): Record<Column, string> | null {
  const values = namedValues(fields, header, COLUMNS, line, list);
  if (values === null || header.delimiter !== ',') return values;
  const next = fields[header.columns.indexOf('score') + 1] ?? '';
  const isWhole = values.d !== '' && values.e !== '';
  // Without quotes a decimal comma makes two values of one score.
  if (isWhole || !/^\d+$/.test(values.score) || !/^\d{1,4}$/.test(next)) return values;
  report(
    list,
    'error',
    'comma-in-score',
    line,
    `"${values.score},${next}" may be one score or two values`,
    'put a score with a comma in quotes',
  );
  return null;
}

function readRow(
  line: number,
  values: Record<Column, string>,
  decimals: Decimals,
): PastRoutine | LeftOut {
  const gymnast = values.gymnast.replace(/\s+/g, ' ');
  if (gymnast === '') return { line, why: 'no gymnast' };
  const discipline = disciplineOf(values.discipline);
  if (discipline === null) {
    return { line, why: `"${values.discipline}" is not a discipline: write wag or mag` };
  }
  const date = readDate(values.date);
  if ('why' in date) return { line, why: date.why };
  const codes: readonly string[] = apparatusOf(discipline);
  const apparatus = values.apparatus.toUpperCase().replace(/^VT1$/, 'VT');
  if (!codes.includes(apparatus)) {
    const near = didYouMean(values.apparatus, codes, `one of`);
    return { line, why: `"${values.apparatus}" is not an apparatus of ${discipline}: ${near}` };
  }
  if (/^(dns|dnf|dnq|dsq|-+)?$/i.test(values.score)) {
    return { line, why: values.score === '' ? 'no score' : `no score (${values.score})` };
  }
  const parts: Partial<Record<'score' | 'd' | 'e' | 'nd', Score | null>> = {};
  for (const column of ['score', 'd', 'e', 'nd'] as const) {
    const text = values[column];
    if (text === '') {
      parts[column] = null;
      continue;
    }
    const parsed = parseScore(text.replace(/^-(?=0|\d)/, column === 'nd' ? '' : '-'), decimals);
    if ('wrong' in parsed) return { line, why: `${column}: ${parsed.wrong}` };
    parts[column] = parsed.value;
  }
  const { score = null, d = null, e = null, nd = null } = parts;
  if (score === null) return { line, why: 'no score' };
  const wrong = impossible({ score, d, e, nd }, decimals);
  if (wrong !== null) return { line, why: wrong };
  return {
    line,
    gymnast,
    discipline,
    date: date.date,
    competition: values.competition.replace(/\s+/g, ' '),
    round: readRound(values.round),
    apparatus,
    score,
    d,
    e,
    nd,
    noc: values.noc === '' ? null : values.noc,
    place: wholeNumber(values.place),
    rotation: wholeNumber(values.rotation),
  };
}

/** What no score can be: over its limit, or not the sum of its parts. */
function impossible(
  { score, d, e, nd }: Pick<PastRoutine, 'score' | 'd' | 'e' | 'nd'>,
  decimals: Decimals,
): string | null {
  const point = unitsPerPoint(decimals);
  const show = (s: Units) => formatScore(s, decimals);
  if (d !== null && d > HIGHEST_D * point) return `D ${show(d)} cannot be a D score`;
  if (e !== null && e > TEN * point) return `E ${show(e)} is over ${show(TEN * point)}`;
  const most = (d ?? HIGHEST_D * point) + TEN * point;
  if (score > most) return `${show(score)} is over the limit of ${show(most)}`;
  if (d === null || e === null) return null;
  const sum = Math.max(d + e - (nd ?? 0), 0);
  // A routine that is broken off early may be worth nothing, whatever its parts.
  if (sum === score || score === 0) return null;
  return `D ${show(d)} + E ${show(e)} - ND ${show(nd ?? 0)} is ${show(sum)}, not ${show(score)}`;
}

/** The apparatus of a discipline, the second vault too. */
export function apparatusOf(discipline: DisciplineCode): string[] {
  const all = DISCIPLINES[discipline].apparatus.map(([code, name]) => {
    return { code, name, limit: null, follows: null };
  });
  return withFollowUps(all).map((a) => a.code);
}

function disciplineOf(text: string): DisciplineCode | null {
  const word = plain(text);
  if (/^(wag|w|women('?s)?|female|f)$/.test(word)) return 'wag';
  if (/^(mag|m|men('?s)?|male)$/.test(word)) return 'mag';
  return null;
}

function wholeNumber(text: string): number | null {
  return /^\d{1,4}$/.test(text) && Number(text) > 0 ? Number(text) : null;
}

function unreadable(file: string, problems: readonly Problem[]): LastRotationError {
  const first = problems.find((p) => p.severity === 'error');
  return new LastRotationError(first?.message ?? 'there is nothing in it', {
    kind: 'file',
    code: first?.code ?? 'empty',
    file,
    line: first?.line ?? null,
    mend: first?.mend ?? `begin with a line that names the columns: ${REQUIRED.join(',')}`,
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
