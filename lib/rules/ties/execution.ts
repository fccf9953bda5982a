/** The higher E total (FIG Technical Regulations 2012; 82 of 89 tied pairs in the open data). */
import { partValue } from '../entry.js';
import { addedIn, fixedSum, sumOfComponents } from './components.js';
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
  // At equal totals what E is more than all that makes the total compares as E does.
  addedBy: {
    part: (part, performances) =>
      addedIn(part, performances, 'e') - (partValue(part, performances) ?? 0),
    carried: (carried) => -carried,
  },
  sorted: null,
  words: 'execution',
  decidedOn: null,
};
