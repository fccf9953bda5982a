/** Who may share a medal. */
import { aheadCount } from '../sweep/ahead.js';
import type { Unit } from '../sweep/medals.js';
import type { TieGroups } from '../tie-groups.js';

/** No more sets than this are found, nor looked at where they are larger than pairs. */
const MOST = 10_000;

/** Members of one group, with their chances there, and the chance that few enough are ahead of it. */
interface Level {
  readonly who: Int32Array;
  readonly chances: Float64Array;
  readonly few: number;
}

/**
 * The sets among some entrants that share a place that brings a medal with at least such a chance, by
 * size; null where there are too many.
 */
export function sharingUnits(
  groups: TieGroups,
  medals: number,
  among: readonly boolean[],
  least: number,
): Unit[] | null {
  const levels = levelsOf(groups, medals, among);
  const alone = among.flatMap((is, i) => (is ? [[i]] : []));
  const found: Unit[] = [];
  for (let sets: number[][] = alone; sets.length > 0; ) {
    const larger = sets.flatMap((set) =>
      alone.flatMap(([j = 0]) => (j > (set.at(-1) ?? 0) ? [[...set, j]] : [])),
    );
    // All pairs are looked at, however many there are: nothing is known of them before.
    if (sets !== alone && found.length + larger.length > MOST) return null;
    const most = mostOf(larger, levels, groups.members);
    sets = larger.filter((_, n) => (most[n] ?? 0) >= least);
    if (found.length + sets.length > MOST) return null;
    found.push(...sets);
  }
  return found;
}

/** By set: how likely its members share a place before which few enough are, at most. */
function mostOf(sets: readonly Unit[], levels: readonly Level[], members: number): Float64Array {
  const most = new Float64Array(sets.length);
  const here = new Float64Array(members);
  for (const { who, chances, few } of levels) {
    for (let k = 0; k < who.length; k++) here[who[k] ?? 0] = chances[k] ?? 0;
    for (let n = 0; n < sets.length; n++) {
      const set = sets[n] ?? [];
      let chance = few;
      for (let m = 0; m < set.length && chance > 0; m++) chance *= here[set[m] ?? 0] ?? 0;
      most[n] = (most[n] ?? 0) + chance;
    }
    for (let k = 0; k < who.length; k++) here[who[k] ?? 0] = 0;
  }
  return most;
}

/**
 * Groups that two and more of some share. Of those who share a place fewer than `medals` others are ahead;
 * so of all, whoever they are, no more are ahead of it than that and themselves.
 */
function levelsOf(
  { size, starts, who, chances, ahead, isShared }: TieGroups,
  medals: number,
  among: readonly boolean[],
): Level[] {
  const levels: Level[] = [];
  const sums = new Float64Array(size + 2);
  // Beside all entrants, nobody, whose others are all of them.
  const count = aheadCount(size + 1, { sums, bounds: sums });
  for (let group = 0; group < isShared.length; group++) {
    const [from, to] = [starts[group] ?? 0, starts[group + 1] ?? 0];
    let some = 0;
    for (let k = from; k < to; k++) if (among[who[k] ?? 0] === true) some++;
    if (some > 1 && isShared[group] === 1) {
      sums.fill(0);
      count.addOthers(size, 0, 1, 0);
      const few = sums.subarray(0, 2 * medals + 2).reduce((a, b) => a + b, 0);
      if (few < NOTHING) break;
      levels.push({ who: who.subarray(from, to), chances: chances.subarray(from, to), few });
    }
    for (let k = from; k < to; k++) {
      const i = who[k] ?? 0;
      if (i < size) count.set(i, ahead[k] ?? 0);
    }
  }
  return levels;
}

const NOTHING = 1e-18;
