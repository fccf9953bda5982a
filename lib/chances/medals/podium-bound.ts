/** Medal outcomes between two bounds, where those who are level cannot all be told apart. */
import { FLOAT, INT, type Kernel, withKernel } from '../../kernel/kernel.js';
import type { LevelVisitor } from '../cells/level-walk.js';
import { ROUNDED } from '../cells/lows.js';
import { type Beginnings, beginningsOf, type Followed } from './beginnings.js';
import {
  eachOutcome,
  likeliest,
  type MedalCount,
  type MedalOutcome,
  medalCountIn,
  roomForMedals,
} from './medal-count.js';

/** Where the chances have a bound on their error anyway, less than this is not followed. */
const SLIGHT = 1e-10;

/** How much of a level is ahead of one who is on it: none for most of a chance, all for the least. */
const PARTS = { most: 0, least: 1 } as const;

/** The likeliest outcomes, and a bound on how wrong each of their chances is. */
export interface BoundedOutcomes {
  readonly outcomes: MedalOutcome[];
  readonly error: number;
}

/** The likeliest outcomes that make up `share` of all, from what `show` shows from the best to the worst. */
export function boundMedals(
  size: number,
  followed: Followed,
  share: number,
  show: (visit: LevelVisitor) => void,
): BoundedOutcomes {
  const beginnings = beginningsOf(size, followed);
  const room = 2 * roomForMedals(beginnings) + (FLOAT + INT) * size + FLOAT;
  return withKernel(room, (kernel) => {
    const bound = new PodiumBound(kernel, beginnings);
    show(bound);
    return bound.likeliest(share);
  });
}

class PodiumBound implements LevelVisitor {
  private readonly most: MedalCount;
  private readonly least: MedalCount;
  private readonly who: Int32Array;
  private readonly chances: Float64Array;
  /** By runner: the chance of being level with somebody whose order on that level is not known. */
  private readonly loose: Float64Array;
  private levels = 0;

  constructor(
    private readonly kernel: Kernel,
    private readonly beginnings: Beginnings,
  ) {
    this.most = medalCountIn(kernel, beginnings, null);
    this.least = medalCountIn(kernel, beginnings, null);
    this.who = kernel.ints(beginnings.size);
    this.chances = kernel.floats(beginnings.size);
    this.loose = new Float64Array(beginnings.size);
  }

  get isOver(): boolean {
    return this.most.isOver() && this.least.isOver();
  }

  split(runners: readonly number[], chances: readonly number[]): void {
    this.take(runners, chances, PARTS.most);
  }

  shared(runners: readonly number[], chances: readonly number[]): void {
    this.take(runners, chances, PARTS.least);
  }

  private take(runners: readonly number[], chances: readonly number[], most: number): void {
    this.levels++;
    for (let k = 0; k < runners.length; k++) {
      this.who[k] = runners[k]!;
      this.chances[k] = chances[k]!;
    }
    const { loops } = this.kernel;
    const [who, list] = [this.who.byteOffset, this.chances.byteOffset];
    loops.takeLevel(this.most.address, who, list, runners.length, most, SLIGHT);
    loops.takeLevel(this.least.address, who, list, runners.length, PARTS.least, SLIGHT);
  }

  loosely(runner: number, chance: number): void {
    this.loose[runner]! += chance;
  }

  /** The likeliest first; the chances are half way between their bounds. */
  likeliest(share: number): BoundedOutcomes {
    const all: (MedalOutcome & { readonly bound: number })[] = [];
    eachOutcome(this.beginnings, (setsOf, at) => {
      const chance = this.most.lasts[at]!;
      if (chance <= 0) return;
      const sets = setsOf();
      const loose = sets.flat().reduce((sum, i) => sum + this.loose[i]!, 0);
      const slight = this.levels * SLIGHT * sets.length + 2 * ROUNDED * this.beginnings.size;
      const most = Math.min(chance + loose + slight, 1);
      const least = Math.max(this.least.lasts[at]! - loose, 0);
      all.push({ sets, chance: (most + least) / 2, bound: (most - least) / 2 });
    });
    const outcomes = likeliest(all, share);
    return { outcomes, error: outcomes.reduce((most, { bound }) => Math.max(most, bound), 0) };
  }
}
