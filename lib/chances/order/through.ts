/** Results in order, handed over some at a time to a loop in the kernel. */
import { FLOAT, INT, type Kernel } from '../../kernel/kernel.js';
import type { InOrder, OnProgress } from './order.js';

/** So many results are handed over at a time, and always more than can be equal. */
const SEVERAL = 2048;

/** So few are sooner copied one by one. */
const FEW = 64;

/** Nobody has two results that are equal. */
function severalOf(members: number): number {
  return Math.max(SEVERAL, 2 * members);
}

/** The bytes that this takes for so many runners and variants. */
export function roomForResults(members: number): number {
  return (FLOAT + INT + 1) * severalOf(members) + members + 1 + 2 * FLOAT;
}

/** Where the results are that are handed over, and how many; gives true when no more are wanted. */
export type ResultLoop = (who: number, chances: number, equals: number, length: number) => unknown;

/** Hands over all results, with those of nobody, who counts on from all members. Those that are equal stay together. */
export function throughResults(
  kernel: Kernel,
  { pieces, members }: InOrder,
  loop: ResultLoop,
  onProgress?: OnProgress | undefined,
): void {
  const several = severalOf(members);
  const who = kernel.ints(several);
  const chances = kernel.floats(several);
  const equals = kernel.bytes(several);
  const stale = kernel.bytes(members + 1);
  const all = pieces.reduce((sum, { from, to }) => sum + to - from, 0);
  let passed = 0;
  let count = 0;
  const handOver = (length: number) => {
    const isOver = loop(who.byteOffset, chances.byteOffset, equals.byteOffset, length) === true;
    passed += length;
    if (passed < all) onProgress?.(passed / all);
    return isOver;
  };
  for (const piece of pieces) {
    for (let from = piece.from; from < piece.to; ) {
      const to = Math.min(from + several - count, piece.to);
      if (to - from > FEW) {
        who.set(piece.who.subarray(from, to), count);
        chances.set(piece.chance.subarray(from, to), count);
        equals.set(piece.equals.subarray(from, to), count);
      } else {
        for (let k = from, at = count; k < to; k++, at++) {
          who[at] = piece.who[k]!;
          chances[at] = piece.chance[k]!;
          equals[at] = piece.equals[k]!;
        }
      }
      if (piece.stale !== null) {
        stale.set(piece.stale);
        const { byteOffset } = who;
        kernel.loops.leaveOut(byteOffset + INT * count, to - from, stale.byteOffset, members);
      }
      count += to - from;
      from = to;
      if (count < several) continue;
      // The last may be equal to what follows.
      let end = count - 1;
      while (equals[end] === 1) end--;
      if (handOver(end)) return;
      who.copyWithin(0, end, count);
      chances.copyWithin(0, end, count);
      equals.copyWithin(0, end, count);
      count -= end;
    }
  }
  handOver(count);
}
