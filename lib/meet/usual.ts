/**
 * What is usual on each apparatus: how far a routine without a fall lies from a gymnast's own level,
 * and how often somebody falls. For whoever has no range of her own.
 */
import { DISCIPLINES, type DisciplineCode } from '../apparatus.js';
import { asScore, type Score, type Units, unitsPerPoint } from '../score.js';
import { highestWith, type Scoring, type ScoringSystemName } from '../scoring.js';

/** Amounts in thousandths of a point. */
export interface UsualFigures {
  /** The mean score, and the mean of score - D, of a routine without a fall. */
  readonly level: number;
  readonly execution: number;
  /** The standard deviation of a routine without a fall around a gymnast's own level. */
  readonly spread: number;
  /** The standard deviation of gymnasts' levels around that of all. */
  readonly between: number;
  /** The chance of a fall. */
  readonly falls: number;
}

/**
 * Computed by lib/history/pool.ts from open data: 20,815 routines, 27 February 2022 to 27 August
 * 2023, from the UCSAS 2024 data challenge (University of Connecticut; compiled from published
 * results). test/reference/usual.test.ts computes them again and compares.
 */
const OPEN: Readonly<Record<DisciplineCode, Readonly<Record<string, UsualFigures>>>> = {
  wag: {
    VT: { level: 12_980, execution: 8700, spread: 270, between: 680, falls: 0.05 },
    VT2: { level: 12_550, execution: 8640, spread: 300, between: 580, falls: 0.07 },
    UB: { level: 12_370, execution: 7540, spread: 370, between: 1290, falls: 0.23 },
    BB: { level: 12_050, execution: 7150, spread: 410, between: 1070, falls: 0.27 },
    FX: { level: 12_270, execution: 7500, spread: 300, between: 830, falls: 0.12 },
  },
  mag: {
    FX: { level: 13_260, execution: 7890, spread: 350, between: 770, falls: 0.22 },
    PH: { level: 12_900, execution: 7790, spread: 420, between: 1150, falls: 0.28 },
    SR: { level: 13_190, execution: 8200, spread: 280, between: 880, falls: 0.11 },
    VT: { level: 13_930, execution: 8900, spread: 270, between: 670, falls: 0.13 },
    VT2: { level: 13_900, execution: 8930, spread: 310, between: 700, falls: 0.17 },
    PB: { level: 13_460, execution: 8200, spread: 330, between: 940, falls: 0.19 },
    HB: { level: 12_910, execution: 8020, spread: 360, between: 870, falls: 0.22 },
  },
};

/** Out of 10.000, on every apparatus: common practice, no published source. */
const TEN: UsualFigures = {
  level: 9750,
  execution: 9750,
  spread: 80,
  between: 80,
  falls: 0.05,
};

/** How far low and high of a range lie from likely, in standard deviations of a routine without a fall. */
const BELOW = 3.2;
const ABOVE = 2.1;

/** So much of what gymnasts differ by on an apparatus shows on no other. */
const OWN_SHARE = 1 / 3;

/** Where her D is known gymnasts differ by so much of what they differ by else. */
const KNOWN_D = 0.5;

/** What is usual of everyone counts as much as so many others of tonight whose ranges are known. */
const USUAL_FIELD = 2;

/** The figures of an apparatus; null where none are known, as in a discipline of one's own. */
export function usualFigures(
  system: ScoringSystemName,
  discipline: DisciplineCode | null,
  apparatus: string,
): UsualFigures | null {
  const figures = discipline === null ? undefined : OPEN[discipline][apparatus];
  if (figures === undefined) return null;
  return system === 'ten' ? TEN : figures;
}

/** Low, likely and high of a routine without a fall; within what the rules allow. */
export interface Hits {
  readonly low: Score;
  readonly likely: Score;
  readonly high: Score;
}

/**
 * The range whose mean, without a fall, is `mean`, and whose standard deviation is about `spread`, in
 * units. It reaches further down than up, as scores do.
 */
export function rangeAround(mean: number, spread: number, limit: Units): Hits {
  // The mean of a modified PERT is (low + 4 likely + high) / 6.
  const likely = mean + ((BELOW - ABOVE) * spread) / 6;
  return aroundLikely(likely, spread, limit);
}

function aroundLikely(likely: number, spread: number, limit: Units): Hits {
  const within = (s: number) => asScore(Math.max(Math.min(Math.round(s), limit), 0));
  return {
    low: within(likely - BELOW * spread),
    likely: within(likely),
    high: within(likely + ABOVE * spread),
  };
}

/** What of a range has been given; null for the rest. */
export interface GivenRange {
  readonly low: Score | null;
  readonly likely: Score | null;
  readonly high: Score | null;
  readonly falls: number | null;
  readonly d: Score | null;
}

/** The others who are known on an apparatus: how many, and the mean of what is expected of them without a fall. */
export interface Field {
  readonly gymnasts: number;
  readonly level: Units;
}

/** One of tonight's scores, and on what. */
export interface Tonight {
  readonly apparatus: string;
  readonly score: Score;
}

/** A whole range. */
export interface UsualRange extends Hits {
  readonly falls: number;
}

/**
 * The usual range around a likely score, or around the usual level: of someone whose level is known.
 * Null where nothing is known of the apparatus.
 */
export function usualRange(
  scoring: Scoring,
  discipline: DisciplineCode,
  apparatus: string,
  likely: Units | null = null,
): UsualRange | null {
  const figures = usualFigures(scoring.system, discipline, apparatus);
  if (figures === null) return null;
  const level = Math.round((figures.level * unitsPerPoint(scoring.decimals)) / 1000);
  const given = { ...NOTHING, likely: asScore(likely ?? level) };
  return completed(scoring, discipline, apparatus, given, []);
}

const NOTHING: GivenRange = { low: null, likely: null, high: null, falls: null, d: null };

/**
 * A range whose missing parts are what is usual: around the part that is given, or else around the level
 * that her D, her scores tonight or, without either, the others of the field suggest, wider then. Null
 * where nothing is known of the apparatus.
 */
export function completed(
  scoring: Scoring,
  discipline: DisciplineCode | null,
  apparatus: string,
  given: GivenRange,
  tonight: readonly Tonight[],
  field: Field | null = null,
): UsualRange | null {
  const figures = usualFigures(scoring.system, discipline, apparatus);
  if (figures === null) return null;
  const units = unitsPerPoint(scoring.decimals) / 1000;
  const { ceiling, decimals } = scoring;
  // What is usual is no more than she can have with the D score she is expected to show.
  const limit = given.d === null ? ceiling : Math.min(ceiling, highestWith(given.d, decimals));
  const spread = figures.spread * units;
  const falls = given.falls ?? figures.falls;
  const middle = middleOf(given, spread);
  if (middle === null) {
    const known = { d: given.d, tonight, field };
    return { ...atLevel(scoring, discipline, figures, known, limit), falls };
  }
  const { low, likely, high } = given;
  const around = aroundLikely(middle, spread, limit);
  const middleOne = likely ?? around.likely;
  return {
    low: low ?? asScore(Math.min(around.low, middleOne)),
    likely: middleOne,
    high: high ?? asScore(Math.max(around.high, middleOne)),
    falls,
  };
}

/** What is likely by the scores that are given; null where none is. */
function middleOf({ low, likely, high }: GivenRange, spread: number): number | null {
  if (likely !== null) return likely;
  if (low !== null && high !== null) return low + ((high - low) * BELOW) / (BELOW + ABOVE);
  if (low !== null) return low + BELOW * spread;
  return high === null ? null : high - ABOVE * spread;
}

/** What there is to go by where no score of a range is given. */
interface Known {
  readonly d: Score | null;
  readonly tonight: readonly Tonight[];
  readonly field: Field | null;
}

/**
 * The range of someone of whom no score is given. Of what she differs by from others the part that shows on
 * every apparatus is the surer the more scores of hers there are; the rest stays open.
 */
function atLevel(
  { system, decimals }: Scoring,
  discipline: DisciplineCode | null,
  figures: UsualFigures,
  { d, tonight, field }: Known,
  limit: Units,
): Hits {
  const units = unitsPerPoint(decimals) / 1000;
  const beyond = tonight.flatMap(({ apparatus, score }) => {
    const usual = usualFigures(system, discipline, apparatus);
    // How many of that apparatus' deviations she is above the level of all.
    return usual === null ? [] : [(score / units - usual.level) / usual.between];
  });
  const trust = beyond.length / (beyond.length + 1);
  const better = beyond.length === 0 ? 0 : beyond.reduce((a, b) => a + b, 0) / beyond.length;
  const between = figures.between * units * (d === null ? 1 : KNOWN_D);
  // Her own scores tell more than the company she is in.
  const level =
    d !== null
      ? d + figures.execution * units
      : levelIn(figures.level * units, beyond.length === 0 ? field : null);
  return rangeAround(
    level + trust * better * between,
    Math.hypot(
      figures.spread * units,
      between * Math.sqrt(OWN_SHARE + (1 - OWN_SHARE) * (1 - trust)),
    ),
    limit,
  );
}

/** The level of a field, leaning on what is usual of everyone. */
function levelIn(usual: number, field: Field | null): number {
  if (field === null) return usual;
  return (field.gymnasts * field.level + USUAL_FIELD * usual) / (field.gymnasts + USUAL_FIELD);
}

export function isDiscipline(code: unknown): code is DisciplineCode {
  return typeof code === 'string' && Object.hasOwn(DISCIPLINES, code);
}
