/**
 * Medals in order: the chance that certain entrants have the first places, in that order. F(P) is the
 * chance that the members of a beginning P are ahead of a boundary, in their order; with the chance q
 * that the next one has her result in a group, and all others behind it, F(P) q Π P(behind) is summed
 * over all groups. Those who share a place have it together: their q is the product of theirs.
 *
 * In a group of unknown order the truth lies between two counts: the lower one wants all others, and
 * those of the beginning, in other groups; the upper one allows them in the same (docs/model.md, "What
 * is not known").
 */
import { addScaled } from '../../range/vector.js';
import type { TieGroups } from '../tie-groups.js';

/** Who has a place: one entrant, or some that share it, rising. */
export type Unit = readonly number[];

/** The first places in order; of none, the empty beginning, which has no parent. */
export interface Beginning {
  /** The index of the same without its last unit, in the list of all; it comes before its children. */
  readonly parent: number;
  /** The index of the last unit. */
  readonly unit: number;
}

export interface MedalQuestion {
  readonly units: readonly Unit[];
  /** The empty one first. */
  readonly beginnings: readonly Beginning[];
  /** So many entrants are ahead of all others, when the last place is taken. */
  readonly places: number;
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** By unit and beginning: the chance that the unit comes next, and all others after it. */
export interface MedalSweep {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/** Nothing that is less likely than this is looked for any more. */
const NOTHING = 1e-13;

/** How often progress is told, and looked whether anything is left. */
const STEPS = 100;

/** What is certain not to happen has this chance, so that it can be divided by. */
const TINY = 1e-30;

export function sweepMedals(groups: TieGroups, question: MedalQuestion): MedalSweep {
  const { size, starts, who, chances, ahead, isShared } = groups;
  const { places, onProgress } = question;
  const isExact = isShared.every((shared) => shared === 1);
  // By entrant: that her result is in the group, and behind the boundary before it, and after it.
  const here = new Float64Array(size);
  const before = new Float64Array(size).fill(1);
  const after = new Float64Array(size).fill(1);
  const results = unitResultsIn(question.units, size);
  const lower = counterOf(question);
  const upper = isExact ? lower : counterOf(question);
  const step = Math.ceil(isShared.length / STEPS);
  for (let group = 0; group < isShared.length; group++) {
    const [from, to] = [starts[group] ?? 0, starts[group + 1] ?? 0];
    const shared = isShared[group] === 1;
    if (group % step === 0) {
      if (mostLeft(before, places) < NOTHING) break;
      onProgress?.(group / isShared.length);
    }
    for (let k = from; k < to; k++) {
      const i = who[k] ?? 0;
      if (i >= size) continue;
      here[i] = chances[k] ?? 0;
      after[i] = Math.max(1 - (ahead[k] ?? 0), TINY);
    }
    results.find(here, who, from, to, shared);
    if (results.count() > 0) {
      finish(lower, results, after);
      begin(lower, results, false);
      if (!isExact && shared) {
        finish(upper, results, after);
        begin(upper, results, false);
      } else if (!isExact) {
        begin(upper, results, true);
        finish(upper, results, before);
      }
    }
    for (let k = from; k < to; k++) {
      const i = who[k] ?? 0;
      if (i >= size) continue;
      here[i] = 0;
      before[i] = after[i] ?? 0;
    }
  }
  return { lower: lower.sums, upper: upper.sums };
}

/** The most that an outcome can still add: all are behind but those who do best by not being it. */
function mostLeft(behind: Float64Array, places: number): number {
  return behind
    .slice()
    .sort()
    .subarray(places)
    .reduce((p, chance) => p * chance, 1);
}

/** Which units have a result in a group, and how likely that is. */
interface UnitResults {
  readonly units: readonly Unit[];
  readonly found: Int32Array;
  readonly count: () => number;
  /** By unit; 0 for those that have none. */
  readonly chances: Float64Array;
  /** Finds them; nobody shares a place for certain where the order is not known. */
  readonly find: (
    here: Float64Array,
    who: Int32Array,
    from: number,
    to: number,
    isShared: boolean,
  ) => void;
}

const NONE: Unit = [];

function unitResultsIn(units: readonly Unit[], size: number): UnitResults {
  const found = new Int32Array(units.length);
  const chances = new Float64Array(units.length);
  // By entrant: the units that it is the first of.
  const unitsOf: number[][] = Array.from({ length: size }, () => []);
  for (const [u, unit] of units.entries()) unitsOf[unit[0] ?? 0]?.push(u);
  let count = 0;
  return {
    units,
    found,
    chances,
    count: () => count,
    find: (here, who, from, to, isShared) => {
      for (let n = 0; n < count; n++) chances[found[n] ?? 0] = 0;
      count = 0;
      for (let k = from; k < to; k++) {
        const hers = unitsOf[who[k] ?? 0] ?? NONE;
        for (let n = 0; n < hers.length; n++) {
          const u = hers[n] ?? 0;
          const unit = units[u] ?? NONE;
          if (unit.length > 1 && !isShared) continue;
          let chance = 1;
          for (let m = 0; m < unit.length; m++) chance *= here[unit[m] ?? 0] ?? 0;
          if (chance === 0) continue;
          chances[u] = chance;
          found[count++] = u;
        }
      }
    },
  };
}

/** Beginnings as they are counted, and what they end in. */
interface Counter {
  readonly parents: Int32Array;
  readonly unitOf: Int32Array;
  /** By beginning: F, the chance that its members are ahead of the boundary in their order. */
  readonly chances: Float64Array;
  /** By beginning: 1 over the chance that all its members are behind the boundary. */
  readonly inverses: Float64Array;
  /** By beginning: F over that chance. Times the product for all entrants it is F with the others behind. */
  readonly ratios: Float64Array;
  /** By unit: 1 over the chance that its members are behind. */
  readonly unitInverses: Float64Array;
  /** By unit and beginning. */
  readonly sums: Float64Array;
}

function counterOf({ units, beginnings }: MedalQuestion): Counter {
  const count = beginnings.length;
  const chances = new Float64Array(count);
  const inverses = new Float64Array(count);
  chances[0] = 1;
  inverses[0] = 1;
  return {
    parents: Int32Array.from(beginnings, ({ parent }) => parent),
    unitOf: Int32Array.from(beginnings, ({ unit }) => unit),
    chances,
    inverses,
    ratios: new Float64Array(count),
    unitInverses: new Float64Array(units.length),
    sums: new Float64Array(units.length * count),
  };
}

/** Adds what ends with units that have a result in the group, when all others are behind. */
function finish(counter: Counter, results: UnitResults, behind: Float64Array): void {
  const { parents, unitOf, chances, inverses, ratios, unitInverses, sums } = counter;
  const count = chances.length;
  let all = 1;
  for (let i = 0; i < behind.length; i++) all *= behind[i] ?? 1;
  for (let u = 0; u < unitInverses.length; u++) {
    const unit = results.units[u] ?? NONE;
    let inverse = 1;
    for (let m = 0; m < unit.length; m++) inverse /= behind[unit[m] ?? 0] ?? 1;
    unitInverses[u] = inverse;
  }
  ratios[0] = chances[0] ?? 0;
  for (let n = 1; n < count; n++) {
    const inverse = (inverses[parents[n] ?? 0] ?? 0) * (unitInverses[unitOf[n] ?? 0] ?? 0);
    inverses[n] = inverse;
    ratios[n] = (chances[n] ?? 0) * inverse;
  }
  for (let k = 0; k < results.count(); k++) {
    const u = results.found[k] ?? 0;
    const weight = (results.chances[u] ?? 0) * all * (unitInverses[u] ?? 0);
    addScaled(sums, u * count, ratios, 0, count, weight);
  }
}

/** Begins with units that have a result in the group; those of one group may follow each other where `isTogether`. */
function begin(
  { parents, unitOf, chances }: Counter,
  results: UnitResults,
  isTogether: boolean,
): void {
  const last = chances.length - 1;
  // Children before their parents, or after them.
  for (let k = 1; k <= last; k++) {
    const n = isTogether ? k : last + 1 - k;
    const chance = results.chances[unitOf[n] ?? 0] ?? 0;
    if (chance > 0) chances[n] = (chances[n] ?? 0) + (chances[parents[n] ?? 0] ?? 0) * chance;
  }
}
