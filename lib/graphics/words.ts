/** The shorter forms of names. */
import { apparatusOf, type Meet } from '../meet/meet.js';
import { familyName, percent } from '../report/words.js';

/** How far names are shortened; a line is said with all of them the same. */
export interface Short {
  readonly name: 'whole' | 'initial' | 'family';
  readonly apparatus: 'name' | 'code';
  readonly team: 'name' | 'id';
}

export const SHORTEST: Short = { name: 'family', apparatus: 'code', team: 'id' };

/** What is shortened, in this order, each step on top of those before it. */
export const SHORTENING: readonly Short[] = [
  { name: 'whole', apparatus: 'name', team: 'name' },
  { name: 'initial', apparatus: 'name', team: 'name' },
  { name: 'initial', apparatus: 'code', team: 'name' },
  { name: 'initial', apparatus: 'code', team: 'id' },
  SHORTEST,
];

/** A part of a line that may be shortened. */
export type Words = (short: Short) => string;

export interface Names {
  /** Of a gymnast or a team, by id. */
  readonly of: (id: string) => Words;
  readonly apparatus: (code: string) => Words;
}

/** The names of a meet. A short form that two gymnasts would share is not used for either. */
export function namesOf(meet: Meet): Names {
  const gymnasts = new Map(meet.gymnasts.map((g) => [g.id, g.name]));
  const teams = new Map(meet.teams.map((t) => [t.id, t.name]));
  const initials = counted([...gymnasts.values()].map(withInitial));
  const families = counted([...gymnasts.values()].map(familyName));
  const initialForm = (name: string) =>
    initials.get(withInitial(name)) === 1 ? withInitial(name) : name;
  const familyForm = (name: string) =>
    families.get(familyName(name)) === 1 ? familyName(name) : initialForm(name);
  return {
    of: (id) => (short) => {
      const name = gymnasts.get(id);
      if (name === undefined) return short.team === 'id' ? id : (teams.get(id) ?? id);
      if (short.name === 'whole') return name;
      return short.name === 'initial' ? initialForm(name) : familyForm(name);
    },
    apparatus: (code) => (short) =>
      short.apparatus === 'code' ? code : (apparatusOf(meet, code)?.name ?? code),
  };
}

function counted(texts: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  return counts;
}

/** "W. Adeyemi" */
function withInitial(name: string): string {
  const [given = '', ...others] = name.split(/\s+/);
  const [initial] = graphemes(given);
  return others.length === 0 || initial === undefined ? name : `${initial}. ${others.join(' ')}`;
}

let segmenter: Intl.Segmenter | undefined;

/** Signs that stand for themselves whatever is beside them: Latin letters, their accents in them, and punctuation. */
const SINGLE = /^[\x20-\x7e\u00a0-\u017f\u2010-\u2027]*$/;

/** A text in what a viewer sees as single characters. */
export function graphemes(text: string): string[] {
  if (SINGLE.test(text)) return [...text];
  segmenter ??= new Intl.Segmenter(undefined, { granularity: 'grapheme' });
  return [...segmenter.segment(text)].map((s) => s.segment);
}

/** How many characters a viewer sees. */
export function lengthOf(text: string): number {
  return SINGLE.test(text) ? text.length : graphemes(text).length;
}

/** Nothing that is still to be scored is said to be sure. */
export function chanceText(chance: number): string {
  return percent(Math.min(chance, 1 - Number.EPSILON));
}
