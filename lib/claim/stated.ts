/** A chance stated as a number: "5%", "1 in 100", "odds of 3 to 1", "fifty-fifty". */
import type { Chance } from '../chance.js';

/** A number that was said, and what is taken for the same. */
export interface Stated {
  /** As it stands in the phrase. */
  readonly text: string;
  /** "5%", "over 90%" */
  readonly term: string;
  readonly from: Chance;
  readonly to: Chance;
}

/** A number is said roughly: odds this many times as long, or as short, are taken for the same. */
export const ROUGHLY = 1.5;

const SMALL = [
  ...['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'],
  ...['eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen'],
  'nineteen',
];
const TENS = ['twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];
const LARGE: Readonly<Record<string, number>> = { hundred: 1e2, thousand: 1e3, million: 1e6 };

const NUMBERS: ReadonlyMap<string, number> = new Map([
  ...SMALL.map((word, i) => [word, i] as const),
  ...TENS.map((word, i) => [word, (i + 2) * 10] as const),
  ...Object.entries(LARGE).flatMap(([word, n]) => [
    [word, n] as const,
    [`a ${word}`, n] as const,
    [`one ${word}`, n] as const,
  ]),
]);

const WORDS = [...NUMBERS.keys()].sort((a, b) => b.length - a.length).join('|');
const NUMBER = `(?:\\d{1,3}(?:,\\d{3})+(?!\\d)|\\d+(?:[.,]\\d+)?|(?:${WORDS})(?![a-z]))`;

const MORE = 'more than|over|above|at least|no less than|not less than|better than|upwards of';
const LESS = 'less than|under|below|at most|no more than|not more than|up to|worse than';
const ABOUT = 'about|around|roughly|some|only|just|maybe|perhaps';
/** What is said after a number without changing it. */
const AFTER = '(?:\\s+(?:chance|probability|likelihood|certain|sure|likely|shot))?';
const PERCENT = '\\s*(?:%|percent|per cent)';

/** A way to say a chance, and the chance, or the two ends, that it says. */
interface Way {
  readonly is: RegExp;
  readonly chance: (parts: readonly string[]) => number | readonly [number, number];
}

const number = (text = '') => NUMBERS.get(text) ?? Number(plainNumber(text));
const against = (parts: readonly string[]) =>
  number(parts[1]) / (number(parts[0]) + number(parts[1]));

const WAYS: readonly Way[] = [
  {
    is: way(`(${NUMBER})(?:${PERCENT})?\\s*(?:to|and|-)\\s*(${NUMBER})${PERCENT}${AFTER}`),
    chance: ([from, to]) => [number(from) / 100, number(to) / 100],
  },
  { is: way(`(${NUMBER})${PERCENT}${AFTER}`), chance: ([n]) => number(n) / 100 },
  {
    is: way(`(${NUMBER})[\\s-]+(?:chance\\s+)?(?:in|out of)[\\s-]+(${NUMBER})${AFTER}`),
    chance: ([n, of]) => number(n) / number(of),
  },
  {
    is: way(
      `(${NUMBER})(?:\\s+to\\s+|-to-|/|:)(${NUMBER})\\s+(?:on|in (?:her|his|its|their) favou?r)`,
    ),
    chance: (parts) => 1 - against(parts),
  },
  {
    is: way(
      `odds(?:\\s+(?:of|are|at|against(?:\\s+(?:her|him|it|them))?|is))*\\s+(${NUMBER})(?:\\s+to\\s+|-to-|/|-|:)(${NUMBER})(?:\\s+against)?`,
    ),
    chance: against,
  },
  {
    is: way(`(${NUMBER})(?:\\s+to\\s+|-to-|/)(${NUMBER})\\s+(?:against|shot|chance|outsider|odds)`),
    chance: against,
  },
  { is: way('(?:fifty[\\s-]+fifty|50[\\s/-]+50)'), chance: () => 0.5 },
];

function way(pattern: string): RegExp {
  return new RegExp(`(?<![\\w.,])(?:(${MORE})|(${LESS})|(?:${ABOUT}))?\\s*${pattern}(?!\\w)`);
}

/** A point or a comma before the decimals, and commas between thousands. */
function plainNumber(text: string): string {
  return /^\d{1,3}(,\d{3})+$/.test(text) ? text.replaceAll(',', '') : text.replace(',', '.');
}

/** The number of a phrase, in small letters, whatever it says besides; null where it has none. */
export function statedIn(phrase: string): Stated | null {
  for (const { is, chance } of WAYS) {
    const found = is.exec(phrase);
    if (found === null) continue;
    const [text, more, less, ...parts] = found;
    const said = chance(parts);
    const ends = typeof said === 'number' ? [said, said] : said;
    if (!ends.every((p) => p >= 0 && p <= 1)) return null;
    const [from = 0, to = 0] = ends;
    const term = from === to ? inPercent(from) : `${inPercent(from)} to ${inPercent(to)}`;
    const shown = text.trim();
    if (more !== undefined) return { text: shown, term: `over ${term}`, from, to: 1 };
    if (less !== undefined) return { text: shown, term: `under ${term}`, from: 0, to };
    if (from < to) return { text: shown, term, from, to };
    return { text: shown, term, from: times(from, 1 / ROUGHLY), to: times(from, ROUGHLY) };
  }
  return null;
}

/** The chance at odds so many times as good. */
function times(chance: number, factor: number): number {
  if (chance === 0 || chance === 1) return chance;
  const odds = (chance / (1 - chance)) * factor;
  return odds / (1 + odds);
}

/**
 * "5%", "0.067%", "99.93%": two figures of what is missing to the nearer end
 * @example
 * inPercent(0.01) // → '1%'
 */
export function inPercent(chance: Chance): string {
  const small = Math.min(chance, 1 - chance) * 100;
  const digits = small >= 1 || small <= 0 ? 1 : Math.min(1 - Math.floor(Math.log10(small)), 9);
  return `${Number((chance * 100).toFixed(digits))}%`;
}
