/**
 * The joint chances of a sum and of the cell (cells.ts) that its terms, and scores that are known, are in.
 *
 * Values are handed out from the last in the order of the rule to the first, and W(S) are the chances of
 * the sums of the terms in S when each has one: with a value v for a term r, W(S + r) grows by
 * P(r has v) · x^v · W(S). So at any time W(S) is about terms none of which has a value before v. A cell is
 * what begins with certain scores, so likely for each set of terms that can have them, times what W of the
 * others is at the first next score of the cell less what it is at the first beyond. Of terms on one value
 * the earlier in the list has it first. A cell whose scores are all before those that are known is the same
 * whatever they are, and is added up once. docs/model.md, "Results in order".
 */
import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import { summedUp, type Term, termsOf } from '../coordinates.js';
import type { Distribution } from '../distribution.js';
import { addShifted, emptyTable, type SumTable, tableOfNone } from '../sum-table.js';
import type { Cells, NextScores } from './cells.js';

export interface JointResults {
  /** In no order, one for each cell that can be. */
  readonly cells: readonly CellSums[];
  /** The chance of sums below the least, which are taken for `lowest` in the last cell. */
  readonly below: number;
  /** A sum that is no higher than any other. */
  readonly lowest: Units;
}

/** The sums of the terms with which all scores are in a cell, in no order. */
export interface CellSums {
  readonly cell: number;
  readonly sums: Int32Array;
  readonly chances: Float64Array;
  /** What they add up to. */
  readonly chance: number;
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
  // By list its own cells, and at the end those that are the same for several lists.
  const tables = [...lists, null].map(() => new Map<number, SumTable>());
  const tableOf = tableMaker((mostSteps + 1) * height, height);
  const { shares, common } = sharesOf(cells, moves, lists);
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
  const lowest = top - frame.period * (height - 1);
  const taken = tables.map((one) => takeOut(one, { ...frame, top }));
  return common.map((shared, list): JointResults => {
    const ofSeveral = [...shared].flatMap((cell) => taken.at(-1)?.get(cell) ?? []);
    const all = [...(taken[list]?.values() ?? []), ...ofSeveral];
    const below = Math.max(
      all.reduce((rest, { chance }) => rest - chance, 1),
      0,
    );
    return { cells: all, below, lowest };
  });
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

/** What cells have of the sums of terms. */
interface Shares {
  /** By value and term, of each value one more than there are: what is added up just before the term has had it. */
  readonly shares: readonly (readonly Share[] | undefined)[];
  /** By list: the cells that are the same whatever its known scores are, since all their own come before. */
  readonly common: readonly ReadonlySet<number>[];
}

/** What a cell of a list has of the sums of a set of terms: so likely, and so much further on. */
interface Share extends Move {
  /** Of a cell that is the same for several lists: how many lists there are. */
  readonly list: number;
  readonly cell: number;
  readonly set: number;
}

/** What every cell has, for lists of known scores. */
function sharesOf(
  { first }: Cells,
  moves: readonly Moves[],
  lists: readonly (readonly number[])[],
): Shares {
  const size = moves.length;
  const all = (1 << size) - 1;
  const shares: Share[][] = [];
  const common = lists.map(() => new Set<number>());
  const isFound = new Set<number>();
  const add = (list: number, cell: number, v: number, r: number, begun: Begun, sign: number) => {
    const { set, chance, steps, below } = begun;
    const at = v * (size + 1) + r + 1;
    shares[at] ??= [];
    shares[at].push({ list, cell, set: all & ~set, steps, below, chance: sign * chance });
  };
  for (const [own, known] of lists.entries()) {
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
        const isCommon = taken === 0 && next >= to;
        if (isCommon) {
          common[own]?.add(after);
          if (isFound.has(after)) continue;
          isFound.add(after);
        }
        const list = isCommon ? lists.length : own;
        for (const one of from === last ? begun : bySet) add(list, after, from, one.last, one, 1);
        if (next >= to) for (const one of bySet) add(list, after, to, -1, one, -1);
      }
    };
    follow(first, 0, 0, [{ set: 0, last: -1, chance: 1, steps: 0, below: 0 }]);
  }
  return { shares, common };
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

/** Room for the tables of cells, all 0, which is used again for the next joint results. */
let tableRoom = new Float64Array(0);

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

/** By cell what is in its table, which is left empty. */
function takeOut(
  tables: ReadonlyMap<number, SumTable>,
  { top, step, period }: { readonly top: Units; readonly step: Units; readonly period: Units },
): Map<number, CellSums> {
  const found = new Map<number, CellSums>();
  let room = 0;
  for (const { planes, reach } of tables.values()) room += planes * reach;
  const [sums, hers] = [new Int32Array(room), new Float64Array(room)];
  let from = 0;
  for (const [cell, { planes, reach, height, chances }] of tables) {
    let [count, all] = [from, 0];
    for (let b = 0; b < planes; b++) {
      const highest = top + step * b;
      const plane = b * height;
      for (let k = plane; k < plane + reach; k++) {
        const chance = chances[k] ?? 0;
        if (chance === 0) continue;
        chances[k] = 0;
        if (chance < ROUNDING) continue;
        sums[count] = highest - period * (k - plane);
        hers[count++] = chance;
        all += chance;
      }
    }
    const here = { sums: sums.subarray(from, count), chances: hers.subarray(from, count) };
    found.set(cell, { cell, ...here, chance: all });
    from = count;
  }
  return found;
}
