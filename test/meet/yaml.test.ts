/** Values and lines of the meet file, against another reader of YAML. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Document,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  stringify,
} from 'yaml';
import type { ProblemList } from '../../lib/meet/problems.js';
import { readYaml, type YamlNode } from '../../lib/meet/yaml.js';
import { COVE, ROOT } from '../support/cli.js';
import { problemsOf } from '../support/meet.js';
import { times } from '../support/times.js';

const EXAMPLE_FILES = ['docs/examples/harbour.yaml', 'docs/examples/mill-lane.yaml'] as const;

function example(name: string): string {
  return readFileSync(join(ROOT, name), 'utf8');
}

/** As another reader reads it: every value a text. */
function read(text: string): { document: Document; lineAt: (offset: number) => number } {
  const counter = new LineCounter();
  const document = parseDocument(text, { schema: 'failsafe', lineCounter: counter });
  return { document, lineAt: (offset) => counter.linePos(offset).line };
}

type Plain = string | null | Plain[] | { [key: string]: Plain };

function ours(text: string): { root: YamlNode | null; problems: ProblemList['problems'] } {
  const list: ProblemList = { file: 'meet.yaml', problems: [] };
  return { root: readYaml(text, list), problems: list.problems };
}

/** Our tree as plain values; a mapping without a prototype, so that no key is special. */
function plainOf(node: YamlNode): Plain {
  if (node.kind === 'text') return node.text;
  if (node.kind === 'list') return node.items.map(plainOf);
  return Object.assign(
    Object.create(null) as { [key: string]: Plain },
    Object.fromEntries(node.pairs.map((p) => [p.key, plainOf(p.value)])),
  );
}

/** The other reader's tree as plain values; what is left empty is an empty text. */
function plainOther(node: unknown): Plain {
  if (isMap(node)) {
    return Object.assign(
      Object.create(null) as { [key: string]: Plain },
      Object.fromEntries(
        node.items.map((p) => [String((p.key as { value?: unknown }).value), plainOther(p.value)]),
      ),
    );
  }
  if (isSeq(node)) return node.items.map(plainOther);
  return isScalar(node) ? String(node.value ?? '') : '';
}

/** The lines of all keys and values, by path. */
function linesOf(node: YamlNode, path = ''): [path: string, line: number][] {
  if (node.kind === 'text') return [[path, node.line]];
  if (node.kind === 'list') {
    return [[path, node.line], ...node.items.flatMap((n, i) => linesOf(n, `${path}/${i}`))];
  }
  return [
    [path, node.line],
    ...node.pairs.flatMap((p): [string, number][] => [
      [`${path}/${p.key}:`, p.line],
      ...linesOf(p.value, `${path}/${p.key}`),
    ]),
  ];
}

function otherLines(
  node: unknown,
  lineAt: (offset: number) => number,
  path = '',
): [path: string, line: number][] {
  const line = lineAt((node as Node).range?.[0] ?? 0);
  if (isMap(node)) {
    return [
      [path, line],
      ...node.items.flatMap((p): [string, number][] => {
        const key = p.key as Node & { value: unknown };
        return [
          [`${path}/${key.value}:`, lineAt(key.range?.[0] ?? 0)],
          ...otherLines(p.value, lineAt, `${path}/${key.value}`),
        ];
      }),
    ];
  }
  if (isSeq(node)) {
    return [[path, line], ...node.items.flatMap((n, i) => otherLines(n, lineAt, `${path}/${i}`))];
  }
  return [[path, line]];
}

describe.each(EXAMPLE_FILES)('%s', (name) => {
  const text = example(name);

  it.each([
    ['as it is', text],
    ['with CRLF', text.replaceAll('\n', '\r\n')],
    ['with blank lines and comments', text.replaceAll('\n', '\n\n# so\n')],
  ])('every key and value is the one, and on the line, that another reader finds: %s', (_, t) => {
    const { document, lineAt } = read(t);
    const { root, problems } = ours(t);
    expect(document.errors).toEqual([]);
    expect(problems).toEqual([]);
    if (root === null) throw new Error('not read');
    expect(plainOf(root)).toEqual(plainOther(document.contents));
    const lines = linesOf(root);
    expect(lines.length).toBeGreaterThan(100);
    expect(lines).toEqual(otherLines(document.contents, lineAt));
  });
});

// Each mistake is a reading of the whole file.
describe.each([COVE, 'docs/examples/mill-lane.yaml'])('%s', (name) => {
  const text = example(name);

  it('a mistake anywhere is reported on its line', () => {
    const { document, lineAt } = read(text);
    const places = scalars(document.contents);
    const wrong: { path: string; line: number; said: (number | null)[] }[] = [];
    let found = 0;
    for (const { path, start, end } of places) {
      // Names may be anything, and an id is missed where it is used.
      if (/\/(name|title|id)$/.test(path)) continue;
      const bad = 'x1x.y';
      const line = lineAt(start);
      const said = problemsOf(`${text.slice(0, start)}${bad}${text.slice(end)}`)
        .filter((p) => p.severity === 'error' && p.message.toLowerCase().includes(bad))
        .map((p) => p.line);
      if (said.length === 0 || said.some((l) => l !== line)) wrong.push({ path, line, said });
      else found++;
    }
    expect(wrong).toEqual([]);
    expect(found).toBeGreaterThan(places.length / 2);
  });

  it('a misspelt key anywhere is reported on its line', () => {
    const { document, lineAt } = read(text);
    const wrong: unknown[] = [];
    let found = 0;
    for (const { name: key, start } of keys(document.contents)) {
      // A code may be any; a contest of no kind is told so.
      if (/^[A-Z]{2}$/.test(key) || key === 'kind') continue;
      const line = lineAt(start);
      const said = problemsOf(`${text.slice(0, start)}x${text.slice(start)}`).filter(
        (p) => p.code === 'unknown-key',
      );
      if (said.length !== 1 || said[0]?.line !== line || !said[0].mend.includes(key)) {
        wrong.push({ key, line, said });
      } else found++;
    }
    expect(wrong).toEqual([]);
    expect(found).toBeGreaterThan(20);
  });
});

function scalars(node: unknown, path = ''): { path: string; start: number; end: number }[] {
  if (isMap(node)) {
    return node.items.flatMap((p) =>
      scalars(p.value, `${path}/${(p.key as { value: string }).value}`),
    );
  }
  if (isSeq(node)) return node.items.flatMap((n, i) => scalars(n, `${path}/${i}`));
  const [start = 0, end = 0] = (node as Node).range ?? [];
  return end > start ? [{ path, start, end }] : [];
}

function keys(node: unknown): { name: string; start: number }[] {
  if (isMap(node)) {
    return node.items.flatMap((p) => {
      const key = p.key as Node & { value: string };
      return [{ name: key.value, start: key.range?.[0] ?? 0 }, ...keys(p.value)];
    });
  }
  return isSeq(node) ? node.items.flatMap(keys) : [];
}

/** Texts that tempt a YAML reader: numbers, dates, words that mean something, odd characters. */
const tempting = fc.constantFrom(
  'null',
  'Null',
  '~',
  'true',
  'yes',
  'off',
  '12.900',
  '007',
  '0x1F',
  '1e3',
  '.5',
  '-',
  '- a',
  '? b',
  ': c',
  'a: b',
  'a #b',
  '#c',
  '*d',
  '&e',
  '!f',
  '%g',
  '@h',
  '`i',
  '[j]',
  '{k}',
  '"l"',
  "'m'",
  "O'Neil",
  'two\nlines',
  'ends\n',
  ' leads',
  'trails ',
  'Zoë Brückenø',
  '李小',
  '😀',
  '2026-05-16',
  '12:30',
  '<<',
  '=',
  '---',
  '...',
  'tab\there',
  'C:\\path',
  '\u2028',
  'a,b',
  '',
);
const word = fc.string({
  unit: fc.constantFrom(...'abcxyzVTUB019._-'),
  minLength: 1,
  maxLength: 9,
});
const value = fc.oneof(word, word, tempting, fc.string({ unit: 'grapheme', maxLength: 12 }));
const key = fc.oneof(
  word,
  word,
  tempting.filter((t) => t !== '' && t !== '<<'),
);

const tree = fc.letrec<{ node: unknown; list: unknown[]; map: Record<string, unknown> }>((tie) => ({
  node: fc.oneof({ maxDepth: 4, withCrossShrink: true }, value, tie('list'), tie('map')),
  list: fc.array(tie('node'), { maxLength: 5 }),
  map: fc.dictionary(key, tie('node'), { maxKeys: 6, noNullPrototype: false }),
}));

/** A meet in shape, with odd texts in it. */
const meetLike = fc.record({
  title: value,
  discipline: fc.constant('wag'),
  scoring: fc.constantFrom('open', 'ten'),
  contests: fc.array(fc.oneof(fc.constant('all-around'), fc.record({ kind: word, on: value }))),
  teams: fc.array(fc.record({ id: value, name: value, carried: fc.constant('12.50') })),
  usual: fc.dictionary(fc.constantFrom('VT', 'UB'), fc.record({ low: word, likely: value })),
  gymnasts: fc.array(fc.record({ id: value, name: value, on: fc.array(value) }), { maxLength: 8 }),
  groups: fc.array(fc.record({ start: value, order: fc.array(value, { maxLength: 6 }) })),
});

const style = fc.record({
  collectionStyle: fc.constantFrom('any' as const, 'block' as const, 'flow' as const),
  indent: fc.constantFrom(1, 2, 4),
  indentSeq: fc.boolean(),
  lineWidth: fc.constantFrom(0, 20, 40, 80),
  defaultStringType: fc.constantFrom(
    'PLAIN' as const,
    'QUOTE_DOUBLE' as const,
    'QUOTE_SINGLE' as const,
  ),
  defaultKeyType: fc.constantFrom(null, 'QUOTE_DOUBLE' as const),
  aliasDuplicateObjects: fc.boolean(),
  schema: fc.constant('failsafe' as const),
});

/** Text as the stringifier writes it, then as an editor may leave it. */
function edited(text: string, how: 'as it is' | 'CRLF' | 'comments' | 'BOM'): string {
  if (how === 'CRLF') return text.replaceAll('\n', '\r\n');
  if (how === 'comments') return `# a meet\n\n${text}\n# the end\n`;
  return how === 'BOM' ? `\uFEFF${text}` : text;
}

const editing = fc.constantFrom('as it is', 'as it is', 'CRLF', 'comments', 'BOM');

function expectSame(text: string): void {
  const { document, lineAt } = read(text.replace(/^\uFEFF/, ''));
  fc.pre(document.errors.length === 0);
  const { root, problems } = ours(text);
  expect(problems).toEqual([]);
  if (root === null) throw new Error('not read');
  if (document.contents === null) return;
  expect(plainOf(root)).toEqual(plainOther(document.contents));
  // An empty value has no place of its own, and one in a block begins a line later for us.
  const filled = (lines: [string, number][]) =>
    new Map(lines.filter(([path]) => textAt(document, path) !== ''));
  expect(filled(linesOf(root))).toEqual(filled(otherLines(document.contents, lineAt)));
}

/** The text at a path; '' where it has no line to compare. */
function textAt(document: Document, path: string): Plain {
  let node: unknown = document.contents;
  for (const step of path.split('/').slice(1)) {
    if (isMap(node))
      node = node.items.find((p) => String((p.key as { value: unknown }).value) === step)?.value;
    else if (isSeq(node)) node = node.items[Number(step)];
    else break;
  }
  if (!isScalar(node)) return 'collection';
  return String(node.type).startsWith('BLOCK') ? '' : String(node.value ?? '');
}

describe('random files', () => {
  it('meets in many styles are read as another reader reads them', () => {
    fc.assert(
      fc.property(meetLike, style, editing, (meet, how, editor) => {
        expectSame(edited(stringify(meet, how), editor));
      }),
      { numRuns: times(80), seed: 20260516 },
    );
  });

  it('trees of any shape in many styles are read as another reader reads them', () => {
    fc.assert(
      fc.property(tree.map, style, editing, (map, how, editor) => {
        fc.pre(Object.keys(map).length > 0);
        expectSame(edited(stringify(map, how), editor));
      }),
      { numRuns: times(80), seed: 20260517 },
    );
  });

  it('JSON is read as JSON', () => {
    fc.assert(
      fc.property(tree.map, fc.constantFrom(undefined, 1, 2, '\t'), (map, indent) => {
        const { root, problems } = ours(JSON.stringify(map, null, indent));
        expect(problems).toEqual([]);
        if (root === null) throw new Error('not read');
        const expected: unknown = JSON.parse(JSON.stringify(map));
        expect(JSON.parse(JSON.stringify(plainOf(root)))).toEqual(expected);
      }),
      { numRuns: times(80), seed: 20260518 },
    );
  });

  it('names within names stand for what they name', () => {
    const text = 'a: &x { k: [1, &y two] }\nb: *x\nc: [*y, *x]\nd: &x three\ne: *x\n';
    const { root } = ours(text);
    if (root === null) throw new Error('not read');
    const same = JSON.parse(JSON.stringify(parseDocument(text, { schema: 'failsafe' }).toJS()));
    expect(JSON.parse(JSON.stringify(plainOf(root)))).toEqual(same);
  });
});
