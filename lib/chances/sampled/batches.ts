/** Draws the batches of a sample and counts what happens in them. */
import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';
import { asScore } from '../../score.js';
import { ENDS } from '../stakes.js';
import { countAdvancing, mostAhead } from './advancing.js';
import { BLOCK, type Block, drawBlock, emptyBlock } from './block.js';
import { addOne, addPodium, type SampleCounts } from './counts.js';
import { type DrawnEnd, type Plan, type Slot, WHOLE } from './plan.js';
import { type Comparers, comparersOf, rankMeet } from './ranking.js';
import { compareIf, totalIf } from './supposing.js';

/** Meets of one batch. */
export const BATCH = 4096;

/** Draws the meets of a batch, by its number, as far as the sample goes, and counts them. */
export type CountBatch = (batch: number, counts: SampleCounts) => void;

export function batchCounter(plan: Plan): CountBatch {
  const { sampling, drawsTotals, stakes, asked, podiumMeets, advancing } = plan;
  const block = emptyBlock(plan);
  const comparers = comparersOf(plan.model);
  return (batch, counts) => {
    const random = xoroshiro128plusFromState(stateOf(sampling.seed, batch));
    const before = batch * BATCH;
    const count = Math.min(sampling.sample - before, BATCH);
    const podiums = Math.min(podiumMeets - before, count);
    for (let from = 0; from < count; from += BLOCK) {
      drawBlock(block, random);
      // All of a block is drawn, so that a smaller sample is the beginning of a larger one.
      const meets = Math.min(BLOCK, count - from);
      for (let m = 0; m < meets; m++) {
        rankMeet(block, comparers, m);
        countPlaces(block, counts);
        sampling.onDraw?.(endsOfMeet(block));
        if (from + m < podiums) countPodium(block, counts);
        if (drawsTotals) countTotals(block, counts);
        if (advancing !== null) countAdvancing(block, advancing, counts.advancing);
        if (stakes) countStakes(block, comparers, counts);
        if (asked !== null) countByScore(block, comparers, asked, counts);
      }
    }
    counts.meets += Math.max(count, 0);
    counts.podiumMeets += Math.max(podiums, 0);
  };
}

function endsOfMeet({ plan: { entrants, model }, order, sorted, first }: Block): DrawnEnd[] {
  return Array.from({ length: entrants.length }, (_, k) => ({
    id: model.entrants[order[k] ?? 0]?.contender.id ?? '',
    total: asScore(sorted[k] ?? 0),
    place: (first[k] ?? 0) + 1,
  }));
}

function countPlaces({ plan: { size }, order, first }: Block, { places }: SampleCounts): void {
  for (let k = 0; k < size; k++) addOne(places, (order[k] ?? 0) * size + (first[k] ?? 0));
}

/** Who has which medal. */
function countPodium({ plan, order, first }: Block, counts: SampleCounts): void {
  const sets: number[][] = [];
  for (let k = 0; k < plan.size; k++) {
    if (first[k] !== k) sets.at(-1)?.push(order[k] ?? 0);
    else if (k < plan.model.contest.medals) sets.push([order[k] ?? 0]);
    else break;
  }
  for (const set of sets) set.sort((a, b) => a - b);
  addPodium(counts, sets);
}

function countTotals({ plan, order, sorted }: Block, { totals }: SampleCounts): void {
  const { entrants, offsets } = plan;
  for (let k = 0; k < order.length; k++) {
    const i = order[k] ?? 0;
    addOne(totals, (offsets[i] ?? 0) + (sorted[k] ?? 0) - (entrants[i]?.lowest ?? 0));
  }
}

/** Who would have the title if each routine went badly, and well, all else as it was drawn. */
function countStakes(block: Block, comparers: Comparers, { titles }: SampleCounts): void {
  const { plan, order, sorted, first } = block;
  const { size } = plan;
  for (let k = 0; k < size; k++) {
    const i = order[k] ?? 0;
    // Those who have the title without her.
    const from = k === 0 && first[1] !== 0 ? 1 : 0;
    let to = from;
    while (to < size && first[to] === from) to++;
    const rival = order[from] === i ? from + 1 : from;
    const mark = rival < size ? (sorted[rival] ?? 0) : Number.NEGATIVE_INFINITY;
    const { slots = [], most = 0 } = plan.entrants[i] ?? {};
    const isBehind = plan.forms === 0 && (sorted[k] ?? 0) + most < mark;
    for (const s of slots) {
      for (let end = 0; end < ENDS.length; end++) {
        const cell = (s * ENDS.length + end) * size;
        const score = plan.slots[s]?.ends[end] ?? 0;
        const lead = isBehind ? -1 : totalIf(block, s, score) - mark;
        const against =
          lead === 0 ? compareIf(block, comparers, s, score, order[rival] ?? 0) : -lead;
        if (against <= 0) addOne(titles, cell + i);
        if (against < 0) continue;
        for (let w = from; w < to; w++) if (w !== k) addOne(titles, cell + (order[w] ?? 0));
      }
    }
  }
}

/** The place for every score of one routine, all else as it was drawn. */
function countByScore(
  block: Block,
  comparers: Comparers,
  s: number,
  { byScore, advancingByScore }: SampleCounts,
): void {
  const { plan, order, sorted } = block;
  const { size, advancing } = plan;
  const { entrant, scores } = plan.slots[s] as Slot;
  const position = order.indexOf(entrant);
  const most = advancing === null ? -1 : mostAhead(block, advancing, entrant);
  let last = size - 1;
  for (let k = 0; k < scores.length; k++) {
    const total = totalIf(block, s, k);
    // A higher score never makes a lower total.
    while (last >= 0 && (last === position || (sorted[last] ?? 0) < total)) last--;
    let ahead = position <= last ? last : last + 1;
    let level = 0;
    for (let p = last; p >= 0 && (p === position || sorted[p] === total); p--) {
      if (p === position) continue;
      level++;
      if (compareIf(block, comparers, s, k, order[p] ?? 0) <= 0) ahead--;
    }
    addOne(byScore, k * size + ahead);
    if (advancing === null) continue;
    const better = position <= last ? last - level : last + 1 - level;
    if ((advancing.rules.ties === 'all' ? better : ahead) <= most) addOne(advancingByScore, k);
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
