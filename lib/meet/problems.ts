/** What is wrong, or worth knowing, about a meet's files; and the words to mend it. */
import { closest, distance } from 'fastest-levenshtein';
import type { ProblemCode } from '../codes.js';
import { shortened } from '../error.js';

/** `error`: no answer can be trusted until it is mended. The others are said and leave answers right. */
export type Severity = 'error' | 'warning' | 'note';

/** Something that is wrong with a file, or worth knowing of it. */
export interface Problem {
  /** `error` keeps answers from being given; `warning` and `note` do not. */
  readonly severity: Severity;
  /** Short, stable, for programs: `unknown-gymnast`. */
  readonly code: ProblemCode;
  /** The file as its `Source` is called. */
  readonly file: string;
  /** Counted from 1; null for a problem of the whole file. */
  readonly line: number | null;
  /** What is wrong, as one line of plain English without an end. */
  readonly message: string;
  /** What to do. */
  readonly mend: string;
}

/** Collects the problems of one file. */
export interface ProblemList {
  readonly file: string;
  readonly problems: Problem[];
}

export function report(
  list: ProblemList,
  severity: Severity,
  code: ProblemCode,
  line: number | null,
  message: string,
  mend: string,
): void {
  list.problems.push({
    severity,
    code,
    file: list.file,
    line,
    message: shortened(message),
    mend: shortened(mend),
  });
}

export function isSound(problems: readonly Problem[]): boolean {
  return problems.every((p) => p.severity !== 'error');
}

/** Lower case without accents, so that `Müller` and `muller` meet. */
export function plain(text: string): string {
  // Taking letters apart is slow, and names are looked up by the thousand.
  if (/^[ -~]*$/.test(text)) return text.toLowerCase();
  return text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[øłđıßæœ]/g, (c) => STROKED[c] ?? c);
}

/** Letters that Unicode does not take apart. */
const STROKED: Readonly<Record<string, string>> = {
  ø: 'o',
  ł: 'l',
  đ: 'd',
  ı: 'i',
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
};

/** The known word nearest to a misspelt one, or null when none is near. */
export function nearest(word: string, known: readonly string[]): string | null {
  if (known.length === 0 || word.length > 60) return null;
  const best = closest(
    plain(word),
    known.map((k) => plain(k)),
  );
  const index = known.findIndex((k) => plain(k) === best);
  const found = known[index];
  if (found === undefined) return null;
  // Two letters the other way round are two changes, but one slip.
  const slips = sortedLetters(word) === sortedLetters(found) ? 2 : 1;
  const allowed = Math.max(slips, Math.floor(Math.min(word.length, found.length) / 3));
  return distance(plain(word), plain(found)) <= allowed ? found : null;
}

function sortedLetters(word: string): string {
  return [...plain(word)].sort().join('');
}

/** More known words than this are not listed. */
const MOST_LISTED = 20;

/** "did you mean `adeyemi`?", or the known words when none is near and they are few. */
export function didYouMean(word: string, known: readonly string[], otherwise: string): string {
  const near = nearest(word, known);
  if (near !== null) return `did you mean \`${near}\`?`;
  return known.length > 0 && known.length <= MOST_LISTED
    ? `${otherwise}: ${known.join(', ')}`
    : otherwise;
}
