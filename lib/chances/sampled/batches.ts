/** Draws the batches of a sample and counts what happens in them. */
import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';
import { ENDS } from '../stakes.js';
import { countAdvancing, mostAhead } from './advancing.js';
import { BLOCK, type Block, drawBlock, emptyBlock } from './block.js';
import { addOne, countPath, type SampleCounts } from './counts.js';
import { type Plan, type Slot, WHOLE } from './plan.js';
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

function countPlaces({ plan: { size }, order, first }: Block, { places }: SampleCounts): void {
  for (let k = 0; k < size; k++) addOne(places, (order[k] ?? 0) * size + (first[k] ?? 0));
}

/** Who has which medal. */
function countPodium({ plan, order, first }: Block, { podiums }: SampleCounts): void {
  const { size, model } = plan;
  const steps: number[] = [];
  for (let from = 0; from < size && from < model.contest.medals; ) {
    let to = from + 1;
    while (to < size && first[to] === from) to++;
    if (to > from + 1) order.subarray(from, to).sort();
    for (let k = from; k < to; k++) steps.push(2 * (order[k] ?? 0) + (k > from ? 1 : 0));
    from = to;
  }
  countPath(podiums, size, steps);
}

function countTotals({ plan, order, sorted }: Block, { totals }: SampleCounts): void {
  const { entrants, offsets } = plan;
  for (let k = 0; k < order.length; k++) {
    const i = order[k] ?? 0;
    addOne(totals, (offsets[i] ?? 0) + (sorted[k] ?? 0) - (entrants[i]?.lowest ?? 0));
  }
}

/** Who would have the title if each routine went badly, and well, all else as it was drawn. */
function countStakes(block: Block, comparers: Comparers, counts: SampleCounts): void {
  const { plan, order, sorted, first } = block;
  const { size, entrants, forms } = plan;
  if (size === 0) return;
  let winners = 1;
  while (winners < size && first[winners] === 0) winners++;
  let heirs = winners;
  while (heirs < size && first[heirs] === winners) heirs++;
  const best = order[0] ?? 0;
  if (winners === 1) {
    for (let k = 1; k < heirs; k++) addOne(counts.inherited, best * size + (order[k] ?? 0));
  }
  for (let k = 0; k < size; k++) {
    const i = order[k] ?? 0;
    const { slots = [], most = 0 } = entrants[i] ?? {};
    if (slots.length === 0) continue;
    // Those who have the title without her.
    const alone = k === 0 && winners === 1;
    const from = alone ? 1 : 0;
    const mark = from < size ? (sorted[from] ?? 0) : Number.NEGATIVE_INFINITY;
    if (forms === 0 && (sorted[k] ?? 0) + most < mark) continue;
    const rival = order[from] === i ? (order[from + 1] ?? 0) : (order[from] ?? 0);
    for (const s of slots) {
      countStake(block, comparers, counts, { s, mark, rival, from, to: alone ? heirs : winners });
    }
  }
}

/** A routine, the total and one of those, from one position up to another, who have the title without its entrant. */
interface TitleStake {
  readonly s: number;
  readonly mark: number;
  readonly rival: number;
  readonly from: number;
  readonly to: number;
}

function countStake(
  block: Block,
  comparers: Comparers,
  { won, taken }: SampleCounts,
  { s, mark, rival, from, to }: TitleStake,
): void {
  const { plan, order } = block;
  const { ends } = plan.slots[s] as Slot;
  for (let end = ENDS.length - 1; end >= 0; end--) {
    const score = ends[end] ?? 0;
    const total = totalIf(block, s, score);
    // What is not enough at the better end is not enough at the worse one.
    if (total < mark) return;
    const against = total > mark ? -1 : compareIf(block, comparers, s, score, rival);
    if (against > 0) continue;
    const cell = s * ENDS.length + end;
    addOne(won, cell);
    if (against === 0) continue;
    for (let w = from; w < to; w++) addOne(taken, cell * plan.size + (order[w] ?? 0));
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
