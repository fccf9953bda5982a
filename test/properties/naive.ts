/**
 * A judge of finished boards, naive and apart from the library: written from the design alone, by
 * plain loops over contenders and over every choice of counting scores. It reads the sketch of a
 * meet, never the library's `Meet`.
 */
import {
  type ContestSketch,
  type Facts,
  keyOf,
  type Rule,
  rulesOf,
  type Sketch,
} from '../support/random-meet.js';

/** `unrecorded`: scored without it. `unknown`: a routine nobody has seen yet. */
export type Amount = number | 'unrecorded' | 'unknown';

export interface Done {
  readonly score: number;
  readonly d: Amount;
  readonly e: Amount;
}

/** `out` is a DNS or DNF; null is still to come. By routine key. */
export type World = Map<string, Done | 'out' | null>;

export interface Part {
  readonly apparatus: string;
  readonly keys: readonly string[];
  /** How many of them count; or the mean of two. */
  readonly count: number | 'mean';
}

export interface Judged {
  readonly id: string;
  readonly team: boolean;
  readonly carried: number;
  readonly parts: readonly Part[];
}

export interface Stand {
  readonly who: Judged;
  readonly total: number;
  readonly done: number;
  readonly finished: boolean;
  /** Has a DNS or DNF, and so is behind everyone who has none. */
  readonly out: boolean;
  readonly placed: boolean;
  readonly values: readonly (number | null)[];
  readonly world: World;
}

/** Whom a contest ranks. */
export function contendersOf(sketch: Sketch, facts: Facts, contest: ContestSketch): Judged[] {
  const does = (id: string, code: string) => facts.on.get(id)?.includes(code) ?? false;
  const firsts = facts.apparatus.filter((code) => code !== 'VT2');
  if (contest.kind === 'team') {
    return sketch.teams.map((team) => ({
      id: team.id,
      team: true,
      carried: team.carried ?? 0,
      parts: firsts.map((apparatus) => ({
        apparatus,
        count: contest.count,
        keys: sketch.gymnasts
          .filter((g) => g.team === team.id && does(g.id, apparatus))
          .map((g) => keyOf(g.id, apparatus)),
      })),
    }));
  }
  if (contest.kind === 'apparatus') {
    const codes = contest.vaults === 2 ? ['VT', 'VT2'] : [contest.on];
    return sketch.gymnasts
      .filter((g) => codes.every((code) => does(g.id, code)))
      .map((g) => ({
        id: g.id,
        team: false,
        carried: 0,
        parts: [
          {
            apparatus: contest.on,
            keys: codes.map((code) => keyOf(g.id, code)),
            count: contest.vaults === 2 ? 'mean' : 1,
          },
        ],
      }));
  }
  return sketch.gymnasts
    .filter((g) => (g.carried ?? 0) > 0 || firsts.every((code) => does(g.id, code)))
    .map((g) => ({
      id: g.id,
      team: false,
      carried: g.carried ?? 0,
      parts: firsts
        .filter((code) => does(g.id, code))
        .map((apparatus) => ({ apparatus, keys: [keyOf(g.id, apparatus)], count: 1 })),
    }));
}

export function keysOf(who: Judged): string[] {
  return who.parts.flatMap((p) => p.keys);
}

/** The world as recorded. */
export function recordedWorld(facts: Facts): World {
  const world: World = new Map();
  for (const [key, result] of facts.results) {
    if (result === null) world.set(key, null);
    else if (typeof result === 'string') world.set(key, 'out');
    else {
      const { score, d, e } = result;
      world.set(key, { score, d: d ?? 'unrecorded', e: e ?? 'unrecorded' });
    }
  }
  return world;
}

/** A score nobody has given yet: with a D known, E is what is left of it. */
export function supposed(score: number, d: number | null | undefined): Done {
  return d == null ? { score, d: 'unknown', e: 'unknown' } : { score, d, e: score - d };
}

function doneIn(part: Part, world: World): Done[] {
  const done: Done[] = [];
  for (const key of part.keys) {
    const cell = world.get(key);
    if (cell !== null && cell !== undefined && cell !== 'out') done.push(cell);
  }
  return done;
}

/** Every choice of `count` out of a list; all of it when it is shorter. */
function choices<T>(list: readonly T[], count: number): T[][] {
  const size = Math.min(count, list.length);
  const found: T[][] = [];
  for (let mask = 0; mask < 2 ** list.length; mask++) {
    const chosen = list.filter((_, i) => (mask >> i) & 1);
    if (chosen.length === size) found.push(chosen);
  }
  return found;
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

function partValue(part: Part, world: World): number | null {
  const done = doneIn(part, world).map((c) => c.score);
  if (done.length === 0) return null;
  if (part.count === 'mean') return Math.floor(sum(done) / 2);
  if (done.length <= part.count) return sum(done);
  return Math.max(...choices(done, part.count).map(sum));
}

export function standOf(who: Judged, world: World): Stand {
  const cells = keysOf(who).map((key) => world.get(key) ?? null);
  const values = who.parts.map((part) => partValue(part, world));
  const done = cells.filter((c) => c !== null && c !== 'out').length;
  return {
    who,
    total: who.carried + sum(values.map((v) => v ?? 0)),
    done,
    finished: cells.every((c) => c !== null),
    out: !who.team && cells.includes('out'),
    placed: done > 0 || who.carried > 0,
    values,
    world,
  };
}

/** What a rule looks at, most important first; or why it has nothing to look at. */
export type Key = readonly number[] | 'unrecorded' | 'unknown';

export function keyFor(rule: Rule, stand: Stand): Key {
  switch (rule) {
    case 'best-scores': {
      if (stand.who.carried > 0) return 'unrecorded';
      const values = stand.values.filter((v) => v !== null);
      const sums: number[] = [];
      for (let m = values.length - 1; m >= 1; m--) {
        sums.push(Math.max(...choices(values, m).map(sum)));
      }
      return sums;
    }
    case 'best-vault': {
      const pair = stand.who.parts.find((p) => p.count === 'mean');
      if (pair === undefined) return 'unrecorded';
      return [Math.max(...doneIn(pair, stand.world).map((c) => c.score))];
    }
    case 'highest-score': {
      if (stand.who.carried > 0) return 'unrecorded';
      const scores = stand.who.parts.flatMap((p) => doneIn(p, stand.world)).map((c) => c.score);
      return [Math.max(0, ...scores)];
    }
    case 'execution':
      return sumOfCounting('e', stand);
    case 'difficulty':
      return sumOfCounting('d', stand);
    default:
      throw new Error(`nobody has written ${rule} down a second time here`);
  }
}

/** Of the routines that count; among equal scores those with the higher amount. */
function sumOfCounting(which: 'd' | 'e', { who, world, done }: Stand): Key {
  // Whose points are all carried in has no D and no E on record.
  if (done === 0 && who.carried > 0) return 'unrecorded';
  const counting: Amount[] = [];
  for (const part of who.parts) {
    const scored = doneIn(part, world);
    const count = part.count === 'mean' ? 2 : part.count;
    // What nobody knows yet may be the higher; what is not on record will never be.
    const weight = (c: Done) =>
      c[which] === 'unknown' ? 1e9 : c[which] === 'unrecorded' ? -1e9 : c[which];
    let best: Done[] | null = null;
    for (const choice of choices(scored, count)) {
      const better =
        best === null ||
        sum(choice.map((c) => c.score)) > sum(best.map((c) => c.score)) ||
        (sum(choice.map((c) => c.score)) === sum(best.map((c) => c.score)) &&
          sum(choice.map(weight)) > sum(best.map(weight)));
      if (better) best = choice;
    }
    for (const c of best ?? []) counting.push(c[which]);
  }
  if (counting.includes('unrecorded')) return 'unrecorded';
  if (counting.includes('unknown')) return 'unknown';
  return [sum(counting.map(Number))];
}

export type Order = 'ahead' | 'behind' | 'equal' | 'open';

export interface Verdict {
  readonly order: Order;
  readonly by: Rule | null;
}

/** The tie between all who are level, resolved as a whole. */
export function breakTie(level: readonly Stand[], rules: readonly Rule[]) {
  const finished = level.every((s) => s.finished);
  const usable: { rule: Rule; keys: Map<Stand, Key> }[] = [];
  const lacking: Rule[] = [];
  if (finished && level.length > 1) {
    for (const rule of rules) {
      const keys = new Map(level.map((s) => [s, keyFor(rule, s)] as const));
      const sizes = new Set<number>();
      let lacks = false;
      for (const key of keys.values()) {
        if (key === 'unrecorded') lacks = true;
        else if (key !== 'unknown') sizes.add(key.length);
      }
      if (lacks || sizes.size > 1) lacking.push(rule);
      else usable.push({ rule, keys });
    }
  }
  const compare = (a: Stand, b: Stand): Verdict => {
    for (const { rule, keys } of usable) {
      const [x, y] = [keys.get(a), keys.get(b)];
      if (typeof x !== 'object' || typeof y !== 'object') return { order: 'open', by: rule };
      for (let i = 0; i < x.length; i++) {
        const [p, q] = [x[i] ?? 0, y[i] ?? 0];
        if (p > q) return { order: 'ahead', by: rule };
        if (p < q) return { order: 'behind', by: rule };
      }
    }
    return { order: 'equal', by: null };
  };
  return { compare, lacking };
}

/** How she stands to everyone else who has a place and no DNS or DNF. */
export interface Against {
  readonly ahead: number;
  readonly behind: number;
  readonly equal: number;
  readonly open: number;
  /** The rules that put rivals who are level ahead of her, behind her, or leave it open. */
  readonly by: Readonly<Record<Order, ReadonlySet<Rule>>>;
  /** Rules that could not be applied to the tie she is in. */
  readonly lacking: readonly Rule[];
}

/**
 * Counts rivals by how they end: `ahead` of her, `behind` her. All in `field` who are on her total
 * are in one tie; only those in `counted` are counted.
 */
export function against(
  her: Stand,
  field: readonly Stand[],
  rules: readonly Rule[],
  counted: readonly Stand[] = field,
): Against {
  const rivals = field.filter((s) => s.who !== her.who && s.placed && !s.out);
  const level = rivals.filter((s) => s.total === her.total);
  const tie = breakTie([her, ...level], rules);
  const counts = { ahead: 0, behind: 0, equal: 0, open: 0 };
  const by: Record<Order, Set<Rule>> = {
    ahead: new Set(),
    behind: new Set(),
    equal: new Set(),
    open: new Set(),
  };
  for (const rival of rivals) {
    if (!counted.includes(rival)) continue;
    if (rival.total > her.total) counts.ahead++;
    else if (rival.total < her.total) counts.behind++;
    else {
      const { order, by: rule } = tie.compare(rival, her);
      counts[order]++;
      if (rule !== null) by[order].add(rule);
    }
  }
  return { ...counts, by, lacking: level.length === 0 ? [] : tie.lacking };
}

export interface Placed {
  readonly place: number | null;
  readonly tied: boolean;
}

/** The board: places of everyone. */
export function placesOf(stands: readonly Stand[], rules: readonly Rule[]): Map<string, Placed> {
  const places = new Map<string, number | null>();
  const on = stands.filter((s) => s.placed);
  for (const s of stands) {
    if (!s.placed) {
      places.set(s.who.id, null);
      continue;
    }
    const level = on.filter((o) => o.out === s.out && o.total === s.total);
    const { compare } = breakTie(level, s.out ? [] : rules);
    let ahead = 0;
    for (const o of on) {
      if (o === s) continue;
      if (o.out !== s.out) ahead += s.out ? 1 : 0;
      else if (o.total !== s.total) ahead += o.total > s.total ? 1 : 0;
      else ahead += compare(o, s).order === 'ahead' ? 1 : 0;
    }
    places.set(s.who.id, ahead + 1);
  }
  return new Map(
    stands.map((s) => {
      const place = places.get(s.who.id) ?? null;
      const sharing = [...places.values()].filter((p) => p === place).length;
      return [s.who.id, { place, tied: place !== null && sharing > 1 }] as const;
    }),
  );
}

/** Who is level with whom, and the rule between her and the one nearest to her place. */
export interface Level {
  readonly with: ReadonlySet<string>;
  readonly by: Rule | null;
}

export function levelOf(her: Stand, stands: readonly Stand[], rules: readonly Rule[]): Level {
  if (!her.placed || her.out) return { with: new Set(), by: null };
  const level = stands.filter((s) => s.placed && !s.out && s.total === her.total);
  const places = placesOf(stands, rules);
  const place = (s: Stand) => places.get(s.who.id)?.place ?? 0;
  let nearest: Stand | null = null;
  for (const other of level) {
    if (other === her) continue;
    const [far, best] = [other, nearest ?? other].map((s) => Math.abs(place(s) - place(her)));
    const nearer = (far ?? 0) < (best ?? 0);
    // Of two as near as each other it is the one ahead.
    const before = far === best && place(other) < place(nearest ?? other);
    if (nearest === null || nearer || before) nearest = other;
  }
  const verdict = nearest === null ? null : breakTie(level, rules).compare(her, nearest);
  const decided = verdict?.order === 'ahead' || verdict?.order === 'behind';
  return {
    with: new Set(level.filter((s) => s !== her).map((s) => s.who.id)),
    by: decided ? (verdict?.by ?? null) : null,
  };
}

/**
 * The court's world with everyone who is not out cut to as many routines as the furthest behind; a team
 * to the same share of its own.
 */
export function evenWorld({ facts, contenders, contest }: Court, world: World): World {
  const over = (who: Judged) => {
    const own = new Set(keysOf(who));
    return facts.routines.filter((r) => own.has(r.key) && world.get(r.key) !== null);
  };
  const inPlay = contenders.filter((who) => !standOf(who, world).out);
  const cut: World = new Map(world);
  for (const behind of inPlay) {
    const size = keysOf(behind).length;
    const done = over(behind).length;
    // Who has nothing to come is not waited for.
    if (done === size) continue;
    for (const who of inPlay) {
      over(who).forEach(({ key }, i) => {
        const isTooMany =
          contest.kind === 'team' ? (i + 1) * size > done * keysOf(who).length : i + 1 > done;
        if (isTooMany) cut.set(key, null);
      });
    }
  }
  return cut;
}

/** Whether nobody who is not out has done more than the one who has done the fewest. */
export function isEven(court: Court, world: World): boolean {
  const cut = evenWorld(court, world);
  return [...world].every(([key, cell]) => cell === null || cut.get(key) !== null);
}

/** What is to come of everyone who is not out scores what is likely; null where that is not known. */
export function projectedWorld({ facts, contenders }: Court, world: World): World | null {
  const projected: World = new Map(world);
  for (const who of contenders) {
    if (standOf(who, world).out) continue;
    for (const key of keysOf(who)) {
      if (world.get(key) !== null) continue;
      const { likely, d } = facts.ranges.get(key) ?? {};
      if (likely === undefined) return null;
      projected.set(key, supposed(likely, d));
    }
  }
  return projected;
}

/** Places without those who are out. */
export function placesInPlay(court: Court, world: World): Map<string, number | null> {
  const stands = court.contenders.map((c) => standOf(c, world));
  const places = placesOf(stands, court.rules);
  return new Map(
    stands.map((s) => [s.who.id, s.out ? null : (places.get(s.who.id)?.place ?? null)] as const),
  );
}

/** One contest of a sketch, ready to be judged. */
export interface Court {
  readonly sketch: Sketch;
  readonly facts: Facts;
  readonly contest: ContestSketch;
  readonly rules: readonly Rule[];
  readonly medals: number;
  readonly contenders: readonly Judged[];
}

export function courtOf(sketch: Sketch, facts: Facts, index = 0): Court {
  const contest = sketch.contests[index];
  if (contest === undefined) throw new RangeError('no such contest');
  return {
    sketch,
    facts,
    contest,
    rules: rulesOf(sketch, contest),
    medals: contest.medals ?? 3,
    contenders: contendersOf(sketch, facts, contest),
  };
}

/**
 * Whether a higher score can cost a tie. Where a team drops scores and E or D decides, a score that
 * comes to count instead of one without E may bring in a rule that was skipped before, at the same
 * total. The design wants both: the rule then, and no higher score to lose what a lower one has.
 */
export function mayTurn({ contenders, rules }: Court): boolean {
  const looks = rules.includes('execution') || rules.includes('difficulty');
  const drops = contenders.some((c) =>
    c.parts.some((p) => p.count !== 'mean' && p.keys.length > p.count),
  );
  return looks && drops;
}

/** Whether no rule can ever be skipped for lack of data, whoever is level at the end. */
export function neverSkips(court: Court): boolean {
  const { contenders, rules, facts } = court;
  if (rules.length === 0) return true;
  if (mayTurn(court)) return false;
  const able = contenders.filter((c) => {
    const stand = standOf(c, recordedWorld(facts));
    return !stand.out && (stand.placed || !stand.finished);
  });
  const counted = (c: Judged) =>
    c.parts.filter((p) => p.keys.some((key) => typeof facts.results.get(key) !== 'string')).length;
  return rules.every((rule) => {
    if (rule === 'best-vault')
      return court.contest.kind === 'apparatus' && court.contest.vaults === 2;
    if (rule === 'best-scores') {
      return able.every((c) => c.carried === 0) && new Set(able.map(counted)).size < 2;
    }
    if (rule === 'highest-score') return able.every((c) => c.carried === 0);
    return able.every(
      (c) =>
        keysOf(c).every((key) => {
          const result = facts.results.get(key);
          if (typeof result === 'string') return true;
          const known = result ?? { d: facts.ranges.get(key)?.d ?? null, e: 0 };
          return known.d !== null && known.e !== null;
        }) &&
        (c.carried === 0 || keysOf(c).length > 0),
    );
  });
}

export function standsIn(court: Court, world: World): Stand[] {
  return court.contenders.map((c) => standOf(c, world));
}

// ---------------------------------------------------------------------------------------------
// The score grid and the scores of a range, from the design

/** floor(j · step / counting) in units, the lowest that is at least `score`. */
export function gridFrom(facts: Facts, decimals: 3 | 4, score: number): number {
  const { counting, millionths } = facts.panel;
  const unit = 10 ** (6 - decimals);
  const point = (j: number) => Math.floor((j * millionths) / (counting * unit));
  let j = Math.max(0, Math.floor((score * counting * unit) / millionths) - 2);
  while (point(j) < score) j++;
  return point(j);
}

/** The scores of a range without a fall. */
export function cleanScores(
  facts: Facts,
  decimals: 3 | 4,
  range: { low: number; likely: number; high: number },
): number[] {
  if (range.low === range.high) return [range.likely];
  const scores: number[] = [];
  let score = gridFrom(facts, decimals, range.low);
  while (score <= range.high) {
    scores.push(score);
    score = gridFrom(facts, decimals, score + 1);
  }
  return scores.length === 0 ? [range.likely] : scores;
}

/** Every score a range allows, falls included; null where something of it is missing. */
export function possibleScores(court: Court, key: string): number[] | null {
  const { facts, sketch } = court;
  const { low, likely, high, falls } = facts.ranges.get(key) ?? {};
  if (low === undefined || likely === undefined || high === undefined || falls === undefined) {
    return null;
  }
  const clean = cleanScores(facts, sketch.decimals, { low, likely, high });
  const counts = falls === 0 ? [0] : falls === 1 ? [2] : [0, 1, 2];
  const all = counts.flatMap((n) => clean.map((s) => Math.max(s - n * facts.fall, 0)));
  return [...new Set(all)].sort((a, b) => a - b);
}
