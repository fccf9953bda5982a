/** Chances of sums. */
import { FLOAT, withKernel } from './kernel.js';

/** Works on the chances of a sum of independent numbers, each told by the chances of 0, 1, 2, … */
export function withConvolution<T>(
  lists: readonly Float64Array[],
  work: (sums: Float64Array) => T,
): T {
  let length = 1;
  let room = 1;
  for (const list of lists) {
    length += list.length - 1;
    room += list.length + length;
  }
  return withKernel(FLOAT * room, (kernel) => {
    let sums = kernel.floats(1).fill(1);
    for (const list of lists) {
      const weights = kernel.floats(list.length);
      weights.set(list);
      const more = kernel.floats(sums.length + list.length - 1);
      kernel.loops.convolve(
        more.byteOffset,
        sums.byteOffset,
        sums.length,
        weights.byteOffset,
        weights.length,
      );
      sums = more;
    }
    return work(sums);
  });
}
