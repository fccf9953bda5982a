/** What to write where a text is no apparatus, or may be several. */
import { distance } from 'fastest-levenshtein';
import { apparatusWritten, type Called } from '../apparatus.js';
import { nearest, plain } from './problems.js';

/**
 * "did you mean `beam`?" by code or by name, both where two are as near, "say which: PB or HB" where it may be
 * several; else the codes, and what may stand there instead of one.
 */
export function apparatusMend(
  text: string,
  known: readonly Called[],
  otherwise: string,
  more: readonly string[] = [],
): string {
  const found = apparatusWritten(known, text).map((a) => a.code);
  if (found.length > 1) return `say which: ${found.join(' or ')}`;
  if (found.length === 1) return `write \`${found[0]}\``;
  const codes = [...known.map((a) => a.code), ...more];
  const names = known.map((a) => a.name);
  const near = nearest(text, [...codes, ...names]);
  const all = near === null ? furtherOf(text, names) : [near];
  if (all.length === 0) return `${otherwise}: ${codes.join(', ')}`;
  return `did you mean ${all.map((name) => `\`${name}\``).join(' or ')}?`;
}

/** Whether a text is so near to one of some apparatus that nothing else was meant. */
export function isNearApparatus(text: string, known: readonly Called[]): boolean {
  return /^did you mean/.test(apparatusMend(text, known, ''));
}

/** More than two are no suggestion. */
const MOST = 2;

/** There are so few of them that half of a name is enough to go by: "bems" is beam, or bars. */
function furtherOf(text: string, names: readonly string[]): string[] {
  const far = names.map((name) => distance(plain(text), plain(name)));
  const least = Math.min(...far);
  if (least > text.length / 2) return [];
  const nearestOf = names.filter((_, i) => far[i] === least);
  return nearestOf.length > MOST ? [] : nearestOf;
}
