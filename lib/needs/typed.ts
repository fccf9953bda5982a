/** A score as a hurried hand types it: `ade 13.566`, `ade floor 13.566 d5.6 nd0.1`, `ade all dns`. */
import { gymnastsCalled, idAsTyped, nextUpOf, onlyOne } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import { type Gymnast, gymnastOf, isToCome, type Meet } from '../meet/meet.js';
import { resultShown } from '../meet/names.js';
import { awaited, nextUp, underInquiry } from '../meet/now.js';
import { plain } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import { askedBack } from './odd.js';
import { spokenIn } from './spoken.js';
import type { ToRecord } from './to-record.js';
import { justScored, lastScored, nextOf } from './turn.js';

/** What a typed line would record, and what to ask before it does. */
export interface Typed {
  /** As `record` takes it. */
  readonly told: ToRecord;
  /** Whose routine it is. */
  readonly gymnast: Gymnast;
  /** What is odd about it, in sentences without an end; empty where nothing needs to be asked. */
  readonly odd: readonly string[];
  /** What to ask before it counts, to be answered with yes or no; null where nothing needs to be. */
  readonly question: string | null;
  /** What to say after a no: how to write what else may have been meant; null where nothing was likely. */
  readonly instead: string | null;
}

/** Words that stand for a score. */
const WORDS = /^(dns|dnf|void|up|confirmed)$/i;
const SCORE = /^\d+([.,]\d+)?$/;
const PART = /^(d|e|nd)[:=]?(\d+([.,]\d+)?)$/i;
const INQUIRY = /^(inquiry|enquiry)$/i;

/** Numbers of a question: the top 8, a place, a total. */
const ASKED_NUMBER = /\s(top|place|total)[\s:]*\d+([.,]\d+)?(?=\s|$)/gi;

/**
 * Whether a line may be a score: it has one, or a word that stands for one.
 * @param line - What was typed.
 * @example
 * looksLikeScore('brondt 14.5') // → true
 * looksLikeScore('brondt top 8') // → false
 */
export function looksLikeScore(line: string): boolean {
  const tokens = tokensOf(line.replace(ASKED_NUMBER, ' '));
  return tokens.some((t, i) => SCORE.test(t) || WORDS.test(t) || (i > 0 && INQUIRY.test(t)));
}

/** A note begins at `#`. */
function tokensOf(line: string): string[] {
  return line
    .replace(/#.*$/, '')
    .trim()
    .split(/\s+/)
    .filter((t) => t !== '');
}

/** What a line says, each in its place. */
export interface Said {
  readonly name: string;
  /** A code, or `all`; null where none is said. */
  readonly apparatus: string | null;
  readonly score: string;
  readonly d: string | null;
  readonly e: string | null;
  readonly nd: string | null;
  readonly note: string | null;
  readonly isInquiry: boolean;
}

/**
 * What a typed line records. A name that several have is that of whoever is next up, where only one of them
 * is. Without an apparatus it is the one she is up on, or the one she has just been scored on, which is asked
 * back.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param line - What was typed: `ida 13.566`, `ida beam 13.566 d5.6 nd0.1`.
 * @throws `no-gymnast`: nobody is named
 * @throws `wrong-score`: no score in it, or two
 * @throws `unknown-apparatus`: what follows the name is nearly one of the meet's, and none
 * @throws `wrong-apparatus`: two apparatus, or a word that fits two
 * @throws `nothing-to-come`: no apparatus is named and nothing of hers is to come
 * @throws `nothing-to-void`: no row of hers is there to take back
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { told, question } = readTyped(meet, 'silvane 14.2');
 * [told.apparatus, question] // → ['VT', null]
 * readTyped(meet, 'brondt vault 14.5').question // → "Correct Brondt's vault from 14.600 to 14.500?"
 * readTyped(meet, 'brondt 14.5 14.6') // → throws wrong-score
 */
export function readTyped(meet: Meet, line: string): Typed {
  requireSound(meet);
  const said = wordsIn(meet, line);
  const { name, score, d, e, nd, note } = said;
  const found = gymnastsCalled(meet, name);
  const gymnast = onlyOne(meet, name, meantBy(meet, said, found));
  const apparatus = said.apparatus ?? apparatusMeant(meet, gymnast, said);
  const told: ToRecord = { gymnast: gymnast.id, apparatus, score, d, e, nd, note };
  return { told, gymnast, ...askedBack(meet, gymnast, apparatus, said, found) };
}

/** Throws where there is no score in it, or there are two, and where nobody is named. */
export function wordsIn(meet: Meet, line: string): Said {
  const tokens = tokensOf(line);
  // Ids may be figures, as on a back; the first word is then hers and no score.
  const id = tokens[0] !== undefined && isId(meet, tokens[0]) ? tokens.slice(0, 1) : [];
  const words = tokens.slice(id.length);
  const said = words.filter((t) => SCORE.test(t) || WORDS.test(t));
  // Without a score the word inquiry stands for one: the score that stands may change.
  const opened =
    said.length === 0 ? words.find((t, i) => i + id.length > 0 && INQUIRY.test(t)) : undefined;
  const scores = opened === undefined ? said : [opened];
  const parts = words.filter((t) => PART.test(t));
  const [score, second] = scores;
  if (score === undefined || second !== undefined) {
    throw badUsage(
      'wrong-score',
      score === undefined ? 'there is no score in it' : `${score} and ${second} are two scores`,
      'write it like: ade 13.566, or: ade floor 13.566 d5.6 nd0.1',
    );
  }
  const part = (key: string) => {
    const said = parts.filter((t) => PART.exec(t)?.[1]?.toLowerCase() === key);
    if (said.length > 1) {
      throw badUsage('wrong-score', `${said.join(' and ')} cannot both be`, `say ${key} once`);
    }
    return PART.exec(said[0] ?? '')?.[2] ?? null;
  };
  const others = [...id, ...words.filter((t) => !scores.includes(t) && !parts.includes(t))];
  // The first word is a name, whatever it is, where somebody is called so.
  const isName = (t: string, i: number) => i === 0 && gymnastsCalled(meet, t).length > 0;
  const inquiry = others.find((t, i) => INQUIRY.test(t) && !isName(t, i));
  const spoken = spokenIn(
    meet,
    others.filter((t) => t !== inquiry),
  );
  if (spoken.name === '') {
    throw badUsage('no-gymnast', `whose ${score} is it?`, 'write it like: ade 13.566');
  }
  const note = /#(.*)$/.exec(line)?.[1]?.trim() ?? inquiry ?? null;
  const isInquiry = (inquiry ?? opened) !== undefined || /\b(inquiry|enquiry)\b/i.test(note ?? '');
  return {
    ...spoken,
    score: opened === undefined ? score : 'inquiry',
    d: part('d'),
    e: part('e'),
    nd: part('nd'),
    note,
    isInquiry,
  };
}

function isId(meet: Meet, text: string): boolean {
  return meet.gymnasts.some((g) => plain(g.id) === plain(text));
}

/** Of those a name fits the one whose score this can be. */
function meantBy(
  meet: Meet,
  { name, apparatus, score, isInquiry }: Said,
  found: readonly Gymnast[],
): readonly Gymnast[] {
  if (found.length < 2) return found;
  const isThere = (r: { readonly apparatus: string }) =>
    apparatus === null || apparatus === 'all' || r.apparatus === apparatus;
  if (isInquiry || /^(void|confirmed)$/i.test(score)) {
    const isDone = (g: Gymnast) =>
      meet.routines.some((r) => r.gymnast === g.id && isThere(r) && !isToCome(meet, r.index));
    const done = found.filter(isDone);
    return done.length === 1 ? done : found;
  }
  const up = nextUpOf(found, name, nextUp(meet).filter(isThere));
  return up.length === 1 ? up : nextUpOf(found, name, awaited(meet).filter(isThere));
}

/** Where a score belongs that names no apparatus. */
export function apparatusMeant(meet: Meet, gymnast: Gymnast, { score, isInquiry }: Said): string {
  if (/^void$/i.test(score)) return lastApparatus(meet, gymnast);
  if (/^confirmed$/i.test(score)) {
    const open = underInquiry(meet).find((r) => r.gymnast === gymnast.id);
    return (open ?? lastScored(meet, gymnast.id))?.apparatus ?? nextApparatus(meet, gymnast);
  }
  const isScore = SCORE.test(score) || INQUIRY.test(score);
  const corrected = isInquiry ? lastScored(meet, gymnast.id) : justScored(meet, gymnast.id);
  return isScore && corrected !== null ? corrected.apparatus : nextApparatus(meet, gymnast);
}

/** The apparatus she is up on, or else her next by the schedule. Throws when nothing of hers is to come. */
export function nextApparatus(meet: Meet, gymnast: Gymnast): string {
  const next = nextOf(meet, gymnast.id);
  if (next !== null) return next.apparatus;
  throw noAnswer(
    'nothing-to-come',
    `${gymnast.name} has nothing to come`,
    `to mend a score, name the apparatus: ${gymnast.id} ${gymnast.on[0] ?? 'FX'} 13.566`,
  );
}

/** The last by the schedule that has a row, which is what there is to take back. */
function lastApparatus(meet: Meet, gymnast: Gymnast): string {
  const hers = meet.routines.filter((r) => r.gymnast === gymnast.id && !isToCome(meet, r.index));
  const last = hers.at(-1);
  if (last !== undefined) return last.apparatus;
  throw noAnswer('nothing-to-void', `${gymnast.name} has no row to take back`, null);
}

/**
 * How the row that stands of a gymnast on an apparatus is typed, to have it again once it is taken back;
 * whose and where alone, where nothing stands.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param whose - Whose row it is, and where.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * typedAgain(meet, { gymnast: 'brondt', apparatus: 'VT' }) // → 'brondt vt 14.600'
 */
export function typedAgain(
  meet: Meet,
  { gymnast, apparatus }: Pick<ToRecord, 'gymnast' | 'apparatus'>,
): string {
  requireSound(meet);
  const her = gymnastOf(meet, gymnast);
  const [id, where] = [her ? idAsTyped(meet, her) : gymnast, apparatus.toLowerCase()];
  const last = meet.told.findLast((t) => t.gymnast === gymnast && t.apparatus === apparatus);
  if (last === undefined) return `${id} ${where}`;
  const { act } = last;
  if (act.kind === 'for' || act.kind === 'after') {
    return `${id} ${act.kind} ${act.whom}${where === 'all' ? '' : ` on ${where}`}`;
  }
  const what = act.kind === 'result' ? resultShown(meet, act.result).toLowerCase() : act.kind;
  return `${id} ${where} ${what}`;
}
