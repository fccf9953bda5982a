/** A fact → a line: the first template that holds and fits, shortened as little as it takes. */
import { lengthOf } from '../meet/characters.js';
import type { Fact } from './fact.js';
import type { Template } from './templates.js';
import { SHORTENING, type Short } from './words.js';

export interface Line {
  /** Null when no template fits. */
  readonly text: string | null;
  /** In characters a viewer sees; 0 without a text. */
  readonly length: number;
  readonly limit: number;
}

/**
 * Null when no template holds. A template that names a field with nothing in it is passed over, and
 * so is one that does not fit even at its shortest. Of the remarks, said before the full stop, the first
 * that fits is used.
 */
export function lineFor(
  fact: Fact,
  templates: readonly Template[],
  remarks: readonly string[],
): Line | null {
  const held = templates.filter((template) => holds(fact, template));
  for (const template of held) {
    for (const remark of remarks) {
      for (const short of SHORTENING) {
        const text = filled(fact, template, short).replace(/([.!?]?)$/, `${remark}$1`);
        const length = lengthOf(text);
        if (length <= template.limit) return { text, length, limit: template.limit };
      }
    }
  }
  const [first] = held;
  return first === undefined ? null : { text: null, length: 0, limit: first.limit };
}

function holds(fact: Fact, { when, parts }: Template): boolean {
  const met = Object.entries(when).every(([name, word]) => fact.marks[name] === word);
  return met && parts.every((part, i) => i % 2 === 0 || fact.fields[part] != null);
}

function filled({ fields }: Fact, { parts }: Template, short: Short): string {
  return parts.map((part, i) => (i % 2 === 0 ? part : (fields[part]?.(short) ?? ''))).join('');
}
