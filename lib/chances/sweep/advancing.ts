/**
 * Who goes on under a quota: she does when fewer than `perTeam` of her own team are ahead of her, and of
 * all who are ahead fewer than `places` count, of each team no more than `perTeam`. Everyone is ahead
 * with a chance of her own, so that how many count is a sum of independent counts, one a team.
 *
 * Her chance only falls from the best result to the worst. It is worked out before and after neighbouring
 * groups, together while they hold little: a result in between has half of each, and half of what they
 * differ by bounds the error. A group by itself whose members share their place has the chance before it.
 */
import type { AdvanceRules } from '../../meet/meet.js';
import type { TieGroups } from '../tie-groups.js';
import { teamCounts } from './team-counts.js';

export interface AdvancingSweep {
  /** By member. */
  readonly chances: Float64Array;
  /** A bound on how wrong they can be. */
  readonly bound: number;
}

/** Each group by itself, while all of them have no more members than this. */
const MOST_APART = 400_000;

/** Neighbours are taken together while all entrants have less than this there, in sum. */
const TOGETHER = 0.04;

/**
 * By member of the groups: entrants, and conditioned ones, of which `of` says which entrant each is.
 * `teams`: by entrant; null for who is of no team, and keeps nobody else out. `isRough`: neighbours are
 * taken together however few there are.
 */
export function sweepAdvancing(
  groups: TieGroups,
  of: readonly number[],
  teams: readonly (string | null)[],
  { places, perTeam }: Pick<AdvanceRules, 'places' | 'perTeam'>,
  isRough = false,
): AdvancingSweep {
  const { size, starts, who, chances, ahead, isShared } = groups;
  const found = new Float64Array(groups.members);
  const bounds = new Float64Array(groups.members);
  const quota = perTeam ?? 1;
  const counts = teamCounts(perTeam === null ? teams.map(() => null) : teams, { places, quota });
  const entrantOf = (member: number) => (member < size ? member : (of[member - size] ?? 0));
  // Of the interval at hand: by member what it has there; and who has something.
  const masses = new Float64Array(groups.members);
  const before = new Float64Array(size);
  const present: number[] = [];
  const isApart = !isRough && who.length <= MOST_APART;
  for (let group = 0; group < isShared.length; ) {
    let end = group;
    let sum = 0;
    do {
      for (let k = starts[end] ?? 0; k < (starts[end + 1] ?? 0); k++) {
        const member = who[k] ?? 0;
        if (masses[member] === 0) present.push(member);
        masses[member] = (masses[member] ?? 0) + (chances[k] ?? 0);
        if (member < size) sum += chances[k] ?? 0;
      }
      end++;
    } while (!isApart && end < isShared.length && sum + massOf(groups, end) <= TOGETHER);
    const isSharedHere = end === group + 1 && isShared[group] === 1;
    const entrants =
      present.length === 1 ? present.map(entrantOf) : [...new Set(present.map(entrantOf))];
    counts.chancesFor(entrants, before);
    const first = isSharedHere ? before : before.slice();
    for (let k = starts[group] ?? 0; k < (starts[end] ?? 0); k++) {
      const member = who[k] ?? 0;
      if (member < size) counts.set(member, ahead[k] ?? 0);
    }
    if (!isSharedHere) counts.chancesFor(entrants, before);
    for (const member of present) {
      const entrant = entrantOf(member);
      const [high, low] = [first[entrant] ?? 0, before[entrant] ?? 0];
      const mass = masses[member] ?? 0;
      found[member] = (found[member] ?? 0) + (mass * (high + low)) / 2;
      bounds[member] = (bounds[member] ?? 0) + (mass * (high - low)) / 2;
      masses[member] = 0;
    }
    present.length = 0;
    group = end;
  }
  return {
    chances: found.map((p) => Math.min(Math.max(p, 0), 1)),
    bound: Math.max(0, ...bounds),
  };
}

/** What all entrants have in a group. */
function massOf({ size, starts, who, chances }: TieGroups, group: number): number {
  let sum = 0;
  for (let k = starts[group] ?? 0; k < (starts[group + 1] ?? 0); k++) {
    if ((who[k] ?? 0) < size) sum += chances[k] ?? 0;
  }
  return sum;
}
