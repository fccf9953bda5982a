/** What a contest of one meet brings into that of another: the totals as they stand. */
import type { ContestRules, Meet } from '../meet/meet.js';
import { asScore, type Score, type Units } from '../score.js';
import { CONTEST_KINDS } from './contests/index.js';
import { entryOf } from './entry.js';
import { recordedPerformances } from './recorded.js';

/** Points brought in by contender's id; none for who has none. */
export function carriedBy({ carried }: Pick<ContestRules, 'carried'>): (id: string) => Units {
  return (id) => carried?.get(id) ?? 0;
}

/** By contender's id, of whoever is on the board; null where the meet has no such contest. */
export function totalsOf(meet: Meet, contest: string): ReadonlyMap<string, Score> | null {
  const rules = meet.contests.find((c) => c.id === contest);
  const kind = CONTEST_KINDS.find((k) => k.name === rules?.kind);
  if (rules === undefined || kind === undefined) return null;
  const recorded = recordedPerformances(meet);
  const totals = new Map<string, Score>();
  for (const draft of kind.contenders(meet, rules.settings, carriedBy(rules))) {
    const routines = draft.parts.flatMap((part) => part.routines);
    const { total, onBoard } = entryOf({ ...draft, routines }, recorded);
    if (onBoard) totals.set(draft.id, asScore(total));
  }
  return totals;
}
