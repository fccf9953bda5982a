/** Draws the batches of a sample and counts what happens in them. */
import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';
import { ENDS } from '../stakes.js';
import { BLOCK, Drawn } from './drawn.js';
import { type Plan, WHOLE } from './draws.js';
import type { Tally } from './tally.js';

/** Meets of one batch. */
export const BATCH = 4096;

export class Sampler {
  private readonly drawn: Drawn;

  constructor(private readonly plan: Plan) {
    this.drawn = new Drawn(plan);
  }

  /** Draws the meets of a batch, as far as the sample goes, and counts them. */
  drawBatch(batch: number, tally: Tally): void {
    const { sampling, drawsTotals, stakes, asked, podiumMeets } = this.plan;
    const { drawn } = this;
    const random = xoroshiro128plusFromState(stateOf(sampling.seed, batch));
    const before = batch * BATCH;
    const count = Math.min(sampling.sample - before, BATCH);
    const podiums = Math.min(podiumMeets - before, count);
    for (let from = 0; from < count; from += BLOCK) {
      drawn.draw(random);
      // All of a block is drawn, so that a smaller sample is the beginning of a larger one.
      const meets = Math.min(BLOCK, count - from);
      for (let m = 0; m < meets; m++) {
        drawn.rank(m);
        this.countPlaces(tally);
        if (from + m < podiums) this.countPodium(tally);
        if (drawsTotals) this.countTotals(tally);
        if (stakes) this.countStakes(tally);
        if (asked !== null) this.countByScore(asked, tally);
      }
    }
    tally.meets += Math.max(count, 0);
    tally.podiumMeets += Math.max(podiums, 0);
  }

  private countPlaces({ places }: Tally): void {
    const { order, first } = this.drawn;
    const { size } = this.plan;
    for (let k = 0; k < size; k++) places[order[k]! * size + first[k]!]!++;
  }

  /** Who has which medal. */
  private countPodium(tally: Tally): void {
    const { order, first } = this.drawn;
    const { size, race } = this.plan;
    let node = 0;
    for (let from = 0; from < size && from < race.contest.medals; ) {
      let to = from + 1;
      while (to < size && first[to] === from) to++;
      if (to > from + 1) order.subarray(from, to).sort();
      for (let k = from; k < to; k++) {
        node = tally.nodeAfter(node, 2 * order[k]! + (k > from ? 1 : 0));
      }
      from = to;
    }
    tally.reached[node]!++;
  }

  private countTotals({ totals }: Tally): void {
    const { runners, offsets } = this.plan;
    const { order, sorted } = this.drawn;
    for (let k = 0; k < order.length; k++) {
      const i = order[k]!;
      totals[offsets[i]! + sorted[k]! - runners[i]!.lowest]!++;
    }
  }

  /** Who would have the title if each routine went badly, and well, all else as it was drawn. */
  private countStakes({ won, taken, inherited }: Tally): void {
    const { order, sorted, first } = this.drawn;
    const { size, runners, slots, forms } = this.plan;
    if (size === 0) return;
    let winners = 1;
    while (winners < size && first[winners] === 0) winners++;
    let heirs = winners;
    while (heirs < size && first[heirs] === winners) heirs++;
    if (winners === 1) {
      for (let k = 1; k < heirs; k++) inherited[order[0]! * size + order[k]!]!++;
    }
    for (let k = 0; k < size; k++) {
      const i = order[k]!;
      const { slots: hers, most } = runners[i]!;
      if (hers.length === 0) continue;
      // Those who have the title without her.
      const alone = k === 0 && winners === 1;
      const from = alone ? 1 : 0;
      const to = alone ? heirs : winners;
      const mark = from < size ? sorted[from]! : Number.NEGATIVE_INFINITY;
      if (forms === 0 && sorted[k]! + most < mark) continue;
      const rival = order[from]! === i ? order[from + 1]! : order[from]!;
      for (const s of hers) {
        for (let end = ENDS.length - 1; end >= 0; end--) {
          const score = slots[s]!.ends[end]!;
          const total = this.drawn.totalIf(s, score);
          // What is not enough at the better end is not enough at the worse one.
          if (total < mark) break;
          const against = total > mark ? -1 : this.drawn.compareIf(s, score, rival);
          if (against > 0) continue;
          const cell = s * ENDS.length + end;
          won[cell]!++;
          if (against === 0) continue;
          for (let w = from; w < to; w++) taken[cell * size + order[w]!]!++;
        }
      }
    }
  }

  /** The place for every score of one routine, all else as it was drawn. */
  private countByScore(s: number, { byScore }: Tally): void {
    const { order, sorted } = this.drawn;
    const { size, slots } = this.plan;
    const { runner, scores } = slots[s]!;
    const position = order.indexOf(runner);
    let last = size - 1;
    for (let k = 0; k < scores.length; k++) {
      const total = this.drawn.totalIf(s, k);
      // A higher score never makes a lower total.
      while (last >= 0 && (last === position || sorted[last]! < total)) last--;
      let ahead = position <= last ? last : last + 1;
      for (let p = last; p >= 0 && (p === position || sorted[p] === total); p--) {
        if (p !== position && this.drawn.compareIf(s, k, order[p]!) <= 0) ahead--;
      }
      byScore[k * size + ahead]!++;
    }
  }
}

/** The state of four words from which the random numbers of a batch follow. */
function stateOf(seed: number, batch: number): number[] {
  const words = [seed % WHOLE, Math.floor(seed / WHOLE), batch];
  return [1, 2, 3, 4].map((n) => {
    let h = mixed(Math.imul(n, 0x9e3779b9));
    for (const word of words) h = mixed(h ^ mixed((word | 0) + Math.imul(n, 0x85ebca6b)));
    return n === 4 ? h | 1 : h;
  });
}

/** Every bit depends on every bit (the finaliser of MurmurHash3). */
function mixed(word: number): number {
  let h = word | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
