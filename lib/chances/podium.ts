/** The ordered medal outcomes, with the chance of each. */

/** The medals, place by place: who has it; nobody where a place before it is shared. */
export interface Podium {
  readonly places: readonly (readonly string[])[];
  readonly chance: number;
}

/** Some of the best results, in order, those who share one together; by runner. */
interface Beginning {
  readonly sets: readonly (readonly number[])[];
  readonly count: number;
  /** That these are in this order, all of them ahead of the result at hand. */
  chance: number;
  /** What the level at hand adds to it. */
  gain: number;
}

/** Among more than so many, three who share one place are looked at only where that is likely. */
const FEW = 8;
const UNLIKELY = 1e-7;

/** Whatever is less likely than this is not followed. */
const NEGLIGIBLE = 1e-15;

export class PodiumCount {
  private readonly ahead: Float64Array;
  private readonly beginnings = new Map<string, Beginning>();
  private readonly found = new Map<
    string,
    { sets: readonly (readonly number[])[]; chance: number }
  >();
  /** The chance of all medal outcomes found so far. */
  private together = 0;

  /** `followed`: whose medals are looked at. */
  constructor(
    private readonly size: number,
    private readonly medals: number,
    private readonly followed: readonly boolean[],
  ) {
    this.ahead = new Float64Array(size);
    this.beginnings.set('', { sets: [], count: 0, chance: 1, gain: 0 });
  }

  single(runner: number, chance: number): void {
    this.level([runner], [chance], 1);
  }

  shared(runners: readonly number[], chances: readonly number[]): void {
    this.level(runners, chances, 1);
  }

  /** Level as far as is known: each is as often ahead as behind, and nobody shares a place. */
  split(runners: readonly number[], chances: readonly number[]): void {
    this.level(runners, chances, 0.5);
  }

  /** `behind`: how much of the level at hand is ahead of, or equal to, one who is on it. */
  private level(runners: readonly number[], chances: readonly number[], behind: number): void {
    const { ahead, size } = this;
    if (this.together < 1 - Number.EPSILON) {
      const free = new Float64Array(size);
      for (let j = 0; j < size; j++) free[j] = 1 - ahead[j]!;
      runners.forEach((j, k) => {
        free[j] = Math.max(free[j]! - behind * chances[k]!, 0);
      });
      const landings = this.landings(runners, chances, behind === 1);
      for (const beginning of [...this.beginnings.values()].sort((a, b) => a.count - b.count)) {
        const reached = beginning.chance + (1 - behind) * beginning.gain;
        if (reached < NEGLIGIBLE) continue;
        for (const landing of landings) {
          if (reached * landing.chance < NEGLIGIBLE) continue;
          if (landing.who.some((i) => beginning.sets.some((set) => set.includes(i)))) continue;
          this.land(beginning, reached, landing, free);
        }
      }
      for (const beginning of this.beginnings.values()) {
        beginning.chance += beginning.gain;
        beginning.gain = 0;
      }
    }
    runners.forEach((j, k) => {
      ahead[j] = Math.min(ahead[j]! + chances[k]!, 1);
    });
  }

  private landings(
    runners: readonly number[],
    chances: readonly number[],
    together: boolean,
  ): { who: readonly number[]; chance: number }[] {
    let sets: { who: number[]; chance: number }[] = [{ who: [], chance: 1 }];
    const few = runners.filter((i) => this.followed[i]).length <= FEW;
    for (const [k, i] of runners.entries()) {
      if (!this.followed[i]) continue;
      const follows = (s: { who: readonly number[]; chance: number }) =>
        (together || s.who.length === 0) &&
        s.chance * chances[k]! >= (s.who.length < 2 || few ? NEGLIGIBLE : UNLIKELY);
      const more = sets
        .filter(follows)
        .map((s) => ({ who: [...s.who, i], chance: s.chance * chances[k]! }));
      sets = [...sets, ...more];
    }
    return sets.slice(1);
  }

  private land(
    { sets, count }: Beginning,
    reached: number,
    { who, chance }: { who: readonly number[]; chance: number },
    free: Float64Array,
  ): void {
    const next = [...sets, [...who].sort((a, b) => a - b)];
    const name = next.map((set) => set.join('=')).join('>');
    const gain = reached * chance;
    if (count + who.length < this.medals && count + who.length < this.size) {
      const known = this.beginnings.get(name);
      if (known !== undefined) known.gain += gain;
      else {
        this.beginnings.set(name, { sets: next, count: count + who.length, chance: 0, gain });
      }
      return;
    }
    let others = 1;
    for (let j = 0; j < this.size && others > 0; j++) {
      if (!next.some((set) => set.includes(j))) others *= free[j]!;
    }
    const final = gain * others;
    if (final === 0) return;
    this.together += final;
    const known = this.found.get(name);
    if (known !== undefined) known.chance += final;
    else this.found.set(name, { sets: next, chance: final });
  }

  /** The likeliest outcomes that together make up `share` of all; fewer where all that was found is less. */
  likeliest(ids: readonly string[], share: number): Podium[] {
    const all = [...this.found.values()].sort((a, b) => b.chance - a.chance);
    const podiums: Podium[] = [];
    let sum = 0;
    for (const { sets, chance } of all) {
      if (sum >= share) break;
      sum += chance;
      podiums.push({ places: this.placesOf(sets, ids), chance: Math.min(chance, 1) });
    }
    return podiums;
  }

  private placesOf(
    sets: readonly (readonly number[])[],
    ids: readonly string[],
  ): readonly (readonly string[])[] {
    const places: string[][] = Array.from({ length: this.medals }, () => []);
    let place = 0;
    for (const set of sets) {
      places[place] = set.map((i) => ids[i]!);
      place += set.length;
    }
    return places;
  }
}
