/** Published verbal scales: words for chances. A new scale is one more entry here. */

/** Chances from one end to the other. */
export interface ChanceBand {
  /** The lower end, 0 to 1. */
  readonly from: number;
  /** The upper end, 0 to 1. */
  readonly to: number;
}

/** A word and the chances it stands for, both ends included unless a neighbour has the end. */
export interface Term extends ChanceBand {
  /** As the scale spells it: `very likely`. */
  readonly term: string;
}

/** A published list of words for chances. */
export interface Scale {
  /** What it is called in a sentence: `EFSA`. */
  readonly name: string;
  /** Where it was published. */
  readonly source: string;
  /** From the least likely up; there may be gaps between them, and beyond the first and the last. */
  readonly terms: readonly Term[];
}

function terms(...of: readonly (readonly [term: string, from: number, to: number])[]): Term[] {
  return of.map(([term, from, to]) => ({ term, from, to }));
}

/**
 * The published scales, by the name that `claim` takes.
 * @example
 * SCALES.efsa.terms[0]?.term // → 'almost impossible'
 */
export const SCALES = {
  efsa: {
    name: 'EFSA',
    source: 'EFSA Journal 16(1):5123, 2018',
    terms: terms(
      ['almost impossible', 0, 0.01],
      ['extremely unlikely', 0.01, 0.05],
      ['very unlikely', 0.05, 0.1],
      ['unlikely', 0.1, 0.33],
      ['about as likely as not', 0.33, 0.66],
      ['likely', 0.66, 0.9],
      ['very likely', 0.9, 0.95],
      ['extremely likely', 0.95, 0.99],
      ['almost certain', 0.99, 1],
    ),
  },
  ipcc: {
    name: 'IPCC',
    source: 'IPCC AR4, Working Group II, 2007',
    terms: terms(
      ['exceptionally unlikely', 0, 0.01],
      ['very unlikely', 0.01, 0.1],
      ['unlikely', 0.1, 0.33],
      ['about as likely as not', 0.33, 0.66],
      ['likely', 0.66, 0.9],
      ['very likely', 0.9, 0.99],
      ['virtually certain', 0.99, 1],
    ),
  },
  icd203: {
    name: 'ICD 203',
    source: 'US Intelligence Community Directive 203, 2015',
    terms: terms(
      ['almost no chance', 0.01, 0.05],
      ['very unlikely', 0.05, 0.2],
      ['unlikely', 0.2, 0.45],
      ['roughly even chance', 0.45, 0.55],
      ['likely', 0.55, 0.8],
      ['very likely', 0.8, 0.95],
      ['almost certain', 0.95, 0.99],
    ),
  },
  phia: {
    name: 'PHIA',
    source: 'UK probability yardstick (from memory)',
    terms: terms(
      ['remote chance', 0, 0.05],
      ['highly unlikely', 0.1, 0.2],
      ['unlikely', 0.25, 0.35],
      ['realistic possibility', 0.4, 0.5],
      ['likely', 0.55, 0.75],
      ['highly likely', 0.8, 0.9],
      ['almost certain', 0.95, 1],
    ),
  },
} as const satisfies Record<string, Scale>;

/** A scale as `claim` takes it: `efsa`, …; `SCALES` has them. */
export type ScaleName = keyof typeof SCALES;

export function isScale(name: string): name is ScaleName {
  return Object.hasOwn(SCALES, name);
}

const EVEN = 0.5;

/**
 * Whether a chance is in a band. Where two words share an end, the chance itself belongs to the one
 * nearer the even chance: the milder word.
 */
export function isIn(scale: Scale, { from, to }: ChanceBand, chance: number): boolean {
  const isShared = (end: number) =>
    scale.terms.some((t) => t.to === end) && scale.terms.some((t) => t.from === end);
  const above = chance === from ? !isShared(from) || from < EVEN : chance > from;
  const below = chance === to ? !isShared(to) || to > EVEN : chance < to;
  return above && below;
}

/** The word of a scale for a chance, or the words it lies between where there is none. */
export type Wording =
  | { readonly term: Term; readonly between: null }
  | { readonly term: null; readonly between: readonly [Term | null, Term | null] };

export function wordFor(scale: Scale, chance: number): Wording {
  const term = scale.terms.find((t) => isIn(scale, t, chance));
  if (term !== undefined) return { term, between: null };
  const below = scale.terms.findLast((t) => t.to <= chance) ?? null;
  const above = scale.terms.find((t) => t.from >= chance) ?? null;
  return { term: null, between: [below, above] };
}
