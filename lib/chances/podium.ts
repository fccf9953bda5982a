/** The ordered medal outcomes, with the chance of each. */
import type { Visitor } from './order.js';
import { multiply } from './places.js';

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
  | 'against';

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
  /** By runner, where one more makes a whole outcome: the chance of that. */
  readonly last: Float64Array;
  /** By the names of several who share the next place. */
  readonly nextShared: Map<number | string, Beginning>;
}

/** Where there is nothing after a beginning. */
const NOBODY: Beginning['next'] = [];
const NO_LAST = new Float64Array(0);
const NO_MORE: Beginning['nextShared'] = new Map();

/** Whether a runner is followed on a place, counted from 0. */
export type MayHave = (runner: number, place: number) => boolean;

const ANY_PLACE: MayHave = () => true;

/** Whatever is less likely than this is not followed. */
const NEGLIGIBLE = 1e-18;

/** So many can be told apart by bits. */
const MOST_BITS = 30;

/** After so many results it is asked again whether there is still a medal to be had. */
const PATIENCE = 64;

/** How much of each level can be behind, or ahead of, one who is on it. */
const BEHIND: Readonly<Record<Lean, number>> = { for: 0, against: 1 };

export class PodiumCount implements Visitor {
  /** By runner: the chance of not being ahead of the result at hand. */
  private readonly behind: Float64Array;
  /** By runner: the chance of being behind all that is level at hand; its inverse, 1 where that is 0. */
  private readonly free: Float64Array;
  private readonly inverse: Float64Array;
  private readonly product: Float64Array;
  private readonly results: Int32Array | null;
  /** By how many are on them. */
  private readonly beginnings: Beginning[][];
  private readonly sharedOutcomes: Beginning[] = [];
  private readonly most: number;
  /** By place, first place first, and runner: whether the runner is followed on it. */
  private readonly may: readonly Uint8Array[];
  private readonly alone: readonly (readonly number[])[];
  /** By runner: its bit, 0 where there are too many. */
  private readonly bits: Int32Array;
  isOver = false;
  private told = 0;

  /**
   * `followed`: whose medals are looked at. `results`: how many each runner has, if that is known.
   * `maySharePlace`: who is followed when they share a place; all of a set must be. `mayHave`: who is
   * followed on which place. What is less likely than `negligible` is not followed.
   */
  constructor(
    private readonly size: number,
    medals: number,
    private readonly followed: readonly boolean[],
    private readonly lean: Lean = 'for',
    results: ArrayLike<number> | null = null,
    private readonly maySharePlace: (i: number, j: number) => boolean = () => true,
    private readonly negligible = NEGLIGIBLE,
    mayHave: MayHave = ANY_PLACE,
  ) {
    this.most = Math.min(medals, size);
    this.may = Array.from({ length: this.most }, (_, place) =>
      Uint8Array.from(followed, (f, i) => (f && mayHave(i, place) ? 1 : 0)),
    );
    const all = followed.flatMap((f, i) => (f ? [i] : []));
    this.alone = followed.map((_, i) => [i]);
    this.bits = new Int32Array(size);
    if (all.length <= MOST_BITS) for (const [n, i] of all.entries()) this.bits[i] = 1 << n;
    this.behind = new Float64Array(size).fill(1);
    this.free = new Float64Array(size);
    this.inverse = new Float64Array(size);
    this.product = new Float64Array(size + 1);
    this.results = results === null ? null : Int32Array.from(results);
    this.beginnings = Array.from({ length: this.most + 1 }, () => []);
    const first = this.beginningOf([], []);
    first.chance = 1;
  }

  single(runner: number, chance: number): void {
    if (this.isOver) return;
    if (this.followed[runner]) {
      this.free.set(this.behind);
      this.finish([runner], [chance], 0);
      // From the longest down, so that nothing lands twice.
      for (let count = this.most - 2; count >= 0; count--) {
        if (this.may[count]![runner] === 0) continue;
        for (const b of this.beginnings[count]!) {
          const gain = b.chance * chance;
          if (gain < NEGLIGIBLE || this.isOn(b, this.bits[runner]!, this.alone[runner]!)) continue;
          this.nextOf(b, this.alone[runner]!, runner).chance += gain;
        }
      }
    }
    this.advance(runner, chance);
    this.endIfDecided();
  }

  /** Equal results: who has one shares a place. */
  shared(runners: readonly number[], chances: readonly number[]): void {
    if (this.isOver) return;
    const { free, behind } = this;
    free.set(behind);
    for (const [k, j] of runners.entries()) free[j] = Math.max(behind[j]! - chances[k]!, 0);
    const followed = runners.flatMap((i, k) => (this.followed[i] ? [k] : []));
    const alone = followed.filter((k) => chances[k]! > NEGLIGIBLE);
    this.finish(
      alone.map((k) => runners[k]!),
      alone.map((k) => chances[k]!),
      0,
    );
    let sets: { who: number[]; chance: number }[] = [{ who: [], chance: 1 }];
    for (const k of followed) {
      const i = runners[k]!;
      const more = sets
        .filter((s) => s.chance * chances[k]! > NEGLIGIBLE)
        .filter((s) => s.who.every((j) => this.maySharePlace(i, j)))
        .map((s) => ({ who: [...s.who, i], chance: s.chance * chances[k]! }));
      sets = [...sets, ...more];
    }
    const all = this.face();
    for (const { who, chance } of sets) if (who.length > 0) this.land(who, chance, all);
    this.settle();
    for (let k = 0; k < runners.length; k++) this.advance(runners[k]!, chances[k]!);
    this.endIfDecided();
  }

  /** Level as far as is known, and nobody shares a place. */
  split(runners: readonly number[], chances: readonly number[]): void {
    if (this.isOver) return;
    const { free, behind, lean } = this;
    const part = BEHIND[lean];
    free.set(behind);
    for (let k = 0; k < runners.length; k++) {
      const j = runners[k]!;
      free[j] = Math.max(behind[j]! - part * chances[k]!, 0);
    }
    const { alone, bits, negligible } = this;
    const landing = runners
      .map((i, k) => ({ i, chance: chances[k]! }))
      .filter(({ i, chance }) => this.followed[i] && chance > negligible)
      .sort((x, y) => y.chance - x.chance);
    // From the shortest up: what lands on this level may be ahead of what lands on it too.
    for (let count = 0; count < this.most - 1; count++) {
      const may = this.may[count]!;
      const beginnings = this.beginnings[count]!;
      for (let n = 0; n < beginnings.length; n++) {
        const b = beginnings[n]!;
        const reached = b.chance + (1 - part) * b.gain;
        for (let k = 0; k < landing.length; k++) {
          const { i, chance } = landing[k]!;
          const gain = reached * chance;
          if (gain < negligible) break;
          if (may[i] === 0 || this.isOn(b, bits[i]!, alone[i]!)) continue;
          this.nextOf(b, alone[i]!, i).gain += gain;
        }
      }
    }
    this.finish(
      landing.map(({ i }) => i),
      landing.map(({ chance }) => chance),
      1 - part,
    );
    this.settle();
    for (let k = 0; k < runners.length; k++) this.advance(runners[k]!, chances[k]!);
    this.endIfDecided();
  }

  /**
   * Whole outcomes that end with one who lands alone: nobody else is ahead. `level`: how much of
   * what lands on the level at hand is ahead of it.
   */
  private finish(runners: readonly number[], chances: readonly number[], level: number): void {
    const { free, inverse, negligible } = this;
    const may = this.may[this.most - 1]!;
    if (runners.every((i) => may[i] === 0)) return;
    const { product, zeros } = this.face();
    const shares = runners.map((i, k) => may[i]! * chances[k]! * inverse[i]!);
    // What is so unlikely with all of them is not followed.
    const least = negligible / shares.reduce((most, share) => Math.max(most, share), 0);
    const beginnings = this.beginnings[this.most - 1]!;
    for (let n = 0; n < beginnings.length; n++) {
      const { chance, gain, members, last } = beginnings[n]!;
      let reached = (chance + level * gain) * product;
      if (reached === 0) continue;
      let ahead = zeros;
      for (let m = 0; m < members.length; m++) {
        const j = members[m]!;
        reached *= inverse[j]!;
        if (free[j] === 0) ahead--;
      }
      if (ahead > 1 || reached < least) continue;
      // What this says of those who are on it already is never read.
      for (let k = 0; k < runners.length; k++) {
        const i = runners[k]!;
        if (ahead === 0 || free[i] === 0) last[i] = last[i]! + reached * shares[k]!;
      }
    }
  }

  /** The product of all that are free to some extent, and how many are not; and the inverses. */
  private face(): { product: number; zeros: number } {
    let product = 1;
    let zeros = 0;
    for (let j = 0; j < this.size; j++) {
      const f = this.free[j]!;
      this.inverse[j] = f === 0 ? 1 : 1 / f;
      if (f === 0) zeros++;
      else product *= f;
    }
    return { product, zeros };
  }

  private endIfDecided(): void {
    if (++this.told % PATIENCE !== 0) return;
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

  private advance(runner: number, chance: number): void {
    const last = this.results !== null && --this.results[runner]! === 0;
    this.behind[runner] = last ? 0 : Math.max(this.behind[runner]! - chance, 0);
  }

  private settle(): void {
    for (const some of this.beginnings) {
      for (let n = 0; n < some.length; n++) {
        const b = some[n]!;
        if (b.gain === 0) continue;
        b.chance += b.gain;
        b.gain = 0;
      }
    }
  }

  /** Some land together on the next place after every beginning they are not on. */
  private land(
    who: readonly number[],
    chance: number,
    all: { product: number; zeros: number },
  ): void {
    const name = nameOf(who, this.size);
    const mask = this.maskOf(who);
    const isAlone = who.length === 1;
    for (let count = this.most - 1; count >= 0; count--) {
      if (isAlone && count === this.most - 1) continue;
      if (who.some((i) => this.may[count]![i] === 0)) continue;
      for (const b of this.beginnings[count]!) {
        const gain = b.chance * chance;
        if (gain < NEGLIGIBLE || this.isOn(b, mask, who)) continue;
        if (count + who.length < this.most) this.nextOf(b, who, name).gain += gain;
        else {
          const rest = this.restOf(b.members, who, all);
          if (rest > 0) this.nextOf(b, who, name).chance += gain * rest;
        }
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
    { product, zeros }: { product: number; zeros: number },
  ): number {
    const { free, inverse } = this;
    let rest = product;
    let ahead = zeros;
    for (const j of members) {
      rest *= inverse[j]!;
      if (free[j] === 0) ahead--;
    }
    for (const j of who) {
      rest *= inverse[j]!;
      if (free[j] === 0) ahead--;
    }
    return ahead > 0 ? 0 : rest;
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
    const toCome = this.most - members.length;
    const next: Beginning['next'] = toCome > 1 ? new Array(this.size).fill(undefined) : NOBODY;
    const last = toCome === 1 ? new Float64Array(this.size) : NO_LAST;
    const mask = this.maskOf(members);
    const nextShared = toCome > 0 ? new Map() : NO_MORE;
    const made = { sets, members, mask, chance: 0, gain: 0, next, last, nextShared };
    if (toCome <= 0) this.sharedOutcomes.push(made);
    else this.beginnings[members.length]!.push(made);
    return made;
  }

  /** The chance of one outcome, by runner. */
  chanceOf(sets: readonly (readonly number[])[]): number {
    let at: Beginning | undefined = this.beginnings[0]![0];
    for (const set of sets) {
      const [i = 0] = set;
      if (set.length === 1 && at?.members.length === this.most - 1) return at.last[i]!;
      at = set.length === 1 ? at?.next[i] : at?.nextShared.get(nameOf(set, this.size));
    }
    return at?.chance ?? 0;
  }

  /** Every outcome that has a chance. */
  outcomes(): MedalOutcome[] {
    const found: MedalOutcome[] = this.sharedOutcomes.map(({ sets, chance }) => ({ sets, chance }));
    for (const { sets, members, last } of this.beginnings[this.most - 1]!) {
      for (const [i, chance] of last.entries()) {
        if (chance > 0 && !members.includes(i)) found.push({ sets: [...sets, [i]], chance });
      }
    }
    return found;
  }
}

/** The likeliest outcomes that together make up `share` of all; fewer where all there are is less. */
export function likeliest(outcomes: readonly MedalOutcome[], share: number): MedalOutcome[] {
  const found: MedalOutcome[] = [];
  let sum = 0;
  for (const { sets, chance } of [...outcomes].sort((a, b) => b.chance - a.chance)) {
    if (sum >= share || chance === 0) break;
    sum += chance;
    found.push({ sets, chance: Math.min(chance, 1) });
  }
  return found;
}

/** A name for some runners, whatever their order. */
function nameOf(who: readonly number[], size: number): number | string {
  const [i = 0, j] = who;
  if (j === undefined) return i;
  if (who.length === 2) return size + Math.min(i, j) * size + Math.max(i, j);
  return [...who].sort((x, y) => x - y).join();
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
