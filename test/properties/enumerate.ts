/**
 * A second opinion on chances, from the design alone: every way the routines to come can go is tried
 * one by one and weighed by its chance. Totals and tie keys are those of the naive judge, the chance
 * of a score that of another library's Beta distribution.
 */
import { cleanChances } from './chance.js';
import {
  type Court,
  cleanScores,
  type Judged,
  type Key,
  keyFor,
  keysOf,
  mayTurn,
  placesOf,
  recordedWorld,
  type Stand,
  standOf,
  standsIn,
  supposed,
  type World,
} from './naive.js';

type Rule = Court['rules'][number];

export interface Weighed {
  readonly score: number;
  readonly chance: number;
}

/** The scores of a routine to come, falls included, rising; null where something is missing. */
export function weighedScores({ facts, sketch }: Court, key: string): Weighed[] | null {
  const { low, likely, high, falls } = facts.ranges.get(key) ?? {};
  if (low === undefined || likely === undefined || high === undefined || falls === undefined) {
    return null;
  }
  const scores = cleanScores(facts, sketch.decimals, { low, likely, high });
  const chances = cleanChances({ low, likely, high }, scores);
  const found = new Map<number, number>();
  for (const [count, weight] of [1 - falls, falls * (1 - falls), falls * falls].entries()) {
    if (weight === 0) continue;
    for (const [i, score] of scores.entries()) {
      const fallen = Math.max(score - count * facts.fall, 0);
      found.set(fallen, (found.get(fallen) ?? 0) + weight * (chances[i] ?? 0));
    }
  }
  return [...found].map(([score, chance]) => ({ score, chance })).sort((a, b) => a.score - b.score);
}

/** The lowest score with at least that cumulative chance. */
export function quantileOf(scores: readonly Weighed[], q: number): number {
  let sum = 0;
  for (const { score, chance } of scores) {
    sum += chance;
    if (sum >= q) return score;
  }
  return scores.at(-1)?.score ?? 0;
}

// ---------------------------------------------------------------------------------------------
// What one contender can end with

/** One way the routines to come of one contender can go. */
interface Completion {
  readonly chance: number;
  /** In the order of `toCome`. */
  readonly scores: readonly number[];
  readonly total: number;
  /** By rule of the contest. */
  readonly keys: readonly Key[];
}

interface Member {
  readonly who: Judged;
  readonly toCome: readonly string[];
  readonly completions: readonly Completion[];
}

/** Everyone who can have a place, with all they can end with. */
export interface Field {
  readonly court: Court;
  readonly members: readonly Member[];
  /** Nobody in it has a routine to come. */
  readonly over: boolean;
  /** Rules for which somebody lacks the data at some end. */
  readonly lacking: readonly Rule[];
  /** Those, and the rules for which only routines that never count lack it. */
  readonly mayLack: readonly Rule[];
}

/** Her routines to come, in the order they go up. */
function openOf({ facts }: Court, who: Judged, world: World): string[] {
  const hers = new Set(keysOf(who));
  return facts.routines.map((r) => r.key).filter((key) => hers.has(key) && world.get(key) === null);
}

/** Whoever is not out, and is on the board in the end. */
export function ableIn(court: Court): Judged[] {
  const world = recordedWorld(court.facts);
  return court.contenders.filter((c) => {
    const stand = standOf(c, world);
    return !stand.out && (stand.placed || openOf(court, c, world).length > 0);
  });
}

/** The routines to come that matter: those of whoever is not out. */
export function routinesToCome(court: Court): string[] {
  const world = recordedWorld(court.facts);
  return ableIn(court).flatMap((who) => openOf(court, who, world));
}

/** Routines to come whose range is not whole. */
export function missingIn(court: Court): string[] {
  return routinesToCome(court).filter((key) => weighedScores(court, key) === null);
}

/** Null where somebody's routines can go in more than `most` ways. Every range must be there. */
export function fieldOf(court: Court, most: number): Field | null {
  const { facts, rules } = court;
  const world = recordedWorld(facts);
  const members: Member[] = [];
  for (const who of ableIn(court)) {
    const toCome = openOf(court, who, world);
    const ranges = toCome.map((key) => weighedScores(court, key) ?? []);
    if (ranges.reduce((ways, { length }) => ways * length, 1) > most) return null;
    const completions: Completion[] = [];
    const scores: number[] = [];
    const go = (i: number, chance: number): void => {
      const key = toCome[i];
      if (key === undefined) {
        const stand = standOf(who, world);
        const keys = rules.map((rule) => keyFor(rule, stand));
        completions.push({ chance, scores: [...scores], total: stand.total, keys });
        return;
      }
      for (const { score, chance: p } of ranges[i] ?? []) {
        world.set(key, supposed(score, facts.ranges.get(key)?.d));
        scores[i] = score;
        go(i + 1, chance * p);
      }
      world.set(key, null);
    };
    go(0, 1);
    members.push({ who, toCome, completions });
  }
  const lacks = (index: number) => {
    const sizes = new Set<number>();
    for (const { completions } of members) {
      for (const { keys } of completions) {
        const key = keys[index];
        if (typeof key !== 'object') return true;
        sizes.add(key.length);
      }
    }
    return sizes.size > 1;
  };
  const lacking = rules.filter((rule, i) => lacks(i) || isOutOfPlace(rule, court));
  const mayLack = rules.filter(
    (rule) => lacking.includes(rule) || (mayTurn(court) && somebodyLacks(rule, court)),
  );
  const over = members.every(({ toCome }) => toCome.length === 0);
  return { court, members, over, lacking, mayLack };
}

function isOutOfPlace(rule: Rule, { contest }: Court): boolean {
  return rule === 'best-vault' && !(contest.kind === 'apparatus' && contest.vaults === 2);
}

function somebodyLacks(rule: Rule, court: Court): boolean {
  if (rule !== 'execution' && rule !== 'difficulty') return false;
  const { facts } = court;
  return ableIn(court)
    .flatMap(keysOf)
    .some((key) => {
      const result = facts.results.get(key);
      if (result === 'DNS' || result === 'DNF') return false;
      if (result == null) return facts.ranges.get(key)?.d === undefined;
      return (rule === 'execution' ? result.e : result.d) === null;
    });
}

// ---------------------------------------------------------------------------------------------
// Everyone's endings on one ladder

/** A higher rung is ahead, the same rung is a shared place. */
interface Ending {
  readonly chance: number;
  readonly scores: readonly number[];
  readonly rung: number;
}

export interface Climber {
  readonly id: string;
  readonly toCome: readonly string[];
  readonly endings: readonly Ending[];
}

/** Those who can have a place, each independent of the others. */
export type Ladder = readonly Climber[];

/**
 * Totals first, then the keys of the rules that are applied, most important first; when all is over
 * the places of the final board.
 */
export function ladderOf(
  { court, members, over, lacking }: Field,
  skipped: readonly Rule[],
): Ladder {
  const climber = ({ who, toCome }: Member, endings: Ending[]) => ({ id: who.id, toCome, endings });
  if (over) {
    const places = placesOf(standsIn(court, recordedWorld(court.facts)), court.rules);
    return members.map((m) =>
      climber(m, [{ chance: 1, scores: [], rung: -(places.get(m.who.id)?.place ?? 0) }]),
    );
  }
  const unused = members.length < 2 ? court.rules : skipped;
  const used = court.rules.flatMap((rule, i) => (unused.includes(rule) ? [] : [i]));
  const early = lacking.find((rule) => !unused.includes(rule));
  if (early !== undefined) throw new RangeError(`${early} cannot be applied`);
  const numbers = (key: Key | undefined) => (typeof key === 'object' ? key : []);
  const values = ({ total, keys }: Completion) => [total, ...used.flatMap((i) => numbers(keys[i]))];
  const rungs = rungsOf(members.flatMap((m) => m.completions.map(values)));
  return members.map((m) =>
    climber(
      m,
      m.completions.map((c) => ({
        chance: c.chance,
        scores: c.scores,
        rung: rungs.get(values(c).join()) ?? -1,
      })),
    ),
  );
}

/** Lists of numbers in order, the first that differs decides: from each its rank. */
export function rungsOf(lists: readonly (readonly number[])[]): Map<string, number> {
  const distinct = [...new Map(lists.map((list) => [list.join(), list])).values()];
  distinct.sort((a, b) => {
    for (let i = 0; i < a.length; i++) {
      const difference = (a[i] ?? 0) - (b[i] ?? 0);
      if (difference !== 0) return difference;
    }
    return 0;
  });
  return new Map(distinct.map((list, rung) => [list.join(), rung]));
}

/** The same, when it is known what one routine to come scores. */
export function given(ladder: Ladder, key: string, score: number): Ladder {
  return ladder.map((climber) => {
    const i = climber.toCome.indexOf(key);
    if (i < 0) return climber;
    const left = climber.endings.filter((e) => e.scores[i] === score);
    const sum = left.reduce((s, { chance }) => s + chance, 0);
    return { ...climber, endings: left.map((e) => ({ ...e, chance: e.chance / sum })) };
  });
}

/** The chance of each rung. */
function rungChances({ endings }: Climber): Map<number, number> {
  const chances = new Map<number, number>();
  for (const { rung, chance } of endings) chances.set(rung, (chances.get(rung) ?? 0) + chance);
  return chances;
}

/** In how many ways it can end, who ends on the same rung counted once. */
export function waysOf(ladder: Ladder): number {
  return ladder.reduce((ways, climber) => ways * rungChances(climber).size, 1);
}

/** Goes through every way it can end: the place of each, in the order of the ladder. */
function everyEnd(
  ladder: Ladder,
  visit: (places: readonly number[], chance: number) => void,
): void {
  const all = ladder.map((c) => [...rungChances(c)]);
  const rungs: number[] = [];
  const go = (i: number, chance: number): void => {
    if (i === all.length) {
      const places = rungs.map((own) => 1 + rungs.filter((other) => other > own).length);
      visit(places, chance);
      return;
    }
    for (const [rung, p] of all[i] ?? []) {
      rungs[i] = rung;
      go(i + 1, chance * p);
    }
  };
  go(0, 1);
}

/** The chance of each place from the first to the last there is, by contender. */
export type PlaceChances = ReadonlyMap<string, readonly number[]>;

/** More ways than this are not tried one by one. */
const MOST_WAYS = 30_000;

export function placeChances(ladder: Ladder): PlaceChances {
  return waysOf(ladder) > MOST_WAYS ? countedPlaces(ladder) : enumeratedPlaces(ladder);
}

export function enumeratedPlaces(ladder: Ladder): PlaceChances {
  const chances = ladder.map(() => ladder.map(() => 0));
  everyEnd(ladder, (places, chance) => {
    for (const [i, place] of places.entries()) {
      const own = chances[i];
      if (own !== undefined) own[place - 1] = (own[place - 1] ?? 0) + chance;
    }
  });
  return new Map(ladder.map(({ id }, i) => [id, chances[i] ?? []]));
}

/**
 * The same by what one contender can end with and how many of the others, each by itself, are then
 * ahead: for fields in which not every way can be tried.
 */
export function countedPlaces(ladder: Ladder): PlaceChances {
  const rungs = ladder.flatMap((c) => c.endings.map((e) => e.rung));
  const top = rungs.reduce((a, b) => Math.max(a, b), 0);
  const bottom = rungs.reduce((a, b) => Math.min(a, b), 0);
  const own = ladder.map(rungChances);
  // By rung, the chance to end above it.
  const above = own.map((chances) => {
    const list = new Float64Array(top - bottom + 2);
    for (let rung = top; rung >= bottom; rung--) {
      list[rung - bottom] = (list[rung - bottom + 1] ?? 0) + (chances.get(rung + 1) ?? 0);
    }
    return list;
  });
  return new Map(
    ladder.map(({ id }, i) => {
      const places = ladder.map(() => 0);
      for (const [rung, chance] of own[i] ?? []) {
        const ahead = new Float64Array(ladder.length + 1);
        ahead[0] = 1;
        let most = 0;
        for (const [j, list] of above.entries()) {
          const p = list[rung - bottom] ?? 0;
          if (j === i || p === 0) continue;
          most++;
          for (let n = most; n > 0; n--) {
            ahead[n] = (ahead[n] ?? 0) * (1 - p) + (ahead[n - 1] ?? 0) * p;
          }
          ahead[0] = (ahead[0] ?? 0) * (1 - p);
        }
        for (let n = 0; n <= most; n++) {
          places[n] = (places[n] ?? 0) + chance * (ahead[n] ?? 0);
        }
      }
      return [id, places] as const;
    }),
  );
}

// ---------------------------------------------------------------------------------------------
// Podiums

/** Who has the first place, the second, …; those who share one in the order of their ids. */
export function podiumName(places: readonly (readonly string[])[]): string {
  return places.map((ids) => [...ids].sort().join('=')).join(' ');
}

/** The chance of every podium; null where not every way can be tried. */
export function podiumChances(
  ladder: Ladder,
  medals: number,
  most = MOST_WAYS,
): Map<string, number> | null {
  if (waysOf(ladder) > most) return null;
  const chances = new Map<string, number>();
  everyEnd(ladder, (places, chance) => {
    const name = podiumName(
      Array.from({ length: medals }, (_, p) =>
        ladder.filter((_, i) => places[i] === p + 1).map((c) => c.id),
      ),
    );
    chances.set(name, (chances.get(name) ?? 0) + chance);
  });
  return chances;
}

/** The chance of one podium, whatever the size of the field. */
export function podiumChance(ladder: Ladder, podium: readonly (readonly string[])[]): number {
  const groups = podium.filter((ids) => ids.length > 0);
  const last = groups.at(-1);
  // Places are counted by who is ahead, and nobody is left out who has one.
  let ahead = 0;
  for (const [i, ids] of podium.entries()) {
    if (ids.length > 0 ? ahead !== i : ahead === i && ahead < ladder.length) return 0;
    ahead += ids.length;
  }
  if (last === undefined) return 1;
  const own = new Map(ladder.map((c) => [c.id, rungChances(c)]));
  const on = new Set(groups.flat());
  const others = ladder.filter((c) => !on.has(c.id));
  const rungs = [...new Set(ladder.flatMap((c) => c.endings.map((e) => e.rung)))];
  rungs.sort((a, b) => a - b);
  const together = (ids: readonly string[], rung: number) =>
    ids.reduce((p, id) => p * (own.get(id)?.get(rung) ?? 0), 1);
  // The lowest medallists, with everyone else below them.
  const below = others.map(() => 0);
  let chances = rungs.map((rung) => {
    const chance = together(last, rung) * below.reduce((p, b) => p * b, 1);
    for (const [i, other] of others.entries()) {
      below[i] = (below[i] ?? 0) + (own.get(other.id)?.get(rung) ?? 0);
    }
    return chance;
  });
  // Then each group above the one before.
  for (const ids of groups.slice(0, -1).reverse()) {
    let lower = 0;
    chances = rungs.map((rung, i) => {
      const chance = together(ids, rung) * lower;
      lower += chances[i] ?? 0;
      return chance;
    });
  }
  return chances.reduce((sum, p) => sum + p, 0);
}

// ---------------------------------------------------------------------------------------------
// The whole meet at once, for the judge to be judged by

/** Every world there can be, by its chance; null where there are more than `most`. */
export function everyWorld(court: Court, most: number): { world: World; chance: number }[] | null {
  let worlds = [{ world: recordedWorld(court.facts), chance: 1 }];
  for (const key of routinesToCome(court)) {
    const scores = weighedScores(court, key) ?? [];
    if (worlds.length * scores.length > most) return null;
    const d = court.facts.ranges.get(key)?.d;
    worlds = worlds.flatMap(({ world, chance }) =>
      scores.map((s) => ({
        world: new Map(world).set(key, supposed(s.score, d)),
        chance: chance * s.chance,
      })),
    );
  }
  return worlds;
}

/** The places of those who can have one, in one world, under these rules. */
export function placesIn(court: Court, world: World, rules: readonly Rule[]): Map<string, number> {
  const able = new Set(ableIn(court));
  const stands: Stand[] = standsIn(court, world).filter((s) => able.has(s.who));
  const places = placesOf(stands, rules);
  return new Map([...places].map(([id, { place }]) => [id, place ?? 0]));
}
