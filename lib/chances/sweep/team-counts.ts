/**
 * How many of a field are ahead, each with a chance of its own, when of each team no more count than a
 * quota: of one team a polynomial of that degree, of several the product of theirs. Products stand in a
 * binary tree over the teams, in which a change touches only what is above it; without one team the
 * product is what stands beside its way up to the root.
 */

/** The chances of 0, 1, 2, … */
export type Counts = Float64Array;

export interface TeamCounts {
  /** The chance that somebody is ahead is p from now on. */
  readonly set: (who: number, p: number) => void;
  /** By who, for each of some: the chance that fewer than the places count among the others ahead, and fewer than the quota of her own team. */
  readonly chancesFor: (some: readonly number[], into: Float64Array) => void;
}

export interface Quota {
  readonly places: number;
  readonly quota: number;
}

const NOBODY: Counts = Float64Array.of(1);

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
  const nodes = new Array<Counts>(2 * leaves).fill(NOBODY);
  const at = (node: number) => nodes[node] ?? NOBODY;
  const changed = new Set<number>();

  /** Of a team how many are ahead: those beyond the quota count no more. */
  const countsOf = (team: number): Counts => {
    const hers = members[team] ?? [];
    const counts = new Float64Array(Math.min(hers.length, quota) + 1);
    counts[0] = 1;
    for (const one of hers) addTo(counts, ahead[one] ?? 0, true);
    return counts;
  };
  const flush = (): void => {
    let above = new Set<number>();
    for (const team of changed) {
      nodes[leaves + team] = countsOf(team);
      if (leaves > 1) above.add((leaves + team) >> 1);
    }
    changed.clear();
    while (above.size > 0) {
      const next = new Set<number>();
      for (const node of above) {
        nodes[node] = sumOf(at(2 * node), at(2 * node + 1), places);
        if (node > 1) next.add(node >> 1);
      }
      above = next;
    }
  };
  /** Of her own team fewer than the quota are ahead, and of the others few enough. */
  const chanceOf = (who: number, others: Counts): number => {
    const own = new Float64Array(quota);
    own[0] = 1;
    for (const one of members[teamOf[who] ?? 0] ?? []) {
      if (one !== who) addTo(own, ahead[one] ?? 0, false);
    }
    let chance = 0;
    for (let k = 0; k < Math.min(quota, places); k++) {
      let few = 0;
      const end = Math.min(others.length, places - k);
      for (let j = 0; j < end; j++) few += others[j] ?? 0;
      chance += (own[k] ?? 0) * few;
    }
    return chance;
  };
  return {
    set: (who, p) => {
      ahead[who] = p;
      changed.add(teamOf[who] ?? 0);
    },
    chancesFor: (some, into) => {
      flush();
      const asked = new Map<number, number[]>();
      for (const who of some) {
        const team = teamOf[who] ?? 0;
        const before = asked.get(team);
        if (before === undefined) asked.set(team, [who]);
        else before.push(who);
      }
      const wanted = new Uint8Array(2 * leaves);
      for (const team of asked.keys()) {
        for (let node = leaves + team; node >= 1; node >>= 1) wanted[node] = 1;
      }
      /** `outside`: of all teams that are not below the node. */
      const goDown = (node: number, outside: Counts): void => {
        if (wanted[node] === 0) return;
        if (node >= leaves) {
          for (const who of asked.get(node - leaves) ?? []) into[who] = chanceOf(who, outside);
          return;
        }
        const [left, right] = [2 * node, 2 * node + 1];
        if (wanted[left] === 1) goDown(left, sumOf(outside, at(right), places));
        if (wanted[right] === 1) goDown(right, sumOf(outside, at(left), places));
      };
      goDown(1, NOBODY);
    },
  };
}

/** One more who may be ahead: beyond the last count she counts no more, or is left out with it. */
function addTo(counts: Counts, p: number, isCut: boolean): void {
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

/** The chances of a sum of two independent counts, those of fewer than `places`. */
function sumOf(a: Counts, b: Counts, places: number): Counts {
  if (a.length === 1 && a[0] === 1) return b;
  if (b.length === 1 && b[0] === 1) return a;
  const sum = new Float64Array(Math.min(a.length + b.length - 1, places));
  for (let i = 0; i < Math.min(a.length, places); i++) {
    const p = a[i] ?? 0;
    if (p === 0) continue;
    const end = Math.min(b.length, places - i);
    for (let j = 0; j < end; j++) sum[i + j] = (sum[i + j] ?? 0) + p * (b[j] ?? 0);
  }
  return sum;
}
