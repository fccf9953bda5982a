/** A score as a hurried hand types it: `ade 13.566`, `ade fx 13.566 d5.6 nd0.1`, `ade all dns`. */
import { findGymnast } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import {
  apparatusOf,
  type Gymnast,
  isToCome,
  type Meet,
  rangeAt,
  routineOf,
} from '../meet/meet.js';
import { plain } from '../meet/problems.js';
import { farFromRange } from '../meet/rows.js';
import { requireSound } from '../meet/sound.js';
import { formatScore, parseScore } from '../score.js';
import type { ToRecord } from './recorded.js';

export interface Typed {
  readonly told: ToRecord;
  readonly gymnast: Gymnast;
  /** What is odd about it, in words: to be asked back before it counts. */
  readonly odd: readonly string[];
}

const WORDS = /^(dns|dnf|void)$/i;
const SCORE = /^\d+([.,]\d+)?$/;
const PART = /^(d|e|nd)[:=]?(\d+([.,]\d+)?)$/i;

/**
 * Whether a line may be a score: it has one, or a word that stands for one.
 * @example
 * looksLikeScore('brandt 14.5') // → true
 * looksLikeScore('standings') // → false
 */
export function looksLikeScore(line: string): boolean {
  return tokensOf(line).some((t) => SCORE.test(t) || WORDS.test(t));
}

/** A note begins at `#`. */
function tokensOf(line: string): string[] {
  return line
    .replace(/#.*$/, '')
    .trim()
    .split(/\s+/)
    .filter((t) => t !== '');
}

/**
 * What a typed line records. Her apparatus is her next one by the schedule when it is not said. Throws
 * when nobody, or more than one, is meant, when there are two scores in it, and when nothing is to come.
 * @example
 * readTyped(meet, 'brandt 14.5').told.apparatus // → 'BB'
 * readTyped(meet, 'brandt 14.5 14.6') // → throws wrong-score
 */
export function readTyped(meet: Meet, line: string): Typed {
  requireSound(meet);
  const tokens = tokensOf(line);
  // Ids may be figures, as on a back; the first word is then hers and no score.
  const id = tokens[0] !== undefined && isId(meet, tokens[0]) ? tokens.slice(0, 1) : [];
  const words = tokens.slice(id.length);
  const scores = words.filter((t) => SCORE.test(t) || WORDS.test(t));
  const parts = words.filter((t) => PART.test(t));
  const others = [...id, ...words.filter((t) => !scores.includes(t) && !parts.includes(t))];
  const [score, second] = scores;
  if (score === undefined || second !== undefined) {
    throw badUsage(
      'wrong-score',
      score === undefined ? 'there is no score in it' : `${score} and ${second} are two scores`,
      'write it like: ade 13.566, or: ade fx 13.566 d5.6 nd0.1',
    );
  }
  // The first word is the gymnast, even where it is also a code.
  const isCode = (t: string, i: number) =>
    i > 0 && (apparatusOf(meet, t.toUpperCase()) !== undefined || /^all$/i.test(t));
  const codes = others.filter(isCode);
  const name = others.filter((t, i) => !isCode(t, i)).join(' ');
  if (name === '') {
    throw badUsage('no-gymnast', `whose ${score} is it?`, 'write it like: ade 13.566');
  }
  if (codes.length > 1) {
    throw badUsage('wrong-apparatus', `${codes.join(' and ')} are two apparatus`, 'name one');
  }
  const gymnast = findGymnast(meet, name);
  const apparatus =
    codes[0]?.toUpperCase() ??
    (/^void$/i.test(score) ? lastApparatus(meet, gymnast) : nextApparatus(meet, gymnast));
  const part = (key: string) => {
    const said = parts.filter((t) => PART.exec(t)?.[1]?.toLowerCase() === key);
    if (said.length > 1) {
      throw badUsage('wrong-score', `${said.join(' and ')} cannot both be`, `say ${key} once`);
    }
    return PART.exec(said[0] ?? '')?.[2] ?? null;
  };
  const note = /#(.*)$/.exec(line)?.[1]?.trim() ?? null;
  const told: ToRecord = {
    gymnast: gymnast.id,
    apparatus: apparatus === 'ALL' ? 'all' : apparatus,
    score,
    d: part('d'),
    e: part('e'),
    nd: part('nd'),
    note,
  };
  return { told, gymnast, odd: oddities(meet, gymnast, told.apparatus, score, codes.length > 0) };
}

/** Her next apparatus by the schedule. Throws when nothing of hers is to come. */
export function nextApparatus(meet: Meet, gymnast: Gymnast): string {
  const next = meet.routines.find((r) => r.gymnast === gymnast.id && isToCome(meet, r.index));
  if (next !== undefined) return next.apparatus;
  throw noAnswer(
    'nothing-to-come',
    `${gymnast.name} has nothing to come`,
    `to mend a score, name the apparatus: ${gymnast.id} ${gymnast.on[0] ?? 'FX'} 13.566`,
  );
}

/** The last by the schedule that has a row, which is what there is to take back. */
function lastApparatus(meet: Meet, gymnast: Gymnast): string {
  const hers = meet.routines.filter((r) => r.gymnast === gymnast.id && !isToCome(meet, r.index));
  const last = hers.sort((a, b) => a.rotation - b.rotation).at(-1);
  if (last !== undefined) return last.apparatus;
  throw noAnswer('nothing-to-void', `${gymnast.name} has no row to take back`, null);
}

function isId(meet: Meet, text: string): boolean {
  return meet.gymnasts.some((g) => plain(g.id) === plain(text));
}

/** What a careful colleague would ask back. */
function oddities(
  meet: Meet,
  { id, name }: Gymnast,
  apparatus: string,
  score: string,
  isNamed: boolean,
): string[] {
  const { decimals, fall } = meet.scoring;
  const show = (s: number) => formatScore(s, decimals);
  if (apparatus === 'all') return [`withdraw ${name} from everything to come`];
  const routine = routineOf(meet, id, apparatus);
  if (routine === undefined) return [];
  const standing = meet.results[routine.index] ?? null;
  const has = standing === null || typeof standing === 'string' ? standing : show(standing.score);
  const odd: string[] = [];
  if (/^void$/i.test(score)) return [`take back ${has ?? 'nothing'} of ${name} on ${apparatus}`];
  if (/^dn[sf]$/i.test(score)) odd.push(`${score.toUpperCase()} for ${name} on ${apparatus}`);
  if (has !== null) odd.push(`${name} has ${has} on ${apparatus} already`);
  const earlier = meet.routines.filter(
    (r) => r.gymnast === id && r.rotation < routine.rotation && isToCome(meet, r.index),
  );
  if (has === null && isNamed && earlier.length > 0) {
    const codes = earlier.map((r) => r.apparatus).join(', ');
    odd.push(`${codes} of ${name} ${earlier.length > 1 ? 'are' : 'is'} still to come`);
  }
  const parsed = parseScore(score, decimals);
  const far = 'value' in parsed ? farFromRange(meet, routine.index, parsed.value) : null;
  if (far !== null) return [...odd, far];
  const { low, high } = rangeAt(meet, routine.index);
  if ('value' in parsed && high !== null && parsed.value > high + fall / 2) {
    odd.push(`${show(parsed.value)} is far above the realistic best of ${show(high)}`);
  }
  if ('value' in parsed && low !== null && parsed.value < low - 2 * fall) {
    odd.push(`${show(parsed.value)} is below ${show(low)} less two falls`);
  }
  return odd;
}
