/** What a contender has: totals and parts, from routines done, assumed or still to come. */
import type { Units } from '../score.js';
import type { Contender, Part } from './contender.js';

/**
 * A D or an E score: known; `unrecorded` for a routine that was scored without it; `unknown` for a
 * routine nobody has seen yet.
 */
export type Component = Units | 'unrecorded' | 'unknown';

/** A routine with a score, real or assumed. */
export interface Performed {
  readonly score: Units;
  readonly d: Component;
  readonly e: Component;
}

/** `out`: no score, by DNS or DNF. Null: still to come. */
export type Performance = Performed | 'out' | null;

/** By routine. */
export type Performances = readonly Performance[];

/** A score nobody has given yet: E is what is left of it when D is known (ND 0). */
export function assumed(score: Units, d: Units | null): Performed {
  return d === null ? { score, d: 'unknown', e: 'unknown' } : { score, d, e: score - d };
}

/** One contender as it stands. */
export interface Entry {
  readonly contender: Contender;
  readonly total: Units;
  /** Routines with a score. */
  readonly done: number;
  readonly unfinished: boolean;
  /** DNS or DNF: behind everyone who has none. */
  readonly out: boolean;
  /** Something done or carried in: without it there is no place on the board. */
  readonly onBoard: boolean;
  /** By part: its value; null while nothing in it has a score. */
  readonly parts: readonly (Units | null)[];
  readonly performances: Performances;
}

export function performedIn(part: Part, performances: Performances): Performed[] {
  const found: Performed[] = [];
  for (const i of part.routines) {
    const p = performances[i];
    if (p !== null && typeof p === 'object') found.push(p);
  }
  return found;
}

/** The value of a part: null while nothing in it has a score. */
export function partValue(part: Part, performances: Performances): Units | null {
  const [first, second] = part.routines;
  if (first !== undefined && second === undefined && part.rule.kind === 'best') {
    const only = performances[first];
    return only !== null && typeof only === 'object' ? only.score : null;
  }
  const scores = performedIn(part, performances).map((p) => p.score);
  if (scores.length === 0) return null;
  if (part.rule.kind === 'mean') {
    // Cut to the unit; half the first stands until the second (2022 Europeans, docs/rules.md).
    return Math.floor(scores.reduce((a, b) => a + b, 0) / 2);
  }
  if (scores.length <= part.rule.count) return scores.reduce((a, b) => a + b, 0);
  scores.sort((a, b) => b - a);
  return scores.slice(0, part.rule.count).reduce((a, b) => a + b, 0);
}

/** Whether a DNS or DNF puts a contender behind everyone who has none. */
export function isOut({ outByDns, routines }: Contender, performances: Performances): boolean {
  return outByDns && routines.some((i) => performances[i] === 'out');
}

export function entryOf(contender: Contender, performances: Performances): Entry {
  const parts = contender.parts.map((part) => partValue(part, performances));
  let done = 0;
  let unfinished = false;
  for (const i of contender.routines) {
    const p = performances[i];
    if (p === null || p === undefined) unfinished = true;
    else if (p !== 'out') done++;
  }
  return {
    contender,
    total: parts.reduce((sum: number, value) => sum + (value ?? 0), contender.carried),
    done,
    unfinished,
    out: isOut(contender, performances),
    onBoard: done > 0 || contender.carried > 0,
    parts,
    performances,
  };
}
