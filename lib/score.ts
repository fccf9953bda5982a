/**
 * Scores as exact integers. Nothing here or above it holds a score in a fraction: a score, a
 * total, a gap, a D or an E score is a whole number of units, and one unit is the last decimal the
 * meet publishes.
 */

/** A score or a sum of scores, in units of the last published decimal: 13.534 is 13534. */
export type Score = number;

/** A whole number of units: a total, a gap, what is open of a sum. */
export type Units = number;

/** How many decimals a meet publishes; college championships publish four. */
export type Decimals = 3 | 4;

/** A text that was read, or what is wrong with it and what to write instead. */
export type Parsed<T> = { readonly value: T } | { readonly wrong: string; readonly mend: string };

/** Units in 1.000. */
export function unitsPerPoint(decimals: Decimals): number {
  return 10 ** decimals;
}

/**
 * Reads a score as people write it: `13.566`, `13,566`, `13.5`, `14`. At most three digits before
 * the point and no more decimals than the meet publishes, so that a lost point is noticed.
 */
export function parseScore(text: string, decimals: Decimals): Parsed<Score> {
  const match = /^(\d+)(?:[.,](\d+))?$/.exec(text.trim());
  const example = formatScore(13.5 * unitsPerPoint(decimals), decimals);
  if (!match) return { wrong: `${quote(text)} is not a score`, mend: `write it like ${example}` };
  const [, points = '', fraction = ''] = match;
  if (fraction.length > decimals) {
    return {
      wrong: `${quote(text)} has ${fraction.length} decimals; this meet publishes ${decimals}`,
      mend: `give at most ${decimals} decimals`,
    };
  }
  if (points.replace(/^0+/, '').length > 3) {
    return { wrong: `${quote(text)} is too large for a score`, mend: 'check the decimal point' };
  }
  return { value: Number(points + fraction.padEnd(decimals, '0')) };
}

/** Writes a score with all the meet's decimals: 13534 is `13.534`; negative gaps keep their sign. */
export function formatScore(score: Score, decimals: Decimals): string {
  const digits = String(Math.abs(score)).padStart(decimals + 1, '0');
  const sign = score < 0 ? '-' : '';
  return `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

/** A value as it was found, in quotes, cut where it is endless. */
export function quote(text: string): string {
  return `"${text.length > 60 ? `${text.slice(0, 57)}…` : text}"`;
}
