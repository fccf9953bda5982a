/** A line of a feed in the words of the prompt, `brondt beam 13.0`: taken where nothing has to be guessed. */
import { findGymnast, idAsTyped } from '../contest/who.js';
import { badUsage } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { apparatusName, shortName } from '../meet/names.js';
import { nextUp } from '../meet/now.js';
import { requireSound } from '../meet/sound.js';
import type { FedRow } from './fed.js';
import { justScored, lastScored } from './turn.js';
import { apparatusMeant, looksLikeScore, type Said, wordsIn } from './typed.js';

/**
 * Whether a line is written as a person types it: a score, or a word for one, and nothing that parts values but
 * blanks. A comma within a number parts none.
 * @param text - A line of a feed.
 * @example
 * isPlainLine('brondt beam 13,0') // → true
 * isPlainLine('brondt, BB, 13.0') // → false
 */
export function isPlainLine(text: string): boolean {
  const line = text.replace(/#.*$/, '');
  return !/[;\t{"]|,(?!\d)|(?<!\d),/.test(line) && looksLikeScore(line);
}

/**
 * What such a line tells, as the prompt takes it, but an exact id is exact, and what the prompt would ask back is
 * refused: a name that fits several, and a score without an apparatus right after her last one, which may be a
 * correction of it. Without an apparatus the one she is up on is left to `withApparatus`.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param text - A line of a feed: `brondt beam 13.0`.
 * @throws `no-gymnast`: nobody is named
 * @throws `wrong-score`: no score in it, or two
 * @throws `no-apparatus`: none is named, and it may correct the score she has just had
 * @throws `unknown-apparatus` (the end of the name is nearly one), `wrong-apparatus` (two, or a word that fits two)
 * @throws `nothing-to-come`: she withdraws there, and nothing of hers is to come
 * @throws `nothing-to-void`: no row of hers is there to take back
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * readPlain(meet, 'brondt beam 14.5').apparatus // → 'BB'
 * readPlain(meet, 'brondt 14.5').apparatus // → ''
 * readPlain(meet, 'a 14.5') // → throws ambiguous-gymnast
 */
export function readPlain(meet: Meet, text: string): FedRow {
  requireSound(meet);
  const said = wordsIn(meet, text);
  const { score, d, e, nd, note } = said;
  const gymnast = findGymnast(meet, said.name);
  const apparatus = said.apparatus ?? apparatusTold(meet, gymnast.id, said);
  return { gymnast: gymnast.id, apparatus, score, d, e, nd, status: null, note };
}

/** Where it says of which score it speaks; empty where it is a new one. */
function apparatusTold(meet: Meet, id: string, said: Said): string {
  const gymnast = findGymnast(meet, id);
  const isNew = /^(\d|up$|dn[sf]$)/i.test(said.score) && !said.isInquiry;
  const isOfNone = said.isInquiry && lastScored(meet, id) === null;
  if (!isNew) return isOfNone ? '' : apparatusMeant(meet, gymnast, said);
  const last = /^\d/.test(said.score) ? justScored(meet, id) : null;
  if (last === null) return '';
  const next = nextUp(meet).find((r) => r.gymnast === id);
  const where = apparatusName(meet, last.apparatus);
  const other = next === undefined ? '' : `, or hers on ${apparatusName(meet, next.apparatus)}`;
  throw badUsage(
    'no-apparatus',
    `it may correct the score ${shortName(meet, id)} has on ${where}${other}`,
    `name the apparatus: ${idAsTyped(meet, gymnast)} ${where} ${said.score}`,
  );
}
