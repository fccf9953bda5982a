/** Names and apparatus in the words of a line: `okaforde uneven bars` is hers, on UB. */
import { apparatusCalled } from '../apparatus.js';
import { codeCalled } from '../contest/where.js';
import { gymnastsCalled, isCalled } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { plain } from '../meet/problems.js';
import { apparatusMend, isNearApparatus } from '../meet/which-apparatus.js';

/** No apparatus has a name of more words. */
const MOST_WORDS = 3;

/** What a line says besides scores. */
export interface Spoken {
  /** Empty where nobody is named. */
  readonly name: string;
  /** A code, or `all`; null where none is named. */
  readonly apparatus: string | null;
}

/**
 * Whose and where. The first word is hers, even where it is also an apparatus, unless nobody is called
 * so; and so are those after it that make somebody's whole name with it. Throws for two apparatus, for
 * a word that may be either of two, and where her name may end before an apparatus or with it.
 */
export function spokenIn(meet: Meet, words: readonly string[]): Spoken {
  const length = nameLength(meet, words);
  const name = words.slice(0, length);
  const said: string[] = [];
  for (let at = length; at < words.length; ) {
    const span = apparatusAt(meet, words, at);
    if (span.length === 0) name.push(words[at] ?? '');
    else said.push(span.join(' '));
    at += Math.max(span.length, 1);
  }
  const [apparatus = null, second] = said;
  if (second !== undefined) {
    throw badUsage('wrong-apparatus', `${said.join(' and ')} are two apparatus`, 'name one');
  }
  const text = name.join(' ');
  if (apparatus === null) {
    refuseMisspelt(meet, name);
    return { name: text, apparatus };
  }
  return { name: text, apparatus: isAll(apparatus) ? 'all' : codeCalled(meet, apparatus) };
}

/** `ida bems`: nobody is called so, and the end of it is nearly an apparatus. */
function refuseMisspelt(meet: Meet, words: readonly string[]): void {
  if (words.length < 2 || gymnastsCalled(meet, words.join(' ')).length > 0) return;
  for (let at = words.length - 1; at > 0; at--) {
    const [who, where] = [words.slice(0, at).join(' '), words.slice(at).join(' ')];
    const isSomebody = gymnastsCalled(meet, where).length > 0;
    if (isSomebody || gymnastsCalled(meet, who).length === 0) continue;
    if (!isNearApparatus(where, meet.apparatus)) continue;
    if (meet.teams.some((t) => plain(t.name).includes(plain(words.join(' '))))) return;
    throw badUsage(
      'unknown-apparatus',
      `"${where}" is no apparatus of this meet`,
      apparatusMend(where, meet.apparatus, 'one of'),
    );
  }
}

function isAll(word: string): boolean {
  return /^all$/i.test(word);
}

/** The words from a place on that name an apparatus, or all of them; none where they do not. */
export function apparatusAt(meet: Meet, words: readonly string[], at: number): readonly string[] {
  for (let length = MOST_WORDS; length > 0; length--) {
    const span = words.slice(at, at + length);
    if (span.length === length && apparatusCalled(meet.apparatus, span.join(' ')).length > 0) {
      return span;
    }
  }
  const [word = ''] = words.slice(at);
  return isAll(word) ? [word] : [];
}

/** How many words are her name whatever else they may be. */
export function nameLength(meet: Meet, words: readonly string[]): number {
  for (let length = words.length; length > 1; length--) {
    const name = words.slice(0, length).join(' ');
    const whole = meet.gymnasts.filter((g) => isCalled(g, name));
    if (whole.length === 0) continue;
    throwIfUnclear(meet, words.slice(0, length), whole);
    return length;
  }
  const [first] = words;
  if (first === undefined) return 0;
  const isNobody = gymnastsCalled(meet, first).length === 0;
  return isNobody && apparatusAt(meet, words, 0).length > 0 ? 0 : 1;
}

/** `ada beam` may be Ada Beam, or Ada Quillmore on beam. */
function throwIfUnclear(
  meet: Meet,
  words: readonly string[],
  whole: readonly { readonly id: string; readonly name: string }[],
): void {
  for (let length = 1; length < words.length; length++) {
    const where = words.slice(length).join(' ');
    if (apparatusCalled(meet.apparatus, where).length === 0) continue;
    const others = gymnastsCalled(meet, words.slice(0, length).join(' ')).filter(
      (g) => !whole.some((w) => w.id === g.id),
    );
    if (others.length === 0) continue;
    const names = [...whole.map((g) => g.name), ...others.map((g) => `${g.name} on ${where}`)];
    throw noAnswer(
      'ambiguous-gymnast',
      `"${words.join(' ')}" may be ${names.slice(0, 4).join(' or ')}`,
      'write the id, and the code of the apparatus',
    );
  }
}
