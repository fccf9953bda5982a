/**
 * Everyone's chance of first place if one runner were another: the product of the chances that each
 * of the others is not ahead, with one factor exchanged.
 */
import { FLOAT, INT, withKernel } from '../kernel/kernel.js';
import type { InOrder } from './order/order.js';
import { countLeft, roomForResults, throughResults } from './order/through.js';

/** A count in memory: its size, how many variants, whether it is over; then where its lists are. */
const HEAD = 3;
const LISTS = 5;

/**
 * By variant and runner: the chance that the runner wins if the variant is the case. `variantOf`: by
 * variant, the runner it does not compete with; -1 where its titles are not asked.
 */
export function countTitles(ordered: InOrder, variantOf: readonly number[]): Float64Array {
  const { size } = ordered;
  const variants = variantOf.length;
  const members = size + variants;
  const floats = members + size + variants * size;
  const ints = HEAD + LISTS + members + variants;
  const room = FLOAT * (floats + LISTS) + INT * ints + roomForResults(members);
  return withKernel(room, (kernel) => {
    // As it lies in memory: see lib/kernel/assembly/titles.ts.
    const count = kernel.ints(HEAD + LISTS);
    const behind = kernel.floats(members).fill(1);
    const left = kernel.ints(members);
    const inverse = kernel.floats(size).fill(1);
    const of = kernel.ints(variants);
    const titles = kernel.floats(variants * size);
    countLeft(ordered, left);
    of.set(variantOf);
    count.set([size, variants]);
    const lists = [behind, left, inverse, of, titles];
    for (let k = 0; k < lists.length; k++) count[HEAD + k] = lists[k]!.byteOffset;
    throughResults(kernel, ordered, members, (who, chances, equals, length) => {
      kernel.loops.countTitles(count.byteOffset, who, chances, equals, length);
      return count[HEAD - 1] === 1;
    });
    return titles.slice();
  });
}
