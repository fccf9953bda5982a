/** Templates: a file of the user's own → lines with named fields, every problem with its line. */

import * as v from 'valibot';
import type { ProblemCode } from '../codes.js';
import { LastRotationError } from '../error.js';
import { type LineOf, readKeys } from '../meet/document.js';
import { didYouMean, type Problem, type ProblemList, report } from '../meet/problems.js';
import type { Source } from '../meet/read.js';
import { complaint, entriesOf, list, mapping, oneOf, printable, whole } from '../meet/values.js';
import { quote } from '../score.js';
import { KINDS, LINE_KINDS, type LineKind } from './kinds/index.js';
import type { LineKindOf } from './line-kind.js';

/** A pattern for a line: words, fields to fill in, how long it may get, when it holds. */
export interface Template {
  /** Words and the names of fields in turn: the second, the fourth … are fields. */
  readonly parts: readonly string[];
  /** In characters a viewer sees. */
  readonly limit: number;
  /** Words that a fact must have for the template to hold. */
  readonly when: Readonly<Record<string, string>>;
}

/** The templates that lines are made with, kind by kind. */
export interface Templates {
  /** By kind: the first that holds and fits is used; an empty list silences the kind. */
  readonly of: Readonly<Record<LineKind, readonly Template[]>>;
  /** Words for one of the gymnasts, where the file has its own. */
  readonly words: {
    /** "she", "he", "they" or another. */
    readonly she: string;
    /** "her", "his", "their" or another. */
    readonly her: string;
  } | null;
}

/** Where a template names no length: as much as a line of a screen, with room for long names. */
const USUAL_LENGTH = 140;

const LONGEST = 500;

/** The record of a kind. */
export function kindCalled(name: LineKind): LineKindOf {
  const kind = KINDS.find((k) => k.name === name);
  if (kind === undefined) throw new RangeError(`no kind of line ${name}`);
  return kind;
}

function templateSchema(kind: LineKind) {
  const when = Object.fromEntries(
    Object.entries(kindCalled(kind).when).map(([name, words]) => [name, v.optional(oneOf(words))]),
  );
  return mapping(
    {
      text: printable('a text in quotes: "{name} leads"'),
      length: v.optional(whole(1, LONGEST)),
      when: v.optional(mapping(when, 'such as { target: win }')),
    },
    '{ text: "{name} leads", length: 60 }',
  );
}

const word = v.pipe(
  printable('a word, such as they'),
  v.check(
    (s) => !/[{}]/.test(s),
    complaint('wrong-value', '{key} holds braces', 'write the word alone'),
  ),
);

/** Made when a file is read: most commands read none. */
const makeSchema = () =>
  mapping(
    {
      words: v.optional(mapping({ she: word, her: word }, '{ she: they, her: their }')),
      ...(Object.fromEntries(
        LINE_KINDS.map((kind) => [
          kind,
          v.optional(list(templateSchema(kind), 'a list of { text, length, when }')),
        ]),
      ) as unknown as Record<LineKind, v.GenericSchema<unknown, TemplateList | undefined>>),
    },
    `a mapping from kind to templates: ${LINE_KINDS.join(', ')}`,
  );

type TemplateList = ({
  text: string;
  length?: number;
  when?: Readonly<Record<string, string>>;
} | null)[];

/** What came of reading a file of templates. */
export interface ReadTemplates {
  /** Null when there is an error. */
  readonly templates: Templates | null;
  /** What is wrong with it, in the order of its lines. */
  readonly problems: readonly Problem[];
}

/**
 * Reads a file of templates. A kind that it does not name keeps the shipped templates; those it names come
 * before the shipped ones, so that nothing is left without a line, and an empty list silences a kind.
 * @param source - The text of the file, YAML (docs/graphics.md).
 * @example
 * const file = { file: 'lines.yaml', text: 'need: [{ text: "{name}: {score}", length: 40 }]' };
 * const { templates } = readTemplates(file);
 * graphics(meet, { kinds: ['need'], who: ['brondt'], templates }).lines[0]?.text // → 'Ida Brondt: 14.633'
 * readTemplates({ ...file, text: 'need: [{ text: "{nmae}" }]' }).problems[0]?.mend // → 'did you mean `name`?'
 */
export function readTemplates(source: Source): ReadTemplates {
  const problems: Problem[] = [];
  const problemList: ProblemList = { file: source.file, problems };
  const read = readKeys(source.text, makeSchema(), problemList, [
    'is no file of templates',
    'write need: [{ text: "{name} needs {score}", length: 60 }]',
  ]);
  if (read === null) return { templates: null, problems };
  const { value, lineOf } = read;
  const own = LINE_KINDS.map((kind): [LineKind, Template[] | null] => {
    const given = value[kind];
    if (given === undefined) return [kind, null];
    return [kind, entriesOf(given).map(([i, t]) => templateOf(kind, i, t, lineOf, problemList))];
  });
  if (problems.length > 0) return { templates: null, problems };
  const of = Object.fromEntries(
    own.map(([kind, templates]) => [
      kind,
      source === SHIPPED_SOURCE ? (templates ?? []) : withShipped(kind, templates),
    ]),
  ) as Record<LineKind, Template[]>;
  return { templates: { of, words: value.words ?? null }, problems };
}

/** The shipped ones behind the user's own, none longer than the longest of these. */
function withShipped(kind: LineKind, own: readonly Template[] | null): readonly Template[] {
  const shipped = shippedTemplates().of[kind];
  if (own === null) return shipped;
  const longest = Math.max(...own.map((t) => t.limit));
  if (own.length === 0) return [];
  return [...own, ...shipped.map((t) => ({ ...t, limit: Math.min(t.limit, longest) }))];
}

function templateOf(
  kind: LineKind,
  index: number,
  { text, length, when }: NonNullable<TemplateList[number]>,
  lineOf: LineOf,
  problems: ProblemList,
): Template {
  const parts = text.split(/\{([^{}]*)\}/);
  const complain = (code: ProblemCode, message: string, mend: string) =>
    report(problems, 'error', code, lineOf([kind, index, 'text']), message, mend);
  const known = kindCalled(kind).fields;
  parts.forEach((part, i) => {
    if (i % 2 === 1 && !known.includes(part)) {
      const message = `${quote(`{${part}}`)} is no field of ${kind}`;
      complain('unknown-field', message, didYouMean(part, known, 'fields'));
    }
    if (i % 2 === 0 && /[{}]/.test(part)) {
      complain('lone-brace', `${quote(text)} has a brace without its other`, 'write {name}');
    }
  });
  return { parts, limit: length ?? USUAL_LENGTH, when: when ?? {} };
}

/**
 * The templates that are there when nobody brings any: a file as a user would write it.
 * @example
 * readTemplates({ file: 'lines.yaml', text: SHIPPED_TEMPLATES }).problems // → []
 */
export const SHIPPED_TEMPLATES = `# Lines for graphics and for the voice. The first template that holds and fits is used.
${KINDS.map(({ name, templates }) => `${name}:${templates}`).join('\n')}`;

const SHIPPED_SOURCE: Source = { file: 'shipped templates', text: SHIPPED_TEMPLATES };
let shipped: Templates | undefined;

/**
 * The templates that are there without a file.
 * @example
 * shippedTemplates().of.settled.length > 0 // → true
 */
export function shippedTemplates(): Templates {
  shipped ??= soundTemplates(readTemplates(SHIPPED_SOURCE));
  return shipped;
}

/** Throws with the first problem of a file of templates that is not sound. */
export function soundTemplates({ templates, problems }: ReadTemplates): Templates {
  if (templates !== null) return templates;
  const [first] = problems;
  const more = problems.length - 1;
  throw new LastRotationError(first?.message ?? 'cannot be read', {
    kind: 'file',
    code: first?.code ?? 'syntax',
    file: first?.file ?? null,
    line: first?.line ?? null,
    mend: `${first?.mend ?? ''}${more > 0 ? ` (and ${more} more)` : ''}`,
  });
}
