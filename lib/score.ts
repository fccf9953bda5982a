/**
 * Scores as exact integers. Nothing here or above it holds a score in a fraction: a score, a
 * total, a gap, a D or an E score is a whole number of units, and one unit is the last decimal the
 * meet publishes.
 */
import { badUsage } from './error.js';

declare const made: unique symbol;

/**
 * A score, a total or a gap, in units of the last published decimal: 13.534 is 13534. A whole number
 * that `score` or `parseScore` has read from a text, or that an answer holds; no other number is one,
 * so that points are never taken for units.
 */
export type Score = number & { readonly [made]: 'score' };

/** A whole number of units: a total, a gap, what is open of a sum. */
export type Units = number;

/** What was computed in whole units, as an answer holds it. For the library itself: nothing is checked. */
export function asScore(units: Units): Score {
  return units as Score;
}

/** How many decimals a meet publishes; college championships publish four. */
export type Decimals = 3 | 4;

/** A text that was read, or what is wrong with it and what to write instead. */
export type Parsed<T> =
  | {
      /** What was read. */
      readonly value: T;
    }
  | {
      /** Why the text cannot be taken, in one line without an end. */
      readonly wrong: string;
      /** What to write instead. */
      readonly mend: string;
    };

/** Units in 1.000. */
export function unitsPerPoint(decimals: Decimals): number {
  return 10 ** decimals;
}

/**
 * Reads a score as people write it: `13.566`, `13,566`, `13.5`, `14`. At most three digits before the point
 * and no more decimals than the meet publishes, so that a lost point is noticed.
 * @param text - As somebody wrote it; blanks around it do not matter.
 * @param decimals - How many decimals the meet publishes, 3 or 4.
 * @returns The score in units, or what is wrong with the text and what to write instead.
 * @example
 * parseScore('13,5', 3) // → { value: 13500 }
 * parseScore('13566', 3) // → { wrong: '"13566" is too large for a score', mend: 'check the decimal point' }
 */
export function parseScore(text: string, decimals: Decimals): Parsed<Score> {
  const match = /^(\d+)(?:[.,](\d+))?$/.exec(text.trim());
  const example = formatScore(13.5 * unitsPerPoint(decimals), decimals);
  if (!match) return { wrong: `${quote(text)} is not a score`, mend: `write it like ${example}` };
  const [, points = '', fraction = ''] = match;
  if (fraction.length > decimals) {
    return {
      wrong: `${quote(text)} has ${fraction.length} decimals, and this meet gives ${decimals}`,
      mend: `write at most ${decimals} decimals`,
    };
  }
  if (points.replace(/^0+/, '').length > 3) {
    return { wrong: `${quote(text)} is too large for a score`, mend: 'check the decimal point' };
  }
  return { value: asScore(Number(points + fraction.padEnd(decimals, '0'))) };
}

/**
 * A score from a text, `13.566`, in units of so many decimals: three unless the meet publishes four.
 * @param text - As somebody wrote it: `13.566`, `13,5`, `14`.
 * @param decimals - How many decimals the meet publishes: 3 without it.
 * @throws `wrong-score`: the text is none
 * @example
 * score('13.566') // → 13566
 * score('9.9375', 4) // → 99375
 * score('13566') // → throws wrong-score
 */
export function score(text: string, decimals: Decimals = 3): Score {
  return givenScore(text, decimals, 'score');
}

/**
 * A score as it comes in: a text, or a score that was made before. Throws for everything else, above
 * all for points where units are meant: `0.1` is no number of thousandths.
 */
export function givenScore(given: Score | string, decimals: Decimals, what: string): Score {
  if (typeof given === 'string') {
    const parsed = parseScore(given, decimals);
    if ('value' in parsed) return parsed.value;
    throw badUsage('wrong-score', `${what}: ${parsed.wrong}`, parsed.mend);
  }
  if (Number.isSafeInteger(given) && given >= 0) return given;
  const points = typeof given === 'number' && given > 0 && given < 1000 ? given : 0.1;
  const written = formatScore(Math.round(points * unitsPerPoint(decimals)), decimals);
  throw badUsage(
    'wrong-score',
    `${what}: ${given} is not a score: that is a text, or a whole number of units`,
    `write points as a text: '${written}', or make it with score('${written}')`,
  );
}

/**
 * Writes a score with all the meet's decimals: 13534 is `13.534`; negative gaps keep their sign.
 * @param score - In units: a score, a total or a gap, which may be negative.
 * @param decimals - How many decimals the meet publishes, 3 or 4.
 * @throws `wrong-score`: not a whole number of units
 * @example
 * formatScore(13500, 3) // → '13.500'
 * formatScore(-101, 3) // → '-0.101'
 */
export function formatScore(score: Units, decimals: Decimals): string {
  if (!Number.isSafeInteger(score)) {
    throw badUsage(
      'wrong-score',
      `${score} is not a whole number of units`,
      "score('13.566') is one",
    );
  }
  const digits = String(Math.abs(score)).padStart(decimals + 1, '0');
  const sign = score < 0 ? '-' : '';
  return `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

/** A value as it was found, in quotes, cut where it is endless. */
export function quote(text: string): string {
  return `"${text.length > 60 ? `${text.slice(0, 57)}…` : text}"`;
}
