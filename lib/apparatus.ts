/**
 * Disciplines, apparatus codes and Olympic order: women VT UB BB FX; men FX PH SR VT PB HB
 * (encyclopaedia, "Olympic order"). A meet may bring a list of its own.
 */
import type { Score } from './score.js';

/** One apparatus of a meet. */
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
  /** After the name, what else it is called. A word that two of them share is asked back. */
  readonly apparatus: readonly (readonly [code: string, name: string, ...others: string[]])[];
  /** Words for one of its gymnasts. */
  readonly words: { readonly she: string; readonly her: string };
}

export const DISCIPLINES = {
  wag: {
    name: "women's artistic gymnastics",
    apparatus: [
      ['VT', 'vault'],
      ['UB', 'bars', 'uneven bars', 'asymmetric bars'],
      ['BB', 'beam', 'balance beam'],
      ['FX', 'floor', 'floor exercise'],
    ],
    words: { she: 'she', her: 'her' },
  },
  mag: {
    name: "men's artistic gymnastics",
    apparatus: [
      ['FX', 'floor', 'floor exercise'],
      ['PH', 'pommel horse', 'pommel', 'pommels', 'horse'],
      ['SR', 'rings', 'still rings'],
      ['VT', 'vault'],
      ['PB', 'parallel bars', 'p-bars', 'parallels', 'bars', 'bar'],
      ['HB', 'high bar', 'horizontal bar', 'bars', 'bar'],
    ],
    words: { she: 'he', her: 'his' },
  },
} as const satisfies Record<string, Discipline>;

/** Words for a gymnast of a discipline of the meet's own. */
export const NEUTRAL_WORDS = { she: 'they', her: 'their' } as const;

/**
 * A discipline that is known by itself: `wag` women's artistic, `mag` men's artistic, … A meet file
 * may describe its own.
 */
export type DisciplineCode = keyof typeof DISCIPLINES;

/**
 * Routines that are done right after another at the same station, and counted only where a contest
 * asks for both: the second vault (2022 European Championships, docs/rules.md).
 */
const FOLLOW_UPS = [{ code: 'VT2', follows: 'VT', others: ['vault 2', '2nd vault'] }] as const;

/** Codes that no discipline may give an apparatus of its own. */
export const FOLLOW_UP_CODES: readonly string[] = FOLLOW_UPS.map((f) => f.code);

/** Some apparatus, and right after each the one that follows it, if there is such. */
export function withFollowUps(apparatus: readonly Apparatus[]): Apparatus[] {
  return apparatus.flatMap((a) => {
    const more = FOLLOW_UPS.filter((f) => f.follows === a.code);
    return [
      a,
      ...more.map(({ code, follows }) => ({ ...a, code, follows, name: `second ${a.name}` })),
    ];
  });
}

/** What else an apparatus is called, by its code and its name: a meet's own list may use our codes. */
function otherNames({ code, name }: Pick<Apparatus, 'code' | 'name'>): readonly string[] {
  const tables: readonly Discipline[] = Object.values(DISCIPLINES);
  const known = tables
    .flatMap((d) => d.apparatus)
    .filter(([c, n]) => c === code && n === name)
    .flatMap(([, , ...others]) => others);
  return [...known, ...FOLLOW_UPS.filter((f) => f.code === code).flatMap((f) => f.others)];
}

/** Letters and figures alone, in small letters without accents: `P-Bars` is `pbars`. */
function squeezed(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]/gu, '')
    .toLowerCase();
}

/**
 * Which of some apparatus a text may mean, by code, by name or by what else it is called, in any case:
 * one, none, or several, which must be asked back ("bars" on a men's programme).
 */
export function apparatusCalled<A extends Pick<Apparatus, 'code' | 'name'>>(
  known: readonly A[],
  text: string,
): readonly A[] {
  const wanted = squeezed(text);
  if (wanted === '') return [];
  const isIt = (word: string) => squeezed(word) === wanted;
  const byCode = known.filter((a) => isIt(a.code));
  if (byCode.length > 0) return byCode;
  const byName = known.filter((a) => isIt(a.name));
  return byName.length > 0 ? byName : known.filter((a) => otherNames(a).some(isIt));
}
