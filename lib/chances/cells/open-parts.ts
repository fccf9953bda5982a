/** The open parts of a runner: what they can score, and what some of them add up to. */
import type { Distribution } from '../../range/distribution.js';
import { type Lattice, latticeFor } from '../../range/lattice.js';
import type { Score } from '../../score.js';
import type { Grid } from '../../scoring.js';
import type { Runner } from '../runner.js';
import { type Lows, type PartSums, partSums, sizeOf } from './lows.js';

/** Everyone's values, in rising order, by index. */
export interface FieldValues {
  readonly scores: readonly Score[];
  readonly indexOf: ReadonlyMap<Score, number>;
}

/** What comes next after a value lies up to so far above it, in units, in each gap; in the last, further. */
const GAPS = [67, 167];

/** How many gaps are told apart. */
export const GAP_COUNT = GAPS.length + 1;

/** Which gap the next value leaves to one; it is infinite where nothing comes next. */
export function gapOf(value: Score, next: Score): number {
  let gap = 0;
  while (gap < GAPS.length && next > value + GAPS[gap]!) gap++;
  return gap;
}

/** Whether the next value leaves the last gap. */
export function isFar(value: Score, next: Score): boolean {
  return next > value + GAPS[GAPS.length - 1]!;
}

/** By gap but the first, and value, in rising order: the first of the values that leave no smaller gap. */
function beyondGaps(values: readonly Score[]): Int32Array[] {
  return GAPS.map((_, gap) => {
    let next = 0;
    return Int32Array.from(values, (value) => {
      while (next < values.length && gapOf(value, values[next]!) <= gap) next++;
      return next;
    });
  });
}

/** By set of open parts: a chance. */
export type SetChances = readonly { readonly set: number; readonly chance: number }[];

/** With more parts open than this there are too many sums to tell what is left of a result. */
export const MOST_PARTS = 4;

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
export class OpenParts {
  /** The scores they can have, in rising order. */
  readonly scores: readonly Score[];
  readonly steps: Int32Array;
  /** By part and score: the chance. */
  readonly chances: readonly Float64Array[];
  /** By sum of one: its place among the scores, or -1. */
  readonly scoreAt: Int32Array;
  readonly scratch: Float64Array;
  private readonly beyond: readonly Int32Array[];
  /** By set of parts. */
  private readonly weights: Float64Array;
  private readonly whole: number;
  private totals: PartSums['totalOf'] = () => 0;
  private readonly lattice: Lattice;
  private readonly lows = new Map<number, Lows>();
  private mapped: { readonly field: FieldValues; readonly index: Int32Array } | null = null;

  constructor(open: Runner['open'], grid: Grid, leftOut: number) {
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
    this.beyond = beyondGaps(this.scores);
    this.weights = new Float64Array(1 << parts.length);
    this.whole = this.weights.length - 1;
  }

  /** On the lattice, what some parts add up to; -1 where they cannot. */
  sumOf(parts: number, sum: Score): number {
    // Of nobody's scores there is no lattice.
    if (parts === 0) return sum === 0 ? 0 : -1;
    return this.lattice.indexOfSum(sum, sizeOf(parts));
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

  /** Where the scores begin, and end, that leave such a gap to a lower one; null: any. */
  rangeOf(score: Score, gap: number | null): readonly [number, number] {
    const from = gap === null || gap === 0 ? score : score + GAPS[gap - 1]!;
    const isLast = gap === null || gap === GAPS.length;
    const to = isLast ? this.scores.length : this.countUpTo(score + GAPS[gap]!);
    return [this.countUpTo(from), to];
  }

  /**
   * By how many more of the parts have value v, up to so many: the sets of those who have had one
   * then. All sets that come in are of the same size.
   */
  afterTaking(
    sets: SetChances,
    all: number,
    v: number,
    most: number,
  ): { set: number; chance: number }[][] {
    const { weights } = this;
    let base = 0;
    let there = 0;
    for (let part = 0; v >= 0 && part < this.chances.length; part++) {
      if (this.chances[part]![v]! > 0) there |= 1 << part;
    }
    weights.fill(0);
    for (const { set, chance } of sets) {
      base = sizeOf(set);
      const free = all & ~set & there;
      for (let taking = free; ; taking = (taking - 1) & free) {
        if (sizeOf(taking) > most) continue;
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
      if (chance > 0) after[sizeOf(set) - base]!.push({ set, chance });
    }
    return after;
  }

  /** How likely it is at most that the other parts add up to a sum. */
  mostOf(sets: SetChances, all: number, sum: number): number {
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
    if (list.length === 0) {
      this.lows.set(parts, {
        chances: new Float32Array(0),
        starts: Int32Array.of(0),
        firsts: Int32Array.of(0),
        ends: Int32Array.of(1),
        rowOf: (sum) => (sum === 0 ? 0 : -1),
      });
      return;
    }
    const isWhole = list.length === this.chances.length;
    const { steps, beyond, lattice } = this;
    const chances = list.map((part) => this.chances[part]!);
    const values = { chances, steps, beyond, width: lattice.width };
    const found = partSums(values, isWhole ? SLIGHT : 0);
    if (isWhole) this.totals = found.totalOf;
    this.lows.set(parts, found.lows);
  }
}

/** By the first of them: the parts of runners who can score alike, such as all of whom nothing is known. */
const known = new WeakMap<
  Distribution,
  { open: Runner['open']; leftOut: number; parts: OpenParts }[]
>();

export function partsOf(open: Runner['open'], grid: Grid, leftOut: number): OpenParts {
  const first = open[0]?.distribution;
  if (first === undefined) return new OpenParts(open, grid, leftOut);
  const alike = known.get(first) ?? [];
  const same = alike.find(
    (k) =>
      k.leftOut === leftOut &&
      k.open.length === open.length &&
      k.open.every((o, i) => o.distribution === open[i]!.distribution),
  );
  if (same !== undefined) return same.parts;
  const parts = new OpenParts(open, grid, leftOut);
  known.set(first, [...alike, { open, leftOut, parts }]);
  return parts;
}

/** By set: the parts in it. */
const members: number[][] = [];

export function partsIn(set: number): readonly number[] {
  const known = members[set];
  if (known !== undefined) return known;
  const parts: number[] = [];
  for (let part = 0; set >> part > 0; part++) if ((set >> part) & 1) parts.push(part);
  members[set] = parts;
  return parts;
}
