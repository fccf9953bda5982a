/**
 * Places under `best-scores` with many parts open, when there are too many results to go through
 * one by one. Results are gone through by total. How likely a rival is to be ahead of a result with
 * that total is worked out for each pair, by the lowest values their totals are made of; rivals are
 * then taken to be ahead independently of each other, though all depend on her values. Both what is
 * not told apart and what that dependence can do is bounded, so that the error is known.
 */
import {
  emptyTable,
  isUnfinished,
  type LastSharer,
  nextTable,
  sumUp,
  type Table,
} from './apart.js';
import { ErrorBound } from './error-bound.js';
import type { FieldValues, Lowest } from './lowest.js';
import type { StaticOrder } from './order.js';
import { multiply } from './places.js';
import type { Runner } from './runner.js';

/** Told of those who are level, as far as they are told apart, and of their chances of it. */
export type LevelVisitor = (runners: readonly number[], chances: readonly number[]) => void;

export interface CellCount {
  readonly places: Float64Array;
  /** Bounds every chance of a place, of winning and of a medal. */
  readonly error: number;
}

/** Two of them on a total that is less likely than this are not told apart. */
const LONELY = 1e-8;

/** Who is level with all others less likely than this is not told apart from them. */
const FAINT = 2e-7;

/** In fields of more than so many nothing is told apart further, and errors are bounded the short way. */
const WIDE = 32;

/** Results that are level, when that is less likely, by its weight, are not told apart further. */
const CROWDED = 1e-6;

/** Results of one total are taken together while the dependence between rivals is worth less. */
const DEPENDENCE = 1e-4;

export function countInCells(
  runners: readonly Runner[],
  lowest: readonly (Lowest | null)[],
  statics: StaticOrder,
  medals: number,
  visit: LevelVisitor | null = null,
): CellCount {
  const size = runners.length;
  const places = new Float64Array(size * size);
  const bound = new ErrorBound(size, medals, size <= WIDE);
  const ahead = new Float64Array(size);
  const p = new Float64Array(size);
  const product = new Float64Array(size + 1);
  const field = fieldOf(lowest);
  const inGroup = new Float64Array(size);
  const untold = new Float64Array(size);
  const rests = new Float64Array(size);
  const halves = new Float64Array(size);
  // By two members of a level: how likely the first is where it is, and the second ahead of it.
  const aheadOf = new Float64Array(size * size);
  let members: readonly number[] = [];
  let total = 0;
  /** How many together their dependence on each other can be left out for. */
  let most = 0;
  /** How likely two must be level to be told apart. */
  let least = 0;
  const whole = emptyTable(size, field.scores.length, (value) =>
    members.flatMap((who, k): LastSharer[] => {
      const chance = whole.rows[k * whole.length + value]!;
      return chance > 0 ? [{ k, chance, rest: lowest[who]!.begin(total, value) }] : [];
    }),
  );

  const left = Int32Array.from(runners, (r) => r.total.scores.length);
  const totals = Float64Array.from(new Set(runners.flatMap((r) => r.total.scores))).sort();
  for (let t = totals.length - 1; t >= 0; t--) {
    total = totals[t]!;
    const here: number[] = [];
    for (let i = 0; i < size; i++) {
      if (runners[i]!.total.scores[left[i]! - 1] === total) here.push(i);
    }
    here.sort((a, b) => statics.first[a]! - statics.first[b]!);
    for (let from = 0; from < here.length; ) {
      const first = statics.first[here[from]!];
      let to = from + 1;
      while (to < here.length && statics.first[here[to]!] === first) to++;
      members = here.slice(from, to);
      const chances = members.map((i) => runners[i]!.total.chances[left[i]! - 1]!);
      countLevel(chances);
      visit?.(members, chances);
      for (const [k, i] of members.entries()) {
        const last = left[i] === 1;
        ahead[i] = last ? 1 : Math.min(ahead[i]! + chances[k]!, 1 - Number.EPSILON / 2);
      }
      from = to;
    }
    for (const i of here) left[i]!--;
  }
  return { places, error: bound.error() };

  /** Everyone on one total, whom only the best scores and what follows them tell apart. */
  function countLevel(chances: readonly number[]): void {
    p.set(ahead);
    if (members.length === 1) {
      place(members[0]!, chances[0]!, 0, 0);
      return;
    }
    if (!isCrowded(chances)) {
      countEvenly(chances, chances);
      return;
    }
    const { length, rows, firsts, ends, together, squares } = whole;
    let [low, high] = [length, 0];
    rows.fill(0, 0, members.length * length);
    const all = chances.reduce((a, b) => a + b, 0);
    for (const [k, who] of members.entries()) {
      const row = k * length;
      const isFaint = chances[k]! * (all - chances[k]!) < FAINT;
      const told = isFaint ? null : (lowest[who]?.lowestAt(total, field, rows, row) ?? null);
      firsts[k] = told?.first ?? length;
      ends[k] = told?.end ?? 0;
      low = Math.min(low, firsts[k]!);
      high = Math.max(high, ends[k]!);
      let rest = chances[k]!;
      for (let v = firsts[k]!; v < ends[k]!; v++) rest -= rows[row + v]!;
      rests[k] = Math.max(rest, 0);
      halves[k] = rests[k]! / 2;
      p[who] = ahead[who]! + chances[k]! / 2;
    }
    together.fill(0, low, high);
    squares.fill(0, low, high);
    sumUp(whole, halves.subarray(0, members.length), low, high);
    most = bound.mostTogether(p, DEPENDENCE);
    least = size > WIDE ? Number.POSITIVE_INFINITY : CROWDED / weightHere();
    countTable(whole, low, high);
    countEvenly(chances, rests);
  }

  /** Those on one level, by what comes next in their results, from one key to another. */
  function countTable(table: Table, low: number, high: number): void {
    const { length, rows, before, together } = table;
    for (let from = low; from < high; ) {
      let sum = together[from]!;
      let to = from + 1;
      while (to < high && sum + together[to]! <= most) sum += together[to++]!;
      const sharers = sum > most && size <= WIDE ? table.sharersAt(from) : [];
      if (sharers.length > 1 && sharers.every(isUnfinished)) {
        const offsets = members.map((_, k) => {
          const at = k * length + from;
          return before[at]! - rows[at]! / 2;
        });
        const next = nextTable(lowest, members, field, sharers, offsets);
        countTable(next, 0, next.length);
      } else countGroup(table, from, to, sharers.length > 1);
      from = to;
    }
  }

  /** Those from one key to another together. `equal`: there is one key, and nothing after it. */
  function countGroup(table: Table, from: number, to: number, equal: boolean): void {
    const { length, rows, before, firsts, ends, together } = table;
    const n = members.length;
    let rest = 0;
    for (let k = 0; k < n; k++) {
      rest += rests[k]!;
      inGroup[k] = 0;
      for (let v = from; v < to; v++) inGroup[k]! += rows[k * length + v]!;
    }
    for (let k = 0; k < n; k++) {
      untold[k] = 0;
      if (inGroup[k] === 0) continue;
      const row = k * length;
      const start = Math.max(from, firsts[k]!);
      const end = Math.min(to, ends[k]!);
      for (let v = start; v < end; v++) {
        untold[k]! += rows[row + v]! * (together[v]! - rows[row + v]! + rest - rests[k]!);
      }
      for (let l = 0; l < n; l++) {
        if (l === k) continue;
        const other = l * length;
        let sum = 0;
        for (let v = start; v < end; v++) sum += rows[row + v]! * before[other + v]!;
        aheadOf[k * size + l] = sum;
      }
    }
    tellApart(table, from, to, equal);
    for (let k = 0; k < n; k++) {
      const chance = inGroup[k]!;
      if (chance === 0) continue;
      let sum = 0;
      let square = 0;
      for (let l = 0; l < n; l++) {
        const j = members[l]!;
        if (l === k) continue;
        p[j] = Math.min(ahead[j]! + aheadOf[k * size + l]! / chance, 1);
        const c = (equal ? 0 : inGroup[l]!) + rests[l]!;
        sum += c;
        square += c * c;
      }
      place(members[k]!, chance, Math.max(untold[k]!, 0) / (2 * chance), dependence(sum, square));
    }
  }

  /** Those who share a key, where that is likely enough or nothing comes after it. */
  function tellApart(table: Table, from: number, to: number, equal: boolean): void {
    const { together, squares } = table;
    for (let x = from; x < to; x++) {
      if (!equal && (together[x]! * together[x]! - squares[x]!) / 2 <= least) continue;
      const sharers = table.sharersAt(x);
      // What they share is equal, so all of them have something left to compare or none has.
      if (!sharers.every(isUnfinished)) {
        compareLast(sharers);
        continue;
      }
      const none = new Float64Array(members.length);
      const next = nextTable(lowest, members, field, sharers, none);
      const { length, rows, before } = next;
      for (const one of sharers) {
        const row = one.k * length;
        for (let y = 0; y < length; y++) {
          untold[one.k]! += rows[row + y]! * (next.together[y]! - rows[row + y]!);
        }
        for (const two of sharers) {
          if (one === two) continue;
          const both = one.chance * two.chance;
          let sum = 0;
          for (let y = 0; y < length; y++) sum += rows[row + y]! * before[two.k * length + y]!;
          aheadOf[one.k * size + two.k]! += sum - both / 2;
          untold[one.k]! -= both;
        }
      }
      tellApart(next, 0, length, false);
    }
  }

  /** Between sets that are equal to the last, the rules that follow decide. */
  function compareLast(sharers: readonly LastSharer[]): void {
    for (const one of sharers) {
      for (const two of sharers) {
        if (one === two) continue;
        const order = statics.last[members[one.k]!]! - statics.last[members[two.k]!]!;
        const both = one.chance * two.chance;
        aheadOf[one.k * size + two.k]! += order > 0 ? both / 2 : -both / 2;
        untold[one.k]! -= both;
      }
    }
  }

  /** How much it matters here who is ahead: for the last medal, or for the place it matters most. */
  function weightHere(): number {
    const { degree, sure } = multiply(p, size, product);
    let most = 0;
    for (let k = 0; k <= degree; k++) {
      const before = k === 0 ? 0 : product[k - 1]!;
      most = Math.max(most, Math.abs(product[k]! - before));
    }
    const edge = medals - 1 - sure;
    return Math.max(most, edge >= 0 && edge <= degree ? product[edge]! : 0);
  }

  /** Level as far as is known: each is as often ahead as behind. */
  function countEvenly(chances: ArrayLike<number>, counted: ArrayLike<number>): void {
    let sum = 0;
    let square = 0;
    for (const [k, j] of members.entries()) {
      const c = chances[k]!;
      p[j] = Math.min(ahead[j]! + c / 2, 1);
      sum += c;
      square += c * c;
    }
    for (const [k, i] of members.entries()) {
      const c = chances[k]!;
      if (counted[k]! > 0)
        place(i, counted[k]!, (sum - c) / 2, dependence(sum - c, square - c * c));
    }
  }

  /**
   * Adds the chances of a runner's places. `wrong`: by how much the others' chances of being ahead
   * can differ from p, summed up. `dependent`: how much of two or more of them can differ together.
   */
  function place(who: number, chance: number, wrong: number, dependent: number): void {
    const own = p[who]!;
    p[who] = 0;
    const { degree, sure } = multiply(p, size, product);
    p[who] = own;
    const at = who * size + sure;
    for (let k = 0; k <= degree; k++) places[at + k]! += chance * product[k]!;
    bound.add(who, chance, wrong, dependent, { p, product, degree, sure });
  }
}

/** Whether this many on one total are likely enough to be told apart. */
function isCrowded(chances: readonly number[]): boolean {
  let sum = 0;
  let pairs = 0;
  for (const chance of chances) {
    pairs += sum * chance;
    sum += chance;
  }
  return pairs > LONELY;
}

/**
 * How much rivals can be ahead or behind together, when each has a chance c of a result that is
 * level as yet: Σ |E(ε ε')| over pairs, each at most c c'/4, and for three and more what is left of
 * the series of exp(2 Σ c), half of it for the second difference that is taken as its measure.
 */
function dependence(sum: number, square: number): number {
  const more = (Math.exp(2 * sum) - 1 - 2 * sum - 2 * sum * sum) / 4;
  return Math.max(sum * sum - square, 0) / 8 + more;
}

function fieldOf(lowest: readonly (Lowest | null)[]): FieldValues {
  const scores = [...new Set(lowest.flatMap((l) => l?.values() ?? []))].sort((a, b) => a - b);
  return { scores, indexOf: new Map(scores.map((s, i) => [s, i])) };
}
