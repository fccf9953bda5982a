/**
 * Everyone's chance of first place if one runner were another: the product of the chances that each
 * of the others is not ahead, with one factor exchanged.
 */
import { FLOAT, INT, withKernel } from '../kernel/kernel.js';
import type { InOrder } from './order/order.js';
import { roomForResults, throughResults } from './order/through.js';

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
  const floats = members + 1 + size + variants * size;
  const ints = HEAD + LISTS + 2 * (members + 1);
  const room = FLOAT * (floats + LISTS) + INT * ints + roomForResults(members);
  return withKernel(room, (kernel) => {
    // As it lies in memory: see lib/kernel/assembly/titles.ts.
    const count = kernel.ints(HEAD + LISTS);
    // After the variants nobody comes, of whom nothing is asked.
    const behind = kernel.floats(members + 1).fill(1);
    const left = kernel.ints(members + 1);
    const inverse = kernel.floats(size).fill(1);
    const of = kernel.ints(variants + 1).fill(-1);
    const titles = kernel.floats(variants * size);
    left.set(ordered.left);
    of.set(variantOf);
    count.set([size, variants]);
    const lists = [behind, left, inverse, of, titles];
    for (let k = 0; k < lists.length; k++) count[HEAD + k] = lists[k]!.byteOffset;
    throughResults(kernel, ordered, (who, chances, equals, length) => {
      kernel.loops.countTitles(count.byteOffset, who, chances, equals, length);
      return count[HEAD - 1] === 1;
    });
    return titles.slice();
  });
}
