/** What a phrase claims, in the words of a scale. */
import type { Chance } from '../chance.js';
import { badUsage } from '../error.js';
import { plain } from '../meet/problems.js';
import { type ChanceBand, isIn, SCALES, type Scale, type Term } from './scales.js';
import { inPercent, statedIn } from './stated.js';

/** A phrase as it is understood. */
export interface Claimed {
  /** The word it is read as. */
  readonly term: string;
  /** The lowest chance the phrase may stand for. */
  readonly from: Chance;
  /** The highest chance it may stand for. */
  readonly to: Chance;
  /** What of the phrase was matched, where that is not a word of the scale itself. */
  readonly readAs: string | null;
  /** It is a number, with what is taken for the same, and no word. */
  readonly isNumber: boolean;
}

/** Certainty is no word of any scale; who says it means no less. */
const ABSOLUTE: readonly Term[] = [
  { term: 'impossible', from: 0, to: 0 },
  { term: 'certain', from: 1, to: 1 },
];

/** Near-synonyms of ours, by the EFSA word they come nearest to; no published source. */
const SYNONYMS: Readonly<Record<string, readonly string[]>> = {
  'almost impossible': [
    'all but impossible',
    'next to impossible',
    'nearly impossible',
    'virtually impossible',
    'practically impossible',
    'all but out of reach',
    'as good as out of reach',
    'as good as lost',
    'all but over',
    'almost no hope',
  ],
  'extremely unlikely': ['extremely improbable', 'needs a miracle', 'a miracle'],
  'very unlikely': ['very improbable', 'highly improbable', 'a long shot', 'a tall order'],
  unlikely: ['improbable', 'an outside chance', 'against the odds'],
  'about as likely as not': [
    'as likely as not',
    'even chance',
    'evens',
    'toss up',
    'coin flip',
    'in the balance',
    'too close to call',
  ],
  likely: ['probable', 'probably', 'the favourite'],
  'very likely': ['very probable', 'highly probable', 'a strong favourite'],
  'extremely likely': ['extremely probable', 'hard to see her losing'],
  'almost certain': [
    'all but certain',
    'nearly certain',
    'practically certain',
    'as good as won',
    'all but won',
    'all but over the line',
    'all wrapped up',
  ],
  impossible: ['out of reach', 'no chance', 'cannot be made up', 'can no longer'],
  certain: ['secured', 'guaranteed', 'a certainty', 'in the bag'],
};

/** Words that turn a phrase into its opposite, or weaken it; and what is not about success. */
const TURNS = [
  ...[
    'not',
    'no',
    'never',
    'isn t',
    'aren t',
    'can t',
    'cannot',
    'won t',
    'none',
    'nor',
    'neither',
  ],
  ...['nothing', 'nowhere', 'hardly', 'scarcely', 'barely', 'less', 'more', 'anything but', 'un'],
  ...['far from', 'lose', 'losing', 'loses', 'fail', 'fails', 'miss', 'rule out', 'slightly'],
];

function normal(text: string): string {
  return ` ${plain(text)
    .replace(/[^a-z0-9]+/g, ' ')
    .trim()} `;
}

/**
 * The band that a phrase claims: a number that is stated in it; or, of the scale, the longest of the scale's own terms, of other scales'
 * and of our near-synonyms that stands in it. Throws, with the words of the scale, when none does,
 * and when the phrase turns one into its opposite.
 */
export function understand(phrase: string, scale: Scale): Claimed {
  // "a one-in-ten chance"; between figures a hyphen has a meaning of its own.
  const said = plain(phrase).replace(/(?<=[a-z])-|-(?=[a-z])/g, ' ');
  const number = statedIn(said);
  const text = normal(number === null ? phrase : said.replace(number.text, ' '));
  const words = wordsOf(scale).filter((w) => text.includes(normal(w.text)));
  // A word beside a number says something else, or the same again.
  if (number !== null && words.length === 0 && !isTurnedIn(text) && !/\d|%/.test(text)) {
    const { text: readAs, term, from, to } = number;
    return { term, from, to, readAs, isNumber: true };
  }
  const [best] = words.sort((a, b) => b.text.length - a.text.length || a.rank - b.rank);
  const rest = best === undefined ? '' : text.replace(normal(best.text), ' · ');
  const isTurned = number !== null || isTurnedIn(rest);
  const isTwofold = best !== undefined && words.some((w) => rest.includes(normal(w.text)));
  if (best === undefined || isTurned || isTwofold) {
    const terms = scale.terms.map((t) => `${t.term} (${bandInWords(t)})`).join(', ');
    throw badUsage(
      'unknown-phrase',
      `"${phrase}" cannot be matched to a word of the ${scale.name} scale`,
      `give a number, such as 5% or 1 in 20, or use one of its words: ${terms}`,
    );
  }
  const { term, from, to } = best.means;
  return { term, from, to, readAs: best.text === term ? null : best.text, isNumber: false };
}

function isTurnedIn(rest: string): boolean {
  return TURNS.some((turn) => rest.includes(normal(turn)));
}

interface Word {
  readonly text: string;
  readonly means: Term;
  /** The scale's own words come before others of the same length. */
  readonly rank: number;
}

function wordsOf(scale: Scale): Word[] {
  const own = scale.terms.map((means): Word => ({ text: means.term, means, rank: 0 }));
  const absolute = ABSOLUTE.map((means): Word => ({ text: means.term, means, rank: 1 }));
  const synonyms = Object.entries(SYNONYMS).flatMap(([word, texts]) => {
    const means =
      ABSOLUTE.find((t) => t.term === word) ??
      nearestTerm(scale, SCALES.efsa.terms.find((t) => t.term === word)!);
    return texts.map((text): Word => ({ text, means, rank: 1 }));
  });
  const others = Object.values(SCALES)
    .flatMap((s): readonly Term[] => s.terms)
    .map((t): Word => ({ text: t.term, means: nearestTerm(scale, t), rank: 2 }));
  return [...own, ...absolute, ...synonyms, ...others];
}

/** The word of a scale that stands for the middle of a band, or lies nearest to it. */
function nearestTerm(scale: Scale, { from, to }: Term): Term {
  const middle = (from + to) / 2;
  const far = (t: Term) => Math.max(t.from - middle, middle - t.to, 0);
  return (
    scale.terms.find((t) => isIn(scale, t, middle)) ??
    [...scale.terms].sort((a, b) => far(a) - far(b))[0]!
  );
}

/**
 * A band of chances as it is said: "0 to 1%".
 * @param band - As of a `Claimed` or a `Term`.
 * @example
 * bandInWords({ from: 0, to: 0.01 }) // → '0 to 1%'
 */
export function bandInWords({ from, to }: ChanceBand): string {
  return from === to ? inPercent(from) : `${inPercent(from).slice(0, -1)} to ${inPercent(to)}`;
}
