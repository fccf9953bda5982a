/**
 * The joint chances of a sum and of the cell (cells.ts) that its terms, and scores that are known, are in.
 *
 * Values are handed out from the last in the order of the rule to the first, and W(S) are the chances of
 * the sums of the terms in S when each has one: with a value v for a term r, W(S + r) grows by
 * P(r has v) · x^v · W(S). So at any time W(S) is about terms none of which has a value before v. Scores are in
 * a cell or a later one if they begin as it does and the next is not before its first, or if they begin with
 * fewer of its scores and the next is after that: for each set of terms that can begin so, how likely that is
 * times what W of the others is at that time. Of terms on one value the earlier in the list has it first.
 * Terms do not depend on each other, so W of two sets together is W of the one times W of the other: where few
 * sums are asked about (asked.ts), it is kept of sets within each half of the terms alone.
 * docs/model.md, "Results in order".
 */
import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import { summedUp, type Term, termsOf } from '../coordinates.js';
import type { Distribution } from '../distribution.js';
import { addShifted, emptyTable, type SumTable, tableOfNone } from '../sum-table.js';
import { type AskedSums, addRead, type Extent, spotsIn } from './asked.js';
import type { Cells } from './cells.js';
import { type Move, type Moves, type Reading, readingsOf, timeOf } from './readings.js';

/** What is known besides the terms. */
export interface Known {
  /** Scores, by index among the values of the cells, rising. */
  readonly known: readonly number[];
  /** What all that is known adds to a sum. */
  readonly fixed: Units;
}

/**
 * By sum that is asked about: the chance that the terms and what is known add up to it and all scores are in its
 * cell or in a later one; 0 where terms would have to add up to less than `least`. In several cases at once,
 * since what the terms do is the same. All values and scores are among those of the cells.
 */
export function chancesFromCell(
  parts: readonly Distribution[],
  cases: readonly Known[],
  { starts, sums }: AskedSums,
  grid: Grid,
  cells: Cells,
  least: Units,
): Float64Array[] {
  const joint = jointOf(parts, grid, cells, least);
  const spots = spotsIn(joint);
  const found = cases.map(() => new Float64Array(sums.length));
  const lists = cases.map(({ known }) => known);
  const readings = readingsOf(cells, joint.moves, lists, true);
  const apart = keptApart(joint, readings, starts);
  handOutAll(joint, readings, apart, (one, tables) => {
    const [some, others] = [tables[one.set & apart], tables[one.set & ~apart]];
    if (some === undefined || others === undefined) return;
    const asked = { sums, start: starts[one.cell] ?? 0, end: starts[one.end] ?? 0 };
    for (const list of one.lists) {
      const [to, fixed] = [found[list], cases[list]?.fixed ?? 0];
      if (to !== undefined) addRead(to, asked, spots, fixed, some, others, one);
    }
  });
  return found;
}

/** What sums are with which scores. */
export interface ChancesByCell {
  /** In no order; some that cannot be are among them. */
  readonly sums: Int32Array;
  /** The cells that can be, each with its chances by sum; they are good until the next are asked for. */
  readonly cells: readonly { readonly cell: number; readonly chances: Float64Array }[];
}

/** The chances of all sums of terms from `least` up, with scores in each cell. */
export function chancesByCell(
  parts: readonly Distribution[],
  known: readonly number[],
  grid: Grid,
  cells: Cells,
  least: Units,
): ChancesByCell {
  const joint = jointOf(parts, grid, cells, least);
  const { top, period, step, mostSteps, height } = joint;
  const readings = readingsOf(cells, joint.moves, [known], false);
  const those = new Set(readings.flatMap((some) => some?.map(({ cell }) => cell) ?? []));
  const size = (mostSteps + 1) * height;
  const tables = new Map<number, SumTable>();
  const all = emptyRoom(those.size * size);
  for (const cell of those) {
    const from = tables.size * size;
    tables.set(cell, { height, chances: all.subarray(from, from + size), planes: 0, reach: 0 });
  }
  handOutAll(joint, readings, 0, ({ cell, set, steps, below, chance }, from) => {
    const [to, table] = [tables.get(cell), from[set]];
    if (to !== undefined && table !== undefined) addShifted(to, table, steps, below, chance);
  });
  const sums = new Int32Array(size);
  for (let n = 0; n < size; n++) {
    sums[n] = top + step * Math.floor(n / height) - period * (n % height);
  }
  return { sums, cells: [...tables].map(([cell, { chances }]) => ({ cell, chances })) };
}

/** Made once, and used again: it may be tens of megabytes. */
let room = new Float64Array(0);

function emptyRoom(size: number): Float64Array {
  if (size > room.length) room = new Float64Array(size);
  else room.fill(0, 0, size);
  return room.subarray(0, size);
}

/** Some terms, and what the tables of their sums have room for. */
interface Joint extends Extent {
  readonly terms: readonly Term[];
  readonly moves: readonly Moves[];
  readonly cells: Cells;
  /** By set of terms: how many steps they have together at most. */
  readonly stepsIn: readonly number[];
}

/** Lower sums than `least` are left out. */
function jointOf(parts: readonly Distribution[], grid: Grid, cells: Cells, least: Units): Joint {
  const { frame, terms } = termsOf(grid, parts);
  const { top, mostSteps, mostBelow } = summedUp(terms);
  const told = Math.floor((top + frame.step * mostSteps - least) / frame.period) + 1;
  const height = Math.max(Math.min(mostBelow + 1, told), 1);
  const moves = parts.map((part, r) => movesOf(part, terms[r], cells.values));
  const stepsIn = Array.from({ length: 1 << terms.length }, (_, set) =>
    terms.reduce((sum, term, r) => sum + ((set >> r) & 1) * term.mostSteps, 0),
  );
  return { ...frame, top, mostSteps, terms, moves, cells, height, stepsIn };
}

/** By time what is read then. */
type Readings = readonly (readonly Reading[] | undefined)[];

/**
 * Hands all values out, and reads each time what is to be read then. W is kept of sets within the terms that are kept
 * apart, and of sets without any of them.
 */
function handOutAll(
  joint: Joint,
  readings: Readings,
  apart: number,
  read: (one: Reading, tables: Tables) => void,
): void {
  const { cells, terms, moves } = joint;
  const tables = tablesOfNone(joint, apart);
  for (let v = cells.values.length - 1; v >= 0; v--) {
    for (let r = terms.length - 1; r >= -1; r--) {
      for (const one of readings[timeOf(v, r, terms.length)] ?? []) read(one, tables);
      const move = moves[r]?.[v];
      if (move !== undefined) handOut(tables, r, move);
    }
  }
}

/** Hands a value out to a term: the sets that have it come after those that do not. */
function handOut(sums: Tables, r: number, { steps, below, chance }: Move): void {
  const bit = 1 << r;
  for (let set = sums.length - 1; set >= 0; set--) {
    const [from, to] = [sums[set], sums[set | bit]];
    if ((set & bit) !== 0 || from === undefined || to === undefined) continue;
    addShifted(to, from, steps, below, chance);
  }
}

function movesOf(
  { scores }: Distribution,
  term: Term | undefined,
  values: readonly Units[],
): Moves {
  const at = new Map(scores.map((score, k) => [score, k]));
  return values.map((value): Move | undefined => {
    const k = at.get(value) ?? -1;
    const chance = term?.chances[k] ?? 0;
    if (chance === 0) return undefined;
    return { chance, steps: term?.steps[k] ?? 0, below: term?.below[k] ?? 0 };
  });
}

/** W by set of terms; none where it is not kept. */
type Tables = readonly (SumTable | undefined)[];

/** W before any term has a value. */
function tablesOfNone({ stepsIn, height }: Joint, apart: number): Tables {
  return stepsIn.map((mostSteps, set) => {
    if (!isKept(set, apart)) return undefined;
    return set === 0 ? tableOfNone(height) : emptyTable(mostSteps, height);
  });
}

/** Whether W of a set is kept: all of its terms are kept apart, or none. */
function isKept(set: number, apart: number): boolean {
  return (set & apart) === 0 || (set & ~apart) === 0;
}

/**
 * The set of terms to keep apart: half of them where what is saved when values are handed out is more than what it
 * costs to read each sum as one of two tables; else none.
 */
function keptApart(
  { moves, stepsIn, height }: Joint,
  readings: Readings,
  starts: Int32Array,
): number {
  const counts = moves.map((of) => of.filter((move) => move !== undefined).length);
  const read = readings.flatMap((some) => some ?? []);
  const asked = read.reduce((n, { cell, end }) => n + (starts[end] ?? 0) - (starts[cell] ?? 0), 0);
  const costOf = (apart: number) => {
    let cost = asked * (apart === 0 ? 1 : height * ((stepsIn[apart] ?? 0) + 1));
    for (const [r, count] of counts.entries()) {
      for (const [set, steps] of stepsIn.entries()) {
        const isLonger = ((set >> r) & 1) === 0 && isKept(set | (1 << r), apart);
        if (isLonger) cost += count * height * (steps + 1);
      }
    }
    return cost;
  };
  const half = (1 << (moves.length >> 1)) - 1;
  return costOf(half) < costOf(0) ? half : 0;
}
