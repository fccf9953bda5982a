/** Which answers rest on what is usual, because nobody gave a range. */
import { isToCome, type Meet } from '../meet/meet.js';
import { type Section, sentence } from './report.js';

/** Said once under an answer that looks ahead. */
export function restsOnUsual(meet: Meet): Section {
  const toCome = meet.routines.filter((r) => isToCome(meet, r.index));
  const silent = toCome.filter((r) => isFilled(meet, r.index)).length;
  if (silent === 0) return [];
  const whose = silent === toCome.length ? 'the' : `${silent} of the ${toCome.length}`;
  return [
    sentence(
      `Nobody gave a full range for ${whose} routines to come, so what is usual on the apparatus stands in, fitted to the gymnast’s scores tonight.`,
      'quiet',
    ),
  ];
}

/** Whether some of a range is what is usual, for want of a better. */
export function isFilled({ given, ranges }: Meet, routine: number): boolean {
  const parts = ['low', 'likely', 'high', 'falls'] as const;
  return parts.some((part) => given[routine]?.[part] !== ranges[routine]?.[part]);
}
