/** How often everything was in the meets of a sample. */

import { ENDS } from '../stakes.js';
import type { Plan } from './draws.js';

/** How often everything was. Whole numbers throughout, which add up. */
export interface SampleCounts {
  /** Meets drawn. */
  readonly meets: number;
  /** Meets whose medals were kept. */
  readonly podiumMeets: number;
  /** By runner and place. */
  readonly places: Float64Array;
  /** By the runners on each medal place, in order: `3>0=2`. */
  readonly podiums: ReadonlyMap<string, number>;
  /** By runner and total, one after another; empty without a day form. */
  readonly totals: Float64Array;
  /** By routine to come, low and high: how often its runner has the title. */
  readonly won: Float64Array;
  /** By routine to come, low and high, and runner: how often the title is taken from that one. */
  readonly taken: Float64Array;
  /** By runner and runner: how often the second has the title only if the first is not there. */
  readonly inherited: Float64Array;
  /** By score of the routine asked for and place. */
  readonly byScore: Float64Array;
}

/** The counts of all batches of which these are some, in whatever order; at least one. */
export function mergeCounts(all: readonly SampleCounts[]): SampleCounts {
  const sum = (of: (counts: SampleCounts) => number) => all.reduce((s, c) => s + of(c), 0);
  const added = (of: (counts: SampleCounts) => Float64Array) => {
    const [first, ...rest] = all.map(of);
    const result = Float64Array.from(first ?? []);
    for (const counts of rest) for (let i = 0; i < counts.length; i++) result[i]! += counts[i]!;
    return result;
  };
  const podiums = new Map<string, number>();
  for (const counts of all) {
    for (const [name, n] of counts.podiums) podiums.set(name, (podiums.get(name) ?? 0) + n);
  }
  return {
    meets: sum((c) => c.meets),
    podiumMeets: sum((c) => c.podiumMeets),
    places: added((c) => c.places),
    podiums,
    totals: added((c) => c.totals),
    won: added((c) => c.won),
    taken: added((c) => c.taken),
    inherited: added((c) => c.inherited),
    byScore: added((c) => c.byScore),
  };
}

/** Counts that are being taken. */
export class Tally {
  meets = 0;
  podiumMeets = 0;
  readonly places: Float64Array;
  readonly totals: Float64Array;
  readonly won: Float64Array;
  readonly taken: Float64Array;
  readonly inherited: Float64Array;
  readonly byScore: Float64Array;
  /** Medal outcomes as paths: a node is whoever came last, and all before them. */
  readonly reached = [0];
  private readonly parents = [0];
  private readonly steps = [0];
  private readonly nodes = new Map<number, number>();

  constructor(private readonly plan: Plan) {
    const { size, slots, stakes, asked, offsets } = plan;
    const cells = stakes ? slots.length * ENDS.length : 0;
    this.places = new Float64Array(size * size);
    this.totals = new Float64Array(offsets.at(-1)!);
    this.won = new Float64Array(cells);
    this.taken = new Float64Array(cells * size);
    this.inherited = new Float64Array(stakes ? size * size : 0);
    this.byScore = new Float64Array(asked === null ? 0 : slots[asked]!.scores.length * size);
  }

  /** The node of a path that goes on. `step`: twice the runner, and one more if it shares its place. */
  nodeAfter(node: number, step: number): number {
    const key = node * 2 * this.plan.size + step;
    const known = this.nodes.get(key);
    if (known !== undefined) return known;
    const next = this.reached.length;
    this.nodes.set(key, next);
    this.reached.push(0);
    this.parents.push(node);
    this.steps.push(step);
    return next;
  }

  /** How often each medal outcome was, while those of every meet are kept. */
  kept(): readonly number[] {
    return this.podiumMeets === this.meets ? this.reached : [];
  }

  counts(): SampleCounts {
    const { meets, podiumMeets, places, totals, won, taken, inherited, byScore } = this;
    const podiums = new Map<string, number>();
    for (const [node, count] of this.reached.entries()) {
      if (node > 0 && count > 0) podiums.set(this.nameOf(node), count);
    }
    return { meets, podiumMeets, places, podiums, totals, won, taken, inherited, byScore };
  }

  private nameOf(node: number): string {
    let name = '';
    for (let n = node; n > 0; n = this.parents[n]!) {
      const step = this.steps[n]!;
      const sign = this.parents[n] === 0 ? '' : step % 2 === 1 ? '=' : '>';
      name = `${sign}${step >> 1}${name}`;
    }
    return name;
  }
}
