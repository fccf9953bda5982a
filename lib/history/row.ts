/** One row of a results history. */
import { apparatusWritten, calledIn, type DisciplineCode } from '../apparatus.js';
import { plain } from '../meet/problems.js';
import { apparatusMend } from '../meet/which-apparatus.js';
import {
  type Decimals,
  formatScore,
  parseScore,
  type Score,
  type Units,
  unitsPerPoint,
} from '../score.js';
import { HIGHEST_D } from '../scoring.js';
import type { Column } from './columns.js';
import { type DateOrder, readDate } from './date.js';
import { readRound } from './round.js';
import type { LeftOut, PastRoutine } from './routine.js';

/** The highest score of `ten`, and the highest E score of `open`, in points. */
export const TEN = 10;

/** Reads what stands in many rows once, and keeps one text of it. */
function remembered<T>(read: (text: string) => T): (text: string) => T {
  const known = new Map<string, T>();
  return (text) => {
    const found = known.get(text);
    if (found !== undefined) return found;
    const value = read(text);
    known.set(text, value);
    return value;
  };
}

/** A text of its own: one that is cut from a file would keep the file in memory. */
function own(text: string): string {
  return ` ${text}`.slice(1);
}

/** Reads rows one after another: what each says, or why it is not used. */
export function rowReader(decimals: Decimals, dates: DateOrder | null) {
  const tidy = remembered((text) => own(text.replace(/\s+/g, ' ')));
  const dateIn = remembered((text) => readDate(text, dates));
  const roundIn = remembered((text) => readRound(text));
  const codeIn = {
    wag: remembered((text) => codeOf('wag', text)),
    mag: remembered((text) => codeOf('mag', text)),
  };
  return (line: number, values: Record<Column, string>): PastRoutine | LeftOut => {
    const gymnast = tidy(values.gymnast);
    if (gymnast === '') return { line, why: 'no gymnast' };
    const discipline = disciplineOf(values.discipline);
    if (discipline === null) {
      return { line, why: `"${values.discipline}" is not a discipline: write wag or mag` };
    }
    const date = dateIn(values.date);
    if ('why' in date) return { line, why: date.why };
    const apparatus = codeIn[discipline](values.apparatus);
    if (apparatus === null) {
      const near = apparatusMend(values.apparatus, calledIn(discipline), 'one of');
      return { line, why: `"${values.apparatus}" is not an apparatus of ${discipline}: ${near}` };
    }
    const parts = partsOf(values, decimals);
    if ('why' in parts) return { line, why: parts.why };
    return {
      line,
      gymnast,
      discipline,
      date: date.date,
      competition: tidy(values.competition),
      round: roundIn(values.round),
      apparatus,
      score: parts.score,
      d: parts.d,
      e: parts.e,
      nd: parts.nd,
      noc: values.noc === '' ? null : tidy(values.noc),
      place: wholeNumber(values.place),
      rotation: wholeNumber(values.rotation),
    };
  };
}

type Parts = Pick<PastRoutine, 'score' | 'd' | 'e' | 'nd'>;

/** The score and its parts, or why they cannot be used. */
function partsOf(values: Record<Column, string>, decimals: Decimals): Parts | { why: string } {
  if (/^(dns|dnf|dnq|dsq|-+)?$/i.test(values.score)) {
    return { why: values.score === '' ? 'no score' : `no score (${values.score})` };
  }
  const parts: Partial<Record<'score' | 'd' | 'e' | 'nd', Score | null>> = {};
  for (const column of ['score', 'd', 'e', 'nd'] as const) {
    const text = values[column];
    if (text === '') {
      parts[column] = null;
      continue;
    }
    const parsed = parseScore(text.replace(/^-(?=0|\d)/, column === 'nd' ? '' : '-'), decimals);
    if ('wrong' in parsed) return { why: `${column}: ${parsed.wrong}` };
    parts[column] = parsed.value;
  }
  const { score = null, d = null, e = null, nd = null } = parts;
  if (score === null) return { why: 'no score' };
  const wrong = impossible({ score, d, e, nd }, decimals);
  return wrong === null ? { score, d, e, nd } : { why: wrong };
}

/** What no score can be: over its limit, or not the sum of its parts. */
function impossible({ score, d, e, nd }: Parts, decimals: Decimals): string | null {
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

/** The code of the apparatus that is meant; null where it is none, or may be several. */
function codeOf(discipline: DisciplineCode, text: string): string | null {
  const [only, ...others] = apparatusWritten(calledIn(discipline), text);
  return others.length === 0 ? (only?.code ?? null) : null;
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
