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
  /** The apparatus it is done right after, at the same station; null for one with a station of its own. */
  readonly follows: string | null;
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

/**
 * Routines that are done right after another at the same station, and counted only where a contest
 * asks for both: the second vault (2022 European Championships, docs/rules.md).
 */
const FOLLOW_UPS = [{ code: 'VT2', follows: 'VT' }] as const;

/** Codes that no discipline may give an apparatus of its own. */
export const FOLLOW_UP_CODES: readonly string[] = FOLLOW_UPS.map((f) => f.code);

/** Some apparatus, and right after each the one that follows it, if there is such. */
export function withFollowUps(apparatus: readonly Apparatus[]): Apparatus[] {
  return apparatus.flatMap((a) => {
    const more = FOLLOW_UPS.filter((f) => f.follows === a.code);
    return [a, ...more.map((f) => ({ ...a, ...f, name: `second ${a.name}` }))];
  });
}
