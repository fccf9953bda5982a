/** Which answers rest on what is usual, because nobody gave a range. */
import { isToCome, type Meet } from '../../lib/index.js';
import { colour, writeWords } from '../terminal.js';

/** Said once under an answer that looks ahead. */
export function printUsual(meet: Meet): void {
  const toCome = meet.routines.filter((r) => isToCome(meet, r.index));
  const silent = toCome.filter((r) => isFilled(meet, r.index)).length;
  if (silent === 0) return;
  const whose = silent === toCome.length ? 'the' : `${silent} of the ${toCome.length}`;
  writeWords(
    `No full range is given for ${whose} routines to come: what is usual on the apparatus is taken, around the gymnast’s scores tonight.`,
    colour.dim,
  );
}

/** Whether some of a range is what is usual, for want of a better. */
export function isFilled({ given, ranges }: Meet, routine: number): boolean {
  const parts = ['low', 'likely', 'high', 'falls'] as const;
  return parts.some((part) => given[routine]?.[part] !== ranges[routine]?.[part]);
}
