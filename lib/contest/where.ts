/** Which apparatus a question means: by code, or by any of the words it is called. */
import { apparatusWritten } from '../apparatus.js';
import { badUsage } from '../error.js';
import type { Meet } from '../meet/meet.js';

/**
 * The code of the apparatus a text names; where it names none, the text in capitals, to be refused by
 * whoever knows what was possible. Throws when it names several.
 */
export function codeCalled({ apparatus }: Pick<Meet, 'apparatus'>, text: string): string {
  const found = apparatusWritten(apparatus, text);
  const [first] = found;
  if (first === undefined) return text.trim().toUpperCase();
  if (found.length === 1) return first.code;
  throw badUsage(
    'wrong-apparatus',
    `"${text.trim()}" could be ${found.map((a) => a.name).join(' or ')}`,
    `say which: ${found.map((a) => a.code).join(' or ')}`,
  );
}

/** What those of the meet's apparatus are called that have these codes. */
export function calledOn({ apparatus }: Pick<Meet, 'apparatus'>, codes: readonly string[]) {
  return apparatus.filter((a) => codes.includes(a.code));
}
