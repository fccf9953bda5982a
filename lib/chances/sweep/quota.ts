/**
 * Whether somebody goes on under a quota: fewer than `perTeam` of her own team are ahead of her, and of
 * all who are ahead fewer than `places` count, of each team no more than `perTeam`. Everyone is ahead
 * with a chance of her own, so that the teams are independent: how many of a team count is a polynomial
 * of degree `perTeam`, and how many of all the other teams together the product of theirs. The products
 * stand in a binary tree, in which one team's change touches only what is above it.
 */
import type { AdvanceRules } from '../../meet/meet.js';
import type { AheadCount, AheadCounter, CountSums } from './ahead.js';

/** The chances of 0, 1, 2, … */
type Counts = Float64Array;

const NOBODY: Counts = Float64Array.of(1);

/**
 * Adds the chance that she goes on to the first place of her row, where the plain count adds that nobody
 * is ahead. `teams`: by entrant; null for who is of no team, and keeps nobody else out.
 */
export function quotaCounter(
  { places, perTeam }: Pick<AdvanceRules, 'places'> & { readonly perTeam: number },
  teams: readonly (string | null)[],
): AheadCounter {
  return (size: number, { sums, bounds }: CountSums): AheadCount => {
    const ahead = new Float64Array(size);
    const { teamOf, members } = teamsByNumber(teams);
    const all = productsOf(members.length, places);
    const changed = new Set<number>();

    const flush = (): void => {
      for (const team of changed) {
        all.set(team, countsAmong(members[team] ?? [], -1, perTeam, true));
      }
      changed.clear();
    };
    /** How many of some are ahead, up to `most`: with those beyond in the last count, or left out. */
    function countsAmong(some: readonly number[], but: number, most: number, isCut: boolean) {
      const counts = new Float64Array(Math.min(some.length, most) + 1);
      counts[0] = 1;
      const last = counts.length - 1;
      for (const one of some) {
        const p = one === but ? 0 : (ahead[one] ?? 0);
        if (p === 0) continue;
        const beyond = isCut ? (counts[last] ?? 0) * p : 0;
        for (let k = last; k > 0; k--) {
          counts[k] = (counts[k] ?? 0) * (1 - p) + (counts[k - 1] ?? 0) * p;
        }
        counts[0] = (counts[0] ?? 0) * (1 - p);
        counts[last] = (counts[last] ?? 0) + beyond;
      }
      return counts;
    }
    const goesOn = (who: number): number => {
      flush();
      const team = teamOf[who] ?? 0;
      const others = all.without(team);
      const own = countsAmong(members[team] ?? [], who, perTeam - 1, false);
      let chance = 0;
      for (let k = 0; k < Math.min(own.length, places); k++) {
        let fewEnough = 0;
        const end = Math.min(others.length, places - k);
        for (let j = 0; j < end; j++) fewEnough += others[j] ?? 0;
        chance += (own[k] ?? 0) * fewEnough;
      }
      return chance;
    };
    const set = (who: number, p: number): void => {
      ahead[who] = p;
      changed.add(teamOf[who] ?? 0);
    };
    const addOthers = (who: number, at: number, weight: number, bound: number): void => {
      const chance = goesOn(who);
      sums[at] = (sums[at] ?? 0) + weight * chance;
      bounds[at] = (bounds[at] ?? 0) + bound * chance;
    };
    return {
      set,
      addOthers,
      addAndSet: (who, at, weight, p) => {
        addOthers(who, at, weight, 0);
        set(who, p);
      },
    };
  };
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

/** Independent counts, and the sum of all of them but one; counts of `places` and more are left out. */
function productsOf(teams: number, places: number) {
  let leaves = 1;
  while (leaves < teams) leaves *= 2;
  // The root is 1, below node n are 2n and 2n + 1, the teams are the leaves.
  const nodes = new Array<Counts>(2 * leaves).fill(NOBODY);
  const at = (node: number) => nodes[node] ?? NOBODY;
  return {
    set: (team: number, counts: Counts): void => {
      nodes[leaves + team] = counts;
      for (let node = (leaves + team) >> 1; node >= 1; node >>= 1) {
        nodes[node] = sumOf(at(2 * node), at(2 * node + 1), places);
      }
    },
    without: (team: number): Counts => {
      let others = NOBODY;
      for (let node = leaves + team; node > 1; node >>= 1) {
        others = sumOf(others, at(node ^ 1), places);
      }
      return others;
    },
  };
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
