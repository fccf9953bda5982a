/** The higher D total (FIG Technical Regulations 2012). */
import { addedIn, fixedSum, sumOfComponents } from './components.js';
import type { TieRule } from './tie-rule.js';

export const difficulty: TieRule<'difficulty'> = {
  name: 'difficulty',
  needs: 'd',
  key: (entry) => sumOfComponents(entry, 'd'),
  // The D scores to come are those that are expected, whatever the totals.
  fixedAtEqualTotals: (entry, open) => fixedSum(entry, open, 'd'),
  addedBy: { part: (part, performances) => addedIn(part, performances, 'd'), carried: () => 0 },
  sorted: null,
  words: 'difficulty',
  decidedOn: null,
};
