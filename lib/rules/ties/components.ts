/** Sums of D or E scores over the routines that count. */
import { countsAll, type Part } from '../contender.js';
import { type Component, type Entry, type Performed, performedIn } from '../entry.js';
import type { TieKey } from './tie-rule.js';

/** The sum of one component over the routines that count. */
export function sumOfComponents(entry: Entry, which: 'd' | 'e'): TieKey {
  // Whose total is all carried in has E and D scores, but none are recorded here.
  if (entry.contender.carried > 0 && entry.done === 0) return 'unrecorded';
  let sum = 0;
  let unknown = false;
  for (const part of entry.contender.parts) {
    for (const routine of countingIn(part, entry, which)) {
      const component = routine[which];
      if (component === 'unrecorded') return 'unrecorded';
      if (component === 'unknown') unknown = true;
      else sum += component;
    }
  }
  return unknown ? 'unknown' : [sum];
}

/** The same as a number, where every routine of the open parts counts; null elsewhere. */
export function fixedSum(entry: Entry, open: readonly Part[], which: 'd' | 'e'): number | null {
  if (!open.every(countsAll)) return null;
  const key = sumOfComponents(entry, which);
  return typeof key === 'string' ? null : (key[0] ?? 0);
}

/** The routines of a part that count; of equal scores the one with the higher component. */
function countingIn(part: Part, entry: Entry, which: 'd' | 'e'): Performed[] {
  const performed = performedIn(part, entry.performances);
  if (part.rule.kind === 'mean' || performed.length <= part.rule.count) return performed;
  // What nobody has seen yet may turn out the higher one, so the sum is not known either.
  const rank = (c: Component) => (typeof c === 'number' ? c : c === 'unknown' ? 1e9 : -1e9);
  performed.sort((a, b) => b.score - a.score || rank(b[which]) - rank(a[which]));
  return performed.slice(0, part.rule.count);
}
