/** Who shares a medal likely enough to be followed. */
import { type InOrder, joined } from '../order/order.js';
import { multiply } from '../places.js';

/** Equal results: whose, how likely, and the chance that fewer than so many of all are ahead of them. */
interface Level {
  readonly who: readonly number[];
  readonly chances: readonly number[];
  readonly fewer: Float64Array;
}

/** No more sets than this are looked at. */
const MOST = 10_000;

/**
 * Finds the sets among some runners of whom each two, three and so on share a place that brings a medal
 * with more than a chance, in rising order; null where there are too many.
 */
export function sharingIn(
  ordered: InOrder,
  medals: number,
  among: readonly boolean[],
): (least: number) => number[][] | null {
  const { size } = ordered;
  const levels = levelsOf(ordered);
  const alone = among.flatMap((is, i) => (is ? [[i]] : []));
  return (least) => {
    const found: number[][] = [];
    for (let sets = alone; sets.length > 0; ) {
      const larger = sets.flatMap((set) =>
        alone.flatMap(([j]) => (j! > set.at(-1)! ? [[...set, j!]] : [])),
      );
      if (found.length + larger.length > MOST) return null;
      const most = mostOf(larger);
      sets = larger.filter((_, n) => most[n]! > least);
      found.push(...sets);
    }
    return found;
  };

  /** By set, all of the same size: how likely they share such a place, at most. */
  function mostOf(sets: readonly (readonly number[])[]): Float64Array {
    const count = sets[0]?.length ?? 0;
    if (count === 2) return mostOfPairs(sets);
    const most = new Float64Array(sets.length);
    const here = new Float64Array(size);
    for (const { who, chances, fewer } of levels) {
      const others = othersOf(fewer, count);
      if (who.length < count || others === 0) continue;
      for (let k = 0; k < who.length; k++) here[who[k]!] = chances[k]!;
      for (let n = 0; n < sets.length; n++) {
        let chance = others;
        for (const i of sets[n]!) chance *= here[i]!;
        most[n] = most[n]! + chance;
      }
      for (let k = 0; k < who.length; k++) here[who[k]!] = 0;
    }
    return most;
  }

  /** Most levels are of two or three, and there are many of them. */
  function mostOfPairs(sets: readonly (readonly number[])[]): Float64Array {
    const most = new Float64Array(size * size);
    for (const { who, chances, fewer } of levels) {
      const others = othersOf(fewer, 2);
      for (let k = 0; k < who.length; k++) {
        for (let l = 0; l < who.length; l++) {
          const at = who[k]! * size + who[l]!;
          most[at] = most[at]! + chances[k]! * chances[l]! * others;
        }
      }
    }
    return Float64Array.from(sets, ([i, j]) => most[i! * size + j!]!);
  }

  /** Of the others alone, with themselves at most so many more: that few are ahead. */
  function othersOf(fewer: Float64Array, count: number): number {
    return fewer[Math.min(medals + count, fewer.length - 1)]!;
  }
}

/** The levels that several runners can have, from the best to the worst. */
function levelsOf(ordered: InOrder): Level[] {
  const { size } = ordered;
  const { who, chance, equals } = joined(ordered);
  const levels: Level[] = [];
  const ahead = new Float64Array(size);
  const product = new Float64Array(size + 1);
  for (let from = 0, to = 0; from < who.length; from = to) {
    to = from + 1;
    while (to < who.length && equals[to] === 1) to++;
    const runners: number[] = [];
    const chances: number[] = [];
    for (let k = from; k < to; k++) {
      if (who[k]! >= size) continue;
      runners.push(who[k]!);
      chances.push(chance[k]!);
    }
    if (runners.length > 1) levels.push({ who: runners, chances, fewer: fewerAhead() });
    for (let k = 0; k < runners.length; k++) {
      const i = runners[k]!;
      ahead[i] = Math.min(ahead[i]! + chances[k]!, 1);
    }
  }
  return levels;

  function fewerAhead(): Float64Array {
    const { degree, sure } = multiply(ahead, size, product);
    const fewer = new Float64Array(size + 2);
    let sum = 0;
    for (let count = 0; count < fewer.length; count++) {
      fewer[count] = Math.min(sum, 1);
      if (count >= sure && count - sure <= degree) sum += product[count - sure]!;
    }
    return fewer;
  }
}
