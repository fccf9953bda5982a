/** A score as a feed tells it: a line of values like the score log's, or a JSON object. */
import { codeCalled } from '../contest/where.js';
import { findGymnast } from '../contest/who.js';
import { badUsage } from '../error.js';
import { splitLine } from '../meet/csv.js';
import { LOG_COLUMNS, type LogColumn, logValues } from '../meet/log.js';
import { type Gymnast, isToCome, type Meet } from '../meet/meet.js';
import { listed } from '../meet/names.js';
import { nextUp } from '../meet/now.js';
import { type Problem, plain } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import type { ToRecord } from './to-record.js';
import { nextApparatus } from './typed.js';

/** How the values of a line are told apart, and which is which. */
export interface FeedOrder {
  /** What stands between two values: `,`, `;` or a tab. */
  readonly delimiter: string;
  /** By position; null for a column that means nothing to the log. */
  readonly columns: readonly (LogColumn | null)[];
}

/** What a line tells, in its own words; null where it has no value. */
export interface FedRow extends Omit<ToRecord, 'at'> {
  /** A score or one of the words for one, as `ToRecord` has them. */
  readonly score: string;
  /** The difficulty score, as it was written. */
  readonly d: string | null;
  /** The execution score, as it was written. */
  readonly e: string | null;
  /** Neutral deductions, as they were written. */
  readonly nd: string | null;
  /** `inquiry`, or null. */
  readonly status: string | null;
  /** What was to be kept with the row. */
  readonly note: string | null;
}

const DEFAULT: readonly LogColumn[] = ['gymnast', 'apparatus', 'score', 'd', 'e', 'nd', 'note'];
const DELIMITERS = [',', ';', '\t'] as const;

/**
 * The order in which a line names columns; null for a line that names none.
 * @param text - The first line of a feed.
 * @example
 * feedOrderOf('Gymnast;Score')?.columns // → ['gymnast', 'score']
 * feedOrderOf('brondt;BB;14.500') // → null
 */
export function feedOrderOf(text: string): FeedOrder | null {
  if (!/gymnast/i.test(text)) return null;
  const line = text.replace(/^\uFEFF/, '');
  const delimiter = delimiterOf(line);
  const names = splitLine(line, delimiter).map(plain);
  if (!names.includes('gymnast') || !names.includes('score')) return null;
  return { delimiter, columns: names.map((n) => LOG_COLUMNS.find((c) => c === n) ?? null) };
}

/**
 * What a line of a feed tells. Without an order its values are those of the score log, in its order. `line`:
 * its number, from 1.
 * @param text - One line: values of the log, or a JSON object with its keys.
 * @param line - Its number, counted from 1, for what is said of it.
 * @param order - As `feedOrderOf` found it; null where no line named columns.
 * @throws `open-quote`: a value begins with a quotation mark that the line does not close
 * @throws the code of a problem: the line cannot be split into values: `too-many-values`, …
 * @throws `wrong-json`: it begins like JSON and is none
 * @throws `wrong-line`: it tells no score
 * @example
 * readFed('brondt;BB;14,5', 1, null).score // → '14,5'
 * readFed('{"gymnast": "brondt", "score": "14.5"}', 2, null).gymnast // → 'brondt'
 * readFed('{"gymnast": "brondt"}', 3, null) // → throws wrong-line
 */
export function readFed(text: string, line: number, order: FeedOrder | null): FedRow {
  if (text.trim().startsWith('{')) return fromJson(text);
  return fromValues(text, line, order ?? { delimiter: delimiterOf(text), columns: DEFAULT });
}

/**
 * With the code of her apparatus: the one that is told, the only one she has to come, or the one she is up
 * on.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param told - What was told, with an empty apparatus where none was.
 * @throws `no-apparatus`: it would be a guess: she is not next up and has several to come
 * @throws `nothing-to-come`: none is named and nothing of hers is to come
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `wrong-apparatus`: the word fits two
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * withApparatus(meet, { gymnast: 'silvane', apparatus: '', score: '14.2' }).apparatus // → 'VT'
 * withApparatus(meet, { gymnast: 'brondt', apparatus: 'beam', score: '14.5' }).apparatus // → 'BB'
 */
export function withApparatus(meet: Meet, told: ToRecord): ToRecord {
  requireSound(meet);
  const { apparatus } = told;
  if (apparatus.trim() !== '') return { ...told, apparatus: codeCalled(meet, apparatus) };
  return { ...told, apparatus: onlyApparatus(meet, findGymnast(meet, told.gymnast)) };
}

function onlyApparatus(meet: Meet, gymnast: Gymnast): string {
  const next = nextApparatus(meet, gymnast);
  const toCome = meet.routines.filter((r) => r.gymnast === gymnast.id && isToCome(meet, r.index));
  const isUp = nextUp(meet).some((r) => r.gymnast === gymnast.id);
  if (isUp || toCome.length === 1) return next;
  const codes = toCome.map((r) => r.apparatus);
  throw badUsage(
    'no-apparatus',
    `${gymnast.name} is not next up, and has ${listed(codes)} to come`,
    `name the apparatus: ${gymnast.id},${codes[0]},13.566`,
  );
}

/** What there is most of; with a decimal comma, `ade;FX;13,5` has commas too. */
function delimiterOf(text: string): string {
  const counts = DELIMITERS.map((d) => text.split(d).length);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ',';
}

/**
 * Whether a value begins with a quotation mark that the line does not close, so that the next line may be the
 * rest of it.
 * @param text - A line of a feed.
 * @example
 * hasOpenQuote('brondt,BB,14.5,,,,"a note') // → true
 * hasOpenQuote('brondt,BB,14.5,,,,"a note"') // → false
 */
export function hasOpenQuote(text: string): boolean {
  return /(^|[,;\t])\s*"/.test(text) && (text.match(/"/g) ?? []).length % 2 === 1;
}

function fromValues(text: string, line: number, order: FeedOrder): FedRow {
  if (hasOpenQuote(text)) {
    throw badUsage('open-quote', 'a quotation mark is not closed', 'write one score on each line');
  }
  const problems: Problem[] = [];
  const values = logValues(splitLine(text, order.delimiter), order, line, {
    file: 'feed',
    problems,
  });
  if (values !== null) return told(values);
  const [first] = problems;
  throw badUsage(
    first?.code ?? 'wrong-line',
    first?.message ?? 'cannot be read',
    first?.mend ?? '',
  );
}

function fromJson(text: string): FedRow {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw badUsage(
      'wrong-json',
      'this line is no JSON',
      'one object a line, with the keys of the log',
    );
  }
  if (value === null || typeof value !== 'object' || Array.isArray(value)) {
    throw badUsage('wrong-json', 'this line is no object', 'write {"gymnast": …, "score": …}');
  }
  const entries = Object.entries(value).map(([key, v]) => [key.toLowerCase(), v] as const);
  const texts = Object.fromEntries(
    LOG_COLUMNS.map((column) => {
      const found = entries.find(([key]) => key === column)?.[1] ?? '';
      if (typeof found === 'number') {
        // A number has lost the decimals it was written with: 13.5 may be anything.
        return [column, String(found)];
      }
      if (typeof found !== 'string') {
        throw badUsage('wrong-json', `${column} is neither a text nor a number`, 'write "13.566"');
      }
      return [column, found];
    }),
  ) as Record<LogColumn, string>;
  return told(texts);
}

function told(values: Readonly<Record<LogColumn, string>>): FedRow {
  const { gymnast, apparatus, score, d, e, nd, status, note } = values;
  const part = (text: string) => (text === '' ? null : text);
  if (gymnast.trim() === '' || score.trim() === '') {
    throw badUsage('wrong-line', 'a line needs a gymnast and a score', 'gymnast,apparatus,score');
  }
  return {
    gymnast,
    apparatus,
    score,
    d: part(d),
    e: part(e),
    nd: part(nd),
    status: part(status),
    note: part(note),
  };
}
