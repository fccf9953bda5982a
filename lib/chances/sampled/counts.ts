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
  /** By routine to come, low and high, and entrant: how often that one has the title then. */
  readonly titles: Float64Array;
  /** By score of the routine asked for and place. */
  readonly byScore: Float64Array;
  /** By entrant: of going on; empty where nobody does. */
  readonly advancing: Float64Array;
  /** By score of the routine asked for: of its entrant going on. */
  readonly advancingByScore: Float64Array;
  /** By medal outcome, in text: how often it was. */
  readonly podiums: Map<string, number>;
}

export function noCounts(plan: Plan): SampleCounts {
  const { size, slots, stakes, asked, offsets, advancing } = plan;
  const scores = asked === null ? 0 : (slots[asked]?.scores.length ?? 0);
  return {
    meets: 0,
    podiumMeets: 0,
    places: new Float64Array(size * size),
    totals: new Float64Array(offsets.at(-1) ?? 0),
    titles: new Float64Array(stakes ? slots.length * ENDS.length * size : 0),
    byScore: new Float64Array(scores * size),
    advancing: new Float64Array(advancing === null ? 0 : size),
    advancingByScore: new Float64Array(advancing === null ? 0 : scores),
    podiums: new Map(),
  };
}

export function addOne(counts: Float64Array, at: number): void {
  counts[at] = (counts[at] ?? 0) + 1;
}

/** Who share a place are joined by `=`, and the places follow each other after `>`. */
export function addPodium({ podiums }: SampleCounts, sets: readonly (readonly number[])[]): void {
  const name = sets.map((set) => set.join('=')).join('>');
  podiums.set(name, (podiums.get(name) ?? 0) + 1);
}

/** Every medal outcome that was, the likeliest first. */
export function podiumCounts({ podiums }: SampleCounts): { sets: number[][]; count: number }[] {
  return [...podiums]
    .sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1))
    .map(([name, count]) => ({
      sets: name.split('>').map((set) => set.split('=').map(Number)),
      count,
    }));
}
