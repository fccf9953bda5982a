/** YAML text → a checked document, every problem with its line. */
import * as v from 'valibot';
import { type Document, isCollection, isMap, isScalar, LineCounter, parseDocument } from 'yaml';
import type { Decimals } from '../score.js';
import { didYouMean, type ProblemList, report } from './problems.js';
import {
  complaintParts,
  decimalsSchema,
  type MeetDocument,
  meetSchema,
  type RangeParts,
  rangesSchema,
} from './schema.js';

/** A way to a value in a file: `['groups', 1, 'order', 3]`. */
export type Path = readonly (string | number)[];

/** The line on which the value at a path stands; of its nearest parent where it is missing. */
export type LineOf = (path: Path) => number | null;

/** More than a hand-written file ever shares by name, less than a hostile one needs. */
const MOST_ALIASES = 5000;

interface Yaml {
  readonly document: Document;
  readonly lines: LineCounter;
}

/** What a YAML parser's complaint means to somebody who does not know the parser. */
const SYNTAX: Readonly<Record<string, readonly [message: string, mend: string]>> = {
  TAB_AS_INDENT: ['a tab is used to indent', 'indent with spaces'],
  DUPLICATE_KEY: ['the same key stands twice', 'keep one of the two'],
  MISSING_CHAR: ['something is missing here, such as a colon, a quote or a bracket', 'close it'],
  BAD_INDENT: ['the indentation does not fit the lines above', 'line it up with its neighbours'],
  BLOCK_IN_FLOW: ['a bracket before this line is not closed', 'close it with ] or }'],
  MULTILINE_IMPLICIT_KEY: ['a key runs over several lines', 'look for a missing colon or quote'],
  UNEXPECTED_TOKEN: ['this does not belong here', 'look for a missing quote, comma or bracket'],
  BAD_ALIAS: ['a * or & is used without a name', 'put the value in quotes'],
  MULTIPLE_DOCS: ['a second document begins here', 'remove the line ---'],
  KEY_OVER_1024_CHARS: ['a key is far too long', 'look for a missing colon or quote'],
};

function parseYaml(text: string, list: ProblemList): Yaml | null {
  const lines = new LineCounter();
  let document: Document;
  try {
    // `failsafe` leaves every value a text: 13.900 never becomes a float, 007 stays 007.
    document = parseDocument(text, {
      schema: 'failsafe',
      lineCounter: lines,
      prettyErrors: false,
      logLevel: 'silent',
    });
  } catch {
    report(list, 'error', 'syntax', null, 'cannot be read as YAML', 'is it the right file?');
    return null;
  }
  for (const error of document.errors) {
    const line = lines.linePos(error.pos[0]).line;
    const [message, mend] = SYNTAX[error.code] ?? [
      'cannot be read as YAML from here on',
      'look for a missing quote, colon or bracket here or a line above',
    ];
    report(list, 'error', 'syntax', Math.max(line, 1), message, mend);
  }
  return document.errors.length > 0 ? null : { document, lines };
}

function lineFinder({ document, lines }: Yaml): LineOf {
  return (path) => {
    for (let length = path.length; length >= 0; length--) {
      const node = nodeAt(document, path.slice(0, length));
      if (node !== null) return lines.linePos(node).line;
    }
    return null;
  };
}

/** The offset of a value; for a value in a mapping, of its key. */
function nodeAt(document: Document, path: Path): number | null {
  let node: unknown = document.contents;
  let offset: number | null = rangeStart(node);
  for (const step of path) {
    if (!isCollection(node)) return null;
    if (isMap(node)) {
      const pair = node.items.find((p) => isScalar(p.key) && sameKey(String(p.key.value), step));
      if (!pair) return null;
      offset = rangeStart(pair.key);
      node = pair.value;
    } else {
      node = node.items[Number(step)];
      if (node === undefined) return null;
      offset = rangeStart(node) ?? offset;
    }
  }
  return offset;
}

/** Apparatus codes are read whatever their case, so a path may not repeat a key to the letter. */
function sameKey(key: string, step: string | number): boolean {
  return key === step || key.trim().toUpperCase() === step;
}

function rangeStart(node: unknown): number | null {
  const range = (node as { range?: readonly number[] | null } | null)?.range;
  return range?.[0] ?? null;
}

/** Keys with nothing after them count as not written: a file is often half finished. */
function withoutBlanks(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutBlanks);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, child]) => !isBlank(child))
      .map(([key, child]) => [key, withoutBlanks(child)]),
  );
}

function isBlank(value: unknown): boolean {
  return value === '' || value === '~' || value === 'null' || value === null;
}

function plainValue({ document }: Yaml, list: ProblemList, asMap = false): unknown {
  try {
    const value = document.toJS({ maxAliasCount: MOST_ALIASES, mapAsMap: asMap }) ?? {};
    return asMap ? value : withoutBlanks(value);
  } catch {
    report(
      list,
      'error',
      'syntax',
      null,
      'names its values with & and * more often than a meet needs, or nests them too deeply',
      'write the values out',
    );
    return null;
  }
}

/**
 * Checks a value against a schema, reports whatever does not fit, and goes on with the rest: what
 * did not fit is taken out, so that one wrong number does not hide the other problems of a file.
 * Null when nothing can be left standing.
 */
function check<T extends v.GenericSchema>(
  schema: T,
  value: unknown,
  base: Path,
  lineOf: LineOf,
  list: ProblemList,
): v.InferOutput<T> | null {
  const root = { value };
  for (;;) {
    const result = v.safeParse(schema, root.value);
    if (result.success) return result.output;
    for (const issue of result.issues) {
      const path = (issue.path ?? []).map((item) => item.key as string | number);
      reportIssue(issue.message, [...base, ...path], lineOf, list);
      takeOut(root, path);
    }
    if (root.value === undefined) return null;
  }
}

/** Takes the value at a path away, or what should have held it; a list entry leaves a gap. */
function takeOut(root: { value: unknown }, path: Path): void {
  let holder: unknown = root;
  let key: string | number = 'value';
  for (const step of path) {
    const inner: unknown = Reflect.get(holder as object, key);
    if (inner === null || typeof inner !== 'object') break;
    if (!Object.hasOwn(inner, step)) break;
    holder = inner;
    key = step;
  }
  if (Array.isArray(holder)) holder[Number(key)] = null;
  else if (holder === root) root.value = undefined;
  else Reflect.deleteProperty(holder as object, key);
}

function reportIssue(text: string, path: Path, lineOf: LineOf, list: ProblemList): void {
  const { code, message, mend } = complaintParts(text);
  const key = String(path.at(-1) ?? 'the file');
  const name = typeof path.at(-1) === 'number' ? entryName(path) : `\`${key}\``;
  report(
    list,
    'error',
    code,
    lineOf(path),
    message.replace('{key}', () => name),
    code === 'unknown-key' ? didYouMean(key, mend.split(', '), 'known here') : mend,
  );
}

/** "entry 3 of `order`". */
function entryName(path: Path): string {
  const list = path.findLast((step) => typeof step === 'string');
  return `entry ${Number(path.at(-1)) + 1}${list === undefined ? '' : ` of \`${list}\``}`;
}

export interface ReadDocument {
  readonly document: MeetDocument | null;
  readonly decimals: Decimals;
  readonly lineOf: LineOf;
}

/**
 * Reads a meet file's text. `document` is null when it is no YAML or not of the right shape; then
 * the problems say why. A shape that is wrong in one place still reports all the others.
 */
export function readDocument(text: string, list: ProblemList): ReadDocument {
  const nothing: ReadDocument = { document: null, decimals: 3, lineOf: () => null };
  const yaml = parseYaml(text, list);
  if (yaml === null) return nothing;
  const lineOf = lineFinder(yaml);
  const value = plainValue(yaml, list);
  if (value === null) return nothing;
  if (typeof value !== 'object' || Array.isArray(value)) {
    report(
      list,
      'error',
      'wrong-value',
      1,
      'is no meet file: it holds no keys such as discipline: wag',
      'start one with `lastrotation new`',
    );
    return nothing;
  }
  const decimals = check(
    decimalsSchema,
    Reflect.get(value, 'decimals'),
    ['decimals'],
    lineOf,
    list,
  );
  const document = check(meetSchema(decimals ?? 3), value, [], lineOf, list);
  return {
    document: decimals === null ? null : document,
    decimals: decimals ?? 3,
    lineOf,
  };
}

/** One gymnast's entry in a ranges file. */
export interface RangesEntry {
  readonly gymnast: string;
  readonly ranges: Readonly<Record<string, RangeParts>>;
  readonly lineOf: LineOf;
}

/** Reads a ranges file: a mapping from gymnast to apparatus to range. */
export function readRangesDocument(
  text: string,
  decimals: Decimals,
  list: ProblemList,
): RangesEntry[] {
  const yaml = parseYaml(text, list);
  if (yaml === null || yaml.document.contents === null) return [];
  const contents = yaml.document.contents;
  if (!isMap(contents)) {
    report(
      list,
      'error',
      'wrong-value',
      1,
      'is no ranges file',
      'write adeyemi: { VT: { low: …, likely: …, high: …, falls: … } }',
    );
    return [];
  }
  const find = lineFinder(yaml);
  const schema = rangesSchema(decimals);
  const entries: RangesEntry[] = [];
  // As a Map, since an id may be a word that JavaScript objects keep for themselves.
  const whole = plainValue(yaml, list, true);
  for (const [key, value] of whole instanceof Map ? whole : []) {
    const gymnast = String(key);
    const lineOf: LineOf = (path) => find([gymnast, ...path]);
    const ranges = check(schema, withoutBlanks(objectOf(value)), [], lineOf, list);
    if (ranges !== null) entries.push({ gymnast, ranges, lineOf });
  }
  return entries;
}

function objectOf(value: unknown): unknown {
  if (!(value instanceof Map)) return value;
  return Object.fromEntries([...value].map(([key, child]) => [String(key), objectOf(child)]));
}
