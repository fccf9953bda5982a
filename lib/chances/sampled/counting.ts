/** Counts what is so in the meet at hand. */
import type { Units } from '../../score.js';
import { ENDS } from '../stakes.js';
import { countAdvancing, mostAhead } from './advancing.js';
import { addOne, addPodium, type SampleCounts } from './counts.js';
import { type DrawnMeet, suppose, takeBack, totalNow } from './drawn-meet.js';
import type { Slot } from './plan.js';
import { compare } from './ranking.js';

/** Counts a meet that is ranked. */
export function countMeet(meet: DrawnMeet, counts: SampleCounts): void {
  const { drawsTotals, stakes, asked, podiumMeets, advancing } = meet.plan;
  countPlaces(meet, counts);
  if (counts.meets < podiumMeets) countPodium(meet, counts);
  if (drawsTotals) countTotals(meet, counts);
  if (advancing !== null) countAdvancing(meet, advancing, counts.advancing);
  if (stakes) countStakes(meet, counts);
  if (asked !== null) countByScore(meet, asked, counts);
  counts.meets++;
}

function countPlaces({ plan: { size }, order, first }: DrawnMeet, { places }: SampleCounts): void {
  for (let k = 0; k < size; k++) addOne(places, (order[k] ?? 0) * size + (first[k] ?? 0));
}

/** Who has which medal. */
function countPodium({ plan, order, first }: DrawnMeet, counts: SampleCounts): void {
  const sets: number[][] = [];
  for (let k = 0; k < plan.size; k++) {
    if (first[k] !== k) sets.at(-1)?.push(order[k] ?? 0);
    else if (k < plan.model.contest.medals) sets.push([order[k] ?? 0]);
    else break;
  }
  for (const set of sets) set.sort((a, b) => a - b);
  addPodium(counts, sets);
  counts.podiumMeets++;
}

function countTotals({ plan, order, sorted }: DrawnMeet, { totals }: SampleCounts): void {
  const { entrants, offsets } = plan;
  for (let k = 0; k < order.length; k++) {
    const i = order[k] ?? 0;
    addOne(totals, (offsets[i] ?? 0) + (sorted[k] ?? 0) - (entrants[i]?.lowest ?? 0));
  }
}

/** Who would have the title if each routine went badly, and well, all else as it was drawn. */
function countStakes(meet: DrawnMeet, { titles }: SampleCounts): void {
  const { plan, order, sorted, first } = meet;
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
    const isBehind = (sorted[k] ?? 0) + most < mark;
    for (const s of slots) {
      for (let end = 0; end < ENDS.length; end++) {
        const cell = (s * ENDS.length + end) * size;
        const score = plan.slots[s]?.ends[end] ?? 0;
        const against = isBehind ? 1 : againstIf(meet, s, score, mark, order[rival] ?? 0);
        if (against <= 0) addOne(titles, cell + i);
        if (against < 0) continue;
        for (let w = from; w < to; w++) if (w !== k) addOne(titles, cell + (order[w] ?? 0));
      }
    }
  }
}

/** Below 0: with the score of an index she is ahead of a rival with this total; 0: they are level. */
function againstIf(meet: DrawnMeet, s: number, k: number, mark: Units, rival: number): number {
  const her = meet.plan.slots[s]?.entrant ?? 0;
  suppose(meet, s, k);
  const behind = mark - totalNow(meet, her);
  const against = behind === 0 ? compare(meet, her, rival) : behind;
  takeBack(meet, s);
  return against;
}

/** The place for every score of one routine, all else as it was drawn. */
function countByScore(
  meet: DrawnMeet,
  s: number,
  { byScore, advancingByScore }: SampleCounts,
): void {
  const { plan, order, sorted } = meet;
  const { size, advancing } = plan;
  const { entrant, scores } = plan.slots[s] as Slot;
  const position = order.indexOf(entrant);
  const most = advancing === null ? -1 : mostAhead(meet, advancing, entrant);
  let last = size - 1;
  for (let k = 0; k < scores.length; k++) {
    suppose(meet, s, k);
    const total = totalNow(meet, entrant);
    // A higher score never makes a lower total.
    while (last >= 0 && (last === position || (sorted[last] ?? 0) < total)) last--;
    let ahead = position <= last ? last : last + 1;
    let level = 0;
    for (let p = last; p >= 0 && (p === position || sorted[p] === total); p--) {
      if (p === position) continue;
      level++;
      if (compare(meet, entrant, order[p] ?? 0) <= 0) ahead--;
    }
    addOne(byScore, k * size + ahead);
    if (advancing === null) continue;
    const better = position <= last ? last - level : last + 1 - level;
    if ((advancing.rules.ties === 'all' ? better : ahead) <= most) addOne(advancingByScore, k);
  }
  takeBack(meet, s);
}
