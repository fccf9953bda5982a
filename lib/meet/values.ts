/** The values of a meet file, each with the words for what is wrong with it. */
import * as v from 'valibot';
import type { ProblemCode } from '../codes.js';
import { type Decimals, parseScore, quote, type Score } from '../score.js';
import { lengthOf } from './characters.js';

/**
 * A complaint carries its code, its message and its mend in one text, since the checker passes a
 * single one along.
 */
export function complaint(code: ProblemCode, message: string, mend: string): string {
  return JSON.stringify([code, message, mend]);
}

export function complaintParts(text: string): {
  code: ProblemCode;
  message: string;
  mend: string;
} {
  const [code, message, mend] = JSON.parse(text) as [ProblemCode, string, string];
  return { code, message, mend };
}

export const shown = (input: unknown) =>
  typeof input === 'string' ? quote(input) : Array.isArray(input) ? 'a list' : 'a mapping';

export const wrongKind = (expected: string, mend: string) => (issue: { input: unknown }) =>
  issue.input === undefined
    ? complaint('missing-key', `{key} is missing`, mend)
    : complaint('wrong-value', `{key} should be ${expected}, not ${shown(issue.input)}`, mend);

export const text = (mend: string) => v.string(wrongKind('a text', mend));

/** A mapping with these keys and no others. */
export function mapping<T extends v.ObjectEntries>(entries: T, mend: string) {
  const known = Object.keys(entries).join(', ');
  return v.objectWithRest(
    entries,
    v.never(() => complaint('unknown-key', '{key} is not a known key', known)),
    wrongKind('a mapping', mend),
    // Without the index signature that the check against further keys adds to the type.
  ) as unknown as v.GenericSchema<unknown, v.InferOutput<v.ObjectSchema<T, undefined>>>;
}

/** One of a few words. */
export function oneOf<const T extends readonly string[]>(words: T) {
  return v.picklist(words, (issue: { input: unknown }) =>
    issue.input === undefined
      ? complaint('missing-key', '{key} is missing', `choose from: ${words.join(', ')}`)
      : complaint(
          'wrong-value',
          `{key} cannot be ${shown(issue.input)}`,
          `choose from: ${words.join(', ')}`,
        ),
  );
}

export function scoreText(decimals: Decimals) {
  return v.pipe(
    text(`a score such as ${decimals === 3 ? '13.900' : '9.9250'}`),
    v.rawTransform<string, Score>(({ dataset, addIssue, NEVER }) => {
      const parsed = parseScore(dataset.value, decimals);
      if ('value' in parsed) return parsed.value;
      addIssue({ message: complaint('wrong-score', `{key}: ${parsed.wrong}`, parsed.mend) });
      return NEVER;
    }),
  );
}

export function whole(low: number, high: number) {
  return v.pipe(
    text(`a whole number from ${low} to ${high}`),
    v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
      const value = /^\d{1,6}$/.test(dataset.value) ? Number(dataset.value) : Number.NaN;
      if (value >= low && value <= high) return value;
      addIssue({
        message: complaint(
          'wrong-value',
          `{key} cannot be ${quote(dataset.value)}`,
          `write a whole number from ${low} to ${high}`,
        ),
      });
      return NEVER;
    }),
  );
}

export const probability = v.pipe(
  text('a chance from 0 to 1, such as 0.05'),
  v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
    const written = dataset.value.replace(',', '.');
    const value = /^\d*\.?\d+$/.test(written) ? Number(written) : Number.NaN;
    if (value >= 0 && value <= 1) return value;
    addIssue({
      message: complaint(
        'wrong-value',
        `{key} cannot be ${quote(dataset.value)}`,
        'write a chance from 0 to 1, such as 0.05 for one in twenty',
      ),
    });
    return NEVER;
  }),
);

/** The judges' step, in millionths of a point. */
export const step = v.pipe(
  text('the step of a judge’s score, such as 0.1'),
  v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
    const match = /^(\d)(?:[.,](\d{1,6}))?$/.exec(dataset.value);
    const value = match ? Number(match[1] + (match[2] ?? '').padEnd(6, '0')) : 0;
    if (value > 0 && value <= 1_000_000) return value;
    addIssue({
      message: complaint(
        'wrong-value',
        `{key} cannot be ${quote(dataset.value)}`,
        'write a step above 0 and up to 1, such as 0.1 or 0.05',
      ),
    });
    return NEVER;
  }),
);

/** A list; an entry that did not pass the check is null, so that the others keep their places. */
export const list = <T extends v.GenericSchema>(item: T, mend: string) =>
  v.array(v.nullable(item), wrongKind('a list', mend));

/** The entries of a checked list with their places in it. */
export function entriesOf<T>(list: readonly (T | null)[] | undefined): [number, T][] {
  return (list ?? []).flatMap((entry, i): [number, T][] => (entry === null ? [] : [[i, entry]]));
}

/** Ids and names: any text that prints, so that it can be shown and written to a CSV line. */
export function printable(what: string) {
  return v.pipe(
    text(what),
    v.check(
      (s) => s.trim() !== '' && !/\p{Cc}/u.test(s),
      (issue) =>
        complaint(
          'wrong-value',
          `{key} cannot be ${quote(String(issue.input))}`,
          'use visible characters only, on one line',
        ),
    ),
    v.transform((s) => s.trim()),
  );
}

export const id = printable('a short id, such as adeyemi');

/** A country as it is shown, or null where a text is none: three letters, made capital. */
export function countryIn(text: string): string | null {
  const code = text.trim().toUpperCase();
  return /^[A-Z]{3}$/.test(code) ? code : null;
}

export const COUNTRY = 'three letters, such as NQY';

export const country = v.pipe(
  text(COUNTRY),
  v.rawTransform<string, string>(({ dataset, addIssue, NEVER }) => {
    const code = countryIn(dataset.value);
    if (code !== null) return code;
    addIssue({
      message: complaint('wrong-value', `{key} is ${quote(dataset.value)}`, COUNTRY),
    });
    return NEVER;
  }),
);

/** No start number is longer. */
const LONGEST_BIB = 8;

export const BIB = `a number, or a text of up to ${LONGEST_BIB} characters`;

export function isBib(text: string): boolean {
  return lengthOf(text) <= LONGEST_BIB;
}

export const bib = v.pipe(
  printable(BIB),
  v.check(isBib, (issue) =>
    complaint('wrong-value', `{key} is ${quote(String(issue.input))}`, BIB),
  ),
);

export const apparatusCode = v.pipe(
  text('an apparatus code, such as VT'),
  v.transform((s) => s.trim().toUpperCase()),
);

/** A mapping by apparatus; codes are read whatever their case. */
export function byApparatus<V>(
  value: v.GenericSchema<unknown, V>,
  kind: string,
  mend: string,
): v.GenericSchema<unknown, Record<string, V>> {
  return v.pipe(
    v.unknown(),
    // A list is a record of its places to the checker, and none to the reader of a file.
    v.check((input) => !Array.isArray(input), wrongKind(kind, mend)),
    v.record(v.string(), value, wrongKind(kind, mend)),
    v.rawTransform<Record<string, V>, Record<string, V>>(({ dataset, addIssue, NEVER }) => {
      const entries = Object.entries(dataset.value).map(
        ([code, child]) => [code.trim().toUpperCase(), child] as const,
      );
      const codes = entries.map(([code]) => code);
      const twice = codes.find((code, i) => codes.indexOf(code) !== i);
      if (twice === undefined) return Object.fromEntries(entries);
      const message = `{key} names ${twice} twice`;
      addIssue({ message: complaint('apparatus-twice', message, 'keep one of the two') });
      return NEVER;
    }),
  );
}
