/**
 * The joint chances of a sum and of the cell (cells.ts) that its terms, and scores that are known, are in.
 *
 * Values are handed out from the last in the order of the rule to the first, and W(S) are the chances of
 * the sums of the terms in S when each has one: with a value v for a term r, W(S + r) grows by
 * P(r has v) · x^v · W(S). So at any time W(S) is about terms none of which has a value before v. A cell is
 * what begins with certain scores, so likely for each set of terms that can have them, times what W of the
 * others is at the first next score of the cell less what it is at the first beyond. Of terms on one value
 * the earlier in the list has it first. docs/model.md, "Results in order".
 */
import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import { summedUp, type Term, termsOf } from '../coordinates.js';
import type { Distribution } from '../distribution.js';
import { addShifted, emptyTable, type SumTable, tableOfNone } from '../sum-table.js';
import type { Cells, NextScores } from './cells.js';

export interface JointResults {
  /** In no order: a sum of the terms, the cell of all scores, and their chance. */
  readonly sums: Int32Array;
  readonly cells: Int32Array;
  readonly chances: Float64Array;
  /** The chance of sums below the least, which are taken for one that is. */
  readonly below: number;
}

/** What is left of a difference by rounding is less. */
const ROUNDING = 1e-18;

/**
 * Of one term and more, beside scores that are known, by index, rising: of several such lists at once, since
 * what the terms do is the same. All values and scores are among those of the cells. Sums below `least` are
 * taken for one of them.
 */
export function jointResults(
  parts: readonly Distribution[],
  lists: readonly (readonly number[])[],
  grid: Grid,
  cells: Cells,
  least: Units,
): JointResults[] {
  const { frame, terms } = termsOf(grid, parts);
  const { top, mostBelow, mostSteps } = summedUp(terms);
  // One row more than sums from the least up take: the others are put there.
  const told = Math.floor((top + frame.step * mostSteps - least) / frame.period) + 2;
  const height = Math.max(Math.min(mostBelow + 1, told), 1);
  const moves = parts.map((part, r) => movesOf(part, terms[r], cells.values));
  const tables = lists.map(() => new Map<number, SumTable>());
  const tableOf = tableMaker((mostSteps + 1) * height, height);
  const shares = sharesOf(cells, moves, lists);
  const sums = tablesOfNone(terms, height);
  for (let v = cells.values.length; v >= 0; v--) {
    for (let r = terms.length - 1; r >= -1; r--) {
      for (const share of shares[v * (terms.length + 1) + r + 1] ?? []) {
        const [to, from] = [tableOf(tables[share.list], share.cell), sums[share.set]];
        if (from !== undefined) addShifted(to, from, share.steps, share.below, share.chance);
      }
      const move = moves[r]?.[v];
      if (move !== undefined) handOut(sums, r, move);
    }
  }
  const lowest = { sum: top - frame.period * (height - 1), cell: cells.count - 1 };
  const sumAt = (steps: number, below: number) => top + frame.step * steps - frame.period * below;
  return tables.map((one) => takeOut(one, sumAt, lowest));
}

/** Hands a value out to a term: the sets that have it come after those that do not. */
function handOut(sums: readonly SumTable[], r: number, { steps, below, chance }: Move): void {
  const bit = 1 << r;
  for (let set = sums.length - 1; set >= 0; set--) {
    const [from, to] = [sums[set], sums[set | bit]];
    if ((set & bit) !== 0 || from === undefined || to === undefined) continue;
    addShifted(to, from, steps, below, chance);
  }
}

/** What the value of a term does to a sum. */
interface Move {
  readonly chance: number;
  readonly steps: number;
  readonly below: number;
}

/** By value; none where the term cannot have it. */
type Moves = readonly (Move | undefined)[];

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

/** Terms that have the first scores, the last of those one's, and what they add up to. */
interface Begun extends Move {
  readonly set: number;
  /** -1 where a known score is the last. */
  readonly last: number;
}

/** What a cell of a list has of the sums of a set of terms: so likely, and so much further on. */
interface Share extends Move {
  readonly list: number;
  readonly cell: number;
  readonly set: number;
}

/** By value and term, of each value one more than there are: what is added up just before the term has had it. */
function sharesOf(
  { first }: Cells,
  moves: readonly Moves[],
  lists: readonly (readonly number[])[],
): Share[][] {
  const size = moves.length;
  const all = (1 << size) - 1;
  const found: Share[][] = [];
  for (const [list, known] of lists.entries()) {
    const add = (v: number, r: number, cell: number, begun: Begun, sign: number) => {
      const { set, chance, steps, below } = begun;
      const at = v * (size + 1) + r + 1;
      found[at] ??= [];
      found[at].push({ list, cell, set: all & ~set, steps, below, chance: sign * chance });
    };
    const follow = (
      classes: readonly NextScores[],
      last: number,
      taken: number,
      begun: readonly Begun[],
    ) => {
      const bySet = bySets(begun);
      const next = known[taken] ?? Number.POSITIVE_INFINITY;
      for (const { from, to, after } of classes) {
        if (next < from) return;
        if (typeof after !== 'number') {
          // Of equal scores those that are known come first.
          const isKnown = next === from;
          const more = isKnown ? bySet : withNext(begun, last, from, moves);
          if (more.length > 0) follow(after, from, isKnown ? taken + 1 : taken, more);
          continue;
        }
        for (const one of from === last ? begun : bySet) add(from, one.last, after, one, 1);
        if (next >= to) for (const one of bySet) add(to, -1, after, one, -1);
      }
    };
    follow(first, 0, 0, [{ set: 0, last: -1, chance: 1, steps: 0, below: 0 }]);
  }
  return found;
}

function bySets(begun: readonly Begun[]): Begun[] {
  const found = new Map<number, Begun>();
  for (const one of begun) {
    const chance = (found.get(one.set)?.chance ?? 0) + one.chance;
    found.set(one.set, { ...one, last: -1, chance });
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

/** W of every set of terms before any has a value. */
function tablesOfNone(terms: readonly Term[], height: number): SumTable[] {
  const stepsIn = (set: number) => summedUp(terms.filter((_, r) => (set >> r) & 1)).mostSteps;
  return Array.from({ length: 1 << terms.length }, (_, set) =>
    set === 0 ? tableOfNone(height) : emptyTable(stepsIn(set), height),
  );
}

/** Room for the sums of cells, all 0, and for what is found; both are used again for the next joint results. */
let tableRoom = new Float64Array(0);
let listRoom = roomFor(0);

function roomFor(size: number) {
  return {
    sums: new Int32Array(size),
    cells: new Int32Array(size),
    chances: new Float64Array(size),
  };
}

/** Makes tables of so many numbers, by cell, when they are asked for. */
function tableMaker(size: number, height: number) {
  let used = 0;
  return (tables: Map<number, SumTable> | undefined, cell: number): SumTable => {
    const found = tables?.get(cell);
    if (found !== undefined) return found;
    if (used + size > tableRoom.length) {
      tableRoom = new Float64Array(2 * used + size);
      used = 0;
    }
    const table = { height, chances: tableRoom.subarray(used, used + size), planes: 0, reach: 0 };
    used += size;
    tables?.set(cell, table);
    return table;
  };
}

/** Everything in tables in one list, and what is in none; leaves them empty. */
function takeOut(
  tables: ReadonlyMap<number, SumTable>,
  sumAt: (steps: number, below: number) => Units,
  lowest: { readonly sum: Units; readonly cell: number },
): JointResults {
  let most = 1;
  for (const { planes, reach } of tables.values()) most += planes * reach;
  if (most > listRoom.sums.length) listRoom = roomFor(2 * most);
  const { sums, cells, chances } = listRoom;
  let count = 0;
  let rest = 1;
  for (const [cell, table] of tables) {
    for (let b = 0; b < table.planes; b++) {
      for (let below = 0; below < table.reach; below++) {
        const index = b * table.height + below;
        const chance = table.chances[index] ?? 0;
        if (chance === 0) continue;
        table.chances[index] = 0;
        if (chance < ROUNDING) continue;
        sums[count] = sumAt(b, below);
        cells[count] = cell;
        chances[count++] = chance;
        rest -= chance;
      }
    }
  }
  const below = Math.max(rest, 0);
  sums[count] = lowest.sum;
  cells[count] = lowest.cell;
  chances[count++] = below;
  return {
    sums: sums.slice(0, count),
    cells: cells.slice(0, count),
    chances: chances.slice(0, count),
    below,
  };
}
