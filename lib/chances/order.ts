/**
 * The results everyone can have, from the best to the worst, under the tie rules: where there are
 * not too many to go through one by one, the count of those ahead is exact.
 */
import { mergeSort } from './merge-sort.js';
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

/** Every result of every runner. */
interface Results {
  readonly count: number;
  readonly who: Int32Array;
  readonly total: Float64Array;
  /** The open values of a result, the lowest first, `width` for each; NONE where there is none. */
  readonly values: Float64Array;
  readonly width: number;
  readonly chance: Float64Array;
}

const NONE = -1;

/** The results by total alone. */
function resultsByTotal(runners: readonly Runner[]): Results {
  const count = runners.reduce((sum, r) => sum + r.total.scores.length, 0);
  const results = emptyResults(count, 0);
  let at = 0;
  for (const [i, { total }] of runners.entries()) {
    for (let k = 0; k < total.scores.length; k++, at++) {
      results.who[at] = i;
      results.total[at] = total.scores[k]!;
      results.chance[at] = total.chances[k]!;
    }
  }
  return results;
}

function emptyResults(count: number, width: number): Results {
  return {
    count,
    who: new Int32Array(count),
    total: new Float64Array(count),
    chance: new Float64Array(count),
    values: new Float64Array(count * width).fill(NONE),
    width,
  };
}

/** How many results there are at most when they are told apart by their open values. */
export function countByValues(runners: readonly Runner[]): number {
  return runners.reduce((sum, { open }) => {
    let ways = 1;
    const values = new Set(open.flatMap((o) => o.distribution.scores)).size;
    // Sets of so many values, each as often as it likes, in no order.
    for (let k = 0; k < open.length; k++) ways = (ways * (values + k)) / (k + 1);
    const products = open.reduce((n, o) => n * o.distribution.scores.length, 1);
    return sum + Math.min(ways, products);
  }, 0);
}

/**
 * The results by the values of the open parts. Which part has which value makes no difference, so
 * values are handed out from the lowest up, and the chance of every set of parts to have had one is
 * kept on the way.
 */
function resultsByValues(runners: readonly Runner[]): Results {
  const width = Math.max(...runners.map((r) => r.open.length));
  const results = emptyResults(countByValues(runners), width);
  let at = 0;
  for (const [i, { fixed, open }] of runners.entries()) {
    const n = open.length;
    if (n === 2) {
      at = addPairs(results, at, i, fixed, open[0]!.distribution, open[1]!.distribution);
      continue;
    }
    const values = Float64Array.from(new Set(open.flatMap((o) => o.distribution.scores))).sort();
    const chances = open.map((o) => chancesOf(values, o.distribution));
    const all = (1 << n) - 1;
    const chosen = new Float64Array(n);
    const depths = Array.from({ length: n + 1 }, () => new Float64Array(all + 1));
    depths[0]![0] = 1;
    const go = (depth: number, from: number, sum: number): void => {
      const weights = depths[depth]!;
      if (depth === n) {
        results.who[at] = i;
        results.total[at] = fixed + sum;
        results.chance[at] = weights[all]!;
        for (let k = 0; k < n; k++) results.values[at * width + k] = chosen[k]!;
        at++;
        return;
      }
      for (let v = from; v < values.length; v++) {
        if (!handOut(depth, v)) continue;
        chosen[depth] = values[v]!;
        go(depth + 1, v, sum + values[v]!);
      }
    };
    const handOut = (depth: number, v: number): boolean => {
      // Parts that have the same value have it in no order.
      let times = 1;
      while (times <= depth && chosen[depth - times] === values[v]) times++;
      const weights = depths[depth]!;
      const next = depths[depth + 1]!;
      next.fill(0);
      let any = false;
      for (let set = 0; set <= all; set++) {
        const weight = weights[set]!;
        if (weight === 0) continue;
        for (let part = 0; part < n; part++) {
          const p = chances[part]![v]! / times;
          if (p === 0 || (set >> part) & 1) continue;
          next[set | (1 << part)]! += weight * p;
          any = true;
        }
      }
      return any;
    };
    go(0, 0, 0);
  }
  return { ...results, count: at };
}

/** The results of two open parts, whose scores rise; gives where the next result goes. */
function addPairs(
  { who, total, chance, values, width }: Results,
  start: number,
  runner: number,
  fixed: number,
  one: Runner['total'],
  two: Runner['total'],
): number {
  const all = Float64Array.from(new Set([...one.scores, ...two.scores])).sort();
  const [p, q] = [chancesOf(all, one), chancesOf(all, two)];
  let at = start;
  for (let v = 0; v < all.length; v++) {
    for (let w = v; w < all.length; w++) {
      const c = v === w ? p[v]! * q[v]! : p[v]! * q[w]! + p[w]! * q[v]!;
      if (c === 0) continue;
      who[at] = runner;
      total[at] = fixed + all[v]! + all[w]!;
      chance[at] = c;
      values[at * width] = all[v]!;
      values[at * width + 1] = all[w]!;
      at++;
    }
  }
  return at;
}

function chancesOf(values: Float64Array, { scores, chances }: Runner['total']): Float64Array {
  const of = new Float64Array(values.length);
  let k = 0;
  for (let i = 0; i < values.length; i++) if (scores[k] === values[i]) of[i] = chances[k++]!;
  return of;
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
  const { count, total } = results;
  const order = byTotal(results);
  const like = (ranks: Int32Array) =>
    Int32Array.from(all, (_, i) => ranks[i < size ? i : variants[i - size]!.of]!);
  const both = { first: like(statics.first), last: like(statics.last) };
  const level = new Level(all, both, byValues, results);
  const who = new Int32Array(count);
  const chance = new Float64Array(count);
  /** By result: whether it equals the one before. */
  const equals = new Uint8Array(count);
  for (let from = 0; from < count; ) {
    const first = order[from]!;
    let to = from + 1;
    while (to < count && total[order[to]!] === total[first]) to++;
    if (to - from > 1) level.sort(order, from, to, equals);
    for (let k = from; k < to; k++) {
      const r = order[k]!;
      who[k] = results.who[r]!;
      chance[k] = results.chance[r]!;
    }
    from = to;
  }
  return orderedOf({ size, who, chance, equals });
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

/** Up to so many different totals a table is shorter than sorting. */
const WIDEST_TABLE = 1 << 21;

/** The results by total, the highest first; equal ones as they come. */
function byTotal({ count, total }: Results): Int32Array {
  const order = new Int32Array(count);
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let r = 0; r < count; r++) {
    least = Math.min(least, total[r]!);
    most = Math.max(most, total[r]!);
  }
  if (!(most - least < WIDEST_TABLE)) {
    return Int32Array.from(order.keys()).sort((a, b) => total[b]! - total[a]! || a - b);
  }
  const starts = new Int32Array(most - least + 2);
  for (let r = 0; r < count; r++) starts[most - total[r]! + 1]!++;
  for (let t = 1; t < starts.length; t++) starts[t]! += starts[t - 1]!;
  for (let r = 0; r < count; r++) order[starts[most - total[r]!]!++] = r;
  return order;
}

/** Below 0: the first is ahead, of two on equal totals with nothing open. */
export function compareDecided(
  runners: readonly Runner[],
  { last }: StaticOrder,
  i: number,
  j: number,
): number {
  const [a, b] = [runners[i]!.decided, runners[j]!.decided];
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

/** The order of results with equal totals. */
class Level {
  private readonly decided: readonly Float64Array[];
  /** By runner: its decided values, the rules after them included, as one rank. */
  private readonly rank: Int32Array;
  private readonly factor: number;
  /** Nothing tells equal totals apart. */
  private readonly isFlat: boolean;
  private keys: Float64Array;

  constructor(
    runners: readonly Runner[],
    private readonly statics: StaticOrder,
    private readonly byValues: boolean,
    private readonly results: Results,
  ) {
    this.decided = runners.map((r) => Float64Array.from(r.decided));
    this.rank = ranksBy(runners.length, (i, j) => compareDecided(runners, statics, i, j));
    let highest = 0;
    for (const values of this.decided) highest = Math.max(highest, values.at(-1) ?? 0);
    for (const value of results.values) highest = Math.max(highest, value);
    this.factor = highest + 2;
    this.keys = new Float64Array(0);
    const isOne = (ranks: Int32Array) => ranks.every((rank) => rank === ranks[0]);
    this.isFlat = !byValues && isOne(statics.first) && isOne(statics.last);
  }

  private readonly compareTwo = (r: number, s: number) => this.compare(r, s);

  /** Below 0: the first is ahead. The lower of two lowest scores leaves the higher best scores. */
  compare(r: number, s: number): number {
    const { who } = this.results;
    const [i, j] = [who[r]!, who[s]!];
    const first = this.statics.first[i]! - this.statics.first[j]!;
    if (first !== 0) return first;
    if (!this.byValues) return this.statics.last[i]! - this.statics.last[j]!;
    const [a, b] = [this.decided[i]!, this.decided[j]!];
    const { values, width } = this.results;
    const [v, w] = [r * width, s * width];
    if (a.length === b.length) {
      let k = 0;
      while (k < width && values[v + k] === values[w + k]) k++;
      if (k === width) return this.rank[i]! - this.rank[j]!;
    }
    for (let k = 0; k < a.length + width || k < b.length + width; k++) {
      const difference = this.lowest(r, k) - this.lowest(s, k);
      if (difference !== 0) return difference;
    }
    return this.statics.last[i]! - this.statics.last[j]!;
  }

  /** The lowest but k of what is decided and of the open values; more than any where there is none. */
  private lowest(r: number, k: number): number {
    const decided = this.decided[this.results.who[r]!]!;
    const { values, width } = this.results;
    const none = this.factor - 1;
    let [m, n] = [0, 0];
    for (;;) {
      const x = m < decided.length ? decided[m]! : none;
      const open = n < width ? values[r * width + n]! : NONE;
      const y = open === NONE ? none : open;
      if (m + n === k) return Math.min(x, y);
      if (y <= x) n++;
      else m++;
    }
  }

  /** A number that grows as `compare` does, but for the last distinctions. */
  private keyOf(r: number): number {
    const first = this.statics.first[this.results.who[r]!]!;
    if (!this.byValues) return first;
    return (first * this.factor + this.lowest(r, 0)) * this.factor + this.lowest(r, 1);
  }

  /** Sorts the results from one to another, which have equal totals, and marks what equals the one before. */
  sort(order: Int32Array, from: number, to: number, equals: Uint8Array): void {
    const n = to - from;
    if (this.isFlat) {
      equals.fill(1, from + 1, to);
      return;
    }
    if (n === 2) {
      const difference = this.compare(order[from]!, order[from + 1]!);
      if (difference === 0) equals[from + 1] = 1;
      if (difference > 0) {
        const r = order[from]!;
        order[from] = order[from + 1]!;
        order[from + 1] = r;
      }
      return;
    }
    if (this.keys.length < n) this.keys = new Float64Array(Math.max(n, 1024));
    const { keys } = this;
    for (let k = 0; k < n; k++) keys[k] = this.keyOf(order[from + k]!);
    mergeSort(order, from, n, keys, this.compareTwo);
    for (let k = 1; k < n; k++) {
      if (keys[k] !== keys[k - 1]) continue;
      if (this.compare(order[from + k - 1]!, order[from + k]!) === 0) equals[from + k] = 1;
    }
  }
}
