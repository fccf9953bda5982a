/**
 * How equal totals are told apart when too many values are open to go through every result: by the
 * lowest of the values a total is made of, where that is equal by how many of them are so low, then
 * by the next lowest, and so on. At equal totals the lower value leaves the higher best scores.
 */
import type { Distribution } from '../range/distribution.js';
import { type Lattice, latticeFor } from '../range/lattice.js';
import type { Score } from '../score.js';
import type { Grid } from '../scoring.js';
import { type Lows, type PartSums, partSums } from './lows.js';
import type { Runner } from './runner.js';

/** Everyone's values, in rising order, by index. */
export interface FieldValues {
  readonly scores: readonly Score[];
  readonly indexOf: ReadonlyMap<Score, number>;
}

/** What is left to compare of a result once some of its lowest values are known. */
export interface Rest {
  /** By the set of open parts that have had one of them: the chance. */
  readonly sets: readonly { readonly set: number; readonly chance: number }[];
  /** What the other open parts add up to, on the lattice. */
  readonly sum: number;
  /** The value that comes next, one part at least has it; by index in the field. */
  readonly value: number;
  /** How many decided values lie below it. */
  readonly decided: number;
}

/**
 * The ways on from there: so many have that value, and then the next is that one. By way, the best
 * first: a key, the lower one ahead, the same for anyone who goes on like that; and the chance.
 */
export interface Steps {
  readonly keys: readonly number[];
  readonly chances: readonly number[];
  /** What is left after way x; null when nothing is. */
  readonly restAt: (x: number) => Rest | null;
}

/** What the ways on that begin with as many equal values have in common. */
interface Branch {
  readonly sets: Rest['sets'];
  readonly sum: number;
  readonly decided: number;
  readonly key: number;
  /** Its first way. */
  readonly start: number;
}

/** Above any count of equal values. */
const MOST_EQUAL = 64;

/** Values so unlikely that together they make no more than `leftOut` of a part are left out: their chance at most. */
function leastOf({ chances }: Runner['total'], leftOut: number): number {
  const byChance = Float64Array.from(chances).sort();
  let sum = 0;
  let least = 0;
  for (const chance of byChance) {
    sum += chance;
    if (sum > leftOut) break;
    least = chance;
  }
  return least;
}

/** Totals that are less likely than this, at either end, are not told. */
const SLIGHT = 1e-6;

/** The open parts of a runner, and the chances of what some of them add up to. */
class OpenParts {
  /** The scores they can have, in rising order. */
  readonly scores: readonly Score[];
  readonly steps: Int32Array;
  /** By part and score: the chance. */
  readonly chances: readonly Float64Array[];
  /** By sum of one: its place among the scores, or -1. */
  readonly scoreAt: Int32Array;
  readonly scratch: Float64Array;
  /** By set of parts. */
  private readonly weights: Float64Array;
  private readonly whole: number;
  private totals: PartSums['totalOf'] = () => 0;
  private readonly lattice: Lattice;
  private readonly lows = new Map<number, Lows>();
  private readonly indices = new Map<number, Map<Score, number>>();
  private mapped: { readonly field: FieldValues; readonly index: Int32Array } | null = null;

  /** `closely`: what some of the parts add up to is asked for as well. */
  constructor(
    open: Runner['open'],
    grid: Grid,
    leftOut: number,
    private readonly closely: boolean,
  ) {
    const parts = open.map((o) => o.distribution);
    const least = parts.map((part) => leastOf(part, leftOut));
    const likely: Score[] = [];
    for (const [k, { scores, chances }] of parts.entries()) {
      for (let i = 0; i < scores.length; i++) if (chances[i]! > least[k]!) likely.push(scores[i]!);
    }
    const values = Int32Array.from(likely).sort();
    this.scores = Array.from(values.filter((score, i) => i === 0 || values[i - 1] !== score));
    this.lattice = latticeFor(grid, [this], Math.max(parts.length, 1));
    this.steps = Int32Array.from(this.scores, (s) => this.lattice.indexOf(s));
    this.chances = parts.map(({ scores, chances }, k) => {
      const of = new Float64Array(this.scores.length);
      for (let i = 0, v = 0; i < scores.length; i++) {
        if (chances[i]! <= least[k]!) continue;
        while (this.scores[v]! < scores[i]!) v++;
        of[v] = chances[i]!;
      }
      return of;
    });
    this.scoreAt = new Int32Array(Math.max(...this.steps, 0) + 1).fill(-1);
    for (const [v, step] of this.steps.entries()) this.scoreAt[step] = v;
    this.scratch = new Float64Array(this.scores.length);
    this.weights = new Float64Array(1 << parts.length);
    this.whole = this.weights.length - 1;
  }

  /** By what some parts add up to: the index of that sum on the lattice. */
  sumsOf(parts: number): ReadonlyMap<Score, number> {
    const found = this.indices.get(parts);
    if (found !== undefined) return found;
    const { chances, sums } = this.lowsOf(parts);
    const count = partsIn(parts).length;
    const width = Math.max(this.scores.length, 1);
    const made = new Map<Score, number>();
    for (const [row, sum] of sums().entries()) {
      let any = false;
      for (let at = row * width; at < (row + 1) * width && !any; at++) any = chances[at]! > 0;
      if (any) made.set(this.lattice.sumAt(sum, count), sum);
    }
    this.indices.set(parts, made);
    return made;
  }

  /** The index in the field of one of the scores. */
  inField(v: number, field: FieldValues): number {
    return this.indicesIn(field)[v]!;
  }

  /** By score: its index in the field. */
  indicesIn(field: FieldValues): Int32Array {
    if (this.mapped?.field !== field) {
      const index = Int32Array.from(this.scores, (score) => field.indexOf.get(score)!);
      this.mapped = { field, index };
    }
    return this.mapped.index;
  }

  /** The place of a score, or -1. */
  indexOf(score: Score): number {
    const at = this.countUpTo(score) - 1;
    return this.scores[at] === score ? at : -1;
  }

  /** How many of the scores are no higher. */
  countUpTo(score: Score): number {
    let low = 0;
    let high = this.scores.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.scores[middle]! <= score) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /**
   * By how many more of the parts have value v: the sets of those who have had one then. All sets
   * that come in are of the same size.
   */
  afterTaking(sets: Rest['sets'], all: number, v: number): { set: number; chance: number }[][] {
    const { weights } = this;
    let base = 0;
    let there = 0;
    for (let part = 0; v >= 0 && part < this.chances.length; part++) {
      if (this.chances[part]![v]! > 0) there |= 1 << part;
    }
    weights.fill(0);
    for (const { set, chance } of sets) {
      base = partCount(set);
      const free = all & ~set & there;
      for (let taking = free; ; taking = (taking - 1) & free) {
        let p = chance;
        for (let rest = taking; rest > 0; rest &= rest - 1) {
          p *= this.chances[31 - Math.clz32(rest & -rest)]![v]!;
        }
        weights[set | taking]! += p;
        if (taking === 0) break;
      }
    }
    const after: { set: number; chance: number }[][] = [];
    for (let count = base; count <= this.chances.length; count++) after.push([]);
    for (let set = 0; set < weights.length; set++) {
      const chance = weights[set]!;
      if (chance > 0) after[partCount(set) - base]!.push({ set, chance });
    }
    return after;
  }

  /** How likely it is at most that the other parts add up to a sum. */
  mostOf(sets: Rest['sets'], all: number, sum: number): number {
    let most = 0;
    for (const { set, chance } of sets) most += chance * this.totalOf(all & ~set, sum);
    return most;
  }

  private totalOf(parts: number, sum: number): number {
    this.lowsOf(this.whole);
    return this.totals(parts, sum);
  }

  /** Of some parts. */
  lowsOf(parts: number): Lows {
    if (!this.lows.has(parts)) this.findLows(parts);
    return this.lows.get(parts)!;
  }

  private findLows(parts: number): void {
    const list = partsIn(parts);
    const width = this.scores.length;
    if (list.length === 0) {
      this.lows.set(parts, {
        chances: new Float64Array(Math.max(width, 1)).fill(1),
        rowOf: (sum) => (sum === 0 ? 0 : -1),
        sums: () => Int32Array.of(0),
      });
      return;
    }
    // With a part more its sets of one part less are asked for soon.
    const all = (1 << list.length) - 1;
    const isAsked = this.closely && list.length <= MOST_PARTS;
    const wanted = isAsked ? list.map((_, k) => all & ~(1 << k)) : [];
    const isWhole = list.length === this.chances.length;
    const found = partSums(
      list.map((part) => this.chances[part]!),
      this.steps,
      this.lattice.width,
      isWhole ? SLIGHT : 0,
      list.length > 1 ? wanted : [],
    );
    if (isWhole) this.totals = found.totalOf;
    for (const [set, lows] of found.lows) {
      const named = list.reduce((sum, part, k) => ((set >> k) & 1 ? sum | (1 << part) : sum), 0);
      if (!this.lows.has(named)) this.lows.set(named, lows);
    }
  }
}

/** By the first of them: the parts of runners who can score alike, such as all of whom nothing is known. */
const known = new WeakMap<
  Distribution,
  { open: Runner['open']; leftOut: number; closely: boolean; parts: OpenParts }[]
>();

function partsOf(open: Runner['open'], grid: Grid, leftOut: number, closely: boolean): OpenParts {
  const first = open[0]?.distribution;
  if (first === undefined) return new OpenParts(open, grid, leftOut, closely);
  const alike = known.get(first) ?? [];
  const same = alike.find(
    (k) =>
      k.leftOut === leftOut &&
      k.closely === closely &&
      k.open.length === open.length &&
      k.open.every((o, i) => o.distribution === open[i]!.distribution),
  );
  if (same !== undefined) return same.parts;
  const parts = new OpenParts(open, grid, leftOut, closely);
  known.set(first, [...alike, { open, leftOut, closely, parts }]);
  return parts;
}

/** With more parts open than this there are too many sums to tell what is left of a result. */
const MOST_PARTS = 4;

export class Lowest {
  private constructor(
    private readonly open: OpenParts,
    /** The set of those parts that are open. */
    private readonly all: number,
    private readonly fixed: Score,
    /** In rising order. */
    private readonly decided: readonly Score[],
  ) {}

  /** `leftOut`: how much of each part need not be told. `closely`: more than the lowest is asked for. */
  static of(
    { open, fixed, decided }: Runner,
    grid: Grid,
    leftOut: number,
    closely: boolean,
  ): Lowest {
    const all = (1 << open.length) - 1;
    return new Lowest(partsOf(open, grid, leftOut, closely), all, fixed, decided);
  }

  /** The same if one of its open parts has a score; null where that cannot be told. */
  given(part: number, score: Score): Lowest | null {
    if (partsIn(this.all).length > MOST_PARTS) return null;
    const decided = [...this.decided, score].sort((a, b) => a - b);
    return new Lowest(this.open, this.all & ~(1 << part), this.fixed + score, decided);
  }

  /** Every value a result can be made of. */
  values(): readonly Score[] {
    return [...this.open.scores, ...this.decided];
  }

  /**
   * Puts the chances of every lowest value with that total into a row by index in the field, from
   * `from` on; gives where they begin and end, null when nothing is told of this total.
   */
  lowestAt(
    total: Score,
    field: FieldValues,
    row: Float64Array,
    from: number,
  ): { first: number; end: number } | null {
    const sum = this.open.sumsOf(this.all).get(total - this.fixed);
    if (sum === undefined) return null;
    const width = this.open.scores.length;
    const { chances, rowOf } = this.open.lowsOf(this.all);
    const worst = this.decided[0] ?? Number.POSITIVE_INFINITY;
    let first = -1;
    let last = -1;
    let v = 0;
    const at = rowOf(sum) * width;
    const end = this.all === 0 ? 0 : width;
    const { scores } = this.open;
    const indices = this.open.indicesIn(field);
    for (; v < end && scores[v]! < worst; v++) {
      const chance = chances[at + v]!;
      if (chance <= 0) continue;
      const index = indices[v]!;
      row[from + index] = chance;
      if (first < 0) first = index;
      last = index;
    }
    if (worst !== Number.POSITIVE_INFINITY) {
      let chance = this.all === 0 ? 1 : 0;
      for (; v < end; v++) chance += chances[at + v]!;
      if (chance > 0) {
        const index = field.indexOf.get(worst)!;
        row[from + index] = chance;
        if (first < 0) first = index;
        last = index;
      }
    }
    return first < 0 ? null : { first, end: last + 1 };
  }

  /** The results with that total whose lowest value is this one; there must be some. */
  begin(total: Score, value: number): Rest {
    const sum = this.open.sumsOf(this.all).get(total - this.fixed)!;
    return { sets: [{ set: 0, chance: 1 }], sum, value, decided: 0 };
  }

  /**
   * How it may go on, the best first; the keys are those of anyone in this field. Ways with more than
   * one part on the value are left out where they are less likely than `slight` together.
   */
  stepsOf({ sets, sum, value, decided }: Rest, field: FieldValues, slight = 0): Steps {
    const score = field.scores[value]!;
    const v = this.open.indexOf(score);
    const fixed = this.decided;
    let passed = decided;
    while (passed < fixed.length && fixed[passed] === score) passed++;
    // By how many open parts have the value: who has had one then.
    const after: Rest['sets'][] = this.open.afterTaking(sets, this.all, v);
    if (passed === decided) after[0] = [];
    const keys: number[] = [];
    const chances: number[] = [];
    const branches: Branch[] = [];
    for (let count = after.length - 1; count >= 0; count--) {
      const sets = after[count]!;
      if (sets.length === 0) continue;
      const left = sum - count * (v < 0 ? 0 : this.open.steps[v]!);
      if (left < 0) continue;
      if (count > 1 && slight > 0) {
        const most = this.open.mostOf(sets, this.all, left);
        if (most <= slight) {
          slight -= most;
          continue;
        }
      }
      const equal = count + passed - decided;
      const branch = {
        sets,
        sum: left,
        decided: passed,
        key: (MOST_EQUAL - equal) * field.scores.length,
        start: keys.length,
      };
      branches.push(branch);
      this.addSteps(branch, score, field, keys, chances);
    }
    const restAt = (x: number): Rest | null => {
      const { sets, sum, decided, key } = branches.findLast((b) => b.start <= x)!;
      const done = sets.every(({ set }) => set === this.all) && decided === fixed.length;
      return done ? null : { sets, sum, decided, value: keys[x]! - key };
    };
    return { keys, chances, restAt };
  }

  /** What can come after a value: the next higher one, decided or open. */
  private addSteps(
    { sets, sum, decided, key }: Branch,
    last: Score,
    field: FieldValues,
    keys: number[],
    chances: number[],
  ): void {
    const fixed = this.decided[decided] ?? Number.POSITIVE_INFINITY;
    const chanceOf = this.open.scratch;
    const above = this.open.countUpTo(last);
    let rest = 0;
    let low = this.open.scores.length;
    let high = 0;
    for (const { set, chance } of sets) {
      const left = this.all & ~set;
      if (left === 0) {
        if (sum === 0) rest += chance;
        continue;
      }
      const added = this.addLowest(left, sum, above, chance, chanceOf);
      low = Math.min(low, added.first);
      high = Math.max(high, added.end);
    }
    for (let v = low; v < high; v++) {
      const chance = chanceOf[v]!;
      if (chance <= 0) continue;
      chanceOf[v] = 0;
      if (this.open.scores[v]! < fixed) {
        keys.push(key + this.open.inField(v, field));
        chances.push(chance);
      } else rest += chance;
    }
    if (rest > 0) {
      keys.push(fixed === Number.POSITIVE_INFINITY ? key : key + field.indexOf.get(fixed)!);
      chances.push(rest);
    }
  }

  /** Adds the chances of the lowest value of some open parts with that sum, of the values from the first. */
  private addLowest(
    parts: number,
    sum: number,
    first: number,
    weight: number,
    to: Float64Array,
  ): { first: number; end: number } {
    const width = this.open.scores.length;
    const list = partsIn(parts);
    const a = list[0]!;
    const b = list[1];
    if (b === undefined) {
      const v = this.open.scoreAt[sum] ?? -1;
      if (v < first) return { first: width, end: 0 };
      to[v]! += weight * this.open.chances[a]![v]!;
      return { first: v, end: v + 1 };
    }
    if (list.length === 2) {
      const p = this.open.chances[a]!;
      const q = this.open.chances[b]!;
      for (let v = first; v < width; v++) {
        const other = this.open.scoreAt[sum - this.open.steps[v]!] ?? -1;
        if (other === v) to[v]! += weight * p[v]! * q[v]!;
        else if (other > v) to[v]! += weight * (p[v]! * q[other]! + q[v]! * p[other]!);
      }
      return { first, end: width };
    }
    const { chances, rowOf } = this.open.lowsOf(parts);
    const row = rowOf(sum);
    if (row < 0) return { first: width, end: 0 };
    for (let at = row * width + first, v = first; v < width; v++, at++)
      to[v]! += weight * chances[at]!;
    return { first, end: width };
  }
}

function partCount(set: number): number {
  let count = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) count++;
  return count;
}

/** By set: the parts in it. */
const members: number[][] = [];

function partsIn(set: number): readonly number[] {
  const known = members[set];
  if (known !== undefined) return known;
  const parts: number[] = [];
  for (let part = 0; set >> part > 0; part++) if ((set >> part) & 1) parts.push(part);
  members[set] = parts;
  return parts;
}
