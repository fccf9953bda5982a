/**
 * How equal totals are told apart when too many values are open to go through every result: by the
 * lowest of the values a total is made of, where that is equal by how many of them are so low, then
 * by the next lowest, and so on. At equal totals the lower value leaves the higher best scores.
 */
import type { Score } from '../../score.js';
import type { Grid } from '../../scoring.js';
import type { Runner } from '../runner.js';
import type { Lows } from './lows.js';
import {
  type FieldValues,
  GAP_COUNT,
  gapOf,
  isFar,
  MOST_PARTS,
  type OpenParts,
  partsIn,
  partsOf,
  type SetChances,
} from './open-parts.js';

/** What is left to compare of a result once some of its lowest values are known. */
export interface Rest {
  /** By the set of open parts that have had one of them: the chance. */
  readonly sets: SetChances;
  /** What the other open parts add up to, on the lattice. */
  readonly sum: number;
  /** The value that comes next, one part at least has it; by index in the field. */
  readonly value: number;
  /** How many decided values lie below it. */
  readonly decided: number;
  /** The gap that what comes after it leaves; null where it may be any. */
  readonly gap: number | null;
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
  readonly sets: SetChances;
  readonly sum: number;
  readonly decided: number;
  readonly key: number;
  /** Its first way. */
  readonly start: number;
}

/** Above any count of equal values. */
const MOST_EQUAL = 64;

export class Lowest {
  /** Of all its open parts, once they have been asked for. */
  private lows: Lows | null = null;

  private constructor(
    private readonly open: OpenParts,
    /** The set of those parts that are open. */
    private readonly all: number,
    private readonly fixed: Score,
    /** In rising order. */
    private readonly decided: readonly Score[],
  ) {}

  /** `leftOut`: how much of each part need not be told. */
  static of({ open, fixed, decided }: Runner, grid: Grid, leftOut: number): Lowest {
    const all = (1 << open.length) - 1;
    return new Lowest(partsOf(open, grid, leftOut), all, fixed, decided);
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
   * Puts the chances of every lowest value with that total into a row by key, from `from` on; gives
   * where they begin and end, and their sum; null when nothing is told of this total. There are as
   * many keys to a value, by its index in the field, as there are gaps that the lowest but one can
   * leave to it: the lower key is ahead.
   */
  lowestAt(
    total: Score,
    field: FieldValues,
    row: Float64Array,
    from: number,
  ): { first: number; end: number; chance: number } | null {
    const { scores } = this.open;
    this.lows ??= this.open.lowsOf(this.all);
    const { chances, starts, firsts, ends, rowOf } = this.lows;
    const sum = rowOf(this.open.sumOf(this.all, total - this.fixed));
    if (sum < 0 || ends[sum] === 0) return null;
    const worst = this.decided[0] ?? Number.POSITIVE_INFINITY;
    const end = this.all === 0 ? 0 : ends[sum]!;
    const indices = this.open.indicesIn(field);
    let v = firsts[sum]!;
    let at = starts[sum]!;
    let chance = 0;
    const first = v < end && scores[v]! < worst ? GAP_COUNT * indices[v]! : -1;
    let last = first;
    const isDense = v < end && indices[end - 1]! - indices[v]! === end - 1 - v;
    if (isDense && isFar(scores[end - 1]!, worst)) {
      // All of it as it is.
      last = first + GAP_COUNT * (end - v);
      for (let key = from + first; key < from + last; key++) {
        const here = chances[at++]!;
        row[key] = here;
        chance += here;
      }
      v = end;
    }
    for (; v < end && scores[v]! < worst; v++) {
      const key = from + GAP_COUNT * indices[v]!;
      const widest = gapOf(scores[v]!, worst);
      for (let gap = 0; gap < GAP_COUNT; gap++) {
        const here = chances[at++]!;
        row[key + Math.min(gap, widest)]! += here;
        chance += here;
      }
      last = key - from + GAP_COUNT;
    }
    if (worst === Number.POSITIVE_INFINITY) return first < 0 ? null : { first, end: last, chance };
    const key = from + GAP_COUNT * field.indexOf.get(worst)!;
    const widest = gapOf(worst, this.decided[1] ?? Number.POSITIVE_INFINITY);
    let rest = 0;
    if (this.all === 0) row[key + widest] = rest = 1;
    for (; v < end; v++) {
      const to = key + Math.min(gapOf(worst, scores[v]!), widest);
      for (let gap = 0; gap < GAP_COUNT; gap++) {
        const here = chances[at++]!;
        row[to]! += here;
        rest += here;
      }
    }
    if (rest > 0) last = key - from + GAP_COUNT;
    chance += rest;
    return chance === 0 ? null : { first: first < 0 ? key - from : first, end: last, chance };
  }

  /** The results with that total that have this key; there must be some. */
  begin(total: Score, key: number): Rest {
    const sum = this.open.sumOf(this.all, total - this.fixed);
    const gap = key % GAP_COUNT;
    return { sets: [{ set: 0, chance: 1 }], sum, value: (key - gap) / GAP_COUNT, decided: 0, gap };
  }

  /**
   * How it may go on, the best first; the keys are those of anyone in this field. Ways with more than
   * one part on the value are left out where they are less likely than `slight` together.
   */
  stepsOf({ sets, sum, value, decided, gap }: Rest, field: FieldValues, slight = 0): Steps {
    const score = field.scores[value]!;
    const v = this.open.indexOf(score);
    const fixed = this.decided;
    let passed = decided;
    while (passed < fixed.length && fixed[passed] === score) passed++;
    // Several are equal only where there is no gap.
    const isApart = gap !== null && gap > 0;
    // By how many open parts have the value: who has had one then.
    const after: SetChances[] = this.open.afterTaking(sets, this.all, v, isApart ? 1 : MOST_EQUAL);
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
      if (equal > 1 && isApart) continue;
      const branch = {
        sets,
        sum: left,
        decided: passed,
        key: (MOST_EQUAL - equal) * field.scores.length,
        start: keys.length,
      };
      branches.push(branch);
      this.addSteps(branch, score, equal > 1 ? null : gap, field, keys, chances);
    }
    const restAt = (x: number): Rest | null => {
      const { sets, sum, decided, key } = branches.findLast((b) => b.start <= x)!;
      const done = sets.every(({ set }) => set === this.all) && decided === fixed.length;
      return done ? null : { sets, sum, decided, value: keys[x]! - key, gap: null };
    };
    return { keys, chances, restAt };
  }

  /** What can come after a value: the next higher one, decided or open, that leaves such a gap. */
  private addSteps(
    { sets, sum, decided, key }: Branch,
    last: Score,
    gap: number | null,
    field: FieldValues,
    keys: number[],
    chances: number[],
  ): void {
    const fixed = this.decided[decided] ?? Number.POSITIVE_INFINITY;
    const chanceOf = this.open.scratch;
    const [from, to] = this.open.rangeOf(last, gap);
    // What is decided is next where all open ones are higher.
    const isDecided = gap === null || gapOf(last, fixed) === gap;
    const end = isDecided ? this.open.scores.length : to;
    let rest = 0;
    let low = end;
    let high = 0;
    for (const { set, chance } of sets) {
      const left = this.all & ~set;
      if (left === 0) {
        if (sum === 0) rest += chance;
        continue;
      }
      const added = this.addLowest(left, sum, from, end, chance, chanceOf);
      low = Math.min(low, added.first);
      high = Math.max(high, added.end);
    }
    for (let v = low; v < high; v++) {
      const chance = chanceOf[v]!;
      if (chance <= 0) continue;
      chanceOf[v] = 0;
      if (this.open.scores[v]! >= fixed) rest += chance;
      else if (v < to) {
        keys.push(key + this.open.inField(v, field));
        chances.push(chance);
      }
    }
    if (rest > 0 && isDecided) {
      keys.push(fixed === Number.POSITIVE_INFINITY ? key : key + field.indexOf.get(fixed)!);
      chances.push(rest);
    }
  }

  /** Adds the chances of the lowest value of some open parts with that sum, of the values from one to another. */
  private addLowest(
    parts: number,
    sum: number,
    from: number,
    to: number,
    weight: number,
    target: Float64Array,
  ): { first: number; end: number } {
    const list = partsIn(parts);
    const a = list[0]!;
    const b = list[1];
    if (b === undefined) {
      const v = this.open.scoreAt[sum] ?? -1;
      if (v < from || v >= to) return { first: to, end: 0 };
      target[v]! += weight * this.open.chances[a]![v]!;
      return { first: v, end: v + 1 };
    }
    if (list.length === 2) {
      const p = this.open.chances[a]!;
      const q = this.open.chances[b]!;
      for (let v = from; v < to; v++) {
        const other = this.open.scoreAt[sum - this.open.steps[v]!] ?? -1;
        if (other === v) target[v]! += weight * p[v]! * q[v]!;
        else if (other > v) target[v]! += weight * (p[v]! * q[other]! + q[v]! * p[other]!);
      }
      return { first: from, end: to };
    }
    const { chances, starts, firsts, ends, rowOf } = this.open.lowsOf(parts);
    const row = rowOf(sum);
    if (row < 0) return { first: to, end: 0 };
    const start = Math.max(from, firsts[row]!);
    const end = Math.min(to, ends[row]!);
    let at = starts[row]! + GAP_COUNT * (start - firsts[row]!);
    for (let v = start; v < end; v++) {
      let chance = 0;
      for (let gap = 0; gap < GAP_COUNT; gap++) chance += chances[at++]!;
      target[v]! += weight * chance;
    }
    return { first: start, end };
  }
}
