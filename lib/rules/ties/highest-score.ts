/** The higher single score (a rule that meets may choose; no published source). */
import { performedIn } from '../entry.js';
import type { TieRule } from './tie-rule.js';

export const highestScore: TieRule<'highest-score'> = {
  name: 'highest-score',
  needs: 'scores',
  // Points carried in hide the scores they are made of.
  key: (entry) =>
    entry.contender.carried > 0
      ? 'unrecorded'
      : [
          Math.max(
            0,
            ...entry.contender.parts.flatMap((part) =>
              performedIn(part, entry.performances).map((p) => p.score),
            ),
          ),
        ],
  fixedAtEqualTotals: () => null,
  addedBy: null,
  sorted: { of: 'routines', from: 'highest', compared: 'first' },
  words: 'the highest single score',
  decidedOn: null,
};
