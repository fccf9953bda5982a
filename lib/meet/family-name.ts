/** The family name in a name, where nobody says which it is. */

export interface NameParts {
  /** As written; empty where the name cannot be taken apart. */
  readonly given: string;
  readonly family: string;
}

/**
 * The parts of a name, by what can be known from the name alone: a comma, capitals, initials, particles,
 * words that join, and otherwise the last word. Two words that may both be family names are not guessed
 * at: "García López, Ana" and "GARCÍA LÓPEZ Ana" say it, "Ana García López" does not.
 */
export function namePartsOf(name: string): NameParts {
  const whole = name.trim().replace(/\s+/g, ' ');
  const bare = whole.replace(/ ?\([^)]*\)/g, '').trim();
  if (WITHOUT_SPACES.test(bare)) return { given: '', family: whole };
  const [first = whole, ...behind] = bare.split(/ ?, ?/).filter((part) => part !== '');
  const words = withoutSuffix(first.split(' '));
  const given = behind.find((part) => !isSuffix(part));
  if (given !== undefined) return { given, family: words.join(' ') };
  const [from, to] = inCapitals(words) ?? beforeInitials(words) ?? [atEnd(words), words.length];
  return {
    given: [...words.slice(0, from), ...words.slice(to)].join(' '),
    family: words.slice(from, to).join(' '),
  };
}

/** Initials and nothing else: "I.", "J.P.", or one letter, but for those that are family names. */
export function isInitials(text: string): boolean {
  return /^(?:(?:\p{Lu}\p{M}*\.[- ]?)+|(?![EOU])\p{Lu})$/u.test(text);
}

/** Chinese, Japanese and Korean in their own scripts. */
const WITHOUT_SPACES =
  /^[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{P}\p{M}ー\s]+$/u;

/** What follows a family name: it is no part of what a board has room for. */
const SUFFIXES = ['jr', 'sr', 'ii', 'iii', 'iv'];

/** The same, unless there is nothing but a given name before it. */
const SUFFIX_WORDS = ['junior', 'júnior', 'filho'];

function isSuffix(word: string): boolean {
  return SUFFIXES.includes(word.toLowerCase().replace(/\.$/, ''));
}

function withoutSuffix(words: readonly string[]): readonly string[] {
  const last = words.at(-1)?.toLowerCase() ?? '';
  const left = words.slice(0, -1);
  if (left.length > 1 && SUFFIX_WORDS.includes(last)) return left;
  return left.length > 0 && isSuffix(last) ? left : words;
}

/** Particles that are written with a capital as well; any word that is written small is one. */
const PARTICLES = new Set(
  [
    'de del della di da dos das du des la le las los d’ l’',
    'van von vom zu zum zur der den ter ten',
    'el al bin binti bint ibn ben abu abd',
    'mc mac o o’ ó ní nic ui uí ap st st. saint sainte san santa',
  ].flatMap((line) => line.split(' ')),
);

export function isParticle(word: string): boolean {
  return PARTICLES.has(word.toLowerCase().replace("'", '’'));
}

/** What joins two family names. */
function joins(word: string | undefined): boolean {
  return word !== undefined && /^[yei&‐–-]$/u.test(word);
}

/** Written small where its script knows small letters. */
export function isSmall(word: string): boolean {
  const [letter = ''] = word;
  return letter !== letter.toUpperCase();
}

type Span = readonly [from: number, to: number];

/** The words in capitals, where others are not, with the particles before and between them. */
function inCapitals(words: readonly string[]): Span | null {
  const isOther = (word: string) => !isCapitals(word) && !(isSmall(word) && isParticle(word));
  let from = words.findIndex(isCapitals);
  if (from < 0 || !words.some((w) => isOther(w) && !joins(w))) return null;
  let to = from + 1;
  for (let at = to; at < words.length; at++) {
    const word = words[at] ?? '';
    if (isCapitals(word)) to = at + 1;
    else if (!isParticle(word) && !joins(word)) break;
  }
  const isLeft = (at: number) => at > 0 || to < words.length;
  while (from > 0 && isParticle(words[from - 1] ?? '') && isLeft(from - 1)) from--;
  return [from, to];
}

/** BRONDT, McDONALD, O'NEILL, LI; not J.P., JP or AJ. */
function isCapitals(word: string): boolean {
  const letters = word.normalize('NFC').replaceAll('ß', 'SS').replace(/\P{L}/gu, '');
  if (/^(?!NG$)(?:[B-DF-HJ-NP-TV-XZ]{2}|.J)$/.test(letters) || isInitials(word)) return false;
  return /^\p{Lu}?\p{Ll}{0,3}\p{Lu}{2,}$/u.test(letters);
}

/** "Brondt I.": all that stands before initials at the end. */
function beforeInitials(words: readonly string[]): Span | null {
  const to = words.findLastIndex((word) => !isInitials(word)) + 1;
  return to > 0 && to < words.length ? [0, to] : null;
}

/** Where a family name at the end begins: with its particles, and with what is joined to it. */
function atEnd(words: readonly string[]): number {
  let from = words.length - 1;
  // Where the whole name is written small, a small word says nothing.
  const saysSmall = !isSmall(words[from] ?? '');
  for (;;) {
    const before = words[from - 1];
    if (before === undefined) return from;
    const isBefore = (saysSmall && isSmall(before)) || (from > 1 && isParticle(before));
    if (joins(before) && from > 1) from -= 2;
    else if (isBefore) from--;
    else return from;
  }
}
