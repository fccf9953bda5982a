/** Random questions about random meets, and what is shared by the properties. */
import fc from 'fast-check';
import type { Meet, NeedsOptions, Target } from '../../lib/index.js';
import { asScore } from '../../lib/score.js';
import {
  amount,
  type ContestSketch,
  type Facts,
  factsOf,
  limitOn,
  logOf,
  movedTo,
  readSketch,
  type Sketch,
  sketchArb,
  type Wishes,
  yamlOf,
} from '../support/random-meet.js';
import {
  type Court,
  courtOf,
  isEven,
  type Judged,
  keysOf,
  placesInPlay,
  placesOf,
  projectedWorld,
  recordedWorld,
  type Stand,
  standOf,
  standsIn,
  supposed,
  type World,
} from './naive.js';

/** Numbers that pick a question once the meet is known. */
export const askArb = fc.record({
  contest: fc.nat(3),
  who: fc.nat(23),
  named: fc.boolean(),
  on: fc.nat(7),
  target: fc.constantFrom('place', 'beat', 'total', 'lead', 'win', 'medal', 'hold'),
  place: fc.integer({ min: 1, max: 5 }),
  rival: fc.nat(23),
  total: fc.nat(7),
  when: fc.constantFrom('now', 'rotation', 'end', 'end'),
  rivals: fc.constantFrom('low', 'likely', 'high', 'limit'),
  rest: fc.constantFrom('likely', 'low', 'high', 'limit'),
  margin: fc.nat(5),
  d: fc.nat(5),
  seed: fc.nat(),
});

export type Ask = ReturnType<typeof askArb.generate>['value'];

export interface Case {
  readonly sketch: Sketch;
  readonly asks: readonly Ask[];
}

export function caseArb(asks: number, wishes: Wishes = {}): fc.Arbitrary<Case> {
  return fc.record({
    sketch: sketchArb(wishes),
    asks: fc.array(askArb, { minLength: asks, maxLength: asks }),
  });
}

/** A meet as read, and as sketched. */
export interface Read {
  readonly sketch: Sketch;
  readonly facts: Facts;
  readonly meet: Meet;
}

export function readCase(sketch: Sketch): Read {
  return { sketch, facts: factsOf(sketch), meet: readSketch(sketch) };
}

/** The id the library gives a contest that has none of its own. */
export function contestId(contest: ContestSketch): string {
  return contest.kind === 'apparatus' ? contest.on : contest.kind;
}

/** Stops with the texts of the meet, so that the example can be run by hand. */
export function must(holds: boolean, sketch: Sketch, what: () => string): void {
  if (holds) return;
  throw new Error(`${what()}\n\n${yamlOf(sketch)}\n${logOf(sketch)}`);
}

/** Small seeded random numbers, for what need not shrink. */
export function randomFrom(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * below);
  };
}

/** Her routines to come in a contest, in the order they go up. */
export function toComeOf(court: Court, her: Judged, world: World): string[] {
  const hers = new Set(keysOf(her));
  return court.facts.routines
    .map((r) => r.key)
    .filter((key) => hers.has(key) && world.get(key) === null);
}

export type Assumption = 'low' | 'likely' | 'high' | 'limit';

/** A question whose meaning is settled: whom it is about, and the options that put it. */
export interface Put {
  readonly court: Court;
  readonly her: Judged;
  /** As `needs` is told. */
  readonly named: string;
  readonly asked: string;
  readonly when: 'now' | 'rotation' | 'end';
  readonly rivals: Assumption | 'as-is';
  readonly rest: Assumption;
  readonly d: number | null;
  readonly options: NeedsOptions;
}

/** Whether somebody behind a routine, on its apparatus, has a score or has broken off there and nowhere else. */
export function isPassedOver({ routines, results }: Facts, key: string): boolean {
  const stationOf = (code: string) => (code === 'VT2' ? 'VT' : code);
  const at = routines.findIndex((r) => r.key === key);
  const station = stationOf(routines[at]?.apparatus ?? '');
  const brokenOff = (id: string) =>
    routines.filter((r) => r.gymnast === id && results.get(r.key) === 'DNF').length === 1;
  return routines.slice(at + 1).some((r) => {
    const result = results.get(r.key) ?? null;
    if (stationOf(r.apparatus) !== station || result === null || result === 'DNS') return false;
    return result !== 'DNF' || brokenOff(r.gymnast);
  });
}

/** The same contender where ranges are others. */
function inCourt(court: Court, { id }: Judged): Pick<Put, 'court' | 'her'> {
  const her = court.contenders.find((c) => c.id === id);
  if (her === undefined) throw new RangeError(`no contender ${id}`);
  return { court, her };
}

/** Chooses contest, contender and routine; null where nobody has a routine to come. */
export function putQuestion({ sketch, facts }: Read, ask: Ask): Put | null {
  const index = ask.contest === 3 ? sketch.contests.length - 1 : 0;
  const court = courtOf(sketch, facts, index);
  const world = recordedWorld(facts);
  const able = court.contenders.filter(
    (c) => !standOf(c, world).out && toComeOf(court, c, world).length > 0,
  );
  const her = able[ask.who % Math.max(able.length, 1)];
  if (her === undefined) return null;
  const toCome = toComeOf(court, her, world);
  const [next = ''] = toCome;
  const pick = ask.on < 4 ? next : (toCome[ask.on % toCome.length] ?? next);
  const [gymnast = '', code = ''] = pick.split('/');
  // In a team contest the first of the team on that apparatus is meant, unless she is named.
  const byName = her.team && ask.named;
  const asked = byName ? pick : (toCome.find((key) => key.endsWith(`/${code}`)) ?? pick);
  const now = ask.when === 'now';
  const range = facts.ranges.get(asked) ?? {};
  const point = 10 ** sketch.decimals;
  const wanted = [point, 5 * point, (range.d ?? 0) + 1][ask.d] ?? null;
  // A D score over every limit is refused.
  const d = wanted === null ? null : Math.min(wanted, ...facts.limits.values());
  const when = ask.when;
  const rivals = now ? ('as-is' as const) : ask.rivals;
  const options: NeedsOptions = {
    contest: index === 0 && ask.contest % 2 === 0 ? null : contestId(court.contest),
    when,
    rivals,
    rest: ask.rest,
    // Whose score is awaited may be up elsewhere; which is asked then has tests of its own.
    on: ask.on < 4 && !byName && !isPassedOver(facts, next) ? null : code,
    d: d === null ? null : asScore(d),
  };
  const { rest } = ask;
  const limit = facts.limits.get(asked) ?? 0;
  const shown = d === null ? range : { ...movedTo(range, d, limit), d };
  const moved = { ...facts, ranges: new Map(facts.ranges).set(asked, shown) };
  return {
    ...inCourt(courtOf(sketch, moved, index), her),
    named: byName ? gymnast : her.id,
    asked,
    when,
    rivals,
    rest,
    d,
    options,
  };
}

/** The world an assumption makes, but for the asked routine; and what cannot be assumed. */
export interface Assumed {
  readonly world: World;
  readonly missing: readonly string[];
  readonly rivals: readonly Stand[];
  readonly her: (score: number) => Stand;
  /** The limit of the asked routine. */
  readonly limit: number;
}

export function assumeFor(put: Put): Assumed {
  const { court, her, asked, when } = put;
  const { facts } = court;
  const world = recordedWorld(facts);
  const rotationOf = new Map(facts.routines.map((r) => [r.key, r.rotation] as const));
  const until = rotationOf.get(asked) ?? 0;
  const missing: string[] = [];
  for (const who of court.contenders) {
    if (standOf(who, world).out) continue;
    const assumption = who === her ? put.rest : put.rivals;
    for (const key of keysOf(who)) {
      if (key === asked || world.get(key) !== null || when === 'now') continue;
      if (when === 'rotation' && (rotationOf.get(key) ?? 0) > until) continue;
      const range = facts.ranges.get(key) ?? {};
      const score =
        assumption === 'as-is'
          ? undefined
          : assumption === 'limit'
            ? facts.limits.get(key)
            : range[assumption];
      if (score === undefined) missing.push(key);
      else world.set(key, supposed(score, range.d));
    }
  }
  const range = facts.ranges.get(asked) ?? {};
  const d = put.d ?? range.d ?? null;
  return {
    world,
    missing,
    rivals: court.contenders
      .filter((c) => c !== her && !keysOf(c).some((key) => missing.includes(key)))
      .map((c) => standOf(c, world)),
    her: (score) => standOf(her, new Map(world).set(asked, supposed(score, d))),
    limit: limitOn(court.sketch, asked.split('/')[1] ?? ''),
  };
}

/** The place to hold; null where there is none, and `because` the ranges do not say. */
export function holdOf(
  court: Court,
  her: Judged,
): { place: number | null; because: 'no-place' | 'missing-range' } {
  const world = recordedWorld(court.facts);
  const place = placesOf(standsIn(court, world), court.rules).get(her.id)?.place ?? null;
  if (place === null || isEven(court, world)) return { place, because: 'no-place' };
  // Some have done more routines than others: her place by projection.
  const projected = projectedWorld(court, world);
  const then = projected && placesInPlay(court, projected).get(her.id);
  return { place: then ?? null, because: projected === null ? 'missing-range' : 'no-place' };
}

/** What a question asks for, as the library is told and as the judge understands it. */
export type Wanted =
  | { readonly kind: 'place'; readonly text: Target; readonly place: number }
  | { readonly kind: 'beat'; readonly text: Target; readonly id: string }
  | { readonly kind: 'total'; readonly text: Target; readonly total: number }
  | {
      readonly kind: 'hold';
      readonly text: Target;
      readonly place: number | null;
      readonly because: 'no-place' | 'missing-range';
    };

export function wantedBy(put: Put, ask: Ask): Wanted {
  const { court, her } = put;
  const others = court.contenders.filter((c) => c !== her);
  switch (ask.target) {
    case 'beat': {
      const rival = others[ask.rival % Math.max(others.length, 1)];
      if (rival === undefined) return { kind: 'place', text: 'place:1', place: 1 };
      return { kind: 'beat', text: `beat:${rival.id}`, id: rival.id };
    }
    case 'total': {
      const { decimals } = court.sketch;
      const present = standOf(her, recordedWorld(court.facts)).total;
      const total = present + Math.floor((ask.total * 10 ** decimals) / 2);
      return { kind: 'total', text: `total:${amount(total, decimals)}`, total };
    }
    case 'hold':
      return { kind: 'hold', text: 'hold', ...holdOf(court, her) };
    case 'medal':
      return { kind: 'place', text: 'medal', place: court.medals };
    case 'win':
      return put.when === 'end'
        ? { kind: 'place', text: 'win', place: 1 }
        : { kind: 'place', text: 'lead', place: 1 };
    case 'lead':
      return { kind: 'place', text: 'lead', place: 1 };
    default:
      return { kind: 'place', text: `place:${ask.place}`, place: ask.place };
  }
}
