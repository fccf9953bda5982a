/** Everyone's totals from the best to the worst, level after level. */
import type { Distribution } from '../../range/distribution.js';

/** Below every total. */
const NO_MORE = -1;

export class Levels {
  /** The total of the level at hand. */
  total = NO_MORE;
  /** How many have it, and who, in rising order. */
  count = 0;
  readonly who: Int32Array;
  /** By member: the chance of that total; 0 for who cannot have it. */
  readonly chanceOf: Float64Array;
  /** By member: its highest total that is not above the level, by its place in the list; and the total. */
  private readonly places: Int32Array;
  private readonly next: Float64Array;
  private readonly all: number;
  private passed = 0;

  constructor(private readonly totals: readonly Distribution[]) {
    this.who = new Int32Array(totals.length);
    this.chanceOf = new Float64Array(totals.length);
    this.places = Int32Array.from(totals, ({ scores }) => scores.length - 1);
    this.next = Float64Array.from(totals, ({ scores }) => scores.at(-1) ?? NO_MORE);
    this.all = totals.reduce((sum, { scores }) => sum + scores.length, 0);
  }

  /** Goes on to the next level; false when there is none. */
  descend(): boolean {
    const { who, chanceOf, places, next, totals } = this;
    for (let k = 0; k < this.count; k++) {
      const i = who[k]!;
      places[i]!--;
      next[i] = totals[i]!.scores[places[i]!] ?? NO_MORE;
      chanceOf[i] = 0;
    }
    this.passed += this.count;
    this.total = highestOf(next);
    if (this.total === NO_MORE) return false;
    this.count = findEqual(next, this.total, who);
    for (let k = 0; k < this.count; k++) {
      const i = who[k]!;
      chanceOf[i] = totals[i]!.chances[places[i]!]!;
    }
    return true;
  }

  /** How many results are above the level, and which share of all that is. */
  get above(): number {
    return this.passed;
  }

  get share(): number {
    return this.passed / this.all;
  }

  /** Whether the level is the lowest that a member can have. */
  isLastOf(member: number): boolean {
    return this.places[member] === 0;
  }
}

function highestOf(list: Float64Array): number {
  let highest = NO_MORE;
  for (let i = 0; i < list.length; i++) if (list[i]! > highest) highest = list[i]!;
  return highest;
}

/** Where a number is in a list; gives how often. */
function findEqual(list: Float64Array, wanted: number, found: Int32Array): number {
  let count = 0;
  for (let i = 0; i < list.length; i++) if (list[i] === wanted) found[count++] = i;
  return count;
}
