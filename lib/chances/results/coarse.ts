/**
 * Results where there are too many to go through: by total and by cell (cells.ts). Results that are equal
 * in both are in an order nobody knows, unless a rule compares no more than the first score.
 */
import type { Distribution } from '../../range/distribution.js';
import {
  type CellOf,
  type Cells,
  cellFinder,
  cellsFor,
  lastScores,
  type SumCounts,
} from '../../range/joint/cells.js';
import { type JointExtreme, jointExtreme } from '../../range/joint/joint-extreme.js';
import { certain, sumOf } from '../../range/sum.js';
import type { SortedScores } from '../../rules/ties/tie-rule.js';
import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import { totalOf } from '../model.js';
import { type OpenPart, partDistribution, sumOfOpen } from '../open-part.js';
import { decidedScores, type Member } from './enumerated.js';
import { type RankScale, type Results, rankOf } from './results.js';

/** About so many results all may have; and one, however few cells there are. */
const MOST_IN_CELLS = 30_000_000;
const MOST_OF_ONE = 2_000_000;

/** Where first scores have to share cells: about so many sums are gone through for all members together. */
const MOST_WORK = 3e9;

/** How results on one total are told apart. */
export interface CoarseOrder {
  readonly sorted: SortedScores;
  readonly cells: Cells;
  readonly cellOf: CellOf;
  /** By cell (lastScores). */
  readonly scores: Int32Array;
  readonly indexOf: ReadonlyMap<Units, number>;
  /** By entrant, before and after that: its rank by what is fixed, and how many ranks there are. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  readonly ranksAfter: number;
}

/**
 * How a field's results are told apart: by as many cells as there is room for; null where that
 * takes too long. `members`: entrants and conditioned ones, who may have other scores. `share`: no cell of the likeliest total is likelier than about this.
 */
export function coarseOrder(
  entrants: readonly Member[],
  members: readonly Member[],
  sorted: SortedScores,
  grid: Grid,
  fixed: Pick<CoarseOrder, 'before' | 'after'>,
  share: number,
): CoarseOrder | null {
  const fields = entrants.map(({ entrant }): Distribution[] => [
    ...entrant.open.map(partDistribution),
    ...decidedScores(sorted, entrant).map(certain),
  ]);
  const sums = sumCounts(entrants, grid);
  const scores = new Set(fields.flat().flatMap((one) => one.scores));
  for (const { entrant } of members.filter(({ isBeyond }) => isBeyond))
    for (const one of decidedScores(sorted, entrant)) scores.add(one);
  const values = [...scores].sort((a, b) => (sorted.from === 'lowest' ? a - b : b - a));
  const cells = cellsFor(values, fields, sums, {
    share: share / likeliestTotal(entrants),
    most: Math.min(MOST_IN_CELLS / entrants.length, MOST_OF_ONE),
    isFirstOnly: sorted.compared === 'first',
  });
  const work = members.reduce((sum, { entrant }) => sum + 2 ** entrant.open.length, 0);
  if (cells.isMerged && work * values.length * sums.all > MOST_WORK) return null;
  const indexOf = new Map(values.map((value, v) => [value, v]));
  const ranksAfter = Math.max(0, ...fixed.after) + 1;
  const lookup = { cells, cellOf: cellFinder(cells), scores: lastScores(cells), indexOf };
  return { sorted, ...lookup, ...fixed, ranksAfter };
}

/** How many sums the open parts of one entrant but for one, and but for two, have at most. */
function sumCounts(entrants: readonly Member[], grid: Grid): SumCounts {
  const [most = []] = entrants
    .map(({ entrant }) => entrant.open)
    .sort((a, b) => sumOfOpen(b).scores.length - sumOfOpen(a).scores.length);
  const parts = most.map(partDistribution).sort((a, b) => b.scores.length - a.scores.length);
  const countOf = (some: readonly Distribution[]) => sumOf(some, grid).scores.length;
  return {
    all: countOf(parts),
    afterOne: countOf(parts.slice(0, -1)),
    afterTwo: countOf(parts.slice(0, -2)),
  };
}

/** Of how many entrants a total is, at most, on average. */
function likeliestTotal(entrants: readonly Member[]): number {
  const masses = new Map<Units, number>();
  for (const { scores, chances } of entrants.map(({ entrant }) => totalOf(entrant))) {
    for (const [k, score] of scores.entries()) {
      masses.set(score, (masses.get(score) ?? 0) + (chances[k] ?? 0));
    }
  }
  return Math.max(0, ...masses.values());
}

/** How many keys there are. */
export function keysOf({ before, cells, ranksAfter }: CoarseOrder): number {
  return (Math.max(0, ...before) + 1) * cells.count * ranksAfter;
}

/** By open parts of some members: the least of their sums that anybody asks about. */
export function leastSums(members: readonly Member[]): ReadonlyMap<readonly OpenPart[], Units> {
  const sums = new Map<readonly OpenPart[], Units>();
  for (const { entrant, least } of members) {
    const sum = least() - entrant.fixed;
    sums.set(entrant.open, Math.min(sums.get(entrant.open) ?? sum, sum));
  }
  return sums;
}

/** The results of one entrant; `leftOut` of their chance is not where it should be. */
export function coarseResults(
  member: Member,
  order: CoarseOrder,
  scale: RankScale,
  grid: Grid,
  least: Units,
): { readonly results: Results; readonly leftOut: number } {
  const { before, cells, after, ranksAfter } = order;
  const from = (before[member.of] ?? 0) * cells.count;
  const keyOf = (cell: number) => (from + cell) * ranksAfter + (after[member.of] ?? 0);
  const { open, fixed } = member.entrant;
  if (open.length === 0) {
    const beyond = cells.values.length;
    const [first = 0, next = beyond, third = beyond] = decidedIndices(member, order);
    const cell = order.cellOf(first, next, third);
    const ranks = Int32Array.of(rankOf(scale, fixed, keyOf(cell)));
    return { results: { ranks, chances: Float64Array.of(1) }, leftOut: 0 };
  }
  const joint = jointOf(open, cells, grid, least);
  return { results: byCells(member, order, scale, joint, keyOf), leftOut: joint.leftOut };
}

type KeyOf = (cell: number) => number;

/** The decided scores of an entrant, by their index among the values of cells, rising. */
function decidedIndices({ entrant }: Member, { sorted, indexOf }: CoarseOrder): number[] {
  return decidedScores(sorted, entrant)
    .map((score) => indexOf.get(score) ?? 0)
    .sort((a, b) => a - b);
}

/** Parts never change, so their tables are made once for the cells of a field. */
const joints = new WeakMap<readonly OpenPart[], { cells: Cells; joint: JointExtreme }>();

function jointOf(open: readonly OpenPart[], cells: Cells, grid: Grid, least: Units): JointExtreme {
  const found = joints.get(open);
  if (found?.cells === cells) return found.joint;
  const joint = jointExtreme(open.map(partDistribution), grid, cells, least);
  joints.set(open, { cells, joint });
  return joint;
}

/** The cells of the open parts, with the decided scores among them. */
function byCells(
  member: Member,
  order: CoarseOrder,
  scale: RankScale,
  { sums, cells: found, chances }: JointExtreme,
  keyOf: KeyOf,
): Results {
  const { fixed } = member.entrant;
  const keys = Int32Array.from(withDecided(order, decidedIndices(member, order)), keyOf);
  const { orders } = scale;
  const highest = scale.top - fixed;
  const ranks = new Int32Array(sums.length);
  for (let k = 0; k < ranks.length; k++) {
    // rankOf, which this loop has no time to call.
    const above = orders[highest - (sums[k] ?? 0)] ?? 0;
    ranks[k] = above * scale.keys + (keys[found[k] ?? 0] ?? 0);
  }
  return { ranks, chances };
}

/** By cell of the open scores: the cell of all scores together. */
function withDecided(
  { cells, cellOf, scores }: CoarseOrder,
  decided: readonly number[],
): Int32Array {
  const found = new Int32Array(cells.count);
  const rising = new Int32Array(3);
  for (let cell = 0; cell < found.length; cell++) {
    let [i, j] = [0, 0];
    for (let k = 0; k < 3; k++) {
      const open = scores[3 * cell + i] ?? 0;
      const known = decided[j] ?? cells.values.length;
      rising[k] = Math.min(open, known);
      if (open <= known) i++;
      else j++;
    }
    found[cell] = cellOf(rising[0] ?? 0, rising[1] ?? 0, rising[2] ?? 0);
  }
  return found;
}
