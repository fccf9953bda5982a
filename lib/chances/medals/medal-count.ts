/**
 * Ordered medal outcomes, counted over everyone's results from the best to the worst. Of every
 * beginning the chance is kept that its members are ahead of the result at hand in that order; who
 * lands on the last medal behind it completes an outcome if all others are behind.
 */
import { FLOAT, INT, type Kernel, STRUCT, withKernel } from '../../kernel/kernel.js';
import type { InOrder, OnProgress } from '../order/order.js';
import { roomForResults, throughResults } from '../order/through.js';
import type { Beginnings, Sets } from './beginnings.js';

/** One ordered outcome: by place, who is on it. */
export interface MedalOutcome {
  readonly sets: Sets;
  readonly chance: number;
}

/** Whatever is less likely than this is not followed. */
const NEGLIGIBLE = 1e-18;

/** Where a Medals in memory says that it is over; and the most of its lists of whole numbers. */
const OVER = 4;
const LISTS = 8;

/** A count at work, and what it has found so far. */
export interface MedalCount {
  /** Where it is, for the loops in the kernel. */
  readonly address: number;
  readonly isOver: () => boolean;
  /** By longest beginning and runner: the chance of that outcome. */
  readonly lasts: Float64Array;
  /** By beginning. */
  readonly chances: Float64Array;
}

/** The bytes that a count of these takes. */
export function roomForMedals({
  size,
  count,
  from,
  to,
  starts,
  medals,
  sharing,
}: Beginnings): number {
  const shared = sharing.reduce((sum, set) => sum + set.length + 1, 1);
  const floats = 7 * size + 2 + 2 * count + (to - from) * size + LISTS;
  return STRUCT + FLOAT * floats + INT * (2 * size + shared + starts.length + count * (1 + medals));
}

/** A count with nothing taken. `left`: by runner, how many results it has; none where that is not known. */
export function medalCountIn(
  kernel: Kernel,
  beginnings: Beginnings,
  left: Int32Array | null,
): MedalCount {
  const { size, medals, sharing, from, to, starts, parents, sets } = beginnings;
  const behind = kernel.floats(size).fill(1);
  const leftOf = kernel.ints(size);
  const mayEnd = kernel.ints(size);
  const floats = () => kernel.floats(size);
  const [free, inverse, here, shares] = [floats(), floats(), floats(), floats()];
  const product = kernel.floats(size + 2);
  const setStarts = kernel.ints(sharing.length + 1);
  const setMembers = kernel.ints(sharing.reduce((sum, set) => sum + set.length, 0));
  const startsIn = kernel.ints(starts.length);
  const parentsIn = kernel.ints(sets.length);
  const counts = kernel.ints(sets.length);
  const members = kernel.ints(sets.length * (medals - 1));
  const chances = kernel.floats(sets.length);
  const gains = kernel.floats(sets.length);
  const lasts = kernel.floats((to - from) * size);
  if (left !== null) leftOf.set(left.subarray(0, size));
  for (let i = 0; i < size; i++) mayEnd[i] = beginnings.mayHave(i, medals - 1) ? 1 : 0;
  let at = 0;
  for (const [k, set] of sharing.entries()) {
    setMembers.set(set, at);
    at += set.length;
    setStarts[k + 1] = at;
  }
  startsIn.set(starts);
  parentsIn.set(parents);
  for (let n = 0; n < to; n++) {
    const on = sets[n]!.flat();
    counts[n] = on.length;
    members.set(on, n * (medals - 1));
  }
  chances[0] = 1;
  const lists = [behind, leftOf, mayEnd, free, inverse, here, shares, product, setStarts];
  lists.push(setMembers, startsIn, parentsIn, counts, members, chances, gains, lasts);
  const count = kernel.struct([size, size + sharing.length, medals, 0, 0], lists);
  return { address: count.byteOffset, isOver: () => count[OVER] === 1, lasts, chances };
}

/** The outcomes that are followed, from all results in order. */
export function countMedals(
  ordered: InOrder,
  beginnings: Beginnings,
  onProgress?: OnProgress | undefined,
): MedalOutcome[] {
  const room = roomForMedals(beginnings) + roomForResults(ordered.members);
  return withKernel(room, (kernel) => {
    const count = medalCountIn(kernel, beginnings, ordered.left);
    throughResults(
      kernel,
      ordered,
      (who, chances, equals, length) => {
        kernel.loops.countMedals(count.address, who, chances, equals, length, NEGLIGIBLE);
        return count.isOver();
      },
      onProgress,
    );
    const found: MedalOutcome[] = [];
    for (let n = beginnings.to; n < beginnings.count; n++) {
      if (count.chances[n]! > 0)
        found.push({ sets: beginnings.sets[n]!, chance: count.chances[n]! });
    }
    eachOutcome(beginnings, (sets, at) => {
      if (count.lasts[at]! > 0) found.push({ sets: sets(), chance: count.lasts[at]! });
    });
    return found;
  });
}

/** Every outcome that ends with one alone, and where its chance is. */
export function eachOutcome(
  { size, from, to, sets }: Beginnings,
  visit: (sets: () => Sets, at: number) => void,
): void {
  for (let n = from; n < to; n++) {
    const before = sets[n]!;
    const on = before.flat();
    for (let i = 0; i < size; i++) {
      if (!on.includes(i)) visit(() => [...before, [i]], (n - from) * size + i);
    }
  }
}

/** So many outcomes are enough, whatever they make up. */
const ENOUGH = 5000;

/** The likeliest outcomes that together make up `share` of all; fewer where there are too many. */
export function likeliest<T extends { readonly chance: number }>(
  outcomes: readonly T[],
  share: number,
): T[] {
  const found: T[] = [];
  let sum = 0;
  for (const outcome of [...outcomes].sort((a, b) => b.chance - a.chance)) {
    if (sum >= share || outcome.chance === 0 || found.length === ENOUGH) break;
    sum += outcome.chance;
    found.push({ ...outcome, chance: Math.min(outcome.chance, 1) });
  }
  return found;
}
