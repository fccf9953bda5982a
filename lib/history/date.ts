/** Dates as histories write them. */
import { plain } from '../meet/problems.js';

/** What stands first in dates such as 03/02/2026. */
export type DateOrder = 'day-first' | 'month-first';

const BY_SLASHES = /^(\d{1,2})[/-](\d{1,2})[/-](\d{4})$/;

/**
 * What stands first in the dates of a history with slashes, by those that can only be one way: 27/09/2022.
 * Null where none says it, or some say one and some the other.
 */
export function dateOrderOf(texts: Iterable<string>): DateOrder | null {
  const found = new Set<DateOrder>();
  for (const text of texts) {
    const [, first, second] = BY_SLASHES.exec(text) ?? [];
    if (Number(first) > 12 && Number(second) <= 12) found.add('day-first');
    if (Number(second) > 12 && Number(first) <= 12) found.add('month-first');
  }
  return found.size === 1 ? [...found][0]! : null;
}

/** "day/month/year, as 27/09/2022 must be": how a date with slashes is read; null for any other. */
export function orderInWords(text: string, order: DateOrder | null): string | null {
  if (order === null || !BY_SLASHES.test(text)) return null;
  return order === 'day-first'
    ? 'day, month, year, as all such dates here: one of them has a day over 12 first'
    : 'month, day, year, as all such dates here: one of them has a day over 12 second';
}

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

function monthOf(name = ''): number {
  return MONTHS.indexOf(name.slice(0, 3)) + 1;
}

/** Year, month and day as they are written; NaN where there is none. */
function partsOf(text: string, order: DateOrder | null): number[] {
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$/.exec(text);
  if (iso !== null) return iso.slice(1).map(Number);
  const byDots = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$/.exec(text);
  if (byDots !== null) return byDots.slice(1).reverse().map(Number);
  const [, first, second, year] = BY_SLASHES.exec(text) ?? [];
  if (year !== undefined && order !== null) {
    const [day, month] = order === 'day-first' ? [first, second] : [second, first];
    return [year, month, day].map(Number);
  }
  const word = plain(text)
    .replace(/[.,]/g, ' ')
    .replace(/^(mon|tue|wed|thu|fri|sat|sun)[a-z]*\s+/, '');
  const [, d, m, y] =
    /^(\d{1,2})(?:st|nd|rd|th)?[\s-]+([a-z]{3,9})[\s-]+(\d{4})$/.exec(word.trim()) ?? [];
  if (y !== undefined) return [Number(y), monthOf(m), Number(d)];
  const [, m2, d2, y2] =
    /^([a-z]{3,9})\s+(\d{1,2})(?:st|nd|rd|th)?\s+(\d{4})$/.exec(word.trim()) ?? [];
  return [Number(y2), monthOf(m2), Number(d2)];
}

/**
 * `2022-11-06`, from that, `2022/11/6`, `6.11.2022`, `6 Nov 2022` or `November 6, 2022`. What stands first in
 * 06/11/2022 is `order`; without it such a date is not guessed.
 */
export function readDate(
  text: string,
  order: DateOrder | null = null,
): { readonly date: string } | { readonly why: string } {
  if (text === '') return { why: 'no date' };
  const [year, month, day] = partsOf(text, order);
  if (!year || !month || !day) {
    return { why: `"${text}" is not a clear date: write it like 2022-11-06` };
  }
  const when = new Date(Date.UTC(year, month - 1, day));
  if (when.getUTCMonth() !== month - 1 || when.getUTCDate() !== day) {
    return { why: `there is no such day as ${text}` };
  }
  return { date: when.toISOString().slice(0, 10) };
}

/** No competition lasts so many days: another year’s of the same name is another one. */
export const LONGEST_COMPETITION = 60;

/** Days from one date to another. */
export function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 86_400_000;
}
