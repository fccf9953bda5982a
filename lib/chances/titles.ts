/**
 * Everyone's chance of first place if one runner were another: the product of the chances that each
 * of the others is not ahead, with one factor exchanged.
 */
import { FLOAT, INT, STRUCT, withKernel } from '../kernel/kernel.js';
import type { InOrder } from './order/order.js';
import { roomForResults, throughResults } from './order/through.js';

/** Where a Titles in memory says that it is over. */
const OVER = 2;

/**
 * By variant and runner: the chance that the runner wins if the variant is the case. `variantOf`: by
 * variant, the runner it does not compete with; -1 where its titles are not asked.
 */
export function countTitles(ordered: InOrder, variantOf: readonly number[]): Float64Array {
  const { size } = ordered;
  const variants = variantOf.length;
  const members = size + variants;
  const floats = members + 1 + size + variants * size;
  const ints = 2 * (members + 2);
  const room = STRUCT + FLOAT * floats + INT * ints + roomForResults(members);
  return withKernel(room, (kernel) => {
    // After the variants nobody comes, of whom nothing is asked.
    const behind = kernel.floats(members + 1).fill(1);
    const left = kernel.ints(members + 1);
    const inverse = kernel.floats(size).fill(1);
    const of = kernel.ints(variants + 1).fill(-1);
    const titles = kernel.floats(variants * size);
    left.set(ordered.left);
    of.set(variantOf);
    const count = kernel.struct([size, variants, 0], [behind, left, inverse, of, titles]);
    throughResults(kernel, ordered, (who, chances, equals, length) => {
      kernel.loops.countTitles(count.byteOffset, who, chances, equals, length);
      return count[OVER] === 1;
    });
    return titles.slice();
  });
}
