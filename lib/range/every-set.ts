/**
 * Every set of values that independent parts can have, each once, with its chance. Values are handed
 * out from the lowest up; f(S) is the chance that the values so far belong to the parts in S, summed
 * over who has which: f(S) = Σ f(S - r) P(r has the value), divided by how many have had that value
 * already, since equal values can change places.
 */

import { bisectLeft } from 'd3-array';
import type { Units } from '../score.js';
import type { Distribution } from './distribution.js';

/** Parts as their sets are gone through. */
export interface PreparedParts {
  readonly size: number;
  /** Every value that some part can have, the lowest first. */
  readonly values: readonly Units[];
  /** By value and part: the chance that the part has it. */
  readonly chanceOf: Float64Array;
  /** By size: the sets of so many of the parts, as bits. */
  readonly sets: readonly (readonly number[])[];
}

export function preparedParts(parts: readonly Distribution[]): PreparedParts {
  const size = parts.length;
  const values = [...new Set(parts.flatMap((p) => p.scores))].sort((a, b) => a - b);
  const indexOf = new Map(values.map((value, v) => [value, v]));
  const chanceOf = new Float64Array(values.length * size);
  for (const [r, { scores, chances }] of parts.entries()) {
    for (const [k, score] of scores.entries()) {
      chanceOf[(indexOf.get(score) ?? 0) * size + r] = chances[k] ?? 0;
    }
  }
  const sets: number[][] = Array.from({ length: size + 1 }, () => []);
  for (let set = 0; set < 1 << size; set++) sets[sizeOf(set)]?.push(set);
  return { size, values, chanceOf, sets };
}

function sizeOf(set: number): number {
  let size = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) size++;
  return size;
}

/**
 * Sets that differ only in their highest value. `indices` of values, the lowest first, lacks the index
 * of that one, which the visit goes through from `first` up; `chances` has, by it, how likely each set
 * is, 0 where there is none. Both lists are used again. False ends the visits.
 */
export type VisitSets = (indices: Int32Array, first: number, chances: Float64Array) => boolean;

/** Visits every set that has a chance and adds up to `least` at least; false where a visit ended that. */
export function everySet(
  parts: PreparedParts,
  visit: VisitSets,
  least: Units = Number.NEGATIVE_INFINITY,
): boolean {
  const { size, values, chanceOf, sets } = parts;
  const all = (1 << size) - 1;
  const highest = values.at(-1) ?? 0;
  // By position: f of every set.
  const tables = Array.from({ length: size }, () => new Float64Array(all + 1));
  const had = new Int32Array(size);
  const chances = new Float64Array(Math.max(values.length, 1));
  tables[0]?.fill(1, 0, 1);

  /** Whether any set has a chance then. */
  const take = (
    before: Float64Array,
    after: Float64Array,
    position: number,
    v: number,
  ): boolean => {
    const equal = equalAt(position, v);
    let isAny = false;
    for (const set of sets[position + 1] ?? []) {
      let chance = 0;
      for (let r = 0; r < size; r++) {
        const bit = 1 << r;
        if ((set & bit) !== 0) chance += (before[set ^ bit] ?? 0) * (chanceOf[v * size + r] ?? 0);
      }
      after[set] = chance / equal;
      if (chance > 0) isAny = true;
    }
    return isAny;
  };
  /** How many have this value then. */
  const equalAt = (position: number, v: number): number => {
    let equal = 1;
    while (equal <= position && had[position - equal] === v) equal++;
    return equal;
  };
  const takeLast = (before: Float64Array, last: number, needed: Units): boolean => {
    const first = Math.max(last, bisectLeft(values, needed));
    chances.fill(0);
    for (let r = 0; r < size; r++) {
      const others = before[all ^ (1 << r)] ?? 0;
      if (others === 0) continue;
      for (let v = first; v < values.length; v++) {
        chances[v] = (chances[v] ?? 0) + others * (chanceOf[v * size + r] ?? 0);
      }
    }
    chances[first] = (chances[first] ?? 0) / equalAt(size - 1, first);
    return visit(had, first, chances);
  };
  /** From a value on, with so much needed still to come to the least. */
  const go = (position: number, first: number, needed: Units): boolean => {
    const [before, after] = [tables[position], tables[position + 1]];
    // Of no parts there is one set, without a value.
    if (before === undefined) return visit(had, 0, chances.fill(1));
    if (after === undefined) return takeLast(before, first, needed);
    const enough = bisectLeft(values, needed - (size - 1 - position) * highest);
    for (let v = Math.max(first, enough); v < values.length; v++) {
      if (!take(before, after, position, v)) continue;
      had[position] = v;
      if (!go(position + 1, v, needed - (values[v] ?? 0))) return false;
    }
    return true;
  };
  return go(0, 0, least);
}
