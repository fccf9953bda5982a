/** The highest sum of the best n - 1 apparatus scores, then n - 2, … 1 (FIG Technical Regulations 2012). */
import type { Units } from '../../score.js';
import type { Entry } from '../entry.js';
import type { PartValues, TieKey, TieRule } from './tie-rule.js';

export const bestScores: TieRule<'best-scores'> = {
  name: 'best-scores',
  needs: 'scores',
  key,
  fixedAtEqualTotals: () => null,
  addedBy: null,
  // Of equal totals the higher sum of the best n - 1 is the one whose lowest score is lower.
  sorted: { of: 'parts', from: 'lowest', compared: 'all' },
  words: 'best scores',
  decidedOn: (a, b) => {
    const [sums, others] = [sumsOfBest(a), sumsOfBest(b)];
    const at = sums.findIndex((sum, i) => sum !== others[i]);
    return bestInWords(sums.length - at);
  },
};

const NUMBERS = ['two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

function bestInWords(count: number): string {
  return count === 1 ? 'the best single score' : `the best ${NUMBERS[count - 2] ?? count} scores`;
}

/** Sets of different sizes give keys of different lengths, and those are not compared. */
function key(entry: Entry): TieKey {
  return entry.contender.carried > 0 ? 'unrecorded' : sumsOfBest(entry.parts);
}

/** The sum of the best n - 1, then of the best n - 2, … of the best. */
function sumsOfBest(parts: PartValues): Units[] {
  const values = parts.filter((v) => v !== null).sort((a, b) => b - a);
  const sums: Units[] = [];
  let sum = 0;
  for (const value of values.slice(0, -1)) {
    sum += value;
    sums.unshift(sum);
  }
  return sums;
}
