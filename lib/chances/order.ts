/**
 * The results everyone can have, from the best to the worst, under the tie rules: where there are
 * not too many to go through one by one, the count of those ahead is exact.
 */
import { byKeys } from './radix.js';
import { behindOf, NONE, type Results, resultsByTotal, resultsByValues } from './results.js';
import type { Runner } from './runner.js';

/** How a runner stands at equal totals, apart from the best scores: a lower number is ahead. */
export interface StaticOrder {
  /** By the rules before the best scores. */
  readonly first: Int32Array;
  /** By the rules after them. */
  readonly last: Int32Array;
}

/** Told of all results, from the best to the worst. */
export interface Visitor {
  /** A result that nobody else can have. */
  readonly single: (runner: number, chance: number) => void;
  /** Equal results: who has one shares a place. */
  readonly shared: (runners: readonly number[], chances: readonly number[]) => void;
  /** Many of both in one call, where there are no variants; `equals`: the one before it. */
  readonly several?: (who: Int32Array, chances: Float64Array, equals: Uint8Array) => void;
  /** A variant's result, told just before those of runners that equal it. */
  readonly variant?: (variant: number, chance: number) => void;
}

/**
 * Results that only some runners can have if something happens: they take no place away from
 * anybody, but are ranked in the same order.
 */
export interface Variant {
  /** The runner it is of, which it does not compete with. */
  readonly of: number;
  readonly runner: Runner;
}

/** Told, now and then, which share of what there is to go through has been. */
export type OnProgress = (share: number) => void;

/** After so many results. */
const PAUSE = 8192;

/** Results in order: as often as somebody wants to be told of them. */
export interface Ordered {
  /** `visitorFor`: who is told, by how many results each runner has. */
  readonly tell: (
    visitorFor: (results: Int32Array) => Visitor,
    onProgress?: OnProgress | undefined,
  ) => void;
}

/** Puts every result in order. `byValues`: equal totals go to the best scores. */
export function inOrder(
  runners: readonly Runner[],
  variants: readonly Variant[],
  statics: StaticOrder,
  byValues: boolean,
): Ordered {
  const size = runners.length;
  const all = [...runners, ...variants.map((v) => v.runner)];
  const results = byValues ? resultsByValues(all) : resultsByTotal(all);
  const like = (ranks: Int32Array) =>
    Int32Array.from(all, (_, i) => ranks[i < size ? i : variants[i - size]!.of]!);
  const { order, equals } = sorted(all, results, {
    first: like(statics.first),
    last: like(statics.last),
    byValues,
  });
  return orderedOf({ size, ...joined(results, order, equals) });
}

/** Results in order, those of one runner with nobody else's between them as one. */
function joined(
  results: Results,
  order: Int32Array,
  equalsBefore: Uint8Array,
): { who: Int32Array; chance: Float64Array; equals: Uint8Array } {
  const { count } = results;
  const who = new Int32Array(count);
  const chance = new Float64Array(count);
  const equals = new Uint8Array(count);
  let at = -1;
  for (let k = 0; k < count; k++) {
    const r = order[k]!;
    const runner = results.who[r]!;
    const isAlone = equalsBefore[k] === 0 && (k + 1 === count || equalsBefore[k + 1] === 0);
    if (isAlone && at >= 0 && who[at] === runner && equals[at] === 0) {
      chance[at]! += results.chance[r]!;
      continue;
    }
    at++;
    who[at] = runner;
    chance[at] = results.chance[r]!;
    equals[at] = equalsBefore[k]!;
  }
  const end = at + 1;
  return {
    who: who.subarray(0, end),
    chance: chance.subarray(0, end),
    equals: equals.subarray(0, end),
  };
}

/**
 * Results from the best to the worst: whose (variants count on from `size`), how likely, and whether
 * one equals the one before it.
 */
export function orderedOf({
  size,
  who,
  chance,
  equals,
}: {
  readonly size: number;
  readonly who: Int32Array;
  readonly chance: Float64Array;
  readonly equals: Uint8Array;
}): Ordered {
  const count = who.length;
  return {
    tell: (visitorFor, onProgress) => {
      const resultsOf = new Int32Array(size);
      for (const i of who) if (i < size) resultsOf[i]!++;
      const visitor = visitorFor(resultsOf);
      const hasVariants = resultsOf.reduce((a, b) => a + b, 0) < count;
      if (visitor.several !== undefined && !hasVariants) {
        visitor.several(who, chance, equals);
        return;
      }
      let pause = PAUSE;
      for (let from = 0; from < count; ) {
        if (from >= pause) {
          onProgress?.(from / count);
          pause += PAUSE;
        }
        let to = from + 1;
        while (to < count && equals[to] === 1) to++;
        if (to === from + 1 && who[from]! < size) visitor.single(who[from]!, chance[from]!);
        else tellOfEqual(visitor, from, to);
        from = to;
      }
    },
  };

  function tellOfEqual(visitor: Visitor, from: number, to: number): void {
    const equal: number[] = [];
    const chances: number[] = [];
    for (let k = from; k < to; k++) {
      if (who[k]! >= size) visitor.variant?.(who[k]! - size, chance[k]!);
      else {
        equal.push(who[k]!);
        chances.push(chance[k]!);
      }
    }
    if (equal.length === 1) visitor.single(equal[0]!, chances[0]!);
    else if (equal.length > 1) visitor.shared(equal, chances);
  }
}

/** Below 0: the first is ahead, of two on equal totals with nothing open. */
function compareDecided(
  runners: readonly Runner[],
  last: Int32Array,
  i: number,
  j: number,
): number {
  const a = runners[i]!.decided;
  const b = runners[j]!.decided;
  for (let k = 0; k < Math.min(a.length, b.length); k++) {
    if (a[k] !== b[k]) return a[k]! - b[k]!;
  }
  return a.length - b.length || last[i]! - last[j]!;
}

/** The places of so many in the order of a comparison, from 0; equal ones share theirs. */
export function ranksBy(count: number, compare: (i: number, j: number) => number): Int32Array {
  const order = Array.from({ length: count }, (_, i) => i).sort(compare);
  const ranks = new Int32Array(count);
  for (const [k, i] of order.entries()) {
    const before = order[k - 1];
    ranks[i] = before !== undefined && compare(before, i) === 0 ? ranks[before]! : k;
  }
  return ranks;
}

/** The results from the best to the worst, and by place in that order whether one equals the one before. */
function sorted(
  runners: readonly Runner[],
  results: Results,
  rules: StaticOrder & { readonly byValues: boolean },
): { order: Int32Array; equals: Uint8Array } {
  const { count, who } = results;
  const { first, last, byValues } = rules;
  const isFlat = (ranks: Int32Array) => ranks.every((rank) => rank === ranks[0]);
  const ofRunner = (ranks: Int32Array) =>
    isFlat(ranks) ? [] : [Int32Array.from({ length: count }, (_, r) => ranks[who[r]!]!)];
  const level = new Level(runners, last, results);
  const lowest = byValues ? level.lowestTwo() : [];
  const keys = [
    behindOf(results),
    ...ofRunner(first),
    ...lowest,
    ...(byValues ? [] : ofRunner(last)),
  ];
  const order = byKeys(count, keys);
  const equals = new Uint8Array(count).fill(1, 1);
  for (const key of keys) {
    let before = -1;
    for (let k = 0; k < count; k++) {
      const here = key[order[k]!]!;
      if (here !== before) equals[k] = 0;
      before = here;
    }
  }
  if (!byValues) return { order, equals };
  for (let from = 0; from < count; ) {
    let to = from + 1;
    while (to < count && equals[to] === 1) to++;
    if (to - from > 1) level.sort(order, from, to, equals);
    from = to;
  }
  return { order, equals };
}

/** Up to so many are sorted one by one. */
const FEW = 12;

/** The order of results that are level on total, by the values they are made of. */
class Level {
  private readonly decided: readonly Int32Array[];
  /** By runner: its decided values, the rules after them included, as one rank. */
  private readonly rank: Int32Array;
  /** More than any value. */
  private readonly none: number;

  constructor(
    runners: readonly Runner[],
    private readonly last: Int32Array,
    private readonly results: Results,
  ) {
    this.decided = runners.map((r) => Int32Array.from(r.decided));
    this.rank = ranksBy(runners.length, (i, j) => compareDecided(runners, last, i, j));
    let highest = 0;
    for (const values of this.decided) highest = Math.max(highest, values.at(-1) ?? 0);
    const { values } = results;
    for (let k = 0; k < values.length; k++) if (values[k]! > highest) highest = values[k]!;
    this.none = highest + 1;
  }

  /** Below 0: the first is ahead. The lower of two lowest scores leaves the higher best scores. */
  private readonly compare = (r: number, s: number): number => {
    const { who } = this.results;
    const i = who[r]!;
    const j = who[s]!;
    const a = this.decided[i]!;
    const b = this.decided[j]!;
    const { values, width } = this.results;
    const v = r * width;
    const w = s * width;
    if (a.length === b.length) {
      let k = 0;
      while (k < width && values[v + k] === values[w + k]) k++;
      if (k === width) return this.rank[i]! - this.rank[j]!;
    }
    for (let k = 0; k < a.length + width || k < b.length + width; k++) {
      const difference = this.lowest(r, k) - this.lowest(s, k);
      if (difference !== 0) return difference;
    }
    return this.last[i]! - this.last[j]!;
  };

  /** By result: the lowest of its values, and the lowest but one. */
  lowestTwo(): Int32Array[] {
    const { none } = this;
    const { count, who, values, width } = this.results;
    const lowest = new Int32Array(count);
    const next = new Int32Array(count);
    for (let r = 0; r < count; r++) {
      const decided = this.decided[who[r]!]!;
      let a = decided.length > 0 ? decided[0]! : none;
      let b = decided.length > 1 ? decided[1]! : none;
      for (let k = 0; k < width && k < 2; k++) {
        const value = values[r * width + k]!;
        if (value === NONE) break;
        if (value < a) {
          b = a;
          a = value;
        } else if (value < b) b = value;
      }
      lowest[r] = a;
      next[r] = b;
    }
    return [lowest, next];
  }

  /** The lowest but k of what is decided and of the open values; more than any where there is none. */
  private lowest(r: number, k: number): number {
    const decided = this.decided[this.results.who[r]!]!;
    const { values, width } = this.results;
    const { none } = this;
    let m = 0;
    let n = 0;
    for (;;) {
      const x = m < decided.length ? decided[m]! : none;
      const open = n < width ? values[r * width + n]! : NONE;
      const y = open === NONE ? none : open;
      if (m + n === k) return Math.min(x, y);
      if (y <= x) n++;
      else m++;
    }
  }

  /** Sorts the results from one to another, which are taken to be equal, and marks what is not. */
  sort(order: Int32Array, from: number, to: number, equals: Uint8Array): void {
    const { compare } = this;
    if (to - from > FEW) order.subarray(from, to).sort(compare);
    else {
      for (let k = from + 1; k < to; k++) {
        const r = order[k]!;
        let at = k;
        while (at > from && compare(order[at - 1]!, r) > 0) order[at] = order[--at]!;
        order[at] = r;
      }
    }
    for (let k = from + 1; k < to; k++) {
      if (compare(order[k - 1]!, order[k]!) !== 0) equals[k] = 0;
    }
  }
}
