/** Medal outcomes between two bounds. */
import { type Lean, likeliest, type MayHave, type MedalOutcome, PodiumCount } from './podium.js';

/** Where the chances have a bound on their error anyway, less than this is not followed. */
const SLIGHT = 1e-10;

/** The medal outcomes where those who are level cannot all be told apart, and how wrong they are. */
export class PodiumBound {
  private readonly counts: { readonly for: PodiumCount; readonly against: PodiumCount };
  /** By runner: the chance of being level with somebody whose order on that level is not known. */
  private readonly loose: Float64Array;
  private levels = 0;

  constructor(size: number, medals: number, followed: readonly boolean[], mayHave?: MayHave) {
    const count = (lean: Lean) =>
      new PodiumCount(size, medals, followed, lean, null, () => false, SLIGHT, mayHave);
    this.counts = { for: count('for'), against: count('against') };
    this.loose = new Float64Array(size);
  }

  /** Some who are level, behind all told before. */
  split(runners: readonly number[], chances: readonly number[]): void {
    this.levels++;
    this.counts.for.split(runners, chances);
    this.counts.against.split(runners, chances);
  }

  /** Some who share a place, behind all told before. */
  shared(runners: readonly number[], chances: readonly number[]): void {
    this.levels++;
    this.counts.for.shared(runners, chances);
    this.counts.against.shared(runners, chances);
  }

  /** Level with results that were told as if they were behind or ahead of them. */
  loosely(runner: number, chance: number): void {
    this.loose[runner]! += chance;
  }

  /** The likeliest first; the chances are half way between their bounds. */
  likeliest(share: number): { outcomes: MedalOutcome[]; error: number } {
    const bounds = new Map<MedalOutcome['sets'], number>();
    const all = this.counts.for.outcomes().map(({ sets, chance }): MedalOutcome => {
      const loose = sets.flat().reduce((sum, i) => sum + this.loose[i]!, 0);
      const slight = this.levels * SLIGHT * sets.length;
      const most = Math.min(chance + loose + slight, 1);
      const least = Math.max(this.counts.against.chanceOf(sets) - loose, 0);
      bounds.set(sets, (most - least) / 2);
      return { sets, chance: (most + least) / 2 };
    });
    const outcomes = likeliest(all, share);
    return { outcomes, error: Math.max(0, ...outcomes.map(({ sets }) => bounds.get(sets)!)) };
  }
}
