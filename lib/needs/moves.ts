/** Who steps in for whom, and who goes up after whom, as it is typed: `velde for fitch on beam`. */
import { gymnastsCalled, onlyOne } from '../contest/who.js';
import type { Gymnast, Meet } from '../meet/meet.js';
import { apparatusName, shortName } from '../meet/names.js';
import { requireSound } from '../meet/sound.js';
import { spokenIn } from './spoken.js';
import { nextApparatus, type Typed } from './typed.js';

const MOVE = /^(.+?)\s+(?:steps?\s+in\s+|goes(?:\s+up)?\s+)?(for|after)\s+([^#]+?)\s*(?:#(.*))?$/i;

/**
 * What a typed line changes of who goes up when; null where it is no such line. Without an apparatus she
 * steps in on everything to come, and goes later on the apparatus she is next on.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param line - What was typed: `lund for okafor`, `lund after okafor`.
 * @throws `unknown-apparatus`: what follows the name is nearly one of the meet's, and none
 * @throws `wrong-apparatus`: two apparatus, or a word that fits two
 * @throws `nothing-to-come`: none is named and nothing of hers is to come
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const typed = readMove(meet, 'brondt after silvane on vault');
 * [typed?.told.apparatus, typed?.told.score] // → ['VT', 'after:silvane']
 * readMove(meet, 'brondt 14.5') // → null
 */
export function readMove(meet: Meet, line: string): Typed | null {
  requireSound(meet);
  const [, first = '', how = '', rest = '', note = null] = MOVE.exec(line.trim()) ?? [];
  const words = rest.split(/\s+/).filter((w) => !/^(on|from|here)$/i.test(w));
  if (first === '' || gymnastsCalled(meet, first).length === 0) return null;
  const { name, apparatus } = spokenIn(meet, words);
  if (name === '' || gymnastsCalled(meet, name).length === 0) return null;
  const gymnast = onlyOne(meet, first, gymnastsCalled(meet, first));
  const whom = onlyOne(meet, name, gymnastsCalled(meet, name));
  const isFor = how.toLowerCase() === 'for';
  const where = apparatus ?? (isFor ? 'all' : nextApparatus(meet, gymnast));
  const told = {
    gymnast: gymnast.id,
    apparatus: where,
    score: `${isFor ? 'for' : 'after'}:${whom.id}`,
    note: note === null ? null : note.trim(),
  };
  const question = isFor ? stepsIn(meet, gymnast, whom, where) : null;
  const odd = question === null ? [] : [question.replace(/\?$/, '')];
  return { told, gymnast, odd, question, instead: null };
}

/** "Velde steps in for Fitch on everything from here on?" */
function stepsIn(meet: Meet, gymnast: Gymnast, whom: Gymnast, where: string): string {
  const on = where === 'all' ? 'everything from here on' : apparatusName(meet, where);
  return `${shortName(meet, gymnast.id)} steps in for ${shortName(meet, whom.id)} on ${on}?`;
}
