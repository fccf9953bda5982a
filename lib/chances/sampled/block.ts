/** Meets drawn together: the scores to come and the totals. */
import type { Entry, Performance } from '../../rules/entry.js';
import type { Units } from '../../score.js';
import { type PartPlan, type Plan, pick, WHOLE } from './plan.js';

/** Meets drawn together. */
export const BLOCK = 256;

/** So many meets as they are drawn, and one of them, the meet at hand, ranked. */
export interface Block {
  readonly plan: Plan;
  /** By slot and meet. */
  readonly scores: Int32Array;
  readonly shares: Uint8Array;
  /** By gymnast who has one to share, and meet. */
  readonly quantiles: Uint32Array;
  /** By entrant and meet. */
  readonly totals: Int32Array;
  /** The place of the meet at hand in the block, and a number that no other has. */
  at: number;
  stamp: number;
  /** Entrants from the best to the worst in the meet at hand, and their totals. */
  readonly order: Int32Array;
  readonly sorted: Int32Array;
  /** By position: the first position of those it shares its place with. */
  readonly first: Int32Array;
  /** By entrant: the meet for which its values, and its entry, are known. */
  readonly valuesOf: Float64Array;
  readonly entryOf: Float64Array;
  readonly values: readonly Float64Array[];
  readonly entries: Entry[];
  readonly performances: readonly Performance[][];
  /** The best scores of a part so far, the highest first. */
  readonly best: Int32Array;
  /** The scores that a supposition took the place of. */
  readonly before: Int32Array;
}

export function emptyBlock(plan: Plan): Block {
  const { model, size, slots, forms, entrants } = plan;
  const counts = entrants.flatMap(({ parts }) => parts.map((p) => p.count));
  return {
    plan,
    scores: new Int32Array(slots.length * BLOCK),
    shares: new Uint8Array(slots.length * BLOCK),
    quantiles: new Uint32Array(forms * BLOCK),
    totals: new Int32Array(size * BLOCK),
    at: 0,
    stamp: 0,
    order: Int32Array.from({ length: size }, (_, i) => i),
    sorted: new Int32Array(size),
    first: new Int32Array(size),
    valuesOf: new Float64Array(size),
    entryOf: new Float64Array(size),
    values: entrants.map(({ decided, parts }) => new Float64Array(decided.length + parts.length)),
    entries: model.entrants.map((e) => e.assumed),
    performances: model.entrants.map((e) => [...e.assumed.performances]),
    best: new Int32Array(Math.max(0, ...counts)),
    before: new Int32Array(slots.length),
  };
}

/** Gives whole random numbers, of which the lowest 32 bits are used. */
export interface Random {
  readonly next: () => number;
}

/** Draws the next meets, routine by routine. */
export function drawBlock(block: Block, random: Random): void {
  drawScores(block, random);
  const { totals, scores } = block;
  for (const [i, { base, parts }] of block.plan.entrants.entries()) {
    const at = i * BLOCK;
    totals.fill(base, at, at + BLOCK);
    for (const part of parts) {
      if (part.kind !== 'sum') {
        for (let m = 0; m < BLOCK; m++)
          totals[at + m] = (totals[at + m] ?? 0) + partAt(block, part, m);
        continue;
      }
      for (const s of part.slots) {
        const from = s * BLOCK;
        for (let m = 0; m < BLOCK; m++) {
          totals[at + m] = (totals[at + m] ?? 0) + (scores[from + m] ?? 0);
        }
      }
    }
  }
}

function drawScores({ plan, scores, shares, quantiles }: Block, random: Random): void {
  const { slots, sampling } = plan;
  const share = Math.sqrt(sampling.dayForm) * WHOLE;
  for (let q = 0; q < quantiles.length; q++) quantiles[q] = random.next();
  for (const [s, slot] of slots.entries()) {
    const { scores: values } = slot;
    const at = s * BLOCK;
    if (slot.form === null) {
      for (let m = 0; m < BLOCK; m++) {
        scores[at + m] = values[pick(slot, random.next() >>> 0)] ?? 0;
      }
      continue;
    }
    const common = slot.form * BLOCK;
    for (let m = 0; m < BLOCK; m++) {
      const own = random.next() >>> 0;
      const shared = random.next() >>> 0 < share;
      shares[at + m] = shared ? 1 : 0;
      scores[at + m] = values[pick(slot, shared ? (quantiles[common + m] ?? 0) : own)] ?? 0;
    }
  }
}

/** The value of a part in a meet. */
export function partAt({ scores, best }: Block, part: PartPlan, m: number): Units {
  const { kind, count, known, slots } = part;
  let sum = 0;
  if (kind !== 'best') {
    for (let k = 0; k < known.length; k++) sum += known[k] ?? 0;
    for (let k = 0; k < slots.length; k++) sum += scores[(slots[k] ?? 0) * BLOCK + m] ?? 0;
    return kind === 'mean' ? Math.floor(sum / 2) : sum;
  }
  let held = 0;
  for (let k = 0; k < known.length + slots.length; k++) {
    const s = slots[k - known.length] ?? 0;
    let score = k < known.length ? (known[k] ?? 0) : (scores[s * BLOCK + m] ?? 0);
    sum += score;
    for (let b = 0; b < held; b++) {
      const less = best[b] ?? 0;
      if (less >= score) continue;
      best[b] = score;
      score = less;
    }
    if (held < count) best[held++] = score;
    else sum -= score;
  }
  return sum;
}
