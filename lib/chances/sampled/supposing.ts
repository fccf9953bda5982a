/**
 * What would have been in the meet at hand if one routine had scored something else, and all else as it
 * was drawn. If the routine shares its gymnast's quantile, that is then one which means this score, and
 * what else shares it follows.
 */
import type { Units } from '../../score.js';
import { BLOCK, type Block, partAt } from './block.js';
import { pick, type Slot, WHOLE } from './plan.js';
import { type Comparers, compare } from './ranking.js';

/** The total of its entrant if a routine has the score of an index. */
export function totalIf(block: Block, s: number, k: number): Units {
  const { plan, scores, totals, shares, at } = block;
  const slot = plan.slots[s] as Slot;
  if (slot.plain) {
    const drawn = totals[slot.entrant * BLOCK + at] ?? 0;
    const total = drawn + (slot.scores[k] ?? 0) - (scores[s * BLOCK + at] ?? 0);
    return slot.form === null || shares[s * BLOCK + at] === 0
      ? total
      : total + gainOfMates(block, slot, quantileFor(block, slot, slot.form, k));
  }
  suppose(block, s, k);
  const entrant = plan.entrants[slot.entrant];
  let total = entrant?.base ?? 0;
  for (const part of entrant?.parts ?? []) {
    if (part.kind !== 'sum') total += partAt(block, part, at);
    else for (const t of part.slots) total += scores[t * BLOCK + at] ?? 0;
  }
  restore(block, s);
  return total;
}

/** How its entrant compares with another on an equal total if a routine has the score of an index. */
export function compareIf(
  block: Block,
  comparers: Comparers,
  s: number,
  k: number,
  other: number,
): number {
  suppose(block, s, k);
  const order = compare(block, comparers, block.plan.slots[s]?.entrant ?? 0, other);
  restore(block, s);
  return order;
}

function suppose(block: Block, s: number, k: number): void {
  const { plan, scores, shares, before, at } = block;
  const slot = plan.slots[s] as Slot;
  before[s] = scores[s * BLOCK + at] ?? 0;
  scores[s * BLOCK + at] = slot.scores[k] ?? 0;
  forget(block, slot.entrant);
  if (slot.form === null) return;
  const shared = shares[s * BLOCK + at] === 1;
  const u = quantileFor(block, slot, slot.form, k);
  for (const mate of slot.mates) {
    const cell = mate * BLOCK + at;
    before[mate] = scores[cell] ?? 0;
    const other = plan.slots[mate] as Slot;
    if (shared && shares[cell] === 1) scores[cell] = other.scores[pick(other, u)] ?? 0;
  }
}

/** Takes a supposition back. */
function restore(block: Block, s: number): void {
  const { plan, scores, before, at } = block;
  const slot = plan.slots[s] as Slot;
  scores[s * BLOCK + at] = before[s] ?? 0;
  for (const mate of slot.mates) scores[mate * BLOCK + at] = before[mate] ?? 0;
  forget(block, slot.entrant);
}

/** What was known of an entrant does not hold any more. */
function forget({ valuesOf, entryOf }: Block, entrant: number): void {
  valuesOf[entrant] = 0;
  entryOf[entrant] = 0;
}

/** A quantile that makes a routine score this, if it shares its gymnast's. */
function quantileFor({ quantiles, at }: Block, { limits }: Slot, form: number, k: number): number {
  const low = limits[k - 1] ?? 0;
  const within = (quantiles[form * BLOCK + at] ?? 0) / WHOLE;
  return Math.min(low + Math.floor(((limits[k] ?? 0) - low) * within), WHOLE - 1);
}

/** What the routines that share a quantile, all of them plain, gain by this one. */
function gainOfMates({ plan, scores, shares, at }: Block, { mates }: Slot, u: number): Units {
  let gain = 0;
  for (let n = 0; n < mates.length; n++) {
    const s = mates[n] ?? 0;
    const cell = s * BLOCK + at;
    if (shares[cell] === 0) continue;
    const mate = plan.slots[s] as Slot;
    gain += (mate.scores[pick(mate, u)] ?? 0) - (scores[cell] ?? 0);
  }
  return gain;
}
