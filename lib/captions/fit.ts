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
 * so is one that does not fit even at its shortest.
 */
export function lineFor(fact: Fact, templates: readonly Template[]): Line | null {
  let tooLong: Line | null = null;
  for (const template of templates) {
    if (!holds(fact, template)) continue;
    const { limit } = template;
    for (const short of SHORTENING) {
      const text = filled(fact, template, short);
      const length = lengthOf(text);
      if (length <= limit) return { text, length, limit };
    }
    tooLong ??= { text: null, length: 0, limit };
  }
  return tooLong;
}

function holds(fact: Fact, { when, parts }: Template): boolean {
  const met = Object.entries(when).every(([name, word]) => fact.marks[name] === word);
  return met && parts.every((part, i) => i % 2 === 0 || fact.fields[part] != null);
}

function filled({ fields }: Fact, { parts }: Template, short: Short): string {
  return parts.map((part, i) => (i % 2 === 0 ? part : (fields[part]?.(short) ?? ''))).join('');
}
