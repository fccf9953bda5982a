/** Results in order, handed over some at a time to a loop in the kernel. */
import { FLOAT, INT, type Kernel } from '../../kernel/kernel.js';
import type { InOrder, OnProgress } from './order.js';

/** So many results are handed over at a time, or as many as can be equal. */
const SEVERAL = 2048;

/** Nobody has two results that are equal. */
function severalOf(members: number): number {
  return Math.max(SEVERAL, members);
}

/** The bytes that this takes for so many runners and variants. */
export function roomForResults(members: number): number {
  return (FLOAT + INT + 1) * severalOf(members) + FLOAT;
}

/** Where the results are that are handed over, and how many; gives true when no more are wanted. */
export type ResultLoop = (who: number, chances: number, equals: number, length: number) => unknown;

/** Hands over all results of so many runners and variants. Those that are equal stay together. */
export function throughResults(
  kernel: Kernel,
  { who, chance, equals }: InOrder,
  members: number,
  loop: ResultLoop,
  onProgress?: OnProgress | undefined,
): void {
  const several = severalOf(members);
  const someWho = kernel.ints(several);
  const someChances = kernel.floats(several);
  const someEquals = kernel.bytes(several);
  for (let from = 0; from < who.length; ) {
    if (from > 0) onProgress?.(from / who.length);
    let to = Math.min(from + several, who.length);
    while (to < who.length && equals[to] === 1) to--;
    someWho.set(who.subarray(from, to));
    someChances.set(chance.subarray(from, to));
    someEquals.set(equals.subarray(from, to));
    const { byteOffset } = someWho;
    if (loop(byteOffset, someChances.byteOffset, someEquals.byteOffset, to - from) === true) return;
    from = to;
  }
}

/** By runner, then by variant: how many results it has. */
export function countLeft({ who }: InOrder, left: Int32Array): void {
  for (let k = 0; k < who.length; k++) left[who[k]!]!++;
}
