/** The highest sum of the best n - 1 apparatus scores, then n - 2, … 1 (FIG Technical Regulations 2012). */
import type { Units } from '../../score.js';
import type { Entry } from '../entry.js';
import type { TieKey, TieRule } from './tie-rule.js';

export const bestScores: TieRule<'best-scores'> = {
  name: 'best-scores',
  needs: 'scores',
  key,
  fixedAtEqualTotals: () => null,
  // Of equal totals the higher sum of the best n - 1 is the one whose lowest score is lower.
  sorted: { of: 'parts', from: 'lowest', compared: 'all' },
  words: 'best scores',
};

/** Sets of different sizes give keys of different lengths, and those are not compared. */
function key(entry: Entry): TieKey {
  if (entry.contender.carried > 0) return 'unrecorded';
  const values = entry.parts.filter((v) => v !== null).sort((a, b) => b - a);
  const sums: Units[] = [];
  let sum = 0;
  for (const value of values.slice(0, -1)) {
    sum += value;
    sums.unshift(sum);
  }
  return sums;
}
