/** How the results of a race are gone through: one by one, or, where that is too much, total by total. */

import type { Contest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { Grid } from '../scoring.js';

type TieRule = Contest['ties'][number];

import { Lowest } from './cells/lowest.js';
import { compareKeys, everyWayInOrder, waysOf } from './order/every-way.js';
import { type InOrder, inOrder, ranksBy, type StaticOrder, type Variant } from './order/order.js';
import { countByValues } from './order/rows.js';
import { isStatic, type Race, type Runner, staticKey } from './runner.js';

/** What rounding can do: some ten thousand additions and exchanges of numbers below 1. */
export const ROUNDING = 1e-12;

/** With up to so many routines to come for anybody every result is gone through. */
const FEW_TO_COME = 2;

/** With more of them, while there are no more results than this. */
export const MOST_RESULTS = 1_000_000;

/** Nor more results of cases than this. */
const MOST_OF_CASES = 2_000_000;

/** With more values times totals than this, as in teams, only the total tells results apart. */
export const MOST_CELLS = 1_500_000;

/** So much of each part is left out where ties are told apart. */
export const LEFT_OUT = 1e-4;

/** So many ways the routines of one runner can go are still gone through one by one. */
const MOST_WAYS = 100_000;

/** Result by result, or, where that is too much, total by total. */
export type Way =
  | InOrder
  | { readonly lowest: readonly (Lowest | null)[]; readonly statics: StaticOrder };

/** What has been put in order for a race need not be again. */
const ordered = new WeakMap<Race, InOrder>();

/** The way through the results of a race, and of variants of its runners. */
export function wayThrough(
  meet: Meet,
  race: Race,
  variants: readonly Variant[],
  mostResults: number,
): Way {
  const way = findWay(meet, race, variants, mostResults);
  if ('pieces' in way) ordered.set(race, way);
  return way;
}

/** The same of the race alone, or one that was found before with variants. */
export function wayOf(meet: Meet, race: Race): Way {
  return ordered.get(race) ?? findWay(meet, race, [], MOST_RESULTS);
}

function findWay(meet: Meet, race: Race, variants: readonly Variant[], mostResults: number): Way {
  const { runners, rules } = race;
  const dynamic = rules.findIndex((rule) => rule.sorted?.of !== 'parts' && !isStatic(rule, race));
  if (dynamic >= 0 && runners.every((r) => waysOf(meet, r) <= MOST_WAYS)) {
    return everyWayInOrder(meet, race, variants);
  }
  const known = dynamic < 0 ? rules : rules.slice(0, dynamic);
  const statics = staticOrder(runners, known);
  const byValues = known.some((r) => r.sorted?.of === 'parts');
  const toCome = Math.max(...runners.map((r) => r.toCome.length));
  const isFew = () =>
    toCome <= FEW_TO_COME ||
    (countByValues(runners) <= mostResults &&
      countByValues(variants.map((v) => v.runner)) <= MOST_OF_CASES);
  if (dynamic < 0 && (!byValues || isFew())) {
    return inOrder(runners, variants, statics, byValues);
  }
  const { grid } = meet.scoring;
  const isTold = (r: Runner) =>
    byValues && dynamic < 0 && valuesOf(r) * r.total.scores.length <= MOST_CELLS;
  return {
    lowest: runners.map((r) => (isTold(r) ? keptLowest(r, grid) : null)),
    statics,
  };
}

/** How many values its open parts can have, the widest counted. */
export function valuesOf({ open }: Runner): number {
  return Math.max(0, ...open.map((o) => o.distribution.scores.length));
}

const kept = new WeakMap<Runner, Lowest>();

function keptLowest(runner: Runner, grid: Grid): Lowest {
  const found = kept.get(runner) ?? Lowest.of(runner, grid, LEFT_OUT);
  kept.set(runner, found);
  return found;
}

/** At equal totals E and D totals differ by what is fixed, whatever the scores to come. */
function staticOrder(runners: readonly Runner[], rules: readonly TieRule[]): StaticOrder {
  const at = rules.findIndex((r) => r.sorted?.of === 'parts');
  const [before, after] = at < 0 ? [rules, []] : [rules.slice(0, at), rules.slice(at + 1)];
  return { first: rankBy(runners, before), last: rankBy(runners, after) };
}

function rankBy(runners: readonly Runner[], rules: readonly TieRule[]): Int32Array {
  if (rules.length === 0) return new Int32Array(runners.length);
  const keys = runners.map(({ assumed: entry }) => rules.map((rule) => staticKey(rule, entry)));
  return ranksBy(runners.length, (a, b) => compareKeys(keys[b]!, keys[a]!));
}
