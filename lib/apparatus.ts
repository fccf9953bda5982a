/**
 * Disciplines, apparatus codes and Olympic order: women VT UB BB FX; men FX PH SR VT PB HB
 * (docs/rules.md has the source). A meet may bring a list of its own.
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

/**
 * What lists of entries and results call them besides: other codes, and names in French, German, Spanish,
 * Italian and Portuguese (from memory). They are read where a whole value names an apparatus, and not among the
 * words of a typed line, where they might be somebody's name: Solo, Barra, Ringe.
 */
const ALSO_WRITTEN: Readonly<Record<DisciplineCode, Readonly<Record<string, string>>>> = {
  wag: {
    VT: 'V, VT1, saut, saut de cheval, table de saut, Sprung, Pferdsprung, salto, potro, volteggio, salto sobre a mesa',
    UB: 'UE, UN, AB, barres asymétriques, barres, Stufenbarren, Barren, barras asimétricas, asimétricas, paralelas asimétricas, barras, parallele asimmetriche, parallele, paralelas assimétricas, barras assimétricas, paralelas',
    BB: 'BE, poutre, Schwebebalken, Balken, viga, viga de equilibrio, barra de equilibrio, trave, trave de equilíbrio',
    FX: 'FL, FE, sol, exercice au sol, Boden, Bodenturnen, suelo, piso, manos libres, corpo libero, solo',
  },
  mag: {
    FX: 'FL, FE, sol, exercice au sol, Boden, Bodenturnen, suelo, piso, manos libres, corpo libero, solo',
    PH: "cheval d'arçons, arçons, Pauschenpferd, Seitpferd, Pferd, caballo con arcos, caballo con arzones, arzones, cavallo con maniglie, cavallo, cavalo com alças, cavalo",
    SR: 'RI, anneaux, Ringe, anillas, anelli, argolas',
    VT: 'V, VT1, saut, saut de cheval, table de saut, Sprung, Pferdsprung, salto, potro, volteggio, salto sobre a mesa',
    PB: 'barres parallèles, Barren, barras paralelas, paralelas, parallele pari, parallele',
    HB: 'HI, barre fixe, Reck, barra fija, sbarra, barra fixa',
  },
};

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

/** What an apparatus is called. */
export type Called = Pick<Apparatus, 'code' | 'name'>;

/** The apparatus of a discipline as they are called, the second vault too. */
export function calledIn(discipline: DisciplineCode): readonly Called[] {
  const plain = DISCIPLINES[discipline].apparatus.map(([code, name]) => ({ code, name }));
  return withFollowUps(plain.map((a) => ({ ...a, limit: null, follows: null })));
}

/** The disciplines that have an apparatus of this code and this name: a meet's own list may use our codes. */
function disciplinesWith({ code, name }: Called): readonly DisciplineCode[] {
  const all = Object.keys(DISCIPLINES) as DisciplineCode[];
  return all.filter((d) => DISCIPLINES[d].apparatus.some(([c, n]) => c === code && n === name));
}

/** What else an apparatus is called in English. */
function otherNames(called: Called): readonly string[] {
  const known = disciplinesWith(called).flatMap((d) => {
    const found = DISCIPLINES[d].apparatus.find(([code]) => code === called.code);
    return found?.slice(2) ?? [];
  });
  return [...known, ...FOLLOW_UPS.filter((f) => f.code === called.code).flatMap((f) => f.others)];
}

function alsoWritten(called: Called): readonly string[] {
  return disciplinesWith(called).flatMap((d) => ALSO_WRITTEN[d][called.code]?.split(', ') ?? []);
}

/** Letters and figures alone, in small letters without accents: `P-Bars` is `pbars`. */
function squeezed(text: string): string {
  if (/^[a-z0-9]*$/.test(text)) return text;
  return text
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]/gu, '')
    .toLowerCase();
}

/**
 * Which of some apparatus a text may mean, by code, by name or by what else it is called in English, in any
 * case: one, none, or several, which must be asked back ("bars" on a men's programme).
 */
export function apparatusCalled<A extends Called>(known: readonly A[], text: string): readonly A[] {
  const wanted = squeezed(text);
  if (wanted === '') return [];
  const isIt = (word: string) => squeezed(word) === wanted;
  const byCode = known.filter((a) => isIt(a.code));
  if (byCode.length > 0) return byCode;
  const byName = known.filter((a) => isIt(a.name));
  return byName.length > 0 ? byName : known.filter((a) => otherNames(a).some(isIt));
}

/** The same where a text is the whole of a value: other lists' codes and other languages are read as well. */
export function apparatusWritten<A extends Called>(
  known: readonly A[],
  text: string,
): readonly A[] {
  const exact = known.filter((a) => a.code === text);
  if (exact.length > 0) return exact;
  const found = apparatusCalled(known, text);
  const wanted = squeezed(text);
  if (found.length > 0 || wanted === '') return found;
  return known.filter((a) => alsoWritten(a).some((word) => squeezed(word) === wanted));
}
