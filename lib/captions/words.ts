/** Places, chances and names in words, and the shorter forms of names. */
import { apparatusOf, type Meet } from '../meet/meet.js';

/** 1st, 2nd, 3rd, 11th, 21st. */
export function ordinal(place: number): string {
  const teens = place % 100 >= 11 && place % 100 <= 13;
  const ending = teens ? 'th' : (['th', 'st', 'nd', 'rd'][place % 10] ?? 'th');
  return `${place}${ending}`;
}

/** A chance for people: never a false 0 or 100. */
export function percent(chance: number): string {
  if (chance === 0) return '0%';
  if (chance === 1) return '100%';
  if (chance < 0.001) return '<0.1%';
  if (chance > 0.999) return '>99.9%';
  const tenths = chance < 0.1 || chance > 0.9 ? 1 : 0;
  return `${(chance * 100).toFixed(tenths)}%`;
}

/** "A", "A and B", "A, B and C". */
export function listed(names: readonly string[]): string {
  const [last, ...others] = [...names].reverse();
  if (last === undefined) return '';
  return others.length === 0 ? last : `${others.reverse().join(', ')} and ${last}`;
}

/** How far names are shortened; a line is said with all of them the same. */
export interface Short {
  readonly name: 'whole' | 'initial' | 'family';
  readonly apparatus: 'name' | 'code';
  readonly team: 'name' | 'id';
}

/** What is shortened, in this order, each step on top of those before it. */
export const SHORTENING: readonly Short[] = [
  { name: 'whole', apparatus: 'name', team: 'name' },
  { name: 'initial', apparatus: 'name', team: 'name' },
  { name: 'initial', apparatus: 'code', team: 'name' },
  { name: 'initial', apparatus: 'code', team: 'id' },
  { name: 'family', apparatus: 'code', team: 'id' },
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

/** What she is called in a list: the last word of her name, with what is written small before it: "de Wit". */
export function familyName(name: string): string {
  const words = name.split(/\s+/);
  let first = words.length - 1;
  while (first > 1 && isSmall(words[first - 1]!)) first--;
  return words.slice(first).join(' ');
}

function isSmall(word: string): boolean {
  const [letter = ''] = word;
  return letter !== letter.toUpperCase();
}

/** "W. Adeyemi" */
function withInitial(name: string): string {
  const [given = '', ...others] = name.split(/\s+/);
  const [initial] = graphemes(given);
  return others.length === 0 || initial === undefined ? name : `${initial}. ${others.join(' ')}`;
}

let segmenter: Intl.Segmenter | undefined;

/** A text in what a viewer sees as single characters. */
export function graphemes(text: string): string[] {
  if (/^[\x20-\x7e]*$/.test(text)) return [...text];
  segmenter ??= new Intl.Segmenter(undefined, { granularity: 'grapheme' });
  return [...segmenter.segment(text)].map((s) => s.segment);
}

/** How many characters a viewer sees. */
export function lengthOf(text: string): number {
  return graphemes(text).length;
}
