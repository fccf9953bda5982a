/** Results whose keys are lists of numbers, the lower ahead: each list is numbered in their order. */
import { type Results, rankOf, rankScale } from '../../range/rank-scale.js';
import type { Units } from '../../score.js';

export interface NumberedKeys {
  /** Adds a result of a member; all keys have as many numbers. */
  readonly add: (member: number, total: Units, key: readonly number[], chance: number) => void;
  /** Once everyone's are found: by member. */
  readonly results: () => Results[];
}

/** For so many members, with these totals of the entrants. */
export function numberedKeys(members: number, totals: readonly (readonly Units[])[]): NumberedKeys {
  const who: number[] = [];
  const found: Units[] = [];
  const chances: number[] = [];
  // The keys one after another, each of so many numbers.
  const keys: number[] = [];
  let width = 0;
  const compare = (a: number, b: number): number => {
    for (let k = 0; k < width; k++) {
      const order = (keys[a * width + k] ?? 0) - (keys[b * width + k] ?? 0);
      if (order !== 0) return order;
    }
    return 0;
  };
  return {
    add: (member, total, key, chance) => {
      width = key.length;
      who.push(member);
      found.push(total);
      chances.push(chance);
      for (let k = 0; k < width; k++) keys.push(key[k] ?? 0);
    },
    results: () => {
      const order = Int32Array.from(found, (_, k) => k).sort(compare);
      const placeOf = new Int32Array(order.length);
      let place = 0;
      for (const [n, k] of order.entries()) {
        if (n > 0 && compare(order[n - 1] ?? 0, k) !== 0) place++;
        placeOf[k] = place;
      }
      const scale = rankScale(totals, place + 1);
      const all = Array.from({ length: members }, () => ({ ranks: [0], chances: [0] }));
      for (const [k, total] of found.entries()) {
        const one = all[who[k] ?? 0];
        one?.ranks.push(rankOf(scale, total, placeOf[k] ?? 0));
        one?.chances.push(chances[k] ?? 0);
      }
      return all.map((one) => ({
        ranks: new Float64Array(one.ranks).subarray(1),
        chances: new Float64Array(one.chances).subarray(1),
      }));
    },
  };
}
