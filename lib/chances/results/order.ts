/**
 * Everyone's results, comparable with each other's: exactly, where nothing but totals counts or all of
 * them can be gone through; else as far as a key tells them apart (docs/model.md, "Results in order").
 */
import { type Results, rankCount, rankScale } from '../../range/rank-scale.js';
import { type ContestModel, totalOf } from '../model.js';
import { markFor, resultsByMark } from './added.js';
import { type CoarseOrder, coarseOrder, orderByTotal } from './coarse.js';
import {
  isToldByValues,
  type Member,
  mostWays,
  resultsBySets,
  resultsByWays,
  setCount,
  type Totals,
} from './enumerated.js';
import type { CoarseResults } from './placed.js';
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

/** Everyone's results, entrants first and the conditioned after them. */
export type RankedResults =
  /** Of each of them; all who are on one rank share their place. */
  | { readonly all: readonly Results[]; readonly coarse: null }
  /** Told apart as far as a key does. */
  | { readonly all: null; readonly coarse: CoarseResults };

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
  const byTotal = (isTold: boolean) =>
    byCells(model, entrants, conditioned, orderByTotal(ranksAt(steps, 0), isTold), totals);
  if (steps.every((step) => step.kind === 'fixed')) return byTotal(true);
  if (isByTotal) return byTotal(false);
  const mark = markFor(model, members);
  if (mark !== null) return exact(resultsByMark(members, mark, model, totals));
  const isTold = steps.every((step) => isToldFor(step, members));
  const isFew = entrants.every(({ entrant }) => entrant.open.length <= FEW_OPEN);
  const isEach = isFew ? setCount(members) <= MOST_OF_FEW : setCount(entrants) <= mostResults;
  if (isTold && isEach) return exact(resultsBySets(members, steps, totals));
  if (!isTold && members.every((m) => mostWays(model, m.entrant) <= MOST_WAYS)) {
    return exact(resultsByWays(model, members, totals));
  }
  const order = orderByCells(model, entrants, members, steps, totals, share);
  return order === null ? byTotal(false) : byCells(model, entrants, conditioned, order, totals);
}

function exact(all: readonly Results[]): RankedResults {
  return { all, coarse: null };
}

/** Whether the values of parts tell what a step compares. */
function isToldFor(step: TieStep, members: readonly Member[]): boolean {
  if (step.kind === 'fixed') return true;
  return (
    step.kind === 'sorted' && members.every(({ entrant }) => isToldByValues(step.sorted, entrant))
  );
}

/** By entrant: its rank by a step that is fixed; none where it is not. */
function ranksAt(steps: readonly TieStep[], k: number): readonly number[] {
  const step = steps[k];
  return step?.kind === 'fixed' ? step.ranks : [];
}

function byCells(
  { meet }: ContestModel,
  entrants: readonly Member[],
  beside: readonly Member[],
  order: CoarseOrder,
  totals: Totals,
): RankedResults {
  const keys = (Math.max(0, ...order.before) + 1) * order.count;
  const scale = rankScale(totals, keys);
  return { all: null, coarse: { entrants, beside, order, scale, grid: meet.scoring.grid } };
}

/** By total and the first scores that a rule compares; null where that is too much, or hidden. */
function orderByCells(
  { meet }: ContestModel,
  entrants: readonly Member[],
  members: readonly Member[],
  steps: readonly TieStep[],
  totals: Totals,
  share: number,
): CoarseOrder | null {
  const at = steps.findIndex((step) => step.kind !== 'fixed');
  const step = steps[at];
  if (step?.kind !== 'sorted' || !isToldFor(step, members)) return null;
  const rest = steps.slice(at + 1);
  return coarseOrder(entrants, members, step.sorted, meet.scoring.grid, share, {
    before: ranksAt(steps, at - 1),
    after: rest.every((s) => s.kind === 'fixed') ? ranksAt(steps, at + 1) : null,
    totals: rankCount(rankScale(totals, 1)),
  });
}
