/** What one row of the score log says: whose, where, and a score or a word that stands for one. */
import { apparatusWritten } from '../apparatus.js';
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
import type { LogValues } from './log.js';
import {
  type Act,
  apparatusOf,
  gymnastOf,
  type Meet,
  type Range,
  rangeAt,
  type Scored,
} from './meet.js';
import { didYouMean, plain } from './problems.js';
import { givenIn } from './ranges.js';
import { apparatusMend } from './which-apparatus.js';

/** A row by itself: whether it fits the evening is found when it is played. */
export interface ReadRow {
  readonly gymnast: string;
  /** A code, or `all`. */
  readonly apparatus: string;
  /** `void` takes back the row of the same gymnast and apparatus that stands. */
  readonly act: Act | 'void';
  /** Odd, but accepted: a score off the grid. */
  readonly notes: readonly string[];
}

/** Why a row cannot be counted. */
export interface RefusedRow {
  readonly code: ProblemCode;
  readonly wrong: string;
  readonly mend: string;
}

/** Reads one row, whether it comes from a log or is about to be written. */
export function readRow(meet: Meet, values: LogValues): ReadRow | RefusedRow {
  const gymnast = findById(meet, values.gymnast);
  if (gymnast === undefined) return unknownGymnast(meet, values.gymnast);
  const isAll = values.apparatus.toLowerCase() === ALL;
  const found = isAll ? [] : apparatusWritten(meet.apparatus, values.apparatus);
  const apparatus = isAll ? ALL : found[0]?.code;
  if (apparatus === undefined || found.length > 1) {
    return {
      code: 'unknown-apparatus',
      wrong:
        apparatus === undefined
          ? `${quote(values.apparatus)} is not an apparatus of this meet`
          : `${quote(values.apparatus)} may be ${found.map((a) => a.name).join(' or ')}`,
      mend: apparatusMend(values.apparatus, meet.apparatus, 'choose from'),
    };
  }
  const read = readAct(meet, { gymnast: gymnast.id, apparatus }, values);
  if ('code' in read) return read;
  return { gymnast: gymnast.id, apparatus, ...read };
}

/** Instead of an apparatus: everything of hers that is still to come. */
export const ALL = 'all';

/** The word of a row for a score under inquiry. */
export const INQUIRY = 'inquiry';

/** `for:fitch`, `after:lund`: who steps in for whom, and who goes up after whom; null for other words. */
export function moveIn(score: string): { kind: 'for' | 'after'; whom: string } | null {
  const [, how = '', whom = ''] = /^(for|after):(.*)$/i.exec(score.trim()) ?? [];
  if (how === '') return null;
  return { kind: how.toLowerCase() === 'for' ? 'for' : 'after', whom: whom.trim() };
}

/** What the score and the status of a row say. */
function readAct(
  meet: Meet,
  whose: Pick<ReadRow, 'gymnast' | 'apparatus'>,
  values: LogValues,
): Pick<ReadRow, 'act' | 'notes'> | RefusedRow {
  const { apparatus } = whose;
  const status = values.status.toLowerCase();
  if (status !== '' && status !== INQUIRY) {
    const wrong = `status ${quote(values.status)} is not known`;
    return { code: 'wrong-value', wrong, mend: `leave it empty, or write ${INQUIRY}` };
  }
  const word = values.score.toUpperCase();
  const notes: string[] = [];
  if (word === 'DNS' || word === 'DNF') return { act: { kind: 'result', result: word }, notes };
  if (word === 'VOID') return { act: 'void', notes };
  const move = moveIn(values.score);
  if (move !== null && (move.kind === 'for' || apparatus !== ALL)) {
    const found = findById(meet, move.whom);
    if (found === undefined) return unknownGymnast(meet, move.whom);
    const { kind } = move;
    const whom = found.id;
    // What the other has performed by then is known where the rows before it are.
    return { act: kind === 'for' ? { kind, whom, performed: [] } : { kind, whom }, notes };
  }
  if (apparatus === ALL) {
    const wrong = '“all” is only for a withdrawal, or for stepping in for somebody';
    return { code: 'wrong-score', wrong, mend: 'write record … all DNS, or record … all for:ID' };
  }
  if (word === 'UP') return { act: { kind: 'up' }, notes };
  if (values.score === '' && status === INQUIRY) return { act: { kind: 'inquiry' }, notes };
  const scored = readScored(meet, apparatus, values);
  if ('wrong' in scored) return { code: 'wrong-score', ...scored };
  const result = { ...scored.value, underInquiry: status === INQUIRY };
  return { act: { kind: 'result', result }, notes: oddities(meet, whose, result) };
}

function unknownGymnast(meet: Meet, text: string): RefusedRow {
  return {
    code: 'unknown-gymnast',
    wrong: `there is no gymnast ${quote(text)} in this meet`,
    mend: didYouMean(
      text,
      meet.gymnasts.flatMap((g) => (g.unnamed ? [] : [g.id])),
      'write her id as in the meet file',
    ),
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
        mend: key === 'score' ? `${parsed.mend}, or DNS, DNF, up or void` : parsed.mend,
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
  return { value: { score, d, e, nd, underInquiry: false } };
}

function oddities(
  meet: Meet,
  whose: Pick<ReadRow, 'gymnast' | 'apparatus'>,
  { score, e }: Scored,
): string[] {
  const show = (s: Units) => formatScore(s, meet.scoring.decimals);
  const notes: string[] = [];
  if (!isOnGrid(score, meet.scoring.grid)) {
    notes.push(`${show(score)} is not a score this panel can give; it counts all the same`);
  }
  if (e !== null && e > highestE(meet.scoring.decimals)) {
    notes.push(`the E score would be ${show(e)}, more than 10`);
  }
  // By what the files give: what is usual after tonight's scores is not known while they are read.
  const [given] = givenIn(meet, [whose]);
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
    return `${show(score)} is above ${meet.words.her} realistic best of ${show(range.high)}`;
  }
  const floor = range.low === null ? null : range.low - 2 * meet.scoring.fall;
  if (floor !== null && score < floor) {
    return `${show(score)} is below ${meet.words.her} low of ${show(range.low ?? 0)} less two falls`;
  }
  return null;
}
