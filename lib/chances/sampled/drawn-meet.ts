/** One meet of a sample: the scores to come, the totals, and the order; and what would have been with another score. */
import type { Performance } from '../../rules/entry.js';
import type { Units } from '../../score.js';
import { type Plan, pick, type Slot, WHOLE } from './plan.js';

/** Compares two entrants on equal totals. Below 0: the first is ahead; 0: a rule leaves them level. */
export type Comparer = (meet: DrawnMeet, i: number, j: number) => number;

/** The meet at hand, drawn and ranked. */
export interface DrawnMeet {
  readonly plan: Plan;
  /** By tie rule. */
  readonly comparers: readonly Comparer[];
  /** By slot: its score as it was drawn, or for a while as it is supposed to be. */
  readonly drawn: Int32Array;
  readonly scores: Int32Array;
  /** By slot: whether it comes from the quantile that its gymnast shares. */
  readonly isShared: Uint8Array;
  /** By gymnast who has one to share. */
  readonly quantiles: Uint32Array;
  /** By entrant. */
  readonly totals: Int32Array;
  /** Entrants from the best to the worst, and their totals. */
  readonly order: Int32Array;
  readonly sorted: Int32Array;
  /** By position: the first position of those it shares its place with. */
  readonly first: Int32Array;
  /** By entrant: the values of its parts, the lowest first, and whether they are those of this meet. */
  readonly values: readonly Float64Array[];
  readonly isValued: Uint8Array;
  /** By entrant: where a rule looks at whole routines, they are put in here. */
  readonly performances: readonly Performance[][];
}

export function emptyMeet(plan: Plan, comparers: readonly Comparer[]): DrawnMeet {
  const { model, size, slots, forms, entrants } = plan;
  return {
    plan,
    comparers,
    drawn: new Int32Array(slots.length),
    scores: new Int32Array(slots.length),
    isShared: new Uint8Array(slots.length),
    quantiles: new Uint32Array(forms),
    totals: new Int32Array(size),
    order: Int32Array.from({ length: size }, (_, i) => i),
    sorted: new Int32Array(size),
    first: new Int32Array(size),
    values: entrants.map(({ decided, worths }) => new Float64Array(decided.length + worths.length)),
    isValued: new Uint8Array(size),
    performances: model.entrants.map((e) => [...e.assumed.performances]),
  };
}

/** Gives whole random numbers, of which the lowest 32 bits are used. */
export interface Random {
  readonly next: () => number;
}

/** Draws the next meet, routine by routine. */
export function drawMeet(meet: DrawnMeet, random: Random): void {
  const { plan, drawn, scores, isShared, quantiles, totals } = meet;
  const share = Math.sqrt(plan.sampling.dayForm) * WHOLE;
  for (let q = 0; q < quantiles.length; q++) quantiles[q] = random.next();
  for (let s = 0; s < drawn.length; s++) {
    const slot = plan.slots[s] as Slot;
    let u = random.next() >>> 0;
    if (slot.form !== null) {
      isShared[s] = random.next() >>> 0 < share ? 1 : 0;
      if (isShared[s] === 1) u = quantiles[slot.form] ?? 0;
    }
    drawn[s] = slot.scores[pick(slot, u)] ?? 0;
  }
  scores.set(drawn);
  for (let i = 0; i < totals.length; i++) totals[i] = totalNow(meet, i);
  meet.isValued.fill(0);
}

/** What an entrant has with the scores as they are. */
export function totalNow({ plan, scores }: DrawnMeet, i: number): Units {
  const entrant = plan.entrants[i];
  let total = entrant?.fixed ?? 0;
  for (const worth of entrant?.worths ?? []) total += worth(scores);
  return total;
}

/**
 * Supposes that a routine had the score of an index, and all else was as it was drawn. If the routine shares its
 * gymnast's quantile, that is then one which means this score, and what else shares it follows.
 */
export function suppose(
  { plan, scores, isShared, isValued, quantiles }: DrawnMeet,
  s: number,
  k: number,
) {
  const slot = plan.slots[s] as Slot;
  scores[s] = slot.scores[k] ?? 0;
  isValued[slot.entrant] = 0;
  if (slot.form === null) return;
  const low = slot.limits[k - 1] ?? 0;
  const within = (quantiles[slot.form] ?? 0) / WHOLE;
  const u = Math.min(low + Math.floor(((slot.limits[k] ?? 0) - low) * within), WHOLE - 1);
  for (const mate of slot.mates) {
    const other = plan.slots[mate] as Slot;
    if (isShared[s] === 1 && isShared[mate] === 1) scores[mate] = other.scores[pick(other, u)] ?? 0;
  }
}

/** Takes suppositions of one routine back. */
export function takeBack({ plan, drawn, scores, isValued }: DrawnMeet, s: number): void {
  const slot = plan.slots[s] as Slot;
  scores[s] = drawn[s] ?? 0;
  for (const mate of slot.mates) scores[mate] = drawn[mate] ?? 0;
  isValued[slot.entrant] = 0;
}
