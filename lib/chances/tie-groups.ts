/**
 * Everyone's results as one stream, the best first, in groups: of those in one group either all share
 * their place, or nobody knows their order. Groups of the second kind hold neighbours together as long
 * as they are unlikely, since half of what is in one is all that can be wrong (docs/model.md, "Groups").
 */
import { inKeyOrder, sortRanks } from '../range/digits.js';
import type { Results } from '../range/rank-scale.js';
import { isAllTold, sharedKeys } from './results/coarse.js';
import { type CoarseResults, chancesByGroup, massesOf, spreadsOf } from './results/placed.js';

export interface TieGroups {
  /** How many entrants there are; a member of that number and above is one of the conditioned. */
  readonly size: number;
  readonly members: number;
  /** By group: where its members begin; and where the last ones end. */
  readonly starts: Int32Array;
  readonly who: Int32Array;
  readonly chances: Float64Array;
  /** The chance of all results that a member has passed with those in the group. */
  readonly ahead: Float64Array;
  /** By group: 1 where its members share their place, 0 where their order is not known. */
  readonly isShared: Uint8Array;
}

/** Groups of results on one rank, which share their place: of so many entrants, and conditioned ones. */
export function sharedGroups(all: readonly Results[], size: number): TieGroups {
  const { pairs, bits } = sortRanks(all);
  const members = 1 << bits;
  const starts = new Int32Array(pairs.length / 2 + 1);
  const who = new Int32Array(pairs.length / 2);
  const chances = new Float64Array(pairs.length / 2);
  let count = 0;
  let groups = 0;
  let rank = -1;
  for (let k = 0; k < pairs.length; k += 2) {
    const both = pairs[k] ?? 0;
    const here = Math.floor(both / members);
    const i = both - here * members;
    const chance = pairs[k + 1] ?? 0;
    if (here === rank && who[count - 1] === i) {
      chances[count - 1] = (chances[count - 1] ?? 0) + chance;
      continue;
    }
    if (here !== rank) starts[groups++] = count;
    rank = here;
    who[count] = i;
    chances[count++] = chance;
  }
  starts[groups] = count;
  const found = {
    starts: starts.subarray(0, groups + 1),
    who: who.subarray(0, count),
    chances: chances.subarray(0, count),
    isShared: new Uint8Array(groups).fill(1),
  };
  return { size, members: all.length, ...found, ahead: passed(found, all.length) };
}

/** What members have passed: after their last results all that they have, whatever rounding says. */
function passed(
  { who, chances }: Pick<TieGroups, 'who' | 'chances'>,
  members: number,
): Float64Array {
  const sums = new Float64Array(members);
  const lasts = new Int32Array(members).fill(-1);
  const ahead = new Float64Array(who.length);
  for (let k = 0; k < who.length; k++) {
    const i = who[k] ?? 0;
    const sum = Math.min((sums[i] ?? 0) + (chances[k] ?? 0), BELOW_ONE);
    sums[i] = sum;
    ahead[k] = sum;
    lasts[i] = k;
  }
  for (const k of lasts) ahead[k] = 1;
  return ahead;
}

/** The highest number below 1. */
const BELOW_ONE = 1 - Number.EPSILON / 2;

/**
 * Groups where the order of those on a rank may not be known, with neighbouring ranks together as long as they
 * are no likelier than about `share`.
 */
export function unresolvedGroups(results: CoarseResults, share: number): TieGroups {
  const { ranks, isShared } = neighbourGroups(results, isAllTold(results.order) ? 0 : share);
  const count = ranks.length;
  const found = chancesByGroup(results, ranks);
  const size = found.reduce((n, { groups }) => n + groups.length, 0);
  const groups = new Int32Array(size);
  let from = 0;
  for (const one of found) {
    groups.set(one.groups, from);
    from += one.groups.length;
  }
  const { starts, places } = inKeyOrder(groups, count);
  const who = new Int32Array(size);
  const chances = new Float64Array(size);
  let item = 0;
  for (const [i, one] of found.entries()) {
    for (let n = 0; n < one.groups.length; n++) {
      const place = places[item++] ?? 0;
      who[place] = i;
      chances[place] = one.chances[n] ?? 0;
    }
  }
  // Nobody's order with herself is in question.
  for (let g = 0; g < count; g++) {
    if ((starts[g + 1] ?? 0) - (starts[g] ?? 0) === 1) isShared[g] = 1;
  }
  const members = found.length;
  const ahead = passed({ who, chances }, members);
  return { size: results.entrants.length, members, starts, who, chances, ahead, isShared };
}

/** At which rank each group begins, the last one behind all, and whether it is of one rank only, and that is shared. */
function neighbourGroups(
  results: CoarseResults,
  share: number,
): { ranks: Float64Array; isShared: Uint8Array } {
  const { order, scale } = results;
  const masses = massesOf(results);
  const spreads = share > 0 ? spreadsOf(results) : [];
  const shared = sharedKeys(order);
  const ranks: number[] = [];
  const isShared: number[] = [];
  let sum = 0;
  for (let rank = 0; rank < masses.length; rank++) {
    const mass = masses[rank] ?? 0;
    if (mass === 0) continue;
    const limit = share * (spreads[Math.floor(rank / scale.keys)] ?? 1);
    if (ranks.length === 0 || sum + mass > limit) {
      ranks.push(rank);
      isShared.push(shared[rank % order.count] ?? 0);
      sum = 0;
    } else isShared[isShared.length - 1] = 0;
    sum += mass;
  }
  // Behind all of them is what is not asked about.
  ranks.push(masses.length);
  isShared.push(0);
  return { ranks: Float64Array.from(ranks), isShared: Uint8Array.from(isShared) };
}
