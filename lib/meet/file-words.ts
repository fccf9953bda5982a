/** Words for apparatus in a meet file or a ranges file, as their codes: `start: vault` is `start: VT`. */
import { apparatusWritten, type Called, calledIn, type DisciplineCode } from '../apparatus.js';

/** The code a text stands for, or the text as it is where it is none, or may be several. */
export type CodeOf = (text: string) => string;

export function codesAmong(known: readonly Called[]): CodeOf {
  // The same few words stand with every gymnast.
  const codes = new Map<string, string>();
  return (text) => {
    const before = codes.get(text);
    if (before !== undefined) return before;
    const [only, ...others] = apparatusWritten(known, text);
    const code = only !== undefined && others.length === 0 ? only.code : text;
    codes.set(text, code);
    return code;
  };
}

/** By the discipline as it is written, sound or not; `likely` where it cannot be read. */
export function codesOfMeet(discipline: unknown, likely: DisciplineCode): CodeOf {
  if (!Array.isArray(discipline)) {
    const isKnown = discipline === 'wag' || discipline === 'mag';
    return codesAmong(calledIn(isKnown ? discipline : likely));
  }
  const own = discipline.flatMap((entry): Called[] => {
    if (entry === null || typeof entry !== 'object') return [];
    const [code, name] = [Reflect.get(entry, 'code'), Reflect.get(entry, 'name') ?? ''];
    return typeof code === 'string' && typeof name === 'string'
      ? [{ code: code.trim().toUpperCase(), name }]
      : [];
  });
  return codesAmong(own);
}

/** Where apparatus stand in a meet file: as the keys of a mapping, or as a value or the entries of a list. */
const KEYS = ['usual', 'gymnasts/*/ranges', 'teams/*/lineup', 'rotations/*'];
const VALUES = ['contests/*/on', 'gymnasts/*/on', 'groups/*/start', 'groups/*/route'];

/** The plain value of a meet file with codes where it has words. */
export function inCodes(value: unknown, codeOf: CodeOf, path = ''): unknown {
  if (VALUES.includes(path)) {
    const coded = (entry: unknown) => (typeof entry === 'string' ? codeOf(entry) : entry);
    return Array.isArray(value) ? value.map(coded) : coded(value);
  }
  if (KEYS.includes(path)) return keysInCodes(value, codeOf);
  const isOnTheWay = path === '' || [...KEYS, ...VALUES].some((p) => p.startsWith(`${path}/`));
  if (!isOnTheWay || value === null || typeof value !== 'object') return value;
  const within = (key: string) => (path === '' ? key : `${path}/${key}`);
  if (Array.isArray(value)) return value.map((entry) => inCodes(entry, codeOf, within('*')));
  return Object.fromEntries(
    Object.entries(value).map(([key, child]) => [key, inCodes(child, codeOf, within(key))]),
  );
}

/** A mapping by apparatus; what is there twice, as a word and as a code, stays as it is written. */
export function keysInCodes(value: unknown, codeOf: CodeOf): unknown {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return value;
  const codes = Object.keys(value).map(codeOf);
  const isAlone = (code: string) => codes.indexOf(code) === codes.lastIndexOf(code);
  return Object.fromEntries(
    Object.entries(value).map(([key, child]) => [isAlone(codeOf(key)) ? codeOf(key) : key, child]),
  );
}
