/**
 * Disciplines, apparatus codes and Olympic order: women VT UB BB FX; men FX PH SR VT PB HB
 * (encyclopaedia, "Olympic order"). A meet may bring a list of its own.
 */
import type { Score } from './score.js';

export interface Apparatus {
  /** `VT`, `UB`, …; the second vault of a two-vault contest is `VT2`. */
  readonly code: string;
  /** As a commentator says it, without an article: `floor`. */
  readonly name: string;
  /** The highest score the rules allow here; null where only the D score sets one, if anything. */
  readonly limit: Score | null;
}

interface Discipline {
  readonly name: string;
  readonly apparatus: readonly (readonly [code: string, name: string])[];
  /** Words for one of its gymnasts. */
  readonly words: { readonly she: string; readonly her: string };
}

export const DISCIPLINES = {
  wag: {
    name: "women's artistic gymnastics",
    apparatus: [
      ['VT', 'vault'],
      ['UB', 'bars'],
      ['BB', 'beam'],
      ['FX', 'floor'],
    ],
    words: { she: 'she', her: 'her' },
  },
  mag: {
    name: "men's artistic gymnastics",
    apparatus: [
      ['FX', 'floor'],
      ['PH', 'pommel horse'],
      ['SR', 'rings'],
      ['VT', 'vault'],
      ['PB', 'parallel bars'],
      ['HB', 'high bar'],
    ],
    words: { she: 'he', her: 'his' },
  },
} as const satisfies Record<string, Discipline>;

/** Words for a gymnast of a discipline of the meet's own. */
export const NEUTRAL_WORDS = { she: 'they', her: 'their' } as const;

export type DisciplineCode = keyof typeof DISCIPLINES;

export const VAULT = 'VT';
/** Done right after the first vault, at the same station. */
export const SECOND_VAULT = 'VT2';
