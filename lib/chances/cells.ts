/**
 * Places under `best-scores` with many parts open, when there are too many results to go through
 * one by one: equal totals are told apart by the lowest value, and what is still level is split
 * evenly. What that can be wrong by is added up, so that the error is known.
 */
import type { Score } from '../score.js';
import type { Lowest } from './lowest.js';
import { compareDecided, type StaticOrder } from './order.js';
import { divide, multiply } from './places.js';
import type { Runner } from './runner.js';

/** Told of those who are level, as far as they are told apart, and of their chances of it. */
export type LevelVisitor = (runners: readonly number[], chances: readonly number[]) => void;

export interface CellCount {
  readonly places: Float64Array;
  /** Bounds every chance of a place, of winning and of a medal. */
  readonly error: number;
}

/** A runner with a chance of the total at hand. */
interface Member {
  readonly who: number;
  readonly chance: number;
  readonly values: readonly Score[];
  /** By value; null when only the total is known. */
  readonly chances: Float64Array | null;
  /** Not told apart by the lowest value. */
  readonly rest: number;
  /** How far in its values. */
  next: number;
  /** Ahead of the cell at hand, of this total. */
  passed: number;
}

/** Two of them on a total that is less likely than this are not told apart. */
const LONELY = 1e-8;

export function countInCells(
  runners: readonly Runner[],
  lowest: readonly Lowest[],
  statics: StaticOrder,
  medals: number,
  visit: LevelVisitor | null = null,
): CellCount {
  const size = runners.length;
  const places = new Float64Array(size * size);
  const errors = new Float64Array(size);
  const ahead = new Float64Array(size);
  const p = new Float64Array(size);
  const product = new Float64Array(size + 1);
  const quotient = new Float64Array(size + 1);
  const alike = new Float64Array(size);
  const influence = influenceOf(medals);
  let degree = 0;
  let sure = 0;
  let variance = 0;
  let widest = 0;

  const left = Int32Array.from(runners, (r) => r.total.scores.length);
  const totals = Float64Array.from(new Set(runners.flatMap((r) => r.total.scores))).sort();
  for (let t = totals.length - 1; t >= 0; t--) {
    const total = totals[t]!;
    const here: Member[] = [];
    for (let i = 0; i < size; i++) {
      const { scores, chances } = runners[i]!.total;
      const k = left[i]! - 1;
      if (k < 0 || scores[k] !== total) continue;
      left[i] = k;
      here.push(member(i, total, chances[k]!));
    }
    here.sort((a, b) => statics.first[a.who]! - statics.first[b.who]!);
    for (let from = 0; from < here.length; ) {
      const first = statics.first[here[from]!.who];
      let to = from + 1;
      while (to < here.length && statics.first[here[to]!.who] === first) to++;
      countLevel(here.slice(from, to));
      from = to;
    }
  }
  let error = 0;
  for (const e of errors) error = Math.max(error, e);
  return { places, error };

  function member(who: number, total: Score, chance: number): Member {
    const { values, at } = lowest[who]!;
    const chances = at.get(total) ?? null;
    let rest = chance;
    if (chances !== null) for (const c of chances) rest -= c;
    return { who, chance, values, chances, rest: Math.max(rest, 0), next: 0, passed: 0 };
  }

  /** Everyone on one total, whom only the best scores and what follows them tell apart. */
  function countLevel(level: readonly Member[]): void {
    if (level.length === 1) {
      const [{ who, chance }] = level as [Member];
      p.set(ahead);
      prepare(level);
      place(who, chance, 0);
      visit?.([who], [chance]);
    } else if (isCrowded(level)) {
      while (countCell(level));
      countUntold(level, false);
    } else countUntold(level, true);
    for (const { who, chance } of level) {
      ahead[who] = left[who] === 0 ? 1 : Math.min(ahead[who]! + chance, 1 - Number.EPSILON / 2);
    }
  }

  /** The next lowest value that somebody on this total has; false when there is none left. */
  function countCell(level: readonly Member[]): boolean {
    let value = Number.POSITIVE_INFINITY;
    for (let k = 0; k < level.length; k++) {
      const m = level[k]!;
      if (m.chances !== null && m.next < m.values.length) {
        value = Math.min(value, m.values[m.next]!);
      }
    }
    if (value === Number.POSITIVE_INFINITY) return false;
    p.set(ahead);
    let unknown = 0;
    let count = 0;
    for (let k = 0; k < level.length; k++) {
      const m = level[k]!;
      const has = m.chances !== null && m.next < m.values.length && m.values[m.next] === value;
      const chance = has ? m.chances![m.next]! : 0;
      alike[k] = has ? chance : -1;
      if (chance > 0) count++;
      const half = (chance + m.rest) / 2;
      unknown += half;
      p[m.who] = Math.min(ahead[m.who]! + m.passed + half, 1);
    }
    if (count > 0) prepare(level);
    for (let k = 0; k < level.length && count > 0; k++) {
      const chance = alike[k]!;
      if (chance <= 0) continue;
      const m = level[k]!;
      const wrong = unknown - (chance + m.rest) / 2;
      if (isFinished(m) && level.some((o) => o !== m && isFinished(o))) {
        placeAmongFinished(m, level, value, chance, wrong);
      } else place(m.who, chance, wrong);
    }
    if (count > 0 && visit !== null) {
      const told = level.flatMap((m, k) => (alike[k]! > 0 ? [{ who: m.who, p: alike[k]! }] : []));
      visit(
        told.map((t) => t.who),
        told.map((t) => t.p),
      );
    }
    for (let k = 0; k < level.length; k++) {
      if (alike[k]! < 0) continue;
      level[k]!.passed += alike[k]!;
      level[k]!.next++;
    }
    return true;
  }

  /** Those whom only their total is known of, or all of them. */
  function countUntold(level: readonly Member[], all: boolean): void {
    p.set(ahead);
    let unknown = 0;
    for (const m of level) {
      unknown += m.chance / 2;
      p[m.who] = Math.min(ahead[m.who]! + m.chance / 2, 1);
    }
    prepare(level);
    const untold = level.filter((m) => all || m.rest > 0);
    for (const m of untold) place(m.who, all ? m.chance : m.rest, unknown - m.chance / 2);
    visit?.(
      untold.map((m) => m.who),
      untold.map((m) => (all ? m.chance : m.rest)),
    );
  }

  /** Whether being level on this total is likely enough to be told apart. */
  function isCrowded(level: readonly Member[]): boolean {
    let sum = 0;
    let pairs = 0;
    for (const { chance } of level) {
      pairs += sum * chance;
      sum += chance;
    }
    return pairs > LONELY;
  }

  function isFinished({ who }: Member): boolean {
    return runners[who]!.open.length === 0;
  }

  /** Between two that are finished nothing is open: both have all their chance in one cell. */
  function placeAmongFinished(
    m: Member,
    level: readonly Member[],
    value: Score,
    chance: number,
    wrong: number,
  ): void {
    let known = wrong;
    for (const o of level) {
      if (o === m || !isFinished(o) || o.values[o.next] !== value) continue;
      p[o.who] = compareDecided(runners, statics, o.who, m.who) < 0 ? 1 : 0;
      known -= 0.5;
    }
    prepare(level);
    place(m.who, chance, Math.max(known, 0));
    for (const o of level) {
      if (o !== m && isFinished(o) && o.values[o.next] === value) p[o.who] = 0.5;
    }
    prepare(level);
  }

  /** The product of everyone's factors, and how much is open in it. */
  function prepare(level: readonly Member[]): void {
    ({ degree, sure } = multiply(p, size, product));
    variance = 0;
    widest = 0;
    for (let j = 0; j < size; j++) variance += p[j]! * (1 - p[j]!);
    for (const { who } of level) widest = Math.max(widest, p[who]! * (1 - p[who]!));
  }

  /** `wrong`: by how much the others' chances of being ahead can differ from p, summed up. */
  function place(who: number, chance: number, wrong: number): void {
    const own = p[who]!;
    let others = { chances: product, count: degree + 1, least: sure };
    if (own === 1) others.least--;
    else if (own > 0) {
      divide(product, degree, own, quotient);
      others = { chances: quotient, count: degree, least: sure };
    }
    const at = who * size + others.least;
    for (let k = 0; k < others.count; k++) places[at + k]! += chance * others.chances[k]!;
    if (wrong > 0) {
      const open = variance - own * (1 - own) - widest;
      const more = (Math.exp(2 * wrong) - 1 - 2 * wrong) / 2;
      errors[who]! += chance * Math.min(1, wrong * influence(open) + more);
    }
  }
}

/** How finely, and how far, the variance of a count is told apart. */
const STEPS = 8;
const FURTHEST = 16;

const influences = new Map<number, (variance: number) => number>();

/**
 * How much one rival's chance of being ahead can change a chance of a place, or of a medal, at most,
 * when the number of the others ahead has at least this variance V. By the Fourier integral of the
 * count, with |1 - p + p e^it|² = 1 - 2p(1-p)(1 - cos t) <= exp(-2p(1-p)(1 - cos t)): a chance of a
 * number is at most (1/π) ∫ exp(-V(1 - cos t)) dt over 0 to π, and the difference of two neighbours
 * at most (4/π) ∫ exp(-2V(1 - u²)) du over 0 to 1.
 */
function influenceOf(medals: number): (variance: number) => number {
  const found = influences.get(medals);
  if (found !== undefined) return found;
  const table = Float64Array.from({ length: STEPS * FURTHEST + 1 }, (_, i) => {
    const v = i / STEPS;
    const slope = (4 / Math.PI) * simpson((u) => Math.exp(-2 * v * (1 - u * u)), 1);
    const most = simpson((t) => Math.exp(-v * (1 - Math.cos(t))), Math.PI) / Math.PI;
    return Math.min(1, medals * slope, most) + 1e-6;
  });
  // Both fall as the variance rises, so the next lower entry is a bound.
  const influence = (variance: number) =>
    table[Math.min(Math.max(Math.floor(variance * STEPS), 0), STEPS * FURTHEST)]!;
  influences.set(medals, influence);
  return influence;
}

/** An integral from 0 to `end`, by Simpson's rule. */
function simpson(f: (x: number) => number, end: number): number {
  const n = 128;
  const h = end / n;
  let sum = f(0) + f(end);
  for (let k = 1; k < n; k++) sum += (k % 2 === 1 ? 4 : 2) * f(k * h);
  return (sum * h) / 3;
}
