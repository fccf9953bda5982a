/**
 * What is read of the sums of terms, and when, to know in which cell (cells.ts) all scores are: how scores can begin,
 * so that the others are those that are not before the next one of the cell (joint.ts).
 */
import type { Cells, NextScores } from './cells.js';

/** What the value of a term does to a sum. */
export interface Move {
  readonly chance: number;
  readonly steps: number;
  readonly below: number;
}

/** By value; none where the term cannot have it. */
export type Moves = readonly (Move | undefined)[];

/** Terms that have the first scores, the last of those one's, and what they add up to. */
interface Begun extends Move {
  readonly set: number;
  /** -1 where a known score is the last. */
  readonly last: number;
}

/** For which lists of known scores, and for the cells from one up to but without another. */
interface Where {
  readonly lists: readonly number[];
  readonly cell: number;
  readonly end: number;
}

/** What is read of the sums of terms: of a set of them, so likely, and so much further on. */
export interface Reading extends Where, Move {
  readonly set: number;
}

/** When a value is being handed out, just before a term has it; -1 where all have. */
export function timeOf(value: number, term: number, size: number): number {
  return value * (size + 1) + term + 1;
}

/**
 * By time what is read for the cells, for lists of known scores: for a cell alone, or for it and later ones. Scores
 * are in it or go on after it, beginning as it does, if the next is not before its first. Those that are beyond it
 * are taken off for the cell alone; for later cells as well they are added to all that begin with more scores.
 */
export function readingsOf(
  { first, values, count }: Cells,
  moves: readonly Moves[],
  known: readonly (readonly number[])[],
  withLater: boolean,
): readonly (readonly Reading[] | undefined)[] {
  const size = moves.length;
  const all = (1 << size) - 1;
  const readings: Reading[][] = [];
  const add = ({ lists, cell, end }: Where, v: number, begun: readonly Begun[], sign: number) => {
    if (lists.length === 0) return;
    for (const { set, last, chance, steps, below } of begun) {
      const time = timeOf(v, last, size);
      readings[time] ??= [];
      const others = all & ~set;
      readings[time].push({ lists, cell, end, set: others, chance: sign * chance, steps, below });
    }
  };
  // Scores begin as `begun` says, the last of them `last`, and so many of the known ones are among them, in `some`
  // of the lists; the cells of all that begins so end before `finish`.
  const follow = (
    classes: readonly NextScores[],
    last: number,
    taken: number,
    begun: readonly Begun[],
    some: readonly number[],
    finish: number,
  ): void => {
    const bySet = bySets(begun);
    const next = (list: number) => known[list]?.[taken] ?? Number.POSITIVE_INFINITY;
    let left = some;
    for (const [k, { from, to, after }] of classes.entries()) {
      left = those(left, (list) => next(list) >= from);
      if (left.length === 0) return;
      const past = those(left, (list) => next(list) >= to);
      const beyond = to === values.length ? [] : bySet;
      if (typeof after === 'number') {
        const [cell, end] = [after, after + 1];
        add({ lists: left, cell, end }, from, from === last ? begun : bySet, 1);
        if (!withLater) add({ lists: past, cell, end }, to, beyond, -1);
        continue;
      }
      const end = firstCell(classes[k + 1], finish);
      const cell = firstCell(after[0], end);
      if (withLater) add({ lists: past, cell, end }, to, beyond, 1);
      const more = past.length === 0 ? [] : withNext(begun, last, from, moves);
      if (more.length > 0) follow(after, from, taken, more, past, end);
      // Of equal scores those that are known come first.
      const here = those(left, (list) => next(list) === from);
      if (here.length > 0) follow(after, from, taken + 1, bySet, here, end);
    }
  };
  const none = { set: 0, last: -1, chance: 1, steps: 0, below: 0 };
  follow(first, 0, 0, [none], [...known.keys()], count);
  return readings;
}

/** Those of some lists for which something holds; if it does for all, the same array. */
function those(lists: readonly number[], holds: (list: number) => boolean): readonly number[] {
  return lists.every(holds) ? lists : lists.filter(holds);
}

/** The first cell of those that begin so; where there are none, the one that comes next. */
function firstCell(classes: NextScores | undefined, next: number): number {
  if (classes === undefined) return next;
  return typeof classes.after === 'number' ? classes.after : firstCell(classes.after[0], next);
}

function bySets(begun: readonly Begun[]): Begun[] {
  const found = new Map<number, Begun>();
  for (const { set, chance, steps, below } of begun) {
    const all = (found.get(set)?.chance ?? 0) + chance;
    found.set(set, { set, last: -1, chance: all, steps, below });
  }
  return [...found.values()];
}

/** With a score more, which no term has before those that come earlier on an equal score. */
function withNext(
  begun: readonly Begun[],
  from: number,
  v: number,
  moves: readonly Moves[],
): Begun[] {
  const found = new Map<number, Begun>();
  for (const { set, last, chance, steps, below } of begun) {
    for (const [r, of] of moves.entries()) {
      const move = of[v];
      if (move === undefined || ((set >> r) & 1) === 1 || (v === from && r < last)) continue;
      const then = set | (1 << r);
      const name = then * moves.length + r;
      found.set(name, {
        set: then,
        last: r,
        chance: (found.get(name)?.chance ?? 0) + chance * move.chance,
        steps: steps + move.steps,
        below: below + move.below,
      });
    }
  }
  return [...found.values()];
}
