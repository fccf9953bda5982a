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
const NOTHING = 1e-18;

/** How often progress is told, and looked whether anything is left. */
const STEPS = 100;

/** What is certain not to happen has this chance, so that it can be divided by. */
const TINY = 1e-30;

export function sweepMedals(groups: TieGroups, question: MedalQuestion): MedalSweep {
  const { size, starts, who, chances, ahead, isShared } = groups;
  const { units, places, onProgress } = question;
  const isExact = isShared.every((shared) => shared === 1);
  // By entrant: that her result is in the group, and behind the boundary before it, and after it.
  const here = new Float64Array(size);
  const before = new Float64Array(size).fill(1);
  const after = new Float64Array(size).fill(1);
  const lower = counterOf(question);
  const upper = isExact ? lower : counterOf(question);
  const unitsOf = Array.from({ length: size }, (_, i) =>
    [...units.keys()].filter((u) => units[u]?.[0] === i),
  );
  const step = Math.ceil(isShared.length / STEPS);
  for (let group = 0; group < isShared.length; group++) {
    const [from, to] = [starts[group] ?? 0, starts[group + 1] ?? 0];
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
    const landing: number[] = [];
    for (let k = from; k < to; k++) {
      const i = who[k] ?? 0;
      for (const u of unitsOf[i] ?? []) {
        const unit = units[u] ?? [];
        // Nobody shares a place for certain where the order is not known.
        if (unit.length === 1 || (isShared[group] === 1 && unit.every((j) => (here[j] ?? 0) > 0))) {
          landing.push(u);
        }
      }
    }
    lower.finish(landing, here, after);
    if (!isExact && isShared[group] === 0) {
      upper.begin(landing, here, true);
      upper.finish(landing, here, before);
    } else if (!isExact) {
      upper.finish(landing, here, after);
      upper.begin(landing, here, false);
    }
    lower.begin(landing, here, false);
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

/** Beginnings and what they end in, as they are counted. */
function counterOf({ units, beginnings }: MedalQuestion) {
  const count = beginnings.length;
  const parents = Int32Array.from(beginnings, ({ parent }) => parent);
  const unitOf = Int32Array.from(beginnings, ({ unit }) => unit);
  const endingIn = units.map((_, u) =>
    [...beginnings.keys()].filter((n) => n > 0 && unitOf[n] === u),
  );
  // F of every beginning; and that over the chance that its members are behind, which the product of all has.
  const chances = new Float64Array(count);
  const ratios = new Float64Array(count);
  const inverses = new Float64Array(count);
  const unitInverses = new Float64Array(units.length);
  const sums = new Float64Array(units.length * count);
  chances[0] = 1;
  inverses[0] = 1;
  return {
    sums,
    /** Adds what ends with units that are here, when all others are behind. */
    finish: (landing: readonly number[], here: Float64Array, behind: Float64Array): void => {
      let all = 1;
      for (let i = 0; i < behind.length; i++) all *= behind[i] ?? 1;
      for (const [u, unit] of units.entries()) {
        let inverse = 1;
        for (const i of unit) inverse /= behind[i] ?? 1;
        unitInverses[u] = inverse;
      }
      for (let n = 0; n < count; n++) {
        if (n > 0) {
          inverses[n] = (inverses[parents[n] ?? 0] ?? 0) * (unitInverses[unitOf[n] ?? 0] ?? 0);
        }
        ratios[n] = (chances[n] ?? 0) * (inverses[n] ?? 0);
      }
      for (const u of landing) {
        const weight = chanceOf(units[u] ?? [], here) * all * (unitInverses[u] ?? 0);
        addScaled(sums, u * count, ratios, 0, count, weight);
      }
    },
    /** Begins with units that are here; those of one group may follow each other where `isTogether`. */
    begin: (landing: readonly number[], here: Float64Array, isTogether: boolean): void => {
      const found = landing.flatMap((u) => endingIn[u] ?? []).sort((a, b) => a - b);
      // Children before their parents, or after them.
      for (const n of isTogether ? found : found.reverse()) {
        const more = (chances[parents[n] ?? 0] ?? 0) * chanceOf(units[unitOf[n] ?? 0] ?? [], here);
        chances[n] = (chances[n] ?? 0) + more;
      }
    },
  };
}

function chanceOf(unit: Unit, here: Float64Array): number {
  let chance = 1;
  for (const i of unit) chance *= here[i] ?? 0;
  return chance;
}
