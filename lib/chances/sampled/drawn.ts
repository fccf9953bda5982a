/** Meets as they are drawn: the scores to come, totals, and places under the rules of the race. */

import type { Contest } from '../../contest/contest.js';
import { rangeAt } from '../../meet/meet.js';
import { assumed, type Entry, entryOf, type Performance } from '../../rules/entry.js';
import type { Score } from '../../score.js';

type TieRule = Contest['ties'][number];

import { isStatic, staticKey } from '../runner.js';
import { type PartPlan, type Plan, pick, type Slot, WHOLE } from './draws.js';

/** Meets drawn together. */
export const BLOCK = 256;

/** How a rule tells apart two who are level: by numbers known before, by their values, or by all. */
type Comparer =
  | { readonly kind: 'known'; readonly keys: Float64Array }
  | { readonly kind: 'values' }
  | { readonly kind: 'entry'; readonly rule: TieRule };

/** Meets drawn together, and one of them ranked: the meet at hand. */
export class Drawn {
  private readonly comparers: readonly Comparer[];
  /** By slot and meet of the block. */
  private readonly scores: Int32Array;
  private readonly shares: Uint8Array;
  /** By gymnast who has one to share, and meet. */
  private readonly quantiles: Uint32Array;
  /** By runner and meet. */
  private readonly totals: Int32Array;
  /** Runners from the best to the worst in the meet at hand, and their totals. */
  readonly order: Int32Array;
  readonly sorted: Int32Array;
  /** By position: the first position of those it shares its place with. */
  readonly first: Int32Array;
  /** The meet at hand: its place in the block, and a number that no other has. */
  private at = 0;
  private stamp = 0;
  /** By runner: the meet for which its values, and its entry, are known. */
  private readonly valuesOf: Float64Array;
  private readonly entryOf: Float64Array;
  private readonly values: Float64Array[];
  private readonly entries: Entry[];
  private readonly performances: Performance[][];
  /** The best scores of a part so far, the highest first. */
  private readonly best: Int32Array;
  /** The scores that a supposition took the place of. */
  private readonly before: Int32Array;

  constructor(private readonly plan: Plan) {
    const { race, size, slots, forms } = plan;
    this.scores = new Int32Array(slots.length * BLOCK);
    this.shares = new Uint8Array(slots.length * BLOCK);
    this.quantiles = new Uint32Array(forms * BLOCK);
    this.totals = new Int32Array(size * BLOCK);
    this.order = Int32Array.from({ length: size }, (_, i) => i);
    this.sorted = new Int32Array(size);
    this.first = new Int32Array(size);
    this.valuesOf = new Float64Array(size);
    this.entryOf = new Float64Array(size);
    this.values = plan.runners.map(
      ({ decided, parts }) => new Float64Array(decided.length + parts.length),
    );
    this.entries = race.runners.map((r) => r.assumed);
    this.performances = race.runners.map((r) => [...r.assumed.performances]);
    const counts = plan.runners.flatMap(({ parts }) => parts.map((p) => p.count));
    this.best = new Int32Array(Math.max(0, ...counts));
    this.before = new Int32Array(slots.length);
    this.comparers = race.rules.map((rule): Comparer => {
      if (rule.sorted?.of === 'parts') return { kind: 'values' };
      if (!isStatic(rule, race)) return { kind: 'entry', rule };
      const keys = Float64Array.from(race.runners, (r) => staticKey(rule, r.assumed));
      return { kind: 'known', keys };
    });
  }

  /** Draws the next meets, routine by routine. */
  draw(random: { next(): number }): void {
    const { slots, runners, forms, sampling } = this.plan;
    const { scores, shares, quantiles, totals } = this;
    const share = Math.sqrt(sampling.dayForm) * WHOLE;
    for (let q = 0; q < forms * BLOCK; q++) quantiles[q] = random.next();
    for (let s = 0; s < slots.length; s++) {
      const slot = slots[s]!;
      const { scores: values } = slot;
      const at = s * BLOCK;
      if (slot.form === null) {
        for (let m = 0; m < BLOCK; m++) {
          scores[at + m] = values[pick(slot, random.next() >>> 0)]!;
        }
        continue;
      }
      const common = slot.form * BLOCK;
      for (let m = 0; m < BLOCK; m++) {
        const own = random.next() >>> 0;
        const shared = random.next() >>> 0 < share;
        shares[at + m] = shared ? 1 : 0;
        scores[at + m] = values[pick(slot, shared ? quantiles[common + m]! : own)]!;
      }
    }
    for (let i = 0; i < runners.length; i++) {
      const { base, parts } = runners[i]!;
      const at = i * BLOCK;
      totals.fill(base, at, at + BLOCK);
      for (const part of parts) {
        if (part.kind !== 'sum') {
          for (let m = 0; m < BLOCK; m++) totals[at + m]! += this.partAt(part, m);
          continue;
        }
        for (const s of part.slots) {
          const from = s * BLOCK;
          for (let m = 0; m < BLOCK; m++) totals[at + m]! += scores[from + m]!;
        }
      }
    }
  }

  /** The value of a part in a meet. */
  private partAt({ kind, count, known, slots }: PartPlan, m: number): Score {
    const { scores, best } = this;
    if (kind !== 'best') {
      let sum = 0;
      for (let k = 0; k < known.length; k++) sum += known[k]!;
      for (let k = 0; k < slots.length; k++) sum += scores[slots[k]! * BLOCK + m]!;
      return kind === 'mean' ? Math.floor(sum / 2) : sum;
    }
    let sum = 0;
    let held = 0;
    for (let k = 0; k < known.length + slots.length; k++) {
      let score = k < known.length ? known[k]! : scores[slots[k - known.length]! * BLOCK + m]!;
      sum += score;
      for (let b = 0; b < held; b++) {
        if (best[b]! >= score) continue;
        const less = best[b]!;
        best[b] = score;
        score = less;
      }
      if (held < count) best[held++] = score;
      else sum -= score;
    }
    return sum;
  }

  /** Turns to a meet of those that were drawn, and ranks it. */
  rank(at: number): void {
    this.at = at;
    this.stamp++;
    const { order, sorted, first, totals } = this;
    const { size } = this.plan;
    // Sorted by insertion, from the order in which the last meet left them.
    for (let k = 0; k < size; k++) {
      const i = order[k]!;
      const total = totals[i * BLOCK + at]!;
      let p = k;
      while (p > 0 && sorted[p - 1]! < total) {
        sorted[p] = sorted[p - 1]!;
        order[p] = order[p - 1]!;
        p--;
      }
      sorted[p] = total;
      order[p] = i;
    }
    for (let from = 0; from < size; ) {
      let to = from + 1;
      while (to < size && sorted[to] === sorted[from]) to++;
      first[from] = from;
      if (to > from + 1) this.breakTie(from, to);
      from = to;
    }
  }

  private breakTie(from: number, to: number): void {
    const { order, first } = this;
    for (let k = from + 1; k < to; k++) {
      const i = order[k]!;
      let p = k;
      while (p > from && this.compare(i, order[p - 1]!) < 0) {
        order[p] = order[p - 1]!;
        p--;
      }
      order[p] = i;
    }
    for (let k = from + 1; k < to; k++) {
      first[k] = this.compare(order[k - 1]!, order[k]!) === 0 ? first[k - 1]! : k;
    }
  }

  /** Below 0: the first of two on equal totals is ahead; 0: they share a place. */
  private compare(i: number, j: number): number {
    for (const comparer of this.comparers) {
      const order =
        comparer.kind === 'known'
          ? comparer.keys[j]! - comparer.keys[i]!
          : comparer.kind === 'values'
            ? this.compareValues(i, j)
            : this.compareEntries(comparer.rule, i, j);
      if (order !== 0) return order;
    }
    return 0;
  }

  /** The lower of two lowest scores leaves the higher best scores. */
  private compareValues(i: number, j: number): number {
    const a = this.valuesAt(i);
    const b = this.valuesAt(j);
    for (let k = 0; k < a.length && k < b.length; k++) {
      if (a[k] !== b[k]) return a[k]! - b[k]!;
    }
    return 0;
  }

  /** The values of all parts, the lowest first. */
  private valuesAt(i: number): Float64Array {
    const values = this.values[i]!;
    if (this.valuesOf[i] === this.stamp) return values;
    const { decided, parts } = this.plan.runners[i]!;
    for (let k = 0; k < decided.length; k++) values[k] = decided[k]!;
    for (let k = 0; k < parts.length; k++) {
      const value = this.partAt(parts[k]!, this.at);
      let p = decided.length + k;
      while (p > 0 && values[p - 1]! > value) {
        values[p] = values[p - 1]!;
        p--;
      }
      values[p] = value;
    }
    this.valuesOf[i] = this.stamp;
    return values;
  }

  private compareEntries(rule: TieRule, i: number, j: number): number {
    const a = rule.key(this.entryAt(i));
    const b = rule.key(this.entryAt(j));
    if (typeof a === 'string' || typeof b === 'string') return 0;
    for (let k = 0; k < a.length && k < b.length; k++) {
      if (a[k] !== b[k]) return b[k]! - a[k]!;
    }
    return 0;
  }

  private entryAt(i: number): Entry {
    if (this.entryOf[i] === this.stamp) return this.entries[i]!;
    const { meet, race, runners, slots } = this.plan;
    const performances = this.performances[i]!;
    for (const s of runners[i]!.slots) {
      const { routine } = slots[s]!;
      const score = this.scores[s * BLOCK + this.at]!;
      performances[routine] = assumed(score, rangeAt(meet, routine).d);
    }
    const entry = entryOf(race.runners[i]!.contender, performances);
    this.entries[i] = entry;
    this.entryOf[i] = this.stamp;
    return entry;
  }

  /**
   * Puts a score in the place of the one that was drawn. If the routine shares its gymnast's
   * quantile, that is now one which means this score, and what else shares it follows.
   */
  private suppose(s: number, k: number): void {
    const { slots } = this.plan;
    const { scores, before, at } = this;
    const slot = slots[s]!;
    before[s] = scores[s * BLOCK + at]!;
    scores[s * BLOCK + at] = slot.scores[k]!;
    this.forget(slot.runner);
    if (slot.form === null) return;
    const shared = this.shares[s * BLOCK + at] === 1;
    const u = this.quantileFor(slot, slot.form, k);
    for (const mate of slot.mates) {
      const cell = mate * BLOCK + at;
      before[mate] = scores[cell]!;
      const other = slots[mate]!;
      if (shared && this.shares[cell] === 1) scores[cell] = other.scores[pick(other, u)]!;
    }
  }

  /** Takes a supposition back. */
  private restore(s: number): void {
    const { scores, before, at } = this;
    const slot = this.plan.slots[s]!;
    scores[s * BLOCK + at] = before[s]!;
    for (const mate of slot.mates) scores[mate * BLOCK + at] = before[mate]!;
    this.forget(slot.runner);
  }

  /** What was known of a runner does not hold any more. */
  private forget(runner: number): void {
    this.valuesOf[runner] = 0;
    this.entryOf[runner] = 0;
  }

  /** A quantile that makes a routine score this, if it shares its gymnast's. */
  private quantileFor(slot: Slot, form: number, k: number): number {
    const low = k === 0 ? 0 : slot.limits[k - 1]!;
    const within = this.quantiles[form * BLOCK + this.at]! / WHOLE;
    return Math.min(low + Math.floor((slot.limits[k]! - low) * within), WHOLE - 1);
  }

  /** The total of its runner if a routine has the score of an index. */
  totalIf(s: number, k: number): Score {
    const { scores, at } = this;
    const slot = this.plan.slots[s]!;
    if (slot.plain) {
      const drawn = this.totals[slot.runner * BLOCK + at]!;
      const total = drawn + slot.scores[k]! - scores[s * BLOCK + at]!;
      return slot.form === null || this.shares[s * BLOCK + at] === 0
        ? total
        : total + this.gainOfMates(slot, this.quantileFor(slot, slot.form, k));
    }
    this.suppose(s, k);
    const { base, parts } = this.plan.runners[slot.runner]!;
    let total = base;
    for (const part of parts) {
      if (part.kind !== 'sum') total += this.partAt(part, at);
      else for (const t of part.slots) total += scores[t * BLOCK + at]!;
    }
    this.restore(s);
    return total;
  }

  /** What the routines that share a quantile, all of them plain, gain by this one. */
  private gainOfMates({ mates }: Slot, u: number): Score {
    const { scores, shares, at } = this;
    let gain = 0;
    for (let n = 0; n < mates.length; n++) {
      const cell = mates[n]! * BLOCK + at;
      if (shares[cell] === 0) continue;
      const mate = this.plan.slots[mates[n]!]!;
      gain += mate.scores[pick(mate, u)]! - scores[cell]!;
    }
    return gain;
  }

  /** How its runner compares with another on an equal total if a routine has the score of an index. */
  compareIf(s: number, k: number, other: number): number {
    this.suppose(s, k);
    const order = this.compare(this.plan.slots[s]!.runner, other);
    this.restore(s);
    return order;
  }
}
