/** The beginnings of medal outcomes that are followed: some of the best results, in order. */

/** By place, place after place, who is on it; by runner. */
export type Sets = readonly (readonly number[])[];

/** Whether a runner is followed on a place, counted from 0. */
export type MayHave = (runner: number, place: number) => boolean;

/** Which outcomes are followed. */
export interface Followed {
  readonly medals: number;
  readonly mayHave: MayHave;
  /** Who is followed when they share a place, in rising order; nobody where none are told. */
  readonly sharing?: readonly (readonly number[])[];
  /** The outcomes of one place less that may begin those that are followed; by default all. */
  readonly known?: readonly Sets[] | undefined;
}

/**
 * Beginnings, in order of how many are on them, then of their last steps; the first has nobody on it.
 * A step is a runner, or, counted on from them, several who share. One runner more makes an outcome of
 * the longest ones; several who share the last of the medals are a beginning themselves.
 */
export interface Beginnings {
  readonly size: number;
  readonly medals: number;
  readonly sharing: readonly (readonly number[])[];
  readonly mayHave: MayHave;
  /** How many there are. */
  readonly count: number;
  /** By how many are on it, from 1, and last step: the first of those; and their end. */
  readonly starts: readonly number[];
  readonly parents: readonly number[];
  readonly sets: readonly Sets[];
  /** The longest that are no outcomes. */
  readonly from: number;
  readonly to: number;
}

/** Those of so many runners; null where there are more than `most`. */
export function beginningsOf(size: number, followed: Followed): Beginnings;
export function beginningsOf(size: number, followed: Followed, most: number): Beginnings | null;
export function beginningsOf(
  size: number,
  { medals, mayHave, sharing = [], known }: Followed,
  most = Number.POSITIVE_INFINITY,
): Beginnings | null {
  const steps = [...Array.from({ length: size }, (_, i) => [i]), ...sharing];
  const parents = [-1];
  const sets: Sets[] = [[]];
  /** By beginning: how it may go on, by step; null where it may as it likes. */
  const waysOn: (WaysOn | null)[] = [known === undefined ? null : waysOnFrom(known)];
  const starts: number[] = [];
  /** By how many are on them: where they begin, and end. */
  const bounds = [0, 1];
  for (let count = 1; count <= medals; count++) {
    for (const step of steps) {
      const name = nameOf(step);
      starts.push(parents.length);
      // One alone on the last place makes an outcome of the beginning before it.
      if (count === medals && step.length === 1) continue;
      const first = count < medals ? count - step.length : Math.max(medals - step.length, 0);
      const last = count < medals ? first : medals - 1;
      for (let before = first; before >= 0 && before <= last; before++) {
        if (!step.every((i) => mayHave(i, before))) continue;
        for (let n = bounds[before]!; n < bounds[before + 1]!; n++) {
          const ways = before === medals - 1 ? null : waysOn[n]!;
          const on = ways === null ? null : ways.get(name);
          if (on === undefined) continue;
          if (sets[n]!.some((set) => set.some((i) => step.includes(i)))) continue;
          if (parents.length >= most) return null;
          parents.push(n);
          sets.push([...sets[n]!, step]);
          waysOn.push(on);
        }
      }
    }
    bounds.push(parents.length);
  }
  starts.push(parents.length);
  return {
    size,
    medals,
    sharing,
    mayHave,
    count: parents.length,
    starts,
    parents,
    sets,
    from: bounds[medals - 1]!,
    to: bounds[medals]!,
  };
}

/** The steps that may come next, by name, and how it may go on from there. */
type WaysOn = ReadonlyMap<string, WaysOn>;

function waysOnFrom(outcomes: readonly Sets[]): WaysOn {
  const root = new Map<string, WaysOn>();
  for (const sets of outcomes) {
    let at = root;
    for (const set of sets) {
      const next = (at.get(nameOf(set)) ?? new Map()) as Map<string, WaysOn>;
      at.set(nameOf(set), next);
      at = next;
    }
  }
  return root;
}

function nameOf(set: readonly number[]): string {
  return set.join('=');
}
