/** Sums of D or E scores over the routines that count. */

import type { Units } from '../../score.js';
import { countsAll, type Part } from '../contender.js';
import {
  type Component,
  type Entry,
  type Performances,
  type Performed,
  performedIn,
} from '../entry.js';
import type { TieKey } from './tie-rule.js';

/** The sum of one component over the routines that count. */
export function sumOfComponents(entry: Entry, which: 'd' | 'e'): TieKey {
  const { contender, performances } = entry;
  // Whose total is all carried in has E and D scores, but none are recorded here.
  if (contender.carried > 0 && entry.done === 0) return 'unrecorded';
  const sums = contender.parts.map((part) => sumIn(part, performances, which));
  if (sums.includes('unrecorded')) return 'unrecorded';
  if (sums.includes('unknown')) return 'unknown';
  return [numbers(sums).reduce((a, b) => a + b, 0)];
}

/** The sum over the routines of one part that count. */
function sumIn(part: Part, performances: Performances, which: 'd' | 'e'): Component {
  const components = countingIn(part, performances, which).map((p) => p[which]);
  if (components.includes('unrecorded')) return 'unrecorded';
  if (components.includes('unknown')) return 'unknown';
  return numbers(components).reduce((a, b) => a + b, 0);
}

function numbers(components: readonly Component[]): number[] {
  return components.filter((c) => typeof c === 'number');
}

/** What one part adds to the sum; nothing where that is not known. */
export function addedIn(part: Part, performances: Performances, which: 'd' | 'e'): Units {
  const sum = sumIn(part, performances, which);
  return typeof sum === 'number' ? sum : 0;
}

/** The same as a number, where every routine of the open parts counts; null elsewhere. */
export function fixedSum(entry: Entry, open: readonly Part[], which: 'd' | 'e'): number | null {
  if (!open.every(countsAll)) return null;
  const key = sumOfComponents(entry, which);
  return typeof key === 'string' ? null : (key[0] ?? 0);
}

/** The routines of a part that count; of equal scores the one with the higher component. */
function countingIn(part: Part, performances: Performances, which: 'd' | 'e'): Performed[] {
  const performed = performedIn(part, performances);
  if (part.rule.kind === 'mean' || performed.length <= part.rule.count) return performed;
  // What nobody has seen yet may turn out the higher one, so the sum is not known either.
  const rank = (c: Component) => (typeof c === 'number' ? c : c === 'unknown' ? 1e9 : -1e9);
  performed.sort((a, b) => b.score - a.score || rank(b[which]) - rank(a[which]));
  return performed.slice(0, part.rule.count);
}
