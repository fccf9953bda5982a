/** The distribution of a range that somebody gives, checked as it comes in. */
import { badUsage } from '../error.js';
import type { Meet, Range } from '../meet/meet.js';
import { requireSound } from '../meet/sound.js';
import { givenScore, type Score } from '../score.js';
import { type Distribution, distributionIn } from './distribution.js';

/**
 * The distribution of a range in a meet, falls included; null when something of the range is missing. The
 * lists are the caller's own.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param range - Low, likely, high and D in units, `falls` a probability: one of `meet.ranges`, or one of
 *   your own.
 * @throws `wrong-score`: points where units are meant
 * @throws `wrong-range`: low, likely and high do not rise, or `falls` is no chance
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { range } = needs(meet, 'brondt', { on: 'BB' });
 * distributionOf(meet, range)?.scores.at(-1) // → 14800
 * distributionOf(meet, { ...range, falls: 2 }) // → throws wrong-range
 */
export function distributionOf(meet: Meet, range: Range): Distribution | null {
  requireSound(meet);
  const { decimals } = meet.scoring;
  const checked = (given: Score | null | undefined, what: string) =>
    given == null ? null : givenScore(given, decimals, what);
  const [low, likely, high] = [
    checked(range.low, 'low'),
    checked(range.likely, 'likely'),
    checked(range.high, 'high'),
  ];
  const falls = range.falls ?? null;
  const given = [low, likely, high].filter((score) => score !== null);
  const isRising = given.every((score, k) => k === 0 || (given[k - 1] ?? 0) <= score);
  if (!isRising || (falls !== null && !(falls >= 0 && falls <= 1))) {
    throw badUsage(
      'wrong-range',
      'low, likely and high do not rise, or falls is not a chance',
      'give low, likely and high from the lowest up, and falls from 0 to 1',
    );
  }
  const found = distributionIn(meet, { ...range, low, likely, high, falls });
  return found === null ? null : { scores: [...found.scores], chances: [...found.chances] };
}
