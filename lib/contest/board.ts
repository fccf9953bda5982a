/** The board: totals and places as they stand. */
import { type Entry, entryOf, type Performances } from '../rules/entry.js';
import type { TieRuleName } from '../rules/ties/index.js';
import type { Contest } from './contest.js';
import { tieBetween } from './ties.js';

export interface Ranked {
  readonly entry: Entry;
  /** One more than the number ahead (1, 1, 3); null when nothing is done and nothing carried in. */
  readonly place: number | null;
  /** Shares its place. */
  readonly tied: boolean;
}

export interface Ranking {
  /** First place first; who has no place at the foot, in start order. */
  readonly rows: readonly Ranked[];
  /** Tie rules that could not be applied to a tie on this board. */
  readonly skipped: readonly TieRuleName[];
}

export function rank(contest: Contest, performances: Performances): Ranking {
  const entries = contest.contenders.map((c) => entryOf(c, performances));
  return rankEntries(entries, contest.ties);
}

export function rankEntries(entries: readonly Entry[], rules: Contest['ties']): Ranking {
  const skipped = new Set<TieRuleName>();
  const placed: { entry: Entry; place: number }[] = [];
  const onBoard = entries.filter((e) => e.onBoard);
  for (const out of [false, true]) {
    const levels = byTotal(onBoard.filter((e) => e.out === out));
    for (const level of levels) {
      const ahead = placed.length;
      // Nobody who is out has a finished set, so their ties stay shared.
      const tie = tieBetween(level, out ? [] : rules);
      for (const rule of tie.skipped) skipped.add(rule);
      const inLevel = level.map((entry) => ({
        entry,
        place:
          ahead + 1 + level.filter((o) => o !== entry && tie.compare(o, entry).order === 1).length,
      }));
      placed.push(...inLevel.sort((a, b) => a.place - b.place));
    }
  }
  const sharing = new Map<number, number>();
  for (const { place } of placed) sharing.set(place, (sharing.get(place) ?? 0) + 1);
  const rows: Ranked[] = placed.map(({ entry, place }) => ({
    entry,
    place,
    tied: (sharing.get(place) ?? 0) > 1,
  }));
  for (const entry of entries) if (!entry.onBoard) rows.push({ entry, place: null, tied: false });
  return { rows, skipped: [...skipped] };
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
