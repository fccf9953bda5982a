/**
 * Results where there are too many to go through: by total and by cell (cells.ts). Results that are equal
 * in both are in an order nobody knows, unless the cell tells all that a rule compares: then what is fixed
 * breaks the tie, or they share their place.
 */
import { group } from 'd3-array';
import { type Distribution, quantile } from '../../range/distribution.js';
import { type Cells, cellsFor } from '../../range/joint/cells.js';
import { type JointResults, jointResults } from '../../range/joint/joint.js';
import { certain, sumOf } from '../../range/sum.js';
import type { SortedScores } from '../../rules/ties/tie-rule.js';
import type { Units } from '../../score.js';
import type { Grid } from '../../scoring.js';
import { totalOf } from '../model.js';
import { partDistribution, sumOfOpen } from '../open-part.js';
import { comparedAmong, decidedScores, type Member } from './enumerated.js';
import { type RankScale, type Results, rankOf } from './results.js';

/** About so many results all may have; and one, however few cells there are. */
const MOST_IN_CELLS = 30_000_000;
const MOST_OF_ONE = 2_000_000;

/** The lowest sums are left out as long as they are together no likelier than this. */
const LEAST = 1e-7;

/** So many more ranks there may be where what is fixed after the scores is told apart as well. */
const MOST_MORE = 50_000_000;

/** About so many sums are gone through at most, for all entrants and for each if one routine is known. */
const MOST_WORK = 3e10;

/** How results on one total are told apart. */
export interface CoarseOrder {
  readonly sorted: SortedScores;
  readonly cells: Cells;
  readonly indexOf: ReadonlyMap<Units, number>;
  /** By cell: its first key, and whether what comes after tells those in it apart. */
  readonly keys: Int32Array;
  readonly isTold: readonly boolean[];
  /** How many keys all cells have. */
  readonly count: number;
  /** By entrant: its rank by what is fixed before and after the scores. */
  readonly before: readonly number[];
  readonly after: readonly number[];
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
  const sums = sumCounts(entrants, grid);
  const sets = new Set(members.map(({ entrant }) => entrant.open));
  const work = [...sets].reduce((sum, open) => sum + 2 ** open.length, 0) * values.length;
  if (work * (sums[0] ?? 0) > MOST_WORK) return null;
  const cells = cellsFor(values, fields, {
    share: share / likeliestTotal(entrants),
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
  return { sorted, cells, indexOf, keys, isTold, count, before, after: after ?? [] };
}

/** How many sums the open parts of one entrant have at most, when so many of them are known. */
function sumCounts(entrants: readonly Member[], grid: Grid): number[] {
  const [most = []] = entrants
    .map(({ entrant }) => entrant.open)
    .sort((a, b) => sumOfOpen(b).scores.length - sumOfOpen(a).scores.length);
  const parts = most.map(partDistribution).sort((a, b) => b.scores.length - a.scores.length);
  return parts.map((_, k) => sumOf(parts.slice(0, parts.length - k), grid).scores.length);
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

/** By key of the cells: whether those who have it share their place. */
export function sharedKeys({ keys, isTold, count }: CoarseOrder): Uint8Array {
  const shared = new Uint8Array(count);
  for (const [cell, told] of isTold.entries()) if (told) shared.fill(1, keys[cell], keys[cell + 1]);
  return shared;
}

/** The results of all members, and the chance of some, at most, that are not where they should be. */
export function coarseResults(
  members: readonly Member[],
  order: CoarseOrder,
  scale: RankScale,
  grid: Grid,
): { readonly all: Results[]; readonly leftOut: number } {
  const { sorted, cells, indexOf } = order;
  // Members that differ in scores that are known may have the same open parts.
  const byOpen = group(members, ({ entrant }) => entrant.open);
  const found = new Map<Member, Results>();
  let leftOut = 0;
  for (const [open, some] of byOpen) {
    const lists = some.map(({ entrant }) =>
      decidedScores(sorted, entrant)
        .map((score) => indexOf.get(score) ?? 0)
        .sort((a, b) => a - b),
    );
    const asked = Math.min(...some.map((m) => m.least() - m.entrant.fixed));
    const told = quantile(sumOfOpen(open), LEAST);
    const least = Math.max(asked, told);
    const joint = jointResults(open.map(partDistribution), lists, grid, cells, least);
    for (const [k, one] of joint.entries()) {
      const member = some[k];
      if (member !== undefined) found.set(member, rankedIn(member, order, scale, one));
      if (told > asked) leftOut = Math.max(leftOut, one.below);
    }
  }
  return { all: members.flatMap((member) => found.get(member) ?? []), leftOut };
}

function rankedIn(
  { entrant, of }: Member,
  { cells: { count: cellCount }, keys, isTold, count, before, after }: CoarseOrder,
  scale: RankScale,
  { cells, below, lowest }: JointResults,
): Results {
  const keyOf = (cell: number) =>
    (before[of] ?? 0) * count + (keys[cell] ?? 0) + (isTold[cell] ? (after[of] ?? 0) : 0);
  const size = cells.reduce((n, { sums }) => n + sums.length, 0);
  const ranks = new Int32Array(size + 1);
  const chances = new Float64Array(size + 1);
  let at = 0;
  for (const one of cells) {
    const key = keyOf(one.cell);
    chances.set(one.chances, at);
    for (let k = 0; k < one.sums.length; k++) {
      ranks[at++] = rankOf(scale, entrant.fixed + (one.sums[k] ?? 0), key);
    }
  }
  ranks[size] = rankOf(scale, entrant.fixed + lowest, keyOf(cellCount - 1));
  chances[size] = below;
  return { ranks, chances };
}
