/**
 * How likely every member is to be ahead of a group of results, where results are told apart by total and cell
 * (coarse.ts): its higher totals, and of the total that the group begins in the cells before it.
 */
import { bisectLeft, group } from 'd3-array';
import { inKeyOrder } from '../../range/digits.js';
import type { Distribution } from '../../range/distribution.js';
import type { AskedSums } from '../../range/joint/asked.js';
import { chancesByCell, chancesFromCell } from '../../range/joint/joint.js';
import {
  chancesBefore,
  type RankScale,
  rankCount,
  rankOf,
  totalsOf,
} from '../../range/rank-scale.js';
import type { Grid } from '../../scoring.js';
import { totalFrom, totalOf } from '../model.js';
import { partDistribution } from '../open-part.js';
import { type CoarseOrder, isAllTold } from './coarse.js';
import type { Member } from './enumerated.js';

/** Members whose results are told apart by total and cell. */
export interface CoarseResults {
  readonly entrants: readonly Member[];
  /** The conditioned. */
  readonly beside: readonly Member[];
  readonly order: CoarseOrder;
  readonly scale: RankScale;
  readonly grid: Grid;
}

/** The groups in which a member has results, in order, and its chances there. */
export interface ByGroup {
  readonly groups: Int32Array;
  readonly chances: Float64Array;
}

/** Totals so low are together no likelier than this, and take no part in how results are put in groups. */
const LEAST = 1e-7;

/** What is left of a difference by rounding is less. */
const ROUNDING = 1e-15;

/** What a rank weighs that only the conditioned can have: groups are made for entrants. */
const HARDLY = 1e-30;

/**
 * By rank: the chance of it, of all entrants together. Where cells tell everything, also which ranks the
 * conditioned have that entrants cannot.
 */
export function massesOf(results: CoarseResults): Float64Array {
  const { entrants, beside, order, scale } = results;
  const masses = new Float64Array(rankCount(scale));
  const isTold = order.isTold.some((told) => told);
  const beyond = isTold ? beside.filter(({ isBeyond }) => isBeyond) : [];
  for (const member of entrants) addMass(masses, member, results, 1);
  for (const member of beyond) addMass(masses, member, results, HARDLY);
  return masses;
}

function addMass(
  masses: Float64Array,
  member: Member,
  { order, scale, grid }: CoarseResults,
  weight: number,
): void {
  const { of, entrant } = member;
  const { open, fixed } = entrant;
  // Where cells tell all, every rank counts, however unlikely it is.
  const [hardly, none] = isAllTold(order) ? [0, 0] : [LEAST, ROUNDING];
  const totals = likelyTotals(member, hardly);
  const [first] = totals.scores;
  if (first === undefined) return;
  const lowest = first - fixed;
  const parts = open.map(partDistribution);
  const { sums, cells } =
    order.cells.count === 1
      ? { sums: totals.scores.map((total) => total - fixed), cells: [{ cell: 0, ...totals }] }
      : chancesByCell(parts, order.knownOf(member), grid, order.cells, lowest);
  const ranks = new Int32Array(sums.length);
  for (let n = 0; n < ranks.length; n++) ranks[n] = rankOf(scale, fixed + (sums[n] ?? 0), 0);
  for (const { cell, chances } of cells) {
    const key = keyOf(of, order, cell);
    for (let n = 0; n < chances.length; n++) {
      const chance = chances[n] ?? 0;
      if (chance <= none) continue;
      const rank = (ranks[n] ?? 0) + key;
      masses[rank] = (masses[rank] ?? 0) + weight * chance;
    }
  }
}

/** The totals that are asked about, but the lowest, which are together no likelier than that. */
function likelyTotals({ entrant, least }: Member, hardly: number): Distribution {
  const { scores, chances } = totalOf(entrant);
  let [from, below] = [0, chances[0] ?? 0];
  while (below < hardly) below += chances[++from] ?? 1;
  from = Math.max(from, bisectLeft(scores, least));
  return { scores: scores.slice(from), chances: chances.slice(from) };
}

/** Within a total, the lower ahead. */
function keyOf(of: number, { keys, isTold, count, before, after }: CoarseOrder, cell: number) {
  const later = isTold[cell] ? (after[of] ?? 0) : 0;
  return (before[of] ?? 0) * count + (keys[cell] ?? 0) + later;
}

/** By key: the first cell that an entrant has there or later. */
function cellsByKey(of: number, order: CoarseOrder, keys: number): Int32Array {
  const cellAt = new Int32Array(keys).fill(order.cells.count);
  let next = 0;
  for (let cell = 0; cell < order.cells.count; cell++) {
    const key = keyOf(of, order, cell);
    cellAt.fill(cell, next, key + 1);
    next = key + 1;
  }
  return cellAt;
}

function beforeTotals({ entrant, least }: Member, scale: RankScale): Float64Array {
  return chancesBefore(totalFrom(entrant, least), scale, least);
}

/**
 * By order of the total: the reciprocal of about the likeliest number of those ahead of who has it. With a
 * variance V of that number no single one is likelier than about 1/√(1 + 2πV), and no more can one rival change.
 */
export function spreadsOf({ entrants, scale }: CoarseResults): Float64Array {
  const count = scale.orders.at(-1) ?? 0;
  const variances = new Float64Array(count);
  for (const member of entrants) {
    const before = beforeTotals(member, scale);
    for (let n = 0; n < count; n++) {
      const ahead = ((before[n] ?? 0) + (before[n + 1] ?? 0)) / 2;
      variances[n] = (variances[n] ?? 0) + ahead * Math.max(1 - ahead, 0);
    }
  }
  return variances.map((variance) => Math.sqrt(1 + 2 * Math.PI * variance));
}

/** By entrant and conditioned one: its chances by group, of groups that begin at these ranks. */
export function chancesByGroup(results: CoarseResults, starts: Float64Array): ByGroup[] {
  const { entrants, beside, order, scale, grid } = results;
  const members = [...entrants, ...beside];
  // Those that are ranked alike by what is fixed have the same.
  const boundaries = new Map<string, Boundaries>();
  const found = new Map<Member, ByGroup>();
  for (const [open, some] of group(members, ({ entrant }) => entrant.open)) {
    // All of them are one entrant, in several cases.
    const of = some[0]?.of ?? 0;
    const name = `${order.before[of] ?? 0} ${order.after[of] ?? 0}`;
    const at = boundaries.get(name) ?? boundariesFor(of, results, starts);
    boundaries.set(name, at);
    const known = some.map((one) => ({ known: order.knownOf(one), fixed: one.entrant.fixed }));
    const least = Math.min(...some.map((one) => one.least - one.entrant.fixed));
    const from =
      at.sums.length === 0
        ? []
        : chancesFromCell(open.map(partDistribution), known, at, grid, order.cells, least);
    for (const [k, member] of some.entries()) {
      found.set(member, inGroups(beforeTotals(member, scale), at, from[k] ?? NONE));
    }
  }
  return members.flatMap((member) => found.get(member) ?? []);
}

const NONE = new Float64Array(0);

/** Where groups begin for a member: at which total and cell. */
interface Boundaries extends AskedSums {
  /** By group: the order of its total. */
  readonly orders: Int32Array;
  /** By group: where its total and cell are asked about; -1 where the group has all of its total, -2 where none. */
  readonly asked: Int32Array;
}

const ALL = -1;
const NOTHING = -2;

function boundariesFor(
  of: number,
  { order, scale }: CoarseResults,
  ranks: Float64Array,
): Boundaries {
  const { keys } = scale;
  const totalAt = totalsOf(scale);
  const orders = Int32Array.from(ranks, (rank) => Math.floor(rank / keys));
  const { count } = order.cells;
  const cellAt = cellsByKey(of, order, keys);
  const cellOf = Int32Array.from(ranks, (rank, g) => cellAt[rank - (orders[g] ?? 0) * keys] ?? 0);
  const { starts, places } = inKeyOrder(
    cellOf.map((cell) => (cell > 0 && cell < count ? cell : -1)),
    count,
  );
  const sums = new Int32Array(starts[count] ?? 0);
  const asked = places.map((place, g) => {
    if (place < 0) return cellOf[g] === 0 ? ALL : NOTHING;
    sums[place] = totalAt[orders[g] ?? 0] ?? 0;
    return place;
  });
  return { orders, asked, starts, sums };
}

/**
 * A member's chances by group: `before` the chances to be before a total, `from` those of the total and the cell
 * that are asked about, or a later one.
 */
function inGroups(
  before: Float64Array,
  { orders, asked }: Boundaries,
  from: Float64Array,
): ByGroup {
  const [first, last] = groupsWithin(orders, before);
  const groups = new Int32Array(last - first + 1);
  const chances = new Float64Array(last - first + 1);
  let [count, done] = [0, 0];
  const add = (group: number, next: number) => {
    if (next - done < ROUNDING) return;
    if (groups[count - 1] !== group) groups[count++] = group;
    chances[count - 1] = (chances[count - 1] ?? 0) + next - done;
    done = next;
  };
  for (let g = first; g < last; g++) {
    const [n, ask] = [orders[g + 1] ?? 0, asked[g + 1] ?? 0];
    const most = before[ask === ALL ? n : n + 1] ?? 0;
    if (g + 1 < last) add(g, ask < 0 ? most : most - (from[ask] ?? 0));
    else add(g, before.at(-2) ?? 0);
  }
  // What is not asked about is behind everything.
  add(orders.length - 1, 1);
  return { groups: groups.subarray(0, count), chances: chances.subarray(0, count) };
}

/** Which groups hold totals that a member has, the first one and the one after the last. */
function groupsWithin(orders: Int32Array, before: Float64Array): [number, number] {
  const told = before.at(-2) ?? 0;
  const top = before.findIndex((chance) => chance > 0) - 1;
  const lowest = before.findIndex((chance) => chance >= told) - 1;
  const first = Math.max(bisectLeft(orders, top) - 1, 0);
  // Who is ahead of all groups is in the first.
  return [first, told > 0 ? Math.max(bisectLeft(orders, lowest + 1), first + 1) : first];
}
