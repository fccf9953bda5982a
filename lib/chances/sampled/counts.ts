/** How often everything was in the meets of a sample. */
import { ENDS } from '../stakes.js';
import type { Plan } from './plan.js';

/** How often everything was so far: whole numbers throughout. */
export interface SampleCounts {
  /** Meets drawn. */
  meets: number;
  /** Meets whose medals were kept. */
  podiumMeets: number;
  /** By entrant and place. */
  readonly places: Float64Array;
  /** By entrant and total, one after another; empty without a day form. */
  readonly totals: Float64Array;
  /** By routine to come, low and high: how often its entrant has the title. */
  readonly won: Float64Array;
  /** By routine to come, low and high, and entrant: how often the title is taken from that one. */
  readonly taken: Float64Array;
  /** By entrant and entrant: how often the second has the title only if the first is not there. */
  readonly inherited: Float64Array;
  /** By score of the routine asked for and place. */
  readonly byScore: Float64Array;
  /** By entrant: of going on; empty where nobody does. */
  readonly advancing: Float64Array;
  /** By score of the routine asked for: of its entrant going on. */
  readonly advancingByScore: Float64Array;
  /** Medal outcomes. */
  readonly podiums: PodiumCounts;
}

/** Medal outcomes as paths: a node is whoever came last, and all before them. */
interface PodiumCounts {
  readonly reached: number[];
  readonly parents: number[];
  /** Twice the entrant, and one more if it shares its place. */
  readonly steps: number[];
  readonly nodes: Map<number, number>;
}

export function noCounts(plan: Plan): SampleCounts {
  const { size, slots, stakes, asked, offsets, advancing } = plan;
  const scores = asked === null ? 0 : (slots[asked]?.scores.length ?? 0);
  const cells = stakes ? slots.length * ENDS.length : 0;
  return {
    meets: 0,
    podiumMeets: 0,
    places: new Float64Array(size * size),
    totals: new Float64Array(offsets.at(-1) ?? 0),
    won: new Float64Array(cells),
    taken: new Float64Array(cells * size),
    inherited: new Float64Array(stakes ? size * size : 0),
    byScore: new Float64Array(scores * size),
    advancing: new Float64Array(advancing === null ? 0 : size),
    advancingByScore: new Float64Array(advancing === null ? 0 : scores),
    podiums: { reached: [0], parents: [0], steps: [0], nodes: new Map() },
  };
}

export function addOne(counts: Float64Array, at: number): void {
  counts[at] = (counts[at] ?? 0) + 1;
}

/** Counts a medal outcome. `steps`: twice each entrant, and one more if it shares a place with the one before. */
export function countPath(
  { reached, parents, steps: known, nodes }: PodiumCounts,
  size: number,
  steps: readonly number[],
): void {
  let node = 0;
  for (const step of steps) {
    const key = node * 2 * size + step;
    let next = nodes.get(key);
    if (next === undefined) {
      next = reached.length;
      nodes.set(key, next);
      reached.push(0);
      parents.push(node);
      known.push(step);
    }
    node = next;
  }
  reached[node] = (reached[node] ?? 0) + 1;
}

/** How often each medal outcome was, while those of every meet are kept. */
export function keptPodiums({ meets, podiumMeets, podiums }: SampleCounts): readonly number[] {
  return podiumMeets === meets ? podiums.reached : [];
}

/** Every medal outcome that was: those who share a place together, the likeliest first. */
export function podiumCounts({ podiums }: SampleCounts): { sets: number[][]; count: number }[] {
  const found = podiums.reached.flatMap((count, node) =>
    node > 0 && count > 0 ? [{ sets: setsOf(podiums, node), count }] : [],
  );
  const nameOf = ({ sets }: { sets: number[][] }) => sets.map((set) => set.join('=')).join('>');
  return found.sort((a, b) => b.count - a.count || (nameOf(a) < nameOf(b) ? -1 : 1));
}

function setsOf({ parents, steps }: PodiumCounts, end: number): number[][] {
  const path: number[] = [];
  for (let node = end; node > 0; node = parents[node] ?? 0) path.unshift(steps[node] ?? 0);
  const sets: number[][] = [];
  for (const [k, step] of path.entries()) {
    if (k > 0 && step % 2 === 1) sets.at(-1)?.push(step >> 1);
    else sets.push([step >> 1]);
  }
  return sets;
}
