/**
 * Everyone's results as one stream, the best first, in groups: of those in one group either all share
 * their place, or nobody knows their order. Groups of the second kind hold neighbours together as long
 * as they are unlikely, since half of what is in one is all that can be wrong (docs/model.md, "Groups").
 */
import type { Unresolved } from './results/order.js';
import { type Results, sortResults } from './results/results.js';

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
  const { pairs, bits } = sortResults(all);
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
 * The same where the order of those on a rank may not be known, with neighbouring ranks together as long
 * as they are no likelier than about `share`.
 */
export function unresolvedGroups(
  all: readonly Results[],
  size: number,
  ties: Pick<Unresolved, 'ranks' | 'isShared'>,
  share: number,
): TieGroups {
  const { groupOf, isShared } = neighbourGroups(all.slice(0, size), ties, share);
  const count = isShared.length;
  const room = new Float64Array(count);
  const found = all.map((one) => byGroup(one, groupOf, room));
  const starts = new Int32Array(count + 1);
  for (const { groups } of found) {
    for (let n = 0; n < groups.length; n++) {
      const g = (groups[n] ?? 0) + 1;
      starts[g] = (starts[g] ?? 0) + 1;
    }
  }
  for (let g = 1; g <= count; g++) starts[g] = (starts[g] ?? 0) + (starts[g - 1] ?? 0);
  const who = new Int32Array(starts[count] ?? 0);
  const chances = new Float64Array(starts[count] ?? 0);
  // By group: where its next member goes.
  const next = starts.slice();
  for (const [i, one] of found.entries()) {
    for (let n = 0; n < one.groups.length; n++) {
      const g = one.groups[n] ?? 0;
      const at = next[g] ?? 0;
      next[g] = at + 1;
      who[at] = i;
      chances[at] = one.chances[n] ?? 0;
    }
  }
  // Nobody's order with herself is in question.
  for (let g = 0; g < count; g++) {
    if ((starts[g + 1] ?? 0) - (starts[g] ?? 0) === 1) isShared[g] = 1;
  }
  const ahead = passed({ who, chances }, all.length);
  return { size, members: all.length, starts, who, chances, ahead, isShared };
}

/**
 * By rank: its group; neighbouring ranks are in one as long as that stays unlikely. By group: whether it
 * is of one rank, and that is shared.
 */
function neighbourGroups(
  all: readonly Results[],
  { ranks, isShared: isSharedAt }: Pick<Unresolved, 'ranks' | 'isShared'>,
  share: number,
): { groupOf: Int32Array; isShared: Uint8Array } {
  const masses = new Float64Array(ranks);
  for (const one of all) {
    for (let k = 0; k < one.ranks.length; k++) {
      const rank = one.ranks[k] ?? 0;
      masses[rank] = (masses[rank] ?? 0) + (one.chances[k] ?? 0);
    }
  }
  const spreads = spreadsBySlice(all, ranks);
  const groupOf = new Int32Array(ranks);
  const isShared: number[] = [];
  let sum = 0;
  for (let rank = 0; rank < ranks; rank++) {
    const mass = masses[rank] ?? 0;
    const limit = share * (spreads[Math.floor((rank / ranks) * SLICES)] ?? 1);
    if (mass > 0 && (isShared.length === 0 || sum + mass > limit)) {
      isShared.push(isSharedAt(rank) ? 1 : 0);
      sum = 0;
    } else if (mass > 0) isShared[isShared.length - 1] = 0;
    sum += mass;
    groupOf[rank] = Math.max(isShared.length - 1, 0);
  }
  return { groupOf, isShared: Uint8Array.from(isShared) };
}

/** Ranks in so many slices, each as many of them. */
const SLICES = 512;

/**
 * The reciprocal of about the likeliest number of those ahead of each slice: with a variance V of that
 * number no single one is likelier than about 1/√(1 + 2πV), and no more can one rival change.
 */
function spreadsBySlice(all: readonly Results[], ranks: number): Float64Array {
  const variances = new Float64Array(SLICES);
  const scale = SLICES / ranks;
  const slices = new Float64Array(SLICES);
  for (const one of all) {
    slices.fill(0);
    for (let k = 0; k < one.ranks.length; k++) {
      const slice = Math.floor((one.ranks[k] ?? 0) * scale);
      slices[slice] = (slices[slice] ?? 0) + (one.chances[k] ?? 0);
    }
    let ahead = 0;
    for (let slice = 0; slice < SLICES; slice++) {
      variances[slice] = (variances[slice] ?? 0) + ahead * Math.max(1 - ahead, 0);
      ahead += slices[slice] ?? 0;
    }
  }
  return variances.map((variance) => Math.sqrt(1 + 2 * Math.PI * variance));
}

/** The groups in which a member has results, in order, and its chances there. */
interface ByGroup {
  readonly groups: Int32Array;
  readonly chances: Float64Array;
}

/** `sums`: room by group, which is all 0 and left so. */
function byGroup({ ranks, chances }: Results, groupOf: Int32Array, sums: Float64Array): ByGroup {
  let [first, last] = [sums.length, -1];
  for (let k = 0; k < ranks.length; k++) {
    const group = groupOf[ranks[k] ?? 0] ?? sums.length - 1;
    sums[group] = (sums[group] ?? 0) + (chances[k] ?? 0);
    if (group < first) first = group;
    if (group > last) last = group;
  }
  const groups = new Int32Array(Math.max(last - first + 1, 0));
  const found = new Float64Array(groups.length);
  let count = 0;
  for (let group = first; group <= last; group++) {
    const chance = sums[group] ?? 0;
    if (chance === 0) continue;
    sums[group] = 0;
    groups[count] = group;
    found[count++] = chance;
  }
  return { groups: groups.subarray(0, count), chances: found.subarray(0, count) };
}
