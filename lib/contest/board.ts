/** The board: totals and places as they stand. */
import { type Entry, entryOf, type Performances } from '../rules/entry.js';
import type { TieRuleName } from '../rules/ties/index.js';
import type { Contest } from './contest.js';
import { type Tie, tieBetween } from './ties.js';

export interface Ranked {
  readonly entry: Entry;
  /** One more than the number ahead (1, 1, 3); null when nothing is done and nothing carried in. */
  readonly place: number | null;
  /** Shares its place. */
  readonly tied: boolean;
  /** The rule that broke a tie on this total; null where there is none, or the place is shared. */
  readonly tieBy: TieRuleName | null;
  /** All others on the board, not out, with the same total, in board order; none for who is out. */
  readonly levelWith: readonly Entry[];
}

export interface Ranking {
  /** First place first; who has no place at the foot, in start order. */
  readonly rows: readonly Ranked[];
  /** Tie rules that could not be applied to a tie on this board. */
  readonly skipped: readonly TieRuleName[];
}

/** Neither a contest nor what was performed ever changes, so a board is worked out once. */
const boards = new WeakMap<Contest, WeakMap<Performances, Ranking>>();

export function rank(contest: Contest, performances: Performances): Ranking {
  const known = boards.get(contest) ?? new WeakMap<Performances, Ranking>();
  boards.set(contest, known);
  const ranking =
    known.get(performances) ??
    rankEntries(
      contest.contenders.map((c) => entryOf(c, performances)),
      contest.ties,
    );
  known.set(performances, ranking);
  return ranking;
}

export function rankEntries(entries: readonly Entry[], rules: Contest['ties']): Ranking {
  const skipped = new Set<TieRuleName>();
  const rows: Ranked[] = [];
  const onBoard = entries.filter((e) => e.onBoard);
  for (const out of [false, true]) {
    const levels = byTotal(onBoard.filter((e) => e.out === out));
    for (const level of levels) {
      const [single] = level;
      if (level.length === 1 && single !== undefined) {
        rows.push({ entry: single, place: rows.length + 1, ...ALONE });
        continue;
      }
      // Nobody who is out has a finished set, so their ties stay shared.
      const tie = tieBetween(level, out ? [] : rules);
      for (const rule of tie.skipped) skipped.add(rule);
      rows.push(...rankLevel(level, rows.length, tie, out));
    }
  }
  for (const entry of entries) if (!entry.onBoard) rows.push({ entry, place: null, ...ALONE });
  return { rows, skipped: [...skipped] };
}

const ALONE = { tied: false, tieBy: null, levelWith: [] } as const;

/**
 * Those who are level on one total, with so many ahead of them. Where it cannot be known yet how some compare,
 * they share a place as far as the others allow, and no rule is said to have broken the tie.
 */
function rankLevel(level: readonly Entry[], ahead: number, tie: Tie, out: boolean): Ranked[] {
  const orders = (one: Entry) =>
    level.flatMap((other) => (one === other ? [] : tie.compare(other, one).order));
  const isOpen = level.some((one) => orders(one).includes('open'));
  const ranked = level.map((entry) => ({
    entry,
    behind: orders(entry).filter((order) => order === 1).length,
  }));
  const placed = ranked
    .map(({ entry, behind }) => ({
      entry,
      place: ahead + 1 + ranked.filter((other) => other.behind < behind).length,
    }))
    .sort((a, b) => a.place - b.place);
  return placed.map((one) => ({
    ...one,
    tied: placed.some((other) => other !== one && other.place === one.place),
    tieBy: out || isOpen ? null : decidingRule(one, placed, tie),
    levelWith: out ? [] : placed.flatMap(({ entry }) => (entry === one.entry ? [] : entry)),
  }));
}

interface Placed {
  readonly entry: Entry;
  readonly place: number | null;
}

/**
 * Of some in board order, the one nearest in place to one of them; of two equally near the one ahead.
 * Undefined where there is nobody else.
 */
export function nearestTo<P extends Pick<Placed, 'place'>>(
  one: P,
  others: readonly P[],
): P | undefined {
  const distance = (other: P) => Math.abs((other.place ?? 0) - (one.place ?? 0));
  return others.reduce<P | undefined>(
    (best, other) =>
      other !== one && (best === undefined || distance(other) < distance(best)) ? other : best,
    undefined,
  );
}

function decidingRule(one: Placed, level: readonly Placed[], tie: Tie): TieRuleName | null {
  const nearest = nearestTo(one, level);
  if (nearest === undefined) return null;
  const { order, by } = tie.compare(one.entry, nearest.entry);
  return order === 1 || order === -1 ? by : null;
}

/** Entries grouped by total, the highest first. */
function byTotal(entries: readonly Entry[]): Entry[][] {
  const levels = new Map<number, Entry[]>();
  for (const entry of entries) {
    const level = levels.get(entry.total);
    if (level === undefined) levels.set(entry.total, [entry]);
    else level.push(entry);
  }
  return [...levels.entries()].sort(([a], [b]) => b - a).map(([, level]) => level);
}
