/** The ordered medal outcomes, with the chance of each. */
import type { Visitor } from './order.js';
import { multiply } from './places.js';
import { NONE, productOf } from './titles.js';

/** The medals, place by place: who has it; nobody where a place before it is shared. */
export interface Podium {
  readonly places: readonly (readonly string[])[];
  readonly chance: number;
}

/** By place, place after place, who is on it; by runner. */
export interface MedalOutcome {
  readonly sets: readonly (readonly number[])[];
  readonly chance: number;
}

/** How the results of those who are level are taken, as far as they cannot be told apart. */
export type Lean =
  /** All as they must be for the outcome at hand: more than its chance. */
  | 'for'
  /** All as they must not be: less. */
  | 'against'
  /** Each as often ahead as behind. */
  | 'between';

/** Some of the best results, in order, those who share one together; by runner. */
interface Beginning {
  readonly sets: readonly (readonly number[])[];
  readonly members: readonly number[];
  /** The same as bits of those who are followed, 0 where these are too many. */
  readonly mask: number;
  /** That these are in this order, all of them ahead of the result at hand. */
  chance: number;
  /** What the level at hand adds to it. */
  gain: number;
  /** By runner: this with one runner more. */
  readonly next: (Beginning | undefined)[];
  /** By the names of several who share the next place. */
  readonly nextShared: Map<number | string, Beginning>;
}

/** After a whole outcome. */
const NOBODY: Beginning['next'] = [];
const NO_MORE: Beginning['nextShared'] = new Map();

/** Whatever is less likely than this is not followed. */
const NEGLIGIBLE = 1e-15;

/** So many can be told apart by bits. */
const MOST_BITS = 30;

/** How much of each level can be behind, or ahead of, one who is on it. */
const BEHIND: Readonly<Record<Lean, number>> = { for: 0, between: 0.5, against: 1 };

export class PodiumCount implements Visitor {
  /** By runner: the chance of not being ahead of the result at hand. */
  private readonly behind: Float64Array;
  private readonly free: Float64Array;
  private readonly product: Float64Array;
  private readonly results: Int32Array | null;
  /** By how many are on them. */
  private readonly beginnings: Beginning[][];
  private readonly outcomes: Beginning[] = [];
  private readonly most: number;
  private readonly alone: readonly (readonly number[])[];
  /** By runner: its bit, 0 where there are too many. */
  private readonly bits: Int32Array;
  private isOver = false;

  /**
   * `followed`: whose medals are looked at. `results`: how many each runner has, if that is known.
   * `maySharePlace`: who is followed when they share a place; all of a set must be. What is less
   * likely than `negligible` is not followed.
   */
  constructor(
    private readonly size: number,
    medals: number,
    private readonly followed: readonly boolean[],
    private readonly lean: Lean = 'between',
    results: ArrayLike<number> | null = null,
    private readonly maySharePlace: (i: number, j: number) => boolean = () => true,
    private readonly negligible = NEGLIGIBLE,
  ) {
    this.most = Math.min(medals, size);
    const all = followed.flatMap((f, i) => (f ? [i] : []));
    this.alone = followed.map((_, i) => [i]);
    this.bits = new Int32Array(size);
    if (all.length <= MOST_BITS) for (const [n, i] of all.entries()) this.bits[i] = 1 << n;
    this.behind = new Float64Array(size).fill(1);
    this.free = new Float64Array(size);
    this.product = new Float64Array(size + 1);
    this.results = results === null ? null : Int32Array.from(results);
    this.beginnings = Array.from({ length: this.most + 1 }, () => []);
    const first = this.beginningOf([], []);
    first.chance = 1;
  }

  single(runner: number, chance: number): void {
    if (this.isOver) return;
    if (this.followed[runner]) {
      const all = productOf(this.behind, runner);
      this.land(this.alone[runner]!, chance, this.behind, all);
    }
    this.advance(runner, chance);
    this.isOver = this.countAhead() >= this.most;
  }

  /** Equal results: who has one shares a place. */
  shared(runners: readonly number[], chances: readonly number[]): void {
    if (this.isOver) return;
    const { free, behind } = this;
    free.set(behind);
    for (const [k, j] of runners.entries()) free[j] = Math.max(behind[j]! - chances[k]!, 0);
    const followed = runners.flatMap((i, k) => (this.followed[i] ? [k] : []));
    let sets: { who: number[]; chance: number }[] = [{ who: [], chance: 1 }];
    for (const k of followed) {
      const i = runners[k]!;
      const more = sets
        .filter((s) => s.chance * chances[k]! > NEGLIGIBLE)
        .filter((s) => s.who.every((j) => this.maySharePlace(i, j)))
        .map((s) => ({ who: [...s.who, i], chance: s.chance * chances[k]! }));
      sets = [...sets, ...more];
    }
    const all = productOf(free, -1);
    for (const { who, chance } of sets) {
      if (who.length > 0) this.land(who, chance, free, all);
    }
    this.settle();
    for (const [k, j] of runners.entries()) this.advance(j, chances[k]!);
    this.isOver = this.countAhead() >= this.most;
  }

  /** Level as far as is known, and nobody shares a place. */
  split(runners: readonly number[], chances: readonly number[]): void {
    if (this.isOver) return;
    const { free, behind, lean } = this;
    const part = BEHIND[lean];
    free.set(behind);
    for (const [k, j] of runners.entries()) free[j] = Math.max(behind[j]! - part * chances[k]!, 0);
    const all = productOf(free, -1);
    const { alone, bits, negligible } = this;
    const landing = runners
      .map((i, k) => ({ i, chance: chances[k]! }))
      .filter(({ i, chance }) => this.followed[i] && chance > negligible)
      .sort((x, y) => y.chance - x.chance);
    // From the shortest up: what lands on this level may be ahead of what lands on it too.
    for (let count = 0; count < this.most; count++) {
      for (const b of this.beginnings[count]!) {
        const reached = b.chance + (1 - part) * b.gain;
        for (let l = 0; l < landing.length; l++) {
          const { i, chance } = landing[l]!;
          const gain = reached * chance;
          if (gain < negligible) break;
          if (this.isOn(b, bits[i]!, alone[i]!)) continue;
          if (count + 1 < this.most) this.nextOf(b, alone[i]!, i).gain += gain;
          else {
            const rest = this.restOf(b.members, alone[i]!, free, all);
            if (rest > 0) this.nextOf(b, alone[i]!, i).chance += gain * rest;
          }
        }
      }
    }
    this.settle();
    for (const [k, j] of runners.entries()) this.advance(j, chances[k]!);
    if (this.fewAhead() < this.negligible) this.isOver = true;
  }

  /** The chance that there is still a medal to be had by somebody who is not ahead yet. */
  private fewAhead(): number {
    const { behind, free, product, size } = this;
    for (let j = 0; j < size; j++) free[j] = 1 - behind[j]!;
    const { degree, sure } = multiply(free, size, product);
    let sum = 0;
    for (let k = 0; k <= degree && k + sure < this.most; k++) sum += product[k]!;
    return sum;
  }

  /** How many are ahead of all results to come, whatever happens. */
  private countAhead(): number {
    let count = 0;
    for (const c of this.behind) if (c === 0) count++;
    return count;
  }

  private advance(runner: number, chance: number): void {
    const last = this.results !== null && --this.results[runner]! === 0;
    this.behind[runner] = last ? 0 : Math.max(this.behind[runner]! - chance, 0);
  }

  private settle(): void {
    for (const some of this.beginnings) {
      for (const b of some) {
        b.chance += b.gain;
        b.gain = 0;
      }
    }
  }

  /**
   * Some land on the next place after every beginning they are not on. `free`: by runner, the chance
   * of being behind all that; `all`: the product of those.
   */
  private land(
    who: readonly number[],
    chance: number,
    free: Float64Array,
    all: { product: number; zero: number },
  ): void {
    const name = nameOf(who, this.size);
    const mask = this.maskOf(who);
    // From the longest down, so that nothing lands twice.
    for (let count = this.most - 1; count >= 0; count--) {
      for (const b of this.beginnings[count]!) {
        const gain = b.chance * chance;
        if (gain < NEGLIGIBLE || this.isOn(b, mask, who)) continue;
        if (count + who.length < this.most) {
          const next = this.nextOf(b, who, name);
          if (free === this.behind) next.chance += gain;
          else next.gain += gain;
          continue;
        }
        const rest = this.restOf(b.members, who, free, all);
        if (rest > 0) this.nextOf(b, who, name).chance += gain * rest;
      }
    }
  }

  private maskOf(who: readonly number[]): number {
    let mask = 0;
    for (const i of who) mask |= this.bits[i]!;
    return mask;
  }

  private isOn(b: Beginning, mask: number, who: readonly number[]): boolean {
    return mask === 0 ? who.some((i) => b.members.includes(i)) : (b.mask & mask) !== 0;
  }

  /** That nobody else is ahead. */
  private restOf(
    members: readonly number[],
    who: readonly number[],
    free: Float64Array,
    { product, zero }: { product: number; zero: number },
  ): number {
    if (zero !== NONE) {
      let rest = 1;
      for (let j = 0; j < this.size && rest > 0; j++) {
        if (!members.includes(j) && !who.includes(j)) rest *= free[j]!;
      }
      return rest;
    }
    let rest = product;
    for (const j of members) rest /= free[j]!;
    // The product of a single landing leaves out the runner itself.
    if (free !== this.behind) for (const j of who) rest /= free[j]!;
    return rest;
  }

  private nextOf(b: Beginning, who: readonly number[], name: number | string): Beginning {
    const single = who.length === 1 ? who[0]! : -1;
    let next = single < 0 ? b.nextShared.get(name) : b.next[single];
    if (next === undefined) {
      const set = [...who].sort((x, y) => x - y);
      next = this.beginningOf([...b.sets, set], [...b.members, ...set]);
      if (single < 0) b.nextShared.set(name, next);
      else b.next[single] = next;
    }
    return next;
  }

  private beginningOf(sets: Beginning['sets'], members: readonly number[]): Beginning {
    const isWhole = members.length >= this.most;
    const next: Beginning['next'] = isWhole ? NOBODY : new Array(this.size).fill(undefined);
    const mask = this.maskOf(members);
    const nextShared = isWhole ? NO_MORE : new Map();
    const made = { sets, members, mask, chance: 0, gain: 0, next, nextShared };
    if (isWhole) this.outcomes.push(made);
    else this.beginnings[members.length]!.push(made);
    return made;
  }

  /** The chance of one outcome, by runner. */
  chanceOf(sets: readonly (readonly number[])[]): number {
    let at: Beginning | undefined = this.beginnings[0]![0];
    for (const set of sets) {
      const [i = 0] = set;
      at = set.length === 1 ? at?.next[i] : at?.nextShared.get(nameOf(set, this.size));
    }
    return at?.chance ?? 0;
  }

  /** The likeliest outcomes that together make up `share` of all; fewer where all that was found is less. */
  likeliest(share: number): MedalOutcome[] {
    const found: MedalOutcome[] = [];
    let sum = 0;
    for (const outcome of [...this.outcomes].sort((a, b) => b.chance - a.chance)) {
      if (sum >= share || outcome.chance === 0) break;
      sum += outcome.chance;
      found.push({ sets: outcome.sets, chance: Math.min(outcome.chance, 1) });
    }
    return found;
  }
}

/** A name for some runners, whatever their order. */
function nameOf(who: readonly number[], size: number): number | string {
  const [i = 0, j] = who;
  if (j === undefined) return i;
  if (who.length === 2) return size + Math.min(i, j) * size + Math.max(i, j);
  return [...who].sort((x, y) => x - y).join();
}

/** How likely two share a place that brings a medal, at most. */
export class SharedMedals implements Visitor {
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

/** Where the chances have a bound on their error anyway, less than this is not followed. */
const SLIGHT = 1e-10;

/** The medal outcomes where those who are level cannot all be told apart, and how wrong they are. */
export class PodiumBound {
  private readonly counts: Readonly<Record<Lean, PodiumCount>>;
  /** By runner: the chance of being level with somebody whose order on that level is not known. */
  private readonly loose: Float64Array;
  private levels = 0;

  constructor(size: number, medals: number, followed: readonly boolean[]) {
    const count = (lean: Lean) =>
      new PodiumCount(size, medals, followed, lean, null, () => false, SLIGHT);
    this.counts = { for: count('for'), between: count('between'), against: count('against') };
    this.loose = new Float64Array(size);
  }

  /** Some who are level, behind all told before. */
  split(runners: readonly number[], chances: readonly number[]): void {
    this.levels++;
    for (const count of Object.values(this.counts)) count.split(runners, chances);
  }

  /** Level with results that were told as if they were behind or ahead of them. */
  loosely(runner: number, chance: number): void {
    this.loose[runner]! += chance;
  }

  /** The likeliest first; the chances are half way between their bounds. */
  likeliest(share: number): { outcomes: MedalOutcome[]; error: number } {
    let error = 0;
    const outcomes = this.counts.between.likeliest(share).map(({ sets }) => {
      const loose = sets.flat().reduce((sum, i) => sum + this.loose[i]!, 0);
      const slight = this.levels * SLIGHT * sets.length;
      const most = Math.min(this.counts.for.chanceOf(sets) + loose + slight, 1);
      const least = Math.max(this.counts.against.chanceOf(sets) - loose, 0);
      error = Math.max(error, (most - least) / 2);
      return { sets, chance: (most + least) / 2 };
    });
    return { outcomes: outcomes.sort((a, b) => b.chance - a.chance), error };
  }
}

/** By place: who has it. */
export function podiumPlaces(
  sets: readonly (readonly number[])[],
  ids: readonly string[],
  medals: number,
): string[][] {
  const places: string[][] = Array.from({ length: medals }, () => []);
  let place = 0;
  for (const set of sets) {
    places[place] = set.map((i) => ids[i]!);
    place += set.length;
  }
  return places;
}
