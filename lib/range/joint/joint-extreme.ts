/**
 * The joint chances of a sum and of the lowest (or highest) of its terms, with the gap that the next
 * lowest leaves to it.
 *
 * Values are handed out from the highest down, and W(S) are the chances of the sums of the terms in S
 * when each has one: W(S + r) grows by P(r has v) · x^v · W(S). When the last term r gets its value v,
 * v is the lowest, and what W(all - r) was while it held only values from w up tells the sums in which
 * the next lowest is at least w. Of terms on one value the last in the list is taken to have it first.
 * For the highest, values are handed out from the lowest up. docs/model.md, "Results in order".
 */

import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import { type Frame, type Term, termsOf } from '../coordinates.js';
import type { Distribution } from '../distribution.js';
import {
  addShifted,
  addShiftedGrowth,
  emptyTable,
  type SumTable,
  tableOfNone,
} from '../sum-table.js';
import { addScaled } from '../vector.js';
import type { Cells, FirstScore } from './cells.js';

export interface JointExtreme {
  /** In no order: a sum, its cell, and their chance. */
  readonly sums: Int32Array;
  readonly cells: Int32Array;
  readonly chances: Float64Array;
  /** The chance of lower sums that are asked about, but taken for one of the lowest here. */
  readonly leftOut: number;
}

/** The lowest sums are left out as long as they are together no likelier than this. */
const LEAST = 1e-7;

/**
 * Of one term and more, all of whose values are among those of the cells. Sums below `least` are not asked
 * about: they are taken for one of them.
 */
export function jointExtreme(
  parts: readonly Distribution[],
  grid: Grid,
  cells: Cells,
  least: Units = 0,
): JointExtreme {
  const { values, firsts, count } = cells;
  const { frame, terms } = termsOf(grid, parts);
  const steps = terms.reduce((sum, t) => sum + t.mostSteps, 0);
  const top = terms.reduce((sum, t) => sum + t.top, 0);
  const asked = Math.max(Math.floor((top + frame.step * steps - least) / frame.period) + 2, 1);
  const { height, leftOut } = heightFor(terms, asked);
  const tables = tablesFor(terms, height);
  const history = historyOf(tables.of, wantedIn(cells, parts.length));
  const moves = parts.map((part, r) => movesOf(part, terms[r]));
  const found = cellList();
  // By cell of one first value: the sums in which it is the first.
  const byCell: SumTable[] = [];
  for (let v = values.length - 1; v >= 0; v--) {
    const { classes } = firsts[v] as FirstScore;
    const begin = classes[0]?.cell ?? 0;
    // Neighbouring first values may have a cell in common.
    const end = Math.max(firsts[v + 1]?.classes[0]?.cell ?? count, begin + 1);
    while (byCell.length < end - begin) byCell.push(emptyTable(steps, height));
    for (let r = terms.length - 1; r >= 0; r--) {
      history.keep(v, r);
      const move = moves[r]?.get(values[v] ?? 0);
      if (move === undefined) continue;
      addFirst(byCell, cells, { v, r, move }, moves, history);
      tables.take(r, move);
    }
    if (firsts[v - 1]?.classes[0]?.cell === begin) continue;
    for (let cell = end - 1; cell >= begin; cell--) {
      const table = byCell[cell - begin];
      if (table !== undefined) found.takeOut(cell, table, frame, top);
    }
  }
  // What is left out is taken for the last of what there is.
  found.add(top - frame.period * (height - 1), count - 1, leftOut);
  return { ...found.all(), leftOut: height < asked ? leftOut : 0 };
}

/** A term that is handed a value out when all the others have theirs: it has the first one. */
interface First {
  readonly v: number;
  readonly r: number;
  readonly move: Move;
}

/** Adds the sums in which a term has the first value, cell by cell. */
function addFirst(
  byCell: readonly SumTable[],
  { values, firsts }: Cells,
  { v, r, move }: First,
  moves: readonly ReadonlyMap<Units, Move>[],
  history: History,
): void {
  const { bounds, classes } = firsts[v] as FirstScore;
  const begin = classes[0]?.cell ?? 0;
  const all = (1 << moves.length) - 1;
  const others = all & ~(1 << r);
  for (const [c, { cell, thirds }] of classes.entries()) {
    const next = bounds[c];
    if (thirds === null || next === undefined) {
      const from = c === 0 ? history.at(v, r, others) : history.beyond(bounds[c - 1] ?? 0, others);
      addBetween(byCell[cell - begin], move, from, history.beyond(next, others));
      continue;
    }
    for (const [second, movesOfSecond] of moves.entries()) {
      const more = movesOfSecond.get(values[next] ?? 0);
      // Of two on one value the first is the one before.
      if (second === r || more === undefined || (next === v && second < r)) continue;
      const both = {
        chance: move.chance * more.chance,
        steps: move.steps + more.steps,
        below: move.below + more.below,
      };
      const rest = others & ~(1 << second);
      for (let k = 0; k <= thirds.length; k++) {
        const from = k === 0 ? history.at(next, second, rest) : history.beyond(thirds[k - 1], rest);
        addBetween(byCell[cell - begin + k], both, from, history.beyond(thirds[k], rest));
      }
    }
  }
}

/** Adds what sums of other terms are from one state to an earlier one, with one more term. */
function addBetween(
  to: SumTable | undefined,
  { chance, steps, below }: Move,
  from: SumTable | undefined,
  before: SumTable | undefined,
): void {
  if (to === undefined || from === undefined) return;
  if (before === undefined || before.planes === 0) addShifted(to, from, steps, below, chance);
  else addShiftedGrowth(to, from, before, steps, below, chance);
}

/** Sets of terms by the value and term before which their W is wanted again. */
type Wanted = ReadonlyMap<number, ReadonlySet<number>>;

/** The same for all with as many terms. */
const wantedOf = new WeakMap<Cells, Map<number, Wanted>>();

function wantedIn(cells: Cells, size: number): Wanted {
  const bySize = wantedOf.get(cells) ?? new Map<number, Wanted>();
  const wanted = bySize.get(size) ?? wantedStates(cells, size);
  wantedOf.set(cells, bySize.set(size, wanted));
  return wanted;
}

function wantedStates({ firsts }: Cells, size: number): Wanted {
  const wanted = new Map<number, Set<number>>();
  const all = (1 << size) - 1;
  const want = (v: number, r: number, set: number) => {
    const sets = wanted.get(v * size + r) ?? new Set();
    wanted.set(v * size + r, sets.add(set));
  };
  const eachOther = (set: number, call: (r: number, rest: number) => void) => {
    for (let r = 0; r < size; r++) if ((set >> r) & 1) call(r, set & ~(1 << r));
  };
  for (const { bounds, classes } of firsts) {
    for (const bound of bounds) eachOther(all, (_, others) => want(bound, size - 1, others));
    for (const [c, { thirds }] of classes.entries()) {
      if (thirds === null) continue;
      eachOther(all, (r, others) => {
        eachOther(others, (_, rest) => {
          want(bounds[c] ?? 0, r, rest);
          for (const third of thirds) want(third, size - 1, rest);
        });
      });
    }
  }
  return wanted;
}

/** What W was before a value was handed out to a term. */
interface History {
  readonly keep: (v: number, r: number) => void;
  readonly at: (v: number, r: number, set: number) => SumTable | undefined;
  /** When only values beyond one had been; none where there is no such value. */
  readonly beyond: (v: number | undefined, set: number) => SumTable | undefined;
}

/** Room for them, which is used again for the next joint table. */
let historyRoom = new Float64Array(0);

function historyOf(tables: readonly SumTable[], wanted: Wanted): History {
  const kept = new Map<number, SumTable>();
  const size = Math.log2(tables.length + 1);
  const nameOf = (v: number, r: number, set: number) => (v * size + r) * (tables.length + 1) + set;
  let used = 0;
  const at = (v: number, r: number, set: number) => kept.get(nameOf(v, r, set)) ?? tables[set];
  return {
    keep: (v, r) => {
      for (const set of wanted.get(v * size + r) ?? []) {
        const table = tables[set];
        if (table === undefined) continue;
        const { length } = table.chances;
        if (used + length > historyRoom.length) {
          historyRoom = new Float64Array(Math.max(2 * historyRoom.length, length));
          used = 0;
        }
        const chances = historyRoom.subarray(used, used + length);
        chances.set(table.chances);
        used += length;
        kept.set(nameOf(v, r, set), { ...table, chances });
      }
    },
    at,
    beyond: (v, set) => (v === undefined ? undefined : at(v, size - 1, set)),
  };
}

/** What the value of a term does to a sum; null where it cannot have it. */
interface Move {
  readonly chance: number;
  readonly steps: number;
  readonly below: number;
}

/** By value. */
function movesOf({ scores }: Distribution, term: Term | undefined): Map<Units, Move> {
  const moves = new Map<Units, Move>();
  for (const [k, score] of scores.entries()) {
    const chance = term?.chances[k] ?? 0;
    if (chance > 0)
      moves.set(score, { chance, steps: term?.steps[k] ?? 0, below: term?.below[k] ?? 0 });
  }
  return moves;
}

/** W(S) for every set of terms but all of them. */
function tablesFor(terms: readonly Term[], height: number) {
  const all = (1 << terms.length) - 1;
  const stepsIn = (set: number) =>
    terms.reduce((sum, t, r) => ((set >> r) & 1 ? sum + t.mostSteps : sum), 0);
  const tables = Array.from({ length: all }, (_, set) =>
    set === 0 ? tableOfNone(height) : emptyTable(stepsIn(set), height),
  );
  return {
    of: tables,
    /** Hands a value out to a term: the sets that have it come after those that do not. */
    take: (r: number, { chance, steps, below }: Move): void => {
      const bit = 1 << r;
      for (let set = all; set >= 0; set--) {
        const [from, to] = [tables[set], tables[set | bit]];
        if ((set & bit) === 0 && from !== undefined && to !== undefined) {
          addShifted(to, from, steps, below, chance);
        }
      }
    },
  };
}

/** How far below the best sums are told, at most so far, and how likely lower ones are. */
function heightFor(terms: readonly Term[], most: number): { height: number; leftOut: number } {
  let chances = new Float64Array(1).fill(1);
  for (const term of terms) {
    const byBelow = new Float64Array(term.mostBelow + 1);
    for (const [k, chance] of term.chances.entries()) {
      const below = term.below[k] ?? 0;
      byBelow[below] = (byBelow[below] ?? 0) + chance;
    }
    const sum = new Float64Array(chances.length + term.mostBelow);
    for (const [below, chance] of byBelow.entries()) {
      if (chance > 0) addScaled(sum, below, chances, 0, chances.length, chance);
    }
    chances = sum;
  }
  let leftOut = 0;
  let height = chances.length;
  for (; height > 1; height--) {
    const next = leftOut + (chances[height - 1] ?? 0);
    if (next > LEAST && height <= most) break;
    leftOut = next;
  }
  return { height, leftOut };
}

/** Room for what is found, which is used again for the next joint table. */
let room = roomFor(0);

function roomFor(size: number) {
  return {
    sums: new Int32Array(size),
    cells: new Int32Array(size),
    chances: new Float64Array(size),
  };
}

/** Everything in tables, one after another. */
function cellList() {
  let { sums, cells, chances } = room;
  let count = 0;
  const add = (sum: Units, cell: number, chance: number): void => {
    sums[count] = sum;
    cells[count] = cell;
    chances[count++] = chance;
  };
  return {
    add,
    /** Moves everything in a table into the list. */
    takeOut: (cell: number, table: SumTable, { period, step }: Frame, top: Units): void => {
      const most = count + table.planes * table.reach + 1;
      if (most > sums.length) {
        room = roomFor(2 * most);
        room.sums.set(sums);
        room.cells.set(cells);
        room.chances.set(chances);
        ({ sums, cells, chances } = room);
      }
      for (let b = 0; b < table.planes; b++) {
        for (let below = 0; below < table.reach; below++) {
          const index = b * table.height + below;
          const chance = table.chances[index] ?? 0;
          if (chance === 0) continue;
          add(top + step * b - period * below, cell, chance);
          table.chances[index] = 0;
        }
      }
      table.planes = 0;
      table.reach = 0;
    },
    all: () => ({
      sums: sums.slice(0, count),
      cells: cells.slice(0, count),
      chances: chances.slice(0, count),
    }),
  };
}
