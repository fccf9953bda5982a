/** Places in one of the meets that were drawn, under the tie rules of the model. */
import type { Contest } from '../../contest/contest.js';
import { rangeAt } from '../../meet/meet.js';
import { assumed, type Entry, entryOf } from '../../rules/entry.js';
import type { ContestModel } from '../model.js';
import { BLOCK, type Block, partAt } from './block.js';

type Rule = Contest['ties'][number];

/** Below 0: the first of two entrants on equal totals is ahead; 0: a rule leaves them level. */
type Compare = (block: Block, i: number, j: number) => number;

/** Compares two entrants on equal totals, rule by rule. */
export type Comparers = readonly Compare[];

/** How each rule tells two apart: by what is known before, by the values of their parts, or by all. */
export function comparersOf({ rules, entrants }: ContestModel): Comparers {
  return rules.map((rule): Compare => {
    const fixed = entrants.map((e) =>
      rule.fixedAtEqualTotals(
        e.assumed,
        e.open.map((o) => o.part),
      ),
    );
    if (fixed.every((key) => key !== null)) return (_, i, j) => (fixed[j] ?? 0) - (fixed[i] ?? 0);
    const { sorted } = rule;
    if (sorted?.of === 'parts' && sorted.from === 'lowest' && sorted.compared === 'all') {
      return compareValues;
    }
    return (block, i, j) => compareEntries(block, rule, i, j);
  });
}

/** Turns to a meet of those that were drawn, and ranks it. */
export function rankMeet(block: Block, comparers: Comparers, at: number): void {
  const { order, sorted, first, totals } = block;
  const { size } = block.plan;
  block.at = at;
  block.stamp++;
  // Sorted by insertion, from the order in which the last meet left them.
  for (let k = 0; k < size; k++) {
    const i = order[k] ?? 0;
    const total = totals[i * BLOCK + at] ?? 0;
    let p = k;
    while (p > 0 && (sorted[p - 1] ?? 0) < total) {
      sorted[p] = sorted[p - 1] ?? 0;
      order[p] = order[p - 1] ?? 0;
      p--;
    }
    sorted[p] = total;
    order[p] = i;
  }
  for (let from = 0; from < size; ) {
    let to = from + 1;
    while (to < size && sorted[to] === sorted[from]) to++;
    first[from] = from;
    if (to > from + 1) breakTie(block, comparers, from, to);
    from = to;
  }
}

function breakTie(block: Block, comparers: Comparers, from: number, to: number): void {
  const { order, first } = block;
  for (let k = from + 1; k < to; k++) {
    const i = order[k] ?? 0;
    let p = k;
    while (p > from && compare(block, comparers, i, order[p - 1] ?? 0) < 0) {
      order[p] = order[p - 1] ?? 0;
      p--;
    }
    order[p] = i;
  }
  for (let k = from + 1; k < to; k++) {
    const isLevel = compare(block, comparers, order[k - 1] ?? 0, order[k] ?? 0) === 0;
    first[k] = isLevel ? (first[k - 1] ?? 0) : k;
  }
}

/** Below 0: the first of two on equal totals is ahead; 0: they share a place. */
export function compare(block: Block, comparers: Comparers, i: number, j: number): number {
  for (const by of comparers) {
    const order = by(block, i, j);
    if (order !== 0) return order;
  }
  return 0;
}

/** The lower of two lowest scores leaves the higher best scores. */
function compareValues(block: Block, i: number, j: number): number {
  const a = valuesAt(block, i);
  const b = valuesAt(block, j);
  for (let k = 0; k < a.length && k < b.length; k++) {
    if (a[k] !== b[k]) return (a[k] ?? 0) - (b[k] ?? 0);
  }
  return 0;
}

/** The values of all parts of an entrant, the lowest first. */
function valuesAt(block: Block, i: number): Float64Array {
  const values = block.values[i] as Float64Array;
  const plan = block.plan.entrants[i];
  if (block.valuesOf[i] === block.stamp || plan === undefined) return values;
  const { decided, parts } = plan;
  for (let k = 0; k < decided.length; k++) values[k] = decided[k] ?? 0;
  for (const [k, part] of parts.entries()) {
    const value = partAt(block, part, block.at);
    let p = decided.length + k;
    while (p > 0 && (values[p - 1] ?? 0) > value) {
      values[p] = values[p - 1] ?? 0;
      p--;
    }
    values[p] = value;
  }
  block.valuesOf[i] = block.stamp;
  return values;
}

function compareEntries(block: Block, rule: Rule, i: number, j: number): number {
  const a = rule.key(entryAt(block, i));
  const b = rule.key(entryAt(block, j));
  if (typeof a === 'string' || typeof b === 'string') return 0;
  for (let k = 0; k < a.length && k < b.length; k++) {
    if (a[k] !== b[k]) return (b[k] ?? 0) - (a[k] ?? 0);
  }
  return 0;
}

function entryAt(block: Block, i: number): Entry {
  const { plan, entries, at, stamp } = block;
  const { model, entrants, slots } = plan;
  const entrant = model.entrants[i];
  const performances = block.performances[i];
  if (entrant === undefined || performances === undefined) throw new RangeError(`no entrant ${i}`);
  if (block.entryOf[i] !== stamp) {
    for (const s of entrants[i]?.slots ?? []) {
      const routine = slots[s]?.routine ?? 0;
      const score = block.scores[s * BLOCK + at] ?? 0;
      performances[routine] = assumed(score, rangeAt(model.meet, routine).d);
    }
    entries[i] = entryOf(entrant.contender, performances);
    block.entryOf[i] = stamp;
  }
  return entries[i] ?? entrant.assumed;
}
