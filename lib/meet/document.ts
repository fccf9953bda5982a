/** YAML text → a checked document, every problem with its line. */
import * as v from 'valibot';
import type { Called, DisciplineCode } from '../apparatus.js';
import type { Decimals } from '../score.js';
import { type CodeOf, codesAmong, codesOfMeet, inCodes, keysInCodes } from './file-words.js';
import type { KnownRules } from './known-rules.js';
import { didYouMean, type ProblemList, report } from './problems.js';
import {
  decimalsSchema,
  type MeetDocument,
  meetSchema,
  type RangeParts,
  rangesSchema,
} from './schema.js';
import { complaintParts } from './values.js';
import { readYaml, type YamlMap, type YamlNode, type YamlPair } from './yaml.js';

/** A way to a value in a file: `['groups', 1, 'order', 3]`. */
export type Path = readonly (string | number)[];

/** The line on which the value at a path stands; of its nearest parent where it is missing. */
export type LineOf = (path: Path) => number | null;

/** More values than a hand-written file has, fewer than names within names can make of one. */
const MOST_VALUES = 100_000;

function lineFinder(root: YamlNode, codeOf: CodeOf): LineOf {
  return (path) => {
    let node: YamlNode = root;
    let { line } = root;
    for (const step of path) {
      if (node.kind === 'map') {
        const pair = pairAt(node, step, codeOf);
        if (pair === undefined) break;
        ({ line, value: node } = pair);
      } else {
        const item: YamlNode | undefined =
          node.kind === 'list' ? node.items[Number(step)] : undefined;
        if (item === undefined) break;
        ({ line } = item);
        node = item;
      }
    }
    return line;
  };
}

/** The pairs of a mapping by their keys, worked out once. */
const pairIndexes = new WeakMap<YamlMap, ReadonlyMap<string, YamlPair>>();

/** Apparatus go by code or name, whatever the case, so a path may not repeat a key to the letter. */
function pairAt(map: YamlMap, step: string | number, codeOf: CodeOf): YamlPair | undefined {
  let index = pairIndexes.get(map);
  if (index === undefined) {
    const upper = map.pairs.map((p): [string, YamlPair] => [p.key.trim().toUpperCase(), p]);
    index = new Map([...upper, ...map.pairs.map((p): [string, YamlPair] => [p.key, p])]);
    pairIndexes.set(map, index);
  }
  const key = String(step);
  const found = index.get(key);
  const mayBeCode = found === undefined && key === key.toUpperCase();
  return mayBeCode ? map.pairs.find((p) => codeOf(p.key) === key) : found;
}

/**
 * The tree as plain values. Keys with nothing after them count as not written: a file is often half
 * finished. Null, and a problem, when names within names make it grow without end.
 */
function plainValue(root: YamlNode, list: ProblemList): unknown {
  let left = MOST_VALUES;
  const convert = (node: YamlNode): unknown => {
    if (--left < 0) return null;
    if (node.kind === 'text') return node.text;
    if (node.kind === 'list') return node.items.map(convert);
    const filled = node.pairs.filter((p) => !isBlank(p.value) && isOrdinary(p));
    return Object.fromEntries(filled.map((p) => [p.key, convert(p.value)]));
  };
  /** Words that JavaScript objects keep for themselves, and the checker passes over. */
  const isOrdinary = ({ key, line }: YamlPair): boolean => {
    if (!['__proto__', 'constructor', 'prototype'].includes(key)) return true;
    report(list, 'error', 'unknown-key', line, `\`${key}\` is not a known key`, 'delete it');
    return false;
  };
  const value = convert(root);
  if (left >= 0) return value;
  report(
    list,
    'error',
    'syntax',
    null,
    'holds more values than a meet can have',
    'write out what is named with & and *',
  );
  return null;
}

function isBlank(node: YamlNode): boolean {
  return (
    node.kind === 'text' && (node.text === '' || (node.plain && ['~', 'null'].includes(node.text)))
  );
}

/**
 * Checks a value against a schema, reports whatever does not fit, and goes on with the rest: what
 * did not fit is taken out, so that one wrong number does not hide the other problems of a file.
 * What may not be missing is put in from `instead`, if it is there. Null when nothing can be left
 * standing.
 */
function check<T extends v.GenericSchema>(
  schema: T,
  value: unknown,
  base: Path,
  lineOf: LineOf,
  list: ProblemList,
  instead: Readonly<Record<string, unknown>> = {},
): v.InferOutput<T> | null {
  const root = { value };
  const takenOut = new Set<string>();
  for (;;) {
    const result = v.safeParse(schema, root.value);
    if (result.success) return result.output;
    for (const issue of result.issues) {
      const path = (issue.path ?? []).map((item) => item.key as string | number);
      // What was taken out is not also missing.
      if (!takenOut.has(JSON.stringify(path))) {
        reportIssue(issue.message, [...base, ...path], lineOf, list);
      }
      takenOut.add(JSON.stringify(path));
      const [key] = path;
      if (path.length === 1 && key !== undefined && Object.hasOwn(instead, key)) {
        Reflect.set(root.value as object, key, instead[key]);
      } else takeOut(root, path);
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
  /** Something every other part rests on was guessed, so that the rest could be checked. */
  readonly guessed: boolean;
  readonly lineOf: LineOf;
}

/**
 * Reads a meet file's text. `document` is null when it is no YAML or has no list of gymnasts; then
 * the problems say why. A shape that is wrong in one place still reports all the others.
 */
export function readDocument(text: string, rules: KnownRules, list: ProblemList): ReadDocument {
  const nothing = { document: null, decimals: 3, guessed: true, lineOf: () => null } as const;
  const root = readYaml(text, list);
  if (root === null) return nothing;
  if (root.kind !== 'map') {
    report(
      list,
      'error',
      'wrong-value',
      1,
      'is not a meet file: it has nothing like discipline: wag in it',
      'begin one with: lastrotation new',
    );
    return nothing;
  }
  const plain = plainValue(root, list);
  if (plain === null || typeof plain !== 'object') return nothing;
  const likely = likelyDiscipline(text);
  const codeOf = codesOfMeet(Reflect.get(plain, 'discipline'), likely);
  const lineOf = lineFinder(root, codeOf);
  const value = inCodes(plain, codeOf);
  const given = value as Readonly<Record<string, unknown>>;
  const decimals = check(decimalsSchema, given.decimals, ['decimals'], lineOf, list);
  const before = { discipline: given.discipline, scoring: given.scoring };
  // The more lenient of two guesses, so that no score is called wrong for it.
  const read = decimals ?? 4;
  const document = check(meetSchema(read, rules), value, [], lineOf, list, {
    discipline: likely,
    scoring: 'open',
  });
  const guessed =
    decimals === null || given.discipline !== before.discipline || given.scoring !== before.scoring;
  return { document, decimals: read, guessed, lineOf };
}

/** Reads a file that is one mapping, whose keys a schema knows; null when nothing can be left. */
export function readKeys<T extends v.GenericSchema>(
  text: string,
  schema: T,
  list: ProblemList,
  [message, mend]: readonly [message: string, mend: string],
): { readonly value: v.InferOutput<T>; readonly lineOf: LineOf } | null {
  const root = readYaml(text, list);
  if (root === null) return null;
  if (root.kind !== 'map') {
    report(list, 'error', 'wrong-value', 1, message, mend);
    return null;
  }
  const lineOf = lineFinder(root, String);
  const value = check(schema, plainValue(root, list), [], lineOf, list);
  return value === null ? null : { value, lineOf };
}

/** By the apparatus that are mentioned. */
function likelyDiscipline(text: string): DisciplineCode {
  return /\b(PH|SR|PB|HB)\b/.test(text) ? 'mag' : 'wag';
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
  discipline: readonly Called[],
  list: ProblemList,
): RangesEntry[] {
  const root = readYaml(text, list);
  if (root === null) return [];
  if (root.kind !== 'map') {
    report(
      list,
      'error',
      'wrong-value',
      1,
      'is not a ranges file',
      'write adeyemi: { VT: { low: …, likely: …, high: …, falls: … } }',
    );
    return [];
  }
  const codeOf = codesAmong(discipline);
  const find = lineFinder(root, codeOf);
  const schema = rangesSchema(decimals);
  return root.pairs.flatMap(({ key: gymnast, value }): RangesEntry[] => {
    if (isBlank(value)) return [];
    const lineOf: LineOf = (path) => find([gymnast, ...path]);
    const ranges = check(schema, keysInCodes(plainValue(value, list), codeOf), [], lineOf, list);
    return ranges === null ? [] : [{ gymnast, ranges, lineOf }];
  });
}
