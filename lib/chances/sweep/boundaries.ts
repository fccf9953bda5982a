/**
 * Results are evaluated at the boundaries of their groups: before a group all ties in it go her way, after
 * it all go against her. Where members share their place, before counts whole. Where nobody knows their
 * order the truth lies between the two: half of each is the answer, and half of what they differ by
 * bounds the error (docs/model.md, "What is not known").
 */
import type { TieGroups } from '../tie-groups.js';

/** Who is evaluated at a boundary; the lists are used again for the next. */
export interface Evaluated {
  count: number;
  readonly who: Int32Array;
  /** What each weighs in the answer, and in the bound of its error. */
  readonly weights: Float64Array;
  readonly bounds: Float64Array;
}

/**
 * Gives who is evaluated before a group, and after the one before it; asked for each group in turn, and
 * once more after the last.
 */
export function evaluations(groups: TieGroups): (group: number) => Evaluated {
  const { members, starts, who, chances, isShared } = groups;
  const at: Evaluated = {
    count: 0,
    who: new Int32Array(2 * members),
    weights: new Float64Array(2 * members),
    bounds: new Float64Array(2 * members),
  };
  // By member: what is left to be evaluated after the group before.
  const left = new Float64Array(members);
  const add = (i: number, weight: number, bound: number): void => {
    at.who[at.count] = i;
    at.weights[at.count] = weight;
    at.bounds[at.count++] = bound;
    left[i] = 0;
  };
  return (group) => {
    at.count = 0;
    const [before, from] = [starts[group - 1] ?? 0, starts[group] ?? 0];
    const to = starts[group + 1] ?? from;
    const wasShared = group === 0 || isShared[group - 1] === 1;
    if (!wasShared) for (let k = before; k < from; k++) left[who[k] ?? 0] = (chances[k] ?? 0) / 2;
    const shared = isShared[group] === 1;
    for (let k = from; k < to; k++) {
      const i = who[k] ?? 0;
      const after = left[i] ?? 0;
      const chance = chances[k] ?? 0;
      if (shared) add(i, chance + after, -after);
      else add(i, chance / 2 + after, chance / 2 - after);
    }
    if (wasShared) return at;
    for (let k = before; k < from; k++) {
      const i = who[k] ?? 0;
      const after = left[i] ?? 0;
      // Who is in both groups has been evaluated for both.
      if (after > 0) add(i, after, -after);
    }
    return at;
  };
}
