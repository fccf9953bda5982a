/** Whether shared medals are likely enough to be followed. */
import { multiply } from './places.js';

/** How likely two share a place that brings a medal, at most. */
export class SharedMedals {
  private readonly most: Float64Array;
  private readonly ahead: Float64Array;
  private readonly product: Float64Array;

  constructor(
    private readonly size: number,
    private readonly medals: number,
  ) {
    this.most = new Float64Array(size * size);
    this.ahead = new Float64Array(size);
    this.product = new Float64Array(size + 1);
  }

  single(runner: number, chance: number): void {
    this.ahead[runner] = Math.min(this.ahead[runner]! + chance, 1);
  }

  shared(runners: readonly number[], chances: readonly number[]): void {
    const { ahead, most, size } = this;
    const { degree, sure } = multiply(ahead, size, this.product);
    const fewer = (than: number) => {
      let sum = 0;
      for (let k = 0; k <= degree && k + sure < than; k++) sum += this.product[k]!;
      return Math.min(sum, 1);
    };
    // Of the others alone: with the two themselves at most two more, or none if they are behind.
    const [few, fewWithThem] = [fewer(this.medals + 2), fewer(this.medals)];
    for (const [k, i] of runners.entries()) {
      for (const [l, j] of runners.entries()) {
        if (i === j) continue;
        const behind = (1 - ahead[i]!) * (1 - ahead[j]!);
        const others = behind > 0 ? Math.min(few, fewWithThem / behind) : few;
        most[i * size + j]! += chances[k]! * chances[l]! * others;
      }
    }
    for (const [k, i] of runners.entries()) this.single(i, chances[k]!);
  }

  bound(i: number, j: number): number {
    return this.most[i * this.size + j]!;
  }
}
