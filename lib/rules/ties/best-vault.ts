/** The higher single vault of two (12 of 12 pairs in the open data; AP, 19 June 2012). */
import { performedIn } from '../entry.js';
import type { TieRule } from './tie-rule.js';

export const bestVault: TieRule<'best-vault'> = {
  name: 'best-vault',
  needs: 'scores',
  key: (entry) => {
    const means = entry.contender.parts.filter((p) => p.rule.kind === 'mean');
    if (means.length === 0) return 'unrecorded';
    return means.map((part) =>
      Math.max(...performedIn(part, entry.performances).map((p) => p.score)),
    );
  },
  fixedAtEqualTotals: () => null,
  addedBy: null,
  sorted: null,
  words: 'the better vault',
  decidedOn: null,
};
