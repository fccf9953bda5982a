/** Whom a question means: a gymnast or a team, by id or by any part of id or name that fits one. */
import { type LastRotationError, noAnswer } from '../error.js';
import type { Gymnast, Meet, Routine } from '../meet/meet.js';
import { familyLetters, familyName, lettersOf } from '../meet/names.js';
import { nextUp } from '../meet/now.js';
import { nearest, plain } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import type { Contender } from '../rules/contender.js';
import { type Contest, findContest } from './contest.js';

/** A gymnast or a team; a gymnast may be given a family name and a short one besides. */
interface Named {
  readonly id: string;
  readonly name: string;
  readonly family?: string | null;
  readonly short?: string | null;
  readonly unnamed?: boolean;
}

/** Whom a question is about: the contender, and the gymnast if one was named. */
export interface Who {
  readonly contender: Contender;
  readonly gymnast: Gymnast | null;
}

/** Before an id it says that nothing else is meant: `id:okaforde`, where others are called Okafor. */
const BY_ID = /^id:/i;

/** By exact id, which no other name can stand in the way of; empty where it is nobody's. */
function byId<T extends Named>(list: readonly T[], text: string): readonly T[] {
  const exact = list.filter((n) => n.id === text);
  if (exact.length > 0 || !BY_ID.test(text)) return exact;
  return list.filter((n) => n.id === text.replace(BY_ID, '').trim());
}

/** The one of a list that a text names, several it may mean, or none. An exact id is exact. */
function matches<T extends Named>(list: readonly T[], text: string): readonly T[] {
  // Where no types are checked, options may stand where a name should.
  if (typeof text !== 'string')
    throw noAnswer('unknown-gymnast', 'a name is a text', "such as 'brondt'");
  const exact = byId(list, text);
  return exact.length > 0 ? exact : fitting(list, text);
}

/**
 * Everyone of a list whom a text fits; of those who are still to be named only the whole id. Whoever has it for an id or for a whole name comes with all who
 * have it for a family name: an id is no reason to think that the others were not meant.
 */
function fitting<T extends Named>(list: readonly T[], text: string): readonly T[] {
  const wanted = plain(text.trim());
  if (wanted === '') return [];
  const whole = list.filter((n) => plain(n.id) === wanted || plain(n.name) === wanted);
  if (whole.length === 0) {
    return list.filter(
      (n) => !n.unnamed && [n.id, ...namesOf(n)].some((name) => plain(name).includes(wanted)),
    );
  }
  const family = lettersOf(wanted);
  const isFamilyOf = (n: Named) =>
    familyLetters(n) === family || lettersOf(familyName(n)) === family;
  return list.filter((n) => whole.includes(n) || isFamilyOf(n));
}

/** All that a gymnast or a team is called. */
function namesOf({ name, family, short }: Named): string[] {
  return [name, family, short].flatMap((text) => text ?? []);
}

/** Everyone whom a person may mean by a name; an id alone is exact only behind `id:`. */
export function gymnastsCalled({ gymnasts }: Pick<Meet, 'gymnasts'>, text: string) {
  return BY_ID.test(text) ? matches(gymnasts, text) : fitting(gymnasts, text);
}

function unknown(text: string, all: readonly Named[]): LastRotationError {
  const list = all.filter((n) => !n.unnamed);
  const near =
    nearest(
      text,
      list.map((n) => n.id),
    ) ??
    nearest(
      text,
      list.map((n) => n.name),
    ) ??
    nearest(
      text,
      list.flatMap((n) => namesOf(n).flatMap((name) => name.split(/\s+/))),
    );
  const message = `nobody here is called "${text}"`;
  return noAnswer(
    'unknown-gymnast',
    message,
    near === null ? 'see who competes: lastrotation check' : `did you mean \`${near}\`?`,
  );
}

/** Her id as a person can write it: behind `id:` where it does not say which either. */
export function idAsTyped({ gymnasts }: Pick<Meet, 'gymnasts'>, { id }: Named): string {
  return asTyped(gymnasts, id);
}

function asTyped(all: readonly Named[], id: string): string {
  return fitting(all, id).length > 1 ? `id:${id}` : id;
}

function ambiguous(text: string, found: readonly Named[], all: readonly Named[]) {
  const called = ({ id }: Named) => asTyped(all, id);
  const names = found.slice(0, 6).map((n) => `${called(n)} (${n.name})`);
  return noAnswer(
    'ambiguous-gymnast',
    `"${text}" could be ${found.length === 2 ? 'either of two' : `any of ${found.length}`}`,
    `say which: ${names.join(', ')}${found.length > 6 ? ', …' : ''}`,
  );
}

/** The gymnast a text names. Throws when it is nobody, or more than one. */
export function findGymnast(meet: Meet, text: string): Gymnast {
  return onlyOne(meet, text, matches(meet.gymnasts, text));
}

/** The one that was found. Throws when it is nobody, or more than one. */
export function onlyOne({ gymnasts }: Meet, text: string, found: readonly Gymnast[]): Gymnast {
  const [first] = found;
  if (first === undefined) throw unknown(text, gymnasts);
  if (found.length > 1) throw ambiguous(text, found, gymnasts);
  return first;
}

/**
 * Of those a name fits the one who is next up, where nobody else of them is; all of them otherwise.
 * Nobody comes before those whom it fits better: for `ann` Ann stays in question while Joanna is up.
 */
export function nextUpOf(found: readonly Gymnast[], text: string, up: readonly Routine[]) {
  if (found.length < 2) return found;
  const isUp = found.filter((g) => up.some((r) => r.gymnast === g.id));
  const [her] = isUp;
  if (her === undefined || isUp.some((g) => g !== her)) return found;
  const best = Math.max(...found.map((g) => fitOf(g, text)));
  return fitOf(her, text) === best ? [her] : found;
}

/** Whether a text is an id, or whole words of a name. */
export function isCalled(named: Named, text: string): boolean {
  return fitOf(named, text) === WHOLE;
}

const WHOLE = 2;

/** How well a text fits: an id or whole words, the beginning of a word, or somewhere inside. */
function fitOf(named: Named, text: string): number {
  const wanted = wordsOf(text);
  const id = plain(named.id);
  const words = namesOf(named).map(wordsOf);
  if (id === plain(text.trim()) || words.some((w) => `${w} `.includes(`${wanted} `))) return WHOLE;
  return words.some((w) => w.includes(wanted)) || id.startsWith(wanted.trim()) ? 1 : 0;
}

/** ` ann bell`: each word after a blank. */
function wordsOf(text: string): string {
  const words = plain(text).replace(/[^\p{L}\p{N}]+/gu, ' ');
  return ` ${words.trim()}`;
}

/** Whose total a gymnast's routines are part of: herself, or her team; undefined where nobody's. */
export function contenderFor(
  { kind, contenders }: Contest,
  { id, team }: Pick<Gymnast, 'id' | 'team'>,
): Contender | undefined {
  const whose = kind.ranks === 'teams' ? team : id;
  return contenders.find((c) => c.id === whose);
}

/**
 * The contender a text names in a contest. In a team contest team ids come first, and naming a
 * gymnast asks for her team.
 */
export function findContender(meet: Meet, contest: Contest, text: string): Who {
  return contenderAmong(meet, contest, text, matches(meet.gymnasts, text));
}

/** The same, where it is known which gymnasts the text may mean. */
function contenderAmong(
  meet: Meet,
  contest: Contest,
  text: string,
  gymnasts: readonly Gymnast[],
): Who {
  if (contest.kind.ranks === 'gymnasts') {
    const gymnast = onlyOne(meet, text, gymnasts);
    const contender = contest.contenders.find((c) => c.id === gymnast.id);
    if (contender === undefined) {
      throw noAnswer(
        'no-contender',
        `${gymnast.name} does not compete in ${contest.id}`,
        gymnast.on.length > 0
          ? `competes on: ${gymnast.on.join(', ')}`
          : 'a reserve competes in nothing yet',
      );
    }
    return { contender, gymnast };
  }
  const teams = matches(contest.contenders, text);
  const exactly = (n: Named) => plain(n.id) === plain(text.trim().replace(BY_ID, ''));
  const [team] = teams;
  if (team !== undefined && teams.length === 1 && (exactly(team) || !gymnasts.some(exactly))) {
    return { contender: team, gymnast: null };
  }
  const [gymnast] = gymnasts;
  if (gymnast !== undefined && gymnasts.length === 1) {
    const hers = contest.contenders.find((c) => c.id === gymnast.team);
    if (hers !== undefined) return { contender: hers, gymnast };
    throw noAnswer('no-contender', `${gymnast.name} has no team`, 'name a team');
  }
  const everyone = [...contest.contenders, ...meet.gymnasts];
  const all = [...teams, ...gymnasts];
  if (all.length > 1) throw ambiguous(text, all, everyone);
  throw unknown(text, everyone);
}

/** How a person's word for somebody is taken. */
export interface NamingOptions {
  /** Whose contenders are meant, of a team contest its teams; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** True at the prompt: whoever is next up comes before others of the name. */
  readonly nextUpFirst?: boolean | undefined;
}

/**
 * The id of the gymnast a person means. Stricter than the library, where an exact id is exact: an id that is
 * also somebody else's family name may mean either, and is asked back. `id:okaforde` is the id and nothing
 * else.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param text - An id, any part of a name that fits only one, or `id:` and an id.
 * @param options - Whether whoever is next up comes first.
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * namedGymnast(meet, 'ida') // → 'brondt'
 * namedGymnast(meet, 'a') // → throws ambiguous-gymnast
 */
export function namedGymnast(meet: Meet, text: string, options: NamingOptions = {}): string {
  return onlyOne(meet, text, meantBy(meet, text, options)).id;
}

/**
 * The same for whoever a contest ranks: in a team contest a team id comes first.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param text - An id, any part of a name that fits only one, or `id:` and an id.
 * @param options - Whose contenders are meant, and whether whoever is next up comes first.
 * @returns The id of a team where a team was named; of a gymnast where she was.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * namedContender(meet, 'Ida Brondt', { contest: 'all-around' }) // → 'brondt'
 * namedContender(meet, 'nobody') // → throws unknown-gymnast
 */
export function namedContender(meet: Meet, text: string, options: NamingOptions = {}): string {
  const contest = findContest(meet, options.contest);
  const who = contenderAmong(meet, contest, text, meantBy(meet, text, options));
  return who.gymnast?.id ?? who.contender.id;
}

function meantBy(meet: Meet, text: string, options: NamingOptions): readonly Gymnast[] {
  requireSound(meet);
  const found = gymnastsCalled(meet, text);
  return options.nextUpFirst === true ? nextUpOf(found, text, nextUp(meet)) : found;
}
