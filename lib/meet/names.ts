/** What gymnasts, teams and apparatus are called in a sentence, and how a result is written there. */
import { formatScore } from '../score.js';
import { graphemes } from './characters.js';
import { isInitials, isParticle, isSmall, namePartsOf } from './family-name.js';
import { type Gymnast, type Meet, type Result, type Rotation, sessionsOf } from './meet.js';
import { plain } from './problems.js';

/** Whose names there are: of a meet, or of the plan of one that is not sound yet. */
export type Names = Pick<Meet, 'apparatus' | 'gymnasts' | 'teams'>;

/** "A", "A and B", "A, B and C". */
export function listed(names: readonly string[]): string {
  const [last, ...others] = [...names].reverse();
  if (last === undefined) return '';
  return others.length === 0 ? last : `${others.reverse().join(', ')} and ${last}`;
}

/** What the meet file says a gymnast is called, and nothing else of her. */
type Called = Pick<Gymnast, 'name' | 'family' | 'short'>;

/** A name, and the family name where that is given. */
interface Named {
  readonly name: string;
  readonly family?: string | null;
}

/** Her family name, as the meet file gives it or as it is found in her name. */
export function familyName({ name, family = null }: Named): string {
  return family ?? namePartsOf(name).family;
}

/** A name whole, and shorter and shorter; no two alike, but for a `short` that is given twice. */
export interface NameForms {
  readonly whole: string;
  /** "W. Adeyemi" */
  readonly initial: string;
  /** "Adeyemi", and "W. Adeyemi" where somebody else has that family name. */
  readonly family: string;
  /** In a sentence: the family name, and the whole name where somebody else has that. */
  readonly said: string;
}

/** By gymnasts, worked out once for a meet. */
const formsOfAll = new WeakMap<readonly Gymnast[], ReadonlyMap<string, NameForms>>();

/** The forms of every gymnast's name, by id. A `short` of the meet file is every shorter form there is. */
export function nameForms({ gymnasts }: Pick<Names, 'gymnasts'>): ReadonlyMap<string, NameForms> {
  const known = formsOfAll.get(gymnasts);
  if (known !== undefined) return known;
  const wholes = gymnasts.map((g) => g.name);
  const familyNames = gymnasts.map(familyName);
  const initials = orLonger(shortOr(gymnasts, gymnasts.map(withInitial)), wholes);
  const families = orLonger(shortOr(gymnasts, orLonger(familyNames, initials)), wholes);
  const said = orLonger(familyNames, wholes);
  const forms = new Map(
    gymnasts.map(({ id, name, short }, i) => [
      id,
      {
        whole: name,
        initial: short ?? initials[i] ?? name,
        family: short ?? families[i] ?? name,
        said: said[i] ?? name,
      },
    ]),
  );
  formsOfAll.set(gymnasts, forms);
  return forms;
}

function shortOr(gymnasts: readonly Called[], forms: readonly string[]): string[] {
  return gymnasts.map(({ short }, i) => short ?? forms[i] ?? '');
}

/** Each form that nobody else has, else the longer one. */
function orLonger(forms: readonly string[], longer: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const form of forms) counts.set(form, (counts.get(form) ?? 0) + 1);
  return forms.map((form, i) => (counts.get(form) === 1 ? form : (longer[i] ?? form)));
}

/** "W. Adeyemi"; the name as it is where there is no given name, or nothing but initials. */
function withInitial(called: Called): string {
  const given = givenName(called);
  const initial = graphemes(given).find((letter) => /\p{L}/u.test(letter));
  if (initial === undefined || isInitials(given)) return called.name;
  return `${initial}. ${familyName(called)}`;
}

/** What her name says besides her family name; empty where it cannot be taken apart. */
export function givenName({ name, family = null }: Named): string {
  const { given } = namePartsOf(name);
  return family === null ? given : (besides(name, family) ?? given);
}

/** What is left of a name without the family name, whatever the case and the accents; null where it is not in it. */
function besides(name: string, family: string): string | null {
  const words = name.split(/[\s,]+/).filter((word) => word !== '');
  const wanted = family.split(/\s+/);
  const isAt = (at: number) =>
    wanted.every((word, i) => plain(words[at + i] ?? '') === plain(word));
  const at = words.findIndex((_, i) => isAt(i));
  return at < 0 ? null : [...words.slice(0, at), ...words.slice(at + wanted.length)].join(' ');
}

/** What she is called in a sentence: her family name, unless somebody else has it too. */
export function shortName(meet: Names, id: string): string {
  return nameForms(meet).get(id)?.said ?? nameOf(meet, id);
}

/** What a board with too little room calls a gymnast or a team. */
export function boardName(meet: Names, id: string): string {
  return nameForms(meet).get(id)?.family ?? nameOf(meet, id);
}

/** Her name, and how it is spoken where the meet file says so: "Ruth Okafor (oh-KAH-for)". */
export function spokenName(meet: Names, id: string): string {
  const say = meet.gymnasts.find((g) => g.id === id)?.say ?? null;
  return say === null ? nameOf(meet, id) : `${nameOf(meet, id)} (${say})`;
}

/** The name of whoever has an id in this meet, gymnast or team. */
export function nameOf(meet: Names, id: string): string {
  return [...meet.gymnasts, ...meet.teams].find((n) => n.id === id)?.name ?? id;
}

export function apparatusName(meet: Names, code: string): string {
  return meet.apparatus.find((a) => a.code === code)?.name ?? code;
}

/** "rotation 3"; of a meet of several sessions "rotation 3 of session 2". */
export function rotationInWords(
  meet: Pick<Meet, 'rotations'>,
  which: Pick<Rotation, 'session' | 'rotation'>,
): string {
  return `rotation ${rotationNumber(meet, which)}`;
}

/** The same without the word: "3", "3 of session 2". */
export function rotationNumber(
  meet: Pick<Meet, 'rotations'>,
  { session, rotation }: Pick<Rotation, 'session' | 'rotation'>,
): string {
  return sessionsOf(meet).length > 1 ? `${rotation} of session ${session}` : String(rotation);
}

/** A score with the decimals of the meet, or the word for a withdrawal. */
export function resultShown({ scoring }: Pick<Meet, 'scoring'>, result: Result): string {
  return typeof result === 'string' ? result : formatScore(result.score, scoring.decimals);
}

/** The letters and figures of a family name without its particles: `wit` for de Wit. */
export function familyLetters(named: Named): string {
  const family = familyName(named);
  const words = family.split(/\s+/).filter((word) => !isParticle(word));
  const capital = words.filter((word) => !isSmall(word));
  const forms = [capital, words, [family]].map((some) => lettersOf(some.join('')));
  return forms.find((letters) => letters !== '') ?? '';
}

/** `Müller-Ødegård` is `mullerodegard`. */
export function lettersOf(text: string): string {
  return plain(text)
    .replace(/[^\p{L}\p{N}]/gu, '')
    .normalize('NFC');
}
