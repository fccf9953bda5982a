/** Places in one of the meets that were drawn, under the tie rules of the model. */
import type { Contest } from '../../contest/contest.js';
import { rangeAt } from '../../meet/meet.js';
import { assumed, type Entry, entryOf } from '../../rules/entry.js';
import type { ContestModel } from '../model.js';
import type { Comparer, DrawnMeet } from './drawn-meet.js';

type Rule = Contest['ties'][number];

/** How each rule tells two apart: by what is known before, by the values of their parts, or by all. */
export function comparersOf({ rules, entrants }: ContestModel): Comparer[] {
  return rules.map((rule): Comparer => {
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
    return (meet, i, j) => compareEntries(meet, rule, i, j);
  });
}

/** Ranks the meet at hand. */
export function rankMeet(meet: DrawnMeet): void {
  const { order, sorted, first, totals } = meet;
  const { size } = meet.plan;
  // Sorted by insertion, from the order in which the last meet left them.
  for (let k = 0; k < size; k++) {
    const i = order[k] ?? 0;
    const total = totals[i] ?? 0;
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
    if (to > from + 1) breakTie(meet, from, to);
    from = to;
  }
}

function breakTie(meet: DrawnMeet, from: number, to: number): void {
  const { order, first } = meet;
  for (let k = from + 1; k < to; k++) {
    const i = order[k] ?? 0;
    let p = k;
    while (p > from && compare(meet, i, order[p - 1] ?? 0) < 0) {
      order[p] = order[p - 1] ?? 0;
      p--;
    }
    order[p] = i;
  }
  for (let k = from + 1; k < to; k++) {
    const isLevel = compare(meet, order[k - 1] ?? 0, order[k] ?? 0) === 0;
    first[k] = isLevel ? (first[k - 1] ?? 0) : k;
  }
}

/** Below 0: the first of two on equal totals is ahead; 0: they share a place. */
export function compare(meet: DrawnMeet, i: number, j: number): number {
  for (const by of meet.comparers) {
    const order = by(meet, i, j);
    if (order !== 0) return order;
  }
  return 0;
}

/** The lower of two lowest scores leaves the higher best scores. */
function compareValues(meet: DrawnMeet, i: number, j: number): number {
  const a = valuesOf(meet, i);
  const b = valuesOf(meet, j);
  for (let k = 0; k < a.length && k < b.length; k++) {
    if (a[k] !== b[k]) return (a[k] ?? 0) - (b[k] ?? 0);
  }
  return 0;
}

/** The values of all parts of an entrant, the lowest first. */
function valuesOf({ plan, scores, values, isValued }: DrawnMeet, i: number): Float64Array {
  const found = values[i] as Float64Array;
  const entrant = plan.entrants[i];
  if (isValued[i] === 1 || entrant === undefined) return found;
  const { decided, worths } = entrant;
  found.set(decided);
  for (let k = 0; k < worths.length; k++) {
    const value = worths[k]?.(scores) ?? 0;
    let at = decided.length + k;
    for (; at > 0 && (found[at - 1] ?? 0) > value; at--) found[at] = found[at - 1] ?? 0;
    found[at] = value;
  }
  isValued[i] = 1;
  return found;
}

function compareEntries(meet: DrawnMeet, rule: Rule, i: number, j: number): number {
  const a = rule.key(entryIn(meet, i));
  const b = rule.key(entryIn(meet, j));
  if (typeof a === 'string' || typeof b === 'string') return 0;
  for (let k = 0; k < a.length && k < b.length; k++) {
    if (a[k] !== b[k]) return (b[k] ?? 0) - (a[k] ?? 0);
  }
  return 0;
}

function entryIn({ plan, scores, performances }: DrawnMeet, i: number): Entry {
  const { model, entrants, slots } = plan;
  const entrant = model.entrants[i];
  const performed = performances[i];
  if (entrant === undefined || performed === undefined) throw new RangeError(`no entrant ${i}`);
  for (const s of entrants[i]?.slots ?? []) {
    const routine = slots[s]?.routine ?? 0;
    performed[routine] = assumed(scores[s] ?? 0, rangeAt(model.meet, routine).d);
  }
  return entryOf(entrant.contender, performed);
}
