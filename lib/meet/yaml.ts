/** YAML text → a tree whose every value is a text and knows its line. */
import {
  EVENT_ID,
  type Event,
  getScalarValue,
  parseEvents,
  SCALAR_STYLE,
  YAMLException,
} from 'js-yaml';
import { type ProblemList, report } from './problems.js';
import { describeSyntax } from './yaml-syntax.js';

export interface YamlText {
  readonly kind: 'text';
  readonly text: string;
  /** Without quotes: then `~`, `null` and nothing at all mean that there is no value. */
  readonly plain: boolean;
  readonly line: number;
}

export interface YamlList {
  readonly kind: 'list';
  readonly items: readonly YamlNode[];
  readonly line: number;
}

export interface YamlMap {
  readonly kind: 'map';
  readonly pairs: readonly YamlPair[];
  readonly line: number;
}

export interface YamlPair {
  readonly key: string;
  readonly value: YamlNode;
  readonly line: number;
}

/** No value is ever a number or a date: 13.900 stays 13.900, 007 stays 007. */
export type YamlNode = YamlText | YamlList | YamlMap;

/** Reads YAML; null, and a problem with its line, when it is none. An empty text is an empty map. */
export function readYaml(source: string, list: ProblemList): YamlNode | null {
  const text = source.replace(/^\uFEFF/, '');
  try {
    return buildTree(text, parseEvents(text, {}), list);
  } catch (error) {
    const { reason, mark } = error instanceof YAMLException ? error : { reason: '', mark: null };
    const { line, message, mend } = describeSyntax(text, reason, mark?.position ?? null);
    report(list, 'error', 'syntax', line, message, mend);
    return null;
  }
}

/** A collection whose end has not come yet. */
interface Open {
  readonly kind: 'list' | 'map';
  readonly items: YamlNode[];
  readonly line: number;
  readonly anchor: string | null;
}

/** Puts the parser's events together; events name the source by offsets. */
function buildTree(text: string, events: readonly Event[], list: ProblemList): YamlNode | null {
  const lineAt = lineFinder(text);
  const anchors = new Map<string, YamlNode>();
  const roots: YamlNode[] = [];
  const open: Open[] = [];

  const put = (node: YamlNode, anchor: string | null): void => {
    if (anchor !== null) anchors.set(anchor, node);
    (open.at(-1)?.items ?? roots).push(node);
  };
  const named = (anchor: string, line: number): YamlNode => {
    const node = anchors.get(anchor);
    if (node !== undefined) return node;
    const mend = `name a value with &${anchor} before it, or put the text in quotes`;
    report(list, 'error', 'syntax', line, `*${anchor} stands for nothing`, mend);
    return { kind: 'text', text: '', plain: false, line };
  };

  /** Where the last value ended. */
  let end = 0;
  for (const event of events) {
    if (event.type === EVENT_ID.DOCUMENT) continue;
    if (event.type === EVENT_ID.POP) {
      const ended = open.pop();
      if (ended === undefined) continue;
      const { kind, items, line, anchor } = ended;
      put(
        kind === 'list' ? { kind, items, line } : { kind, pairs: pairsOf(items, list), line },
        anchor,
      );
      continue;
    }
    const { anchorStart, anchorEnd } = event;
    const anchor = anchorStart < 0 ? null : text.slice(anchorStart, anchorEnd);
    if (event.type === EVENT_ID.ALIAS) {
      put(named(anchor ?? '', lineAt(anchorStart)), null);
    } else if (event.type === EVENT_ID.SCALAR) {
      const value = getScalarValue(text, event);
      const plain = event.style === SCALAR_STYLE.PLAIN;
      // An entry with nothing in it has no place of its own but that of its dash.
      const start = event.valueStart < 0 ? text.indexOf('-', end) : event.valueStart;
      put({ kind: 'text', text: value, plain, line: lineAt(start) }, anchor);
      end = Math.max(end, event.valueEnd);
    } else {
      const kind = event.type === EVENT_ID.SEQUENCE ? 'list' : 'map';
      open.push({ kind, items: [], line: lineAt(event.start), anchor });
      end = event.start;
    }
  }
  if (roots.length > 1) {
    report(list, 'error', 'syntax', null, 'holds several documents', 'delete the lines ---');
    return null;
  }
  return roots[0] ?? { kind: 'map', pairs: [], line: 1 };
}

/** Keys and values come one after the other. */
function pairsOf(items: readonly YamlNode[], list: ProblemList): YamlPair[] {
  const pairs: YamlPair[] = [];
  const seen = new Set<string>();
  for (let i = 0; i + 1 < items.length; i += 2) {
    const [key, value] = [items[i] as YamlNode, items[i + 1] as YamlNode];
    if (key.kind !== 'text') {
      report(list, 'error', 'syntax', key.line, 'a key is not plain text', 'write key: value');
    } else if (seen.has(key.text)) {
      const message = `the key ${key.text} is there twice`;
      report(list, 'error', 'syntax', key.line, message, 'keep one of the two');
    } else {
      seen.add(key.text);
      pairs.push({ key: key.text, value, line: key.line });
    }
  }
  return pairs;
}

/** Offsets to lines, counted from 1. */
function lineFinder(text: string): (offset: number) => number {
  const starts = [...text.matchAll(/\r\n|\n|\r/g)].map((m) => m.index + m[0].length);
  let last = 0;
  return (offset) => {
    // Most stand on the line of the one before, or on the next.
    if ((starts[last] ?? offset + 1) <= offset) last++;
    const [from = 0, to = offset + 1] = [starts[last - 1], starts[last]];
    if (from <= offset && offset < to) return last + 1;
    let [low, high] = [0, starts.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle + 1;
      else high = middle;
    }
    last = low;
    return low + 1;
  };
}
