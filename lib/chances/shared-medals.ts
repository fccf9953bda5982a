/** Who shares a medal likely enough to be followed. */
import type { InOrder } from './order.js';
import { multiply } from './places.js';

/** No more sets than this are followed, those of the fewest first. */
const MOST_SETS = 1000;

/** By runner and runner: how likely the two share a place that brings a medal, at most. */
export function sharedMedals({ size, who, chance, equals }: InOrder, medals: number): Float64Array {
  const most = new Float64Array(size * size);
  const ahead = new Float64Array(size);
  const product = new Float64Array(size + 1);
  for (let from = 0, to = 0; from < who.length; from = to) {
    to = from + 1;
    while (to < who.length && equals[to] === 1) to++;
    if (to > from + 1) meet(from, to);
    for (let k = from; k < to; k++) {
      const i = who[k]!;
      if (i < size) ahead[i] = Math.min(ahead[i]! + chance[k]!, 1);
    }
  }
  return most;

  function meet(from: number, to: number): void {
    const { degree, sure } = multiply(ahead, size, product);
    const fewer = (than: number) => {
      let sum = 0;
      for (let k = 0; k <= degree && k + sure < than; k++) sum += product[k]!;
      return Math.min(sum, 1);
    };
    // Of the others alone: with the two themselves at most two more, or none if they are behind.
    const few = fewer(medals + 2);
    const fewWithThem = fewer(medals);
    for (let k = from; k < to; k++) {
      const i = who[k]!;
      if (i >= size) continue;
      for (let l = from; l < to; l++) {
        const j = who[l]!;
        if (j >= size || l === k) continue;
        const behind = (1 - ahead[i]!) * (1 - ahead[j]!);
        const others = behind > 0 ? Math.min(few, fewWithThem / behind) : few;
        most[i * size + j]! += chance[k]! * chance[l]! * others;
      }
    }
  }
}

/** All sets of runners of which every two may share, in rising order. */
export function setsOf(size: number, mayShare: (i: number, j: number) => boolean): number[][] {
  const found: number[][] = [];
  let sets: number[][] = Array.from({ length: size }, (_, i) => [i]);
  while (sets.length > 0) {
    const larger: number[][] = [];
    for (const set of sets) {
      for (let j = set.at(-1)! + 1; j < size; j++) {
        if (!set.every((i) => mayShare(i, j))) continue;
        if (found.length >= MOST_SETS) return found;
        larger.push([...set, j]);
        found.push(larger.at(-1)!);
      }
    }
    sets = larger;
  }
  return found;
}
