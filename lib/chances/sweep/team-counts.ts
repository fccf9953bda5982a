/**
 * How many of a field are ahead, each with a chance of its own, when of each team no more count than a
 * quota: of one team a polynomial of that degree, of several the product of theirs. Products stand in a
 * binary tree over the teams, in which a change touches only what is above it; the product without one
 * team is made of what stands beside the way down to it.
 */

export interface TeamCounts {
  /** The chance that somebody is ahead is p from now on. */
  readonly set: (who: number, p: number) => void;
  /**
   * For each of some, by who: the chance that of the others ahead fewer than the places count, and fewer
   * than the quota are of her own team.
   */
  readonly chancesFor: (some: readonly number[], into: Float64Array) => void;
}

export interface Quota {
  readonly places: number;
  readonly quota: number;
}

/** The chances of 0, 1, 2, …, fewer than the places, of several counts one after another. */
interface Products {
  readonly terms: Float64Array;
  readonly lengths: Int32Array;
  readonly room: number;
}

/** At the beginning nobody is ahead. `teams`: by who; null for who is of no team. */
export function teamCounts(
  teams: readonly (string | null)[],
  { places, quota }: Quota,
): TeamCounts {
  const ahead = new Float64Array(teams.length);
  const { teamOf, members } = teamsByNumber(teams);
  let leaves = 1;
  while (leaves < members.length) leaves *= 2;
  // The root is 1, below node n are 2n and 2n + 1, the teams are the leaves.
  const tree = products(2 * leaves, places);
  const changed = new Uint8Array(2 * leaves);
  const wanted = new Uint8Array(2 * leaves);
  // By depth: of all teams that are not below the node there.
  const outside = products(Math.log2(leaves) + 2, places);
  const asked: number[][] = members.map(() => []);
  const own = new Float64Array(quota);

  /** Makes anew what has changed at a node and below it. */
  const renew = (node: number): void => {
    if (changed[node] === 0) return;
    changed[node] = 0;
    if (node < leaves) {
      renew(2 * node);
      renew(2 * node + 1);
      multiply(
        { into: tree, at: node },
        { of: tree, at: 2 * node },
        { of: tree, at: 2 * node + 1 },
      );
      return;
    }
    const hers = members[node - leaves] ?? [];
    // Those beyond the quota count no more; counts of the places and more are left out.
    const length = Math.min(hers.length, quota) + 1;
    const counts = new Float64Array(length);
    counts[0] = 1;
    for (const one of hers) addTo(counts, ahead[one] ?? 0, true);
    tree.lengths[node] = Math.min(length, places);
    tree.terms.set(counts.subarray(0, places), node * places);
  };
  /** Of her own team fewer than the quota are ahead, and of the others few enough. */
  const chanceOf = (who: number, depth: number): number => {
    own.fill(0);
    own[0] = 1;
    for (const one of members[teamOf[who] ?? 0] ?? []) {
      if (one !== who) addTo(own, ahead[one] ?? 0, false);
    }
    let chance = 0;
    const length = outside.lengths[depth] ?? 0;
    for (let k = 0; k < Math.min(quota, places); k++) {
      let few = 0;
      const end = Math.min(length, places - k);
      for (let j = 0; j < end; j++) few += outside.terms[depth * places + j] ?? 0;
      chance += (own[k] ?? 0) * few;
    }
    return chance;
  };
  const goDown = (node: number, depth: number, into: Float64Array): void => {
    wanted[node] = 0;
    if (node >= leaves) {
      const hers = asked[node - leaves] ?? [];
      for (const who of hers) into[who] = chanceOf(who, depth);
      hers.length = 0;
      return;
    }
    for (const child of [2 * node, 2 * node + 1]) {
      if (wanted[child] === 0) continue;
      const next = { into: outside, at: depth + 1 };
      multiply(next, { of: outside, at: depth }, { of: tree, at: child ^ 1 });
      goDown(child, depth + 1, into);
    }
  };
  return {
    set: (who, p) => {
      ahead[who] = p;
      for (let node = leaves + (teamOf[who] ?? 0); node >= 1; node >>= 1) changed[node] = 1;
    },
    chancesFor: (some, into) => {
      renew(1);
      for (const who of some) {
        const team = teamOf[who] ?? 0;
        asked[team]?.push(who);
        for (let node = leaves + team; node >= 1 && wanted[node] === 0; node >>= 1) {
          wanted[node] = 1;
        }
      }
      if (some.length > 0) goDown(1, 0, into);
    },
  };
}

/** Room for so many, in each of which nobody is ahead. */
function products(count: number, room: number): Products {
  const terms = new Float64Array(count * room);
  for (let at = 0; at < count; at++) terms[at * room] = 1;
  return { terms, lengths: new Int32Array(count).fill(1), room };
}

/** The chances of a sum of two independent counts, those there is room for. */
function multiply(
  { into, at }: { readonly into: Products; readonly at: number },
  a: { readonly of: Products; readonly at: number },
  b: { readonly of: Products; readonly at: number },
): void {
  const { terms, lengths, room } = into;
  const [from, fromA, fromB] = [at * room, a.at * room, b.at * room];
  const [lengthA, lengthB] = [a.of.lengths[a.at] ?? 0, b.of.lengths[b.at] ?? 0];
  const length = Math.min(lengthA + lengthB - 1, room);
  terms.fill(0, from, from + length);
  lengths[at] = length;
  for (let i = 0; i < lengthA; i++) {
    const p = a.of.terms[fromA + i] ?? 0;
    if (p === 0) continue;
    const end = Math.min(lengthB, length - i);
    for (let j = 0; j < end; j++) {
      terms[from + i + j] = (terms[from + i + j] ?? 0) + p * (b.of.terms[fromB + j] ?? 0);
    }
  }
}

/** One more who may be ahead: beyond the last count she counts no more, or is left out with it. */
function addTo(counts: Float64Array, p: number, isCut: boolean): void {
  if (p === 0) return;
  const last = counts.length - 1;
  const beyond = isCut ? (counts[last] ?? 0) * p : 0;
  for (let k = last; k > 0; k--) {
    counts[k] = (counts[k] ?? 0) * (1 - p) + (counts[k - 1] ?? 0) * p;
  }
  counts[0] = (counts[0] ?? 0) * (1 - p);
  counts[last] = (counts[last] ?? 0) + beyond;
}

/** Teams by number, with their members; who is of no team is one alone. */
export function teamsByNumber(teams: readonly (string | null)[]) {
  const numbers = new Map<string, number>();
  const members: number[][] = [];
  const teamOf = teams.map((team, who) => {
    const known = team === null ? undefined : numbers.get(team);
    const number = known ?? members.length;
    if (known === undefined) members.push([]);
    if (team !== null) numbers.set(team, number);
    members[number]?.push(who);
    return number;
  });
  return { teamOf, members };
}
