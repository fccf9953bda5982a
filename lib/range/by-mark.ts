/** Sums of independent values that come with a mark each, where marks add up too. */
import type { Grid } from '../scoring.js';
import { type ByMark, together } from './best.js';
import type { Distribution } from './distribution.js';
import { certain, sumOf } from './sum.js';

export function sumByMark(terms: readonly ByMark[], grid: Grid): ByMark {
  let sums: ByMark = new Map([[0, certain(0)]]);
  for (const term of terms) {
    const lists = new Map<number, Distribution[]>();
    for (const [mark, sum] of sums) {
      for (const [more, value] of term) {
        const list = lists.get(mark + more) ?? [];
        lists.set(mark + more, list);
        list.push(sumOf([sum, value], grid));
      }
    }
    sums = new Map([...lists].map(([mark, list]) => [mark, together(list)]));
  }
  return sums;
}
