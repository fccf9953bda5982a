/**
 * Results where there are too many to go through: by total and by cell (cells.ts). Results that are equal
 * in both are in an order nobody knows, unless the cell tells all that a rule compares: then what is fixed
 * breaks the tie, or they share their place.
 */
import type { Distribution } from '../../range/distribution.js';
import { type Cells, cellsFor, likeliest, ONE_CELL, sumCounts } from '../../range/joint/cells.js';
import { certain } from '../../range/sum.js';
import type { SortedScores } from '../../rules/ties/tie-rule.js';
import type { Grid } from '../../scoring.js';
import { totalOf } from '../model.js';
import { partDistribution, sumOfOpen } from '../open-part.js';
import { comparedAmong, decidedScores, type Member } from './enumerated.js';

/** About so many results all may have; and one, however few cells there are. */
const MOST_IN_CELLS = 30_000_000;
const MOST_OF_ONE = 2_000_000;

/** So many more ranks there may be where what is fixed after the scores is told apart as well. */
const MOST_MORE = 50_000_000;

/** About so many sums are gone through at most, for all entrants and for each if one routine is known. */
const MOST_WORK = 3e10;

/** How results on one total are told apart. */
export interface CoarseOrder {
  readonly cells: Cells;
  /** By entrant or conditioned one: the cells' values that are known of it, by index, rising. */
  readonly knownOf: (member: Member) => readonly number[];
  /** By cell: its first key, and whether what comes after tells those in it apart. */
  readonly keys: Int32Array;
  readonly isTold: readonly boolean[];
  /** How many keys all cells have. */
  readonly count: number;
  /** By entrant: its rank by what is fixed before and after the scores. */
  readonly before: readonly number[];
  readonly after: readonly number[];
}

/** Nothing tells results on one total apart but what is fixed, and that all or not. */
export function orderByTotal(before: readonly number[], isTold: boolean): CoarseOrder {
  const order = { cells: ONE_CELL, knownOf: () => [], keys: new Int32Array(1), isTold: [isTold] };
  return { ...order, count: 1, before, after: [] };
}

/** By entrant: its rank by what is fixed before and after the scores; null where what comes after is not fixed. */
interface FixedRanks {
  readonly before: readonly number[];
  readonly after: readonly number[] | null;
  /** How many totals there are. */
  readonly totals: number;
}

/**
 * How a field's results are told apart: by as many cells as there is room for; null where that takes too
 * long. `members`: entrants and conditioned ones, who may have other scores. `share`: no cell of the
 * likeliest total is likelier than about this.
 */
export function coarseOrder(
  entrants: readonly Member[],
  members: readonly Member[],
  sorted: SortedScores,
  grid: Grid,
  share: number,
  { before, after, totals }: FixedRanks,
): CoarseOrder | null {
  const fields = entrants.map(({ entrant }): Distribution[] => [
    ...entrant.open.map(partDistribution),
    ...decidedScores(sorted, entrant).map(certain),
  ]);
  const scores = new Set(fields.flat().flatMap((one) => one.scores));
  for (const { entrant } of members.filter(({ isBeyond }) => isBeyond))
    for (const one of decidedScores(sorted, entrant)) scores.add(one);
  const values = [...scores].sort((a, b) => (sorted.from === 'lowest' ? a - b : b - a));
  const [widest = []] = entrants
    .map(({ entrant }) => entrant.open)
    .sort((a, b) => sumOfOpen(b).scores.length - sumOfOpen(a).scores.length);
  const sums = sumCounts(widest.map(partDistribution), grid);
  const sets = new Set(members.map(({ entrant }) => entrant.open));
  const work = [...sets].reduce((sum, open) => sum + 2 ** open.length, 0) * values.length;
  if (work * (sums[0] ?? 0) > MOST_WORK) return null;
  const cells = cellsFor(values, fields, {
    share: share / likeliest(entrants.map(({ entrant }) => totalOf(entrant))),
    most: Math.min(MOST_IN_CELLS / entrants.length, MOST_OF_ONE),
    compared: comparedAmong(sorted, members),
    sums,
  });
  const indexOf = new Map(values.map((value, v) => [value, v]));
  const ranksAfter = Math.max(0, ...(after ?? [])) + 1;
  const more = cells.isTold.filter((told) => told).length * (ranksAfter - 1);
  const isRoom = more * (Math.max(0, ...before) + 1) * totals <= MOST_MORE;
  const isTold = cells.isTold.map((told) => told && after !== null && isRoom);
  const keys = new Int32Array(cells.count);
  let count = 0;
  for (const [cell, told] of isTold.entries()) {
    keys[cell] = count;
    count += told ? ranksAfter : 1;
  }
  const knownOf = ({ entrant }: Member) =>
    decidedScores(sorted, entrant)
      .map((score) => indexOf.get(score) ?? 0)
      .sort((x, y) => x - y);
  return { cells, knownOf, keys, isTold, count, before, after: after ?? [] };
}

/** By key of the cells: whether those who have it share their place. */
export function sharedKeys({ keys, isTold, count }: CoarseOrder): Uint8Array {
  const shared = new Uint8Array(count);
  for (const [cell, told] of isTold.entries()) if (told) shared.fill(1, keys[cell], keys[cell + 1]);
  return shared;
}

/** Whether cells tell all that is compared, for everybody. */
export function isAllTold({ isTold }: CoarseOrder): boolean {
  return isTold.every((told) => told);
}
