/** What gymnasts, teams and apparatus are called in a sentence, and how a result is written there. */
import { formatScore } from '../score.js';
import type { Meet, Result } from './meet.js';
import { plain } from './problems.js';

/** Whose names there are: of a meet, or of the plan of one that is not sound yet. */
export type Names = Pick<Meet, 'apparatus' | 'gymnasts' | 'teams'>;

/** "A", "A and B", "A, B and C". */
export function listed(names: readonly string[]): string {
  const [last, ...others] = [...names].reverse();
  if (last === undefined) return '';
  return others.length === 0 ? last : `${others.reverse().join(', ')} and ${last}`;
}

/** What she is called in a list: the last word of her name, with what is written small before it: "de Wit". */
export function familyName(name: string): string {
  const words = name.split(/\s+/);
  let first = words.length - 1;
  while (first > 1 && isSmall(words[first - 1] ?? '')) first--;
  return words.slice(first).join(' ');
}

function isSmall(word: string): boolean {
  const [letter = ''] = word;
  return letter !== letter.toUpperCase();
}

/** What she is called in a list: her last name, unless somebody else has it too. */
export function shortName(meet: Names, id: string): string {
  const gymnast = meet.gymnasts.find((g) => g.id === id);
  if (gymnast === undefined) return nameOf(meet, id);
  const [last, ...others] = [gymnast, ...meet.gymnasts.filter((g) => g.id !== id)].map((g) =>
    familyName(g.name),
  );
  return last === undefined || others.includes(last) ? gymnast.name : last;
}

/** The name of whoever has an id in this meet, gymnast or team. */
export function nameOf(meet: Names, id: string): string {
  return [...meet.gymnasts, ...meet.teams].find((n) => n.id === id)?.name ?? id;
}

export function apparatusName(meet: Names, code: string): string {
  return meet.apparatus.find((a) => a.code === code)?.name ?? code;
}

/** A score with the decimals of the meet, or the word for a withdrawal. */
export function resultShown({ scoring }: Pick<Meet, 'scoring'>, result: Result): string {
  return typeof result === 'string' ? result : formatScore(result.score, scoring.decimals);
}

/** The last word of a name, its letters and figures alone, whatever the case and the accents. */
export function familyWord(name: string): string {
  return lettersOf(name.trim().split(/\s+/).at(-1) ?? '');
}

/** `Müller-Ødegård` is `mullerodegard`. */
export function lettersOf(text: string): string {
  return plain(text).replace(/[^\p{L}\p{N}]/gu, '');
}
