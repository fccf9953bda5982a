/**
 * Everyone's results, comparable with each other's: exactly, where nothing but totals counts or all of
 * them can be gone through; else as far as a key tells them apart (docs/model.md, "Results in order").
 */

import { type ContestModel, totalOf } from '../model.js';
import { markFor, resultsByMark } from './added.js';
import { resultsByTotal } from './by-total.js';
import { coarseOrder, coarseResults, sharedKeys } from './coarse.js';
import {
  isToldByValues,
  type Member,
  mostWays,
  resultsBySets,
  resultsByWays,
  setCount,
  type Totals,
} from './enumerated.js';
import { type Results, rankCount, rankScale } from './results.js';
import { type TieStep, tieSteps } from './tie-order.js';

/**
 * With up to so many open parts for anybody every result is gone through, up to as many as there is room
 * for; on a grid of three judges in tenths a hundred gymnasts have a million.
 */
const FEW_OPEN = 2;
const MOST_OF_FEW = 2_000_000;

/** With more open parts, up to about so many of the entrants: cells take less time from there on. */
const MOST_RESULTS = 200_000;

/** So many ways the routines of one entrant can go are still gone through one by one. */
const MOST_WAYS = 100_000;

export interface RankedResults {
  /** By member: entrants, and the conditioned after them. */
  readonly all: readonly Results[];
  /** The chance of results, of each entrant, that do not stand where they should. */
  readonly misplaced: number;
  /** Null where all who are on one rank share their place. */
  readonly unresolved: Unresolved | null;
}

/** Ranks of which it is not known how those on them are ordered. */
export interface Unresolved {
  /** Every rank is lower. */
  readonly ranks: number;
  /** Whether those on a rank share their place all the same. */
  readonly isShared: (rank: number) => boolean;
  /** Whether results that are not told apart could be. */
  readonly canBeFiner: () => boolean;
}

export interface Resolution {
  /** With more results than this, and more than two open parts for anybody, they are not gone through one by one. */
  readonly mostResults?: number | undefined;
  /** Those on one total are not told apart. */
  readonly isByTotal?: boolean | undefined;
  /** Results that are not told apart are no likelier than about this. */
  readonly share: number;
}

/** The results of all entrants, and of conditioned ones beside them. */
export function rankedResults(
  model: ContestModel,
  entrants: readonly Member[],
  conditioned: readonly Member[],
  { mostResults = MOST_RESULTS, isByTotal = false, share }: Resolution,
): RankedResults {
  const members = [...entrants, ...conditioned];
  const steps = tieSteps(model);
  const beyond = conditioned.filter(({ isBeyond }) => isBeyond);
  const totals = [...entrants, ...beyond].map(({ entrant }) => totalOf(entrant).scores);
  if (steps.every((step) => step.kind === 'fixed'))
    return exact(byTotals(members, steps, totals).all);
  if (isByTotal) return unresolvedByTotal(members, steps, totals);
  const mark = markFor(model, members);
  if (mark !== null) return exact(resultsByMark(members, mark, model, totals));
  const isTold = steps.every((step) => isToldFor(step, members));
  const isFew = entrants.every(({ entrant }) => entrant.open.length <= FEW_OPEN);
  const isEach = isFew ? setCount(members) <= MOST_OF_FEW : setCount(entrants) <= mostResults;
  if (isTold && isEach) return exact(resultsBySets(members, steps, totals));
  if (!isTold && members.every((m) => mostWays(model, m.entrant) <= MOST_WAYS)) {
    return exact(resultsByWays(model, members, totals));
  }
  const coarse = byCells(model, entrants, members, steps, totals, share);
  if (coarse !== null) return coarse;
  return unresolvedByTotal(members, steps, totals);
}

function unresolvedByTotal(
  members: readonly Member[],
  steps: readonly TieStep[],
  totals: Totals,
): RankedResults {
  const { all, ranks } = byTotals(members, steps, totals);
  const unresolved = { ranks, isShared: () => false, canBeFiner: () => false };
  return { all, misplaced: 0, unresolved };
}

function exact(all: readonly Results[]): RankedResults {
  return { all, misplaced: 0, unresolved: null };
}

/** Whether the values of parts tell what a step compares. */
function isToldFor(step: TieStep, members: readonly Member[]): boolean {
  if (step.kind === 'fixed') return true;
  return (
    step.kind === 'sorted' && members.every(({ entrant }) => isToldByValues(step.sorted, entrant))
  );
}

/** By total and by what is fixed before anything that is not. */
function byTotals(
  members: readonly Member[],
  [first]: readonly TieStep[],
  totals: Totals,
): { all: Results[]; ranks: number } {
  const keys = first?.kind === 'fixed' ? first.ranks : [];
  const scale = rankScale(totals, Math.max(0, ...keys) + 1);
  const all = members.map(({ entrant, of, least }) =>
    resultsByTotal(entrant, keys[of] ?? 0, scale, least()),
  );
  return { all, ranks: rankCount(scale) };
}

/** By total and the first scores that a rule compares; null where that is too much, or hidden. */
function byCells(
  model: ContestModel,
  entrants: readonly Member[],
  members: readonly Member[],
  steps: readonly TieStep[],
  totals: Totals,
  share: number,
): RankedResults | null {
  const at = steps.findIndex((step) => step.kind !== 'fixed');
  const step = steps[at];
  if (step?.kind !== 'sorted' || !isToldFor(step, members)) return null;
  const ranksAt = (k: number): readonly number[] => {
    const fixed = steps[k];
    return fixed?.kind === 'fixed' ? fixed.ranks : [];
  };
  const rest = steps.slice(at + 1);
  const { grid } = model.meet.scoring;
  const order = coarseOrder(entrants, members, step.sorted, grid, share, {
    before: ranksAt(at - 1),
    after: rest.every((s) => s.kind === 'fixed') ? ranksAt(at + 1) : null,
    totals: rankCount(rankScale(totals, 1)),
  });
  if (order === null) return null;
  const keys = (Math.max(0, ...order.before) + 1) * order.count;
  const scale = rankScale(totals, keys);
  const { all, leftOut } = coarseResults(members, order, scale, grid);
  const shared = sharedKeys(order);
  const unresolved = {
    ranks: rankCount(scale),
    isShared: (rank: number) => shared[rank % order.count] === 1,
    canBeFiner: () => !order.cells.isFinest(),
  };
  return {
    all,
    misplaced: leftOut,
    unresolved: order.isTold.every((told) => told) ? null : unresolved,
  };
}
