/** Results whose keys are lists of numbers, the lower ahead: each list is numbered in their order. */
import type { Score } from '../../score.js';
import { type Results, rankOf, rankScale } from './results.js';

export interface NumberedKeys {
  readonly add: (member: number, total: Score, digits: readonly number[], chance: number) => void;
  /** Once everyone's are found: by member. */
  readonly results: () => Results[];
}

interface Found {
  readonly totals: Score[];
  readonly keys: number[];
  readonly chances: number[];
}

/** For so many members, with these totals of the entrants. */
export function numberedKeys(members: number, totals: readonly (readonly Score[])[]): NumberedKeys {
  const numbers = new Map<string, number>();
  const lists: (readonly number[])[] = [];
  const all = Array.from({ length: members }, (): Found => ({ totals: [], keys: [], chances: [] }));
  return {
    add: (member, total, digits, chance) => {
      const name = digits.join();
      const key = numbers.get(name) ?? lists.push(digits) - 1;
      numbers.set(name, key);
      all[member]?.totals.push(total);
      all[member]?.keys.push(key);
      all[member]?.chances.push(chance);
    },
    results: () => {
      const scale = rankScale(totals, lists.length);
      const order = [...lists.entries()].sort(([, a], [, b]) => compareDigits(a, b));
      const placeOf = new Int32Array(lists.length);
      for (const [place, [key]] of order.entries()) placeOf[key] = place;
      return all.map((found) => ({
        ranks: Float64Array.from(found.keys, (key, k) =>
          rankOf(scale, found.totals[k] ?? 0, placeOf[key] ?? 0),
        ),
        chances: new Float64Array(found.chances),
      }));
    },
  };
}

/** Below 0: the first is ahead. */
function compareDigits(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((digit, k) => digit !== b[k]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}
