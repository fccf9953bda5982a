/** The higher E total (FIG Technical Regulations 2012; 82 of 89 tied pairs in the open data). */
import { fixedSum, sumOfComponents } from './components.js';
import type { TieRule } from './tie-rule.js';

export const execution: TieRule<'execution'> = {
  name: 'execution',
  needs: 'e',
  key: (entry) => sumOfComponents(entry, 'e'),
  // E is score + ND - D: on equal totals E differs by the D scores and deductions, known beforehand.
  fixedAtEqualTotals: (entry, open) => {
    const sum = fixedSum(entry, open, 'e');
    return sum === null ? null : sum - entry.total;
  },
  sorted: null,
  words: 'execution',
  decidedOn: null,
};
