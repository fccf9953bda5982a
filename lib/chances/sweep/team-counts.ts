/**
 * How many of a field are ahead, each with a chance of its own, when of each team no more count than a
 * quota: of one team a polynomial of that degree, of several the product of theirs. What all teams but one
 * make is the product of those before it and of those after it.
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

/** At the beginning nobody is ahead. `teams`: by who; null for who is of no team. */
export function teamCounts(
  teams: readonly (string | null)[],
  { places, quota }: Quota,
): TeamCounts {
  const ahead = new Float64Array(teams.length);
  const { teamOf, members } = teamsByNumber(teams);
  // By team: how many of it count. Those beyond the quota count no more.
  const counts = members.map((hers) => noneAhead(Math.min(hers.length, quota) + 1));
  // By team: how many of those before it count, as far as there are places; and of those from it on fewer than so many.
  const before = [...members, 0].map(() => noneAhead(places));
  const fewer = [...members, 0].map(() => new Float64Array(places + 1).fill(1, 1));
  const own = noneAhead(quota);
  // The products are made as far as they hold for the chances of now.
  let madeBefore = 0;
  let madeFrom = members.length;

  /** Of her own team fewer than the quota are ahead, and of the others few enough. */
  const chanceOf = (who: number): number => {
    const team = teamOf[who] ?? 0;
    own.fill(0).fill(1, 0, 1);
    for (const one of members[team] ?? []) if (one !== who) addTo(own, ahead[one] ?? 0, false);
    let chance = 0;
    for (let k = 0; k < Math.min(quota, places); k++) {
      for (let j = 0; j < places - k; j++) {
        const others = (before[team]?.[j] ?? 0) * (fewer[team + 1]?.[places - k - j] ?? 0);
        chance += (own[k] ?? 0) * others;
      }
    }
    return chance;
  };
  return {
    set: (who, p) => {
      ahead[who] = p;
      const team = teamOf[who] ?? 0;
      const count = counts[team];
      count?.fill(0).fill(1, 0, 1);
      for (const one of members[team] ?? []) if (count) addTo(count, ahead[one] ?? 0, true);
      madeBefore = Math.min(madeBefore, team);
      madeFrom = Math.max(madeFrom, team + 1);
    },
    chancesFor: (some, into) => {
      const asked = some.map((who) => teamOf[who] ?? 0);
      const [first, last] = [Math.min(...asked) + 1, Math.max(...asked)];
      for (; madeBefore < last; madeBefore++) {
        multiply(before[madeBefore], counts[madeBefore], before[madeBefore + 1]);
      }
      for (; madeFrom > first; madeFrom--) {
        multiply(fewer[madeFrom], counts[madeFrom - 1], fewer[madeFrom - 1]);
      }
      for (const who of some) into[who] = chanceOf(who);
    },
  };
}

const NONE = new Float64Array(0);

function noneAhead(length: number): Float64Array {
  return new Float64Array(length).fill(1, 0, 1);
}

/** The terms of a product that there is room for. */
function multiply(a: Float64Array = NONE, b: Float64Array = NONE, into: Float64Array = NONE): void {
  into.fill(0);
  for (let j = 0; j < b.length; j++) {
    const p = b[j] ?? 0;
    if (p === 0) continue;
    for (let k = j; k < into.length; k++) into[k] = (into[k] ?? 0) + p * (a[k - j] ?? 0);
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
