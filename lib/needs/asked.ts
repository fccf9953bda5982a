/** Questions as they are typed: `aber floor gold`, `ruth okaforde top 8`, `aber fx 13.9 brondt bars high`. */
import { type NamingOptions, namedContender, namedGymnast } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { shortName } from '../meet/names.js';
import { plain } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import { apparatusAt, nameLength, spokenIn } from './spoken.js';
import type { Supposition } from './suppose.js';
import { isTargetWord, type Target, type TargetWord } from './target.js';
import { nextOf } from './turn.js';

/** What a question about needs names. */
export interface AskedNeed {
  /** An id; null where nobody is named. */
  readonly who: string | null;
  /** The code of one of her routines; null for her next. */
  readonly on: string | null;
  /** As a need takes it; null for the whole sheet. */
  readonly for: SaidTarget | null;
}

/** A target in a word or two. */
export type SaidTarget = Target | TargetWord;

/** Words that are said and mean nothing here. */
const FILLERS = /^(to|for|a|the|on|in)$/i;

/**
 * Whom a question means, on which apparatus, for what: `['ida', 'beam', 'gold']`.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param words - What was typed, in any order, word by word.
 * @param options - How a name in it is taken.
 * @throws `unknown-apparatus`: what follows the name is nearly one of the meet's, and none
 * @throws `wrong-apparatus`: two apparatus, or a word that fits two
 * @throws `wrong-target`: two targets
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * readAsked(meet, ['ida', 'beam', 'top', '8']) // → { who: 'brondt', on: 'BB', for: 'top 8' }
 * readAsked(meet, ['gold']) // → { who: null, on: null, for: 'gold' }
 * readAsked(meet, ['nobody', 'gold']) // → throws unknown-gymnast
 */
export function readAsked(
  meet: Meet,
  words: readonly string[],
  options: NamingOptions = {},
): AskedNeed {
  requireSound(meet);
  const tokens = tokensOf(words);
  const isTargetAlone = targetAt(tokens, 0) > 0 && isNobody(meet, tokens[0] ?? '');
  const length = isTargetAlone ? 0 : nameLength(meet, tokens);
  const others = tokens.slice(0, length);
  const targets: string[] = [];
  for (let at = length; at < tokens.length; ) {
    const taken = targetAt(tokens, at);
    if (taken > 0) targets.push(tokens.slice(at, at + taken).join(' '));
    else if (!FILLERS.test(tokens[at] ?? '')) others.push(tokens[at] ?? '');
    at += Math.max(taken, 1);
  }
  const [target = null, second] = targets;
  if (second !== undefined) {
    throw badUsage('wrong-target', `${targets.join(' and ')} are two targets`, 'ask for one');
  }
  const { name, apparatus } = spokenIn(meet, others);
  return {
    who: name === '' ? null : namedContender(meet, name, options),
    on: apparatus,
    for: target === null ? null : namedTarget(meet, target, options),
  };
}

function isNobody(meet: Meet, word: string): boolean {
  const isIn = (name: string) => plain(name).includes(plain(word));
  return ![...meet.gymnasts, ...meet.teams].some((n) => isIn(n.id) || isIn(n.name));
}

function tokensOf(words: readonly string[]): string[] {
  return words
    .join(' ')
    .split(/\s+/)
    .filter((t) => t !== '');
}

/** How many words from a place on are a target; 0 where they are none. */
function targetAt(tokens: readonly string[], at: number): number {
  const [word = '', next = ''] = tokens.slice(at);
  if (/^beat$/i.test(word) && next !== '') return tokens.length - at;
  if (/^(place|top|total)$/i.test(word) && /^\d/.test(next)) return 2;
  const isWhole =
    /^(podium|through|qualify|top\d+|\d+(st|nd|rd|th)|(place|top|total|beat):.+)$/i.test(word);
  return isWhole || isTargetWord(word.toLowerCase()) ? 1 : 0;
}

/**
 * A target in a person's words as a need takes it; what is none stays as it is, to be refused there.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param text - `gold`, `top 8`, `beat:okafor`, …
 * @param options - How a name in it is taken.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * namedTarget(meet, 'Gold') // → 'gold'
 * namedTarget(meet, '3rd') // → 'place:3'
 * namedTarget(meet, 'beat ida') // → 'beat:brondt'
 */
export function namedTarget(meet: Meet, text: string, options: NamingOptions = {}): SaidTarget {
  requireSound(meet);
  const said = text.trim();
  const word = said.toLowerCase();
  if (word === 'podium') return 'medal';
  if (word === 'through' || word === 'qualify') return 'advance';
  const [, place, ordinal] = /^(?:place[\s:]+(\d+)|(\d+)(?:st|nd|rd|th))$/.exec(word) ?? [];
  const asked = place ?? ordinal;
  if (asked !== undefined) return `place:${Number(asked)}`;
  const top = /^top[\s:-]*(\d+)$/.exec(word)?.[1];
  if (top !== undefined) return `top ${Number(top)}`;
  const [, kind, value = ''] = /^(beat|total)[\s:]+(.*)$/i.exec(said) ?? [];
  if (kind?.toLowerCase() === 'beat') return `beat:${namedContender(meet, value, options)}`;
  if (kind !== undefined) return `total:${value}`;
  return (isTargetWord(word) ? word : said) as SaidTarget;
}

/** What ends a supposition. */
const SUPPOSED = /^(\d+([.,]\d+)?|low|likely|high|fall|dns|dnf|void)$/i;

/**
 * Scores that have not happened: whose, where and what, once or more. Where no apparatus is named it is the
 * one she is up on, or her next.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param words - What was typed, word by word: `['brondt', 'beam', '14.2', 'okafor', '13']`.
 * @param options - How a name in it is taken.
 * @throws `bad-usage`: no score at the end
 * @throws `unknown-apparatus`: what follows the name is nearly one of the meet's, and none
 * @throws `wrong-apparatus`: two apparatus, or a word that fits two
 * @throws `nothing-to-come`: no apparatus is named and nothing of hers is to come
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const [one] = readSupposed(meet, ['ida', 'beam', 'high']);
 * one // → { gymnast: 'brondt', apparatus: 'BB', score: 'high' }
 * readSupposed(meet, ['ida', 'beam']) // → throws bad-usage
 */
export function readSupposed(
  meet: Meet,
  words: readonly string[],
  options: NamingOptions = {},
): Supposition[] {
  requireSound(meet);
  const tokens = tokensOf(words);
  const supposed: Supposition[] = [];
  let one: string[] = [];
  for (let at = 0; at < tokens.length; ) {
    // "high bar" is no high score.
    const span = one.length === 0 ? [] : apparatusAt(meet, tokens, at);
    const [word = ''] = tokens.slice(at);
    if (span.length === 0 && one.length > 0 && SUPPOSED.test(word)) {
      supposed.push(supposition(meet, one, word, options));
      one = [];
    } else one.push(...(span.length > 0 ? span : [word]));
    at += Math.max(span.length, 1);
  }
  if (one.length === 0 && supposed.length > 0) return supposed;
  const last = one.pop() ?? '';
  if (one.length > 1 && apparatusAt(meet, [last], 0).length === 0) {
    // In the place of a score, and to be refused as one.
    return [...supposed, supposition(meet, one, last, options)];
  }
  throw badUsage(
    'bad-usage',
    `there is no score at the end of "${[...one, last].join(' ').trim()}"`,
    'give gymnast, apparatus and score for each: suppose adeyemi FX 13.566',
  );
}

function supposition(
  meet: Meet,
  words: readonly string[],
  score: string,
  options: NamingOptions,
): Supposition {
  const { name, apparatus } = spokenIn(meet, words);
  const gymnast = namedGymnast(meet, name, options);
  const next = apparatus ?? nextOf(meet, gymnast)?.apparatus;
  if (next !== undefined) return { gymnast, apparatus: next, score };
  throw noAnswer(
    'nothing-to-come',
    `${shortName(meet, gymnast)} has nothing to come`,
    `name the apparatus: suppose ${gymnast} FX ${score}`,
  );
}
