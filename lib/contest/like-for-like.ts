/**
 * Places that compare like with like while a rotation is under way: everyone after as many routines as
 * whoever has done the fewest, or everyone by projected total; and between which two boards places move.
 */
import { type Meet, rangeAt, routineAt } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { assumed, type Entry, entryOf, type Performances } from '../rules/entry.js';
import { rank, rankEntries } from './board.js';
import type { Contest } from './contest.js';

/** By contender's id; null for who has none. */
export type Places = ReadonlyMap<string, number | null>;

/**
 * `even`: everyone has done as many routines as anybody. `so-far`: who is on the board has done equally
 * many, and others have not begun. `uneven`: on the board itself some have done more than others.
 */
export type Footing = 'even' | 'so-far' | 'uneven';

/** How far everyone who is not out has come. */
export interface Progress {
  readonly footing: Footing;
  /** Routines done by whoever has done the fewest of those with one to come; of all when none has. */
  readonly fewest: number;
  /** Routines done by whoever has done the most. */
  readonly most: number;
}

/** How far one contender has come. */
export interface Turns {
  /** Routines that are over: a team's that brought no score, too. */
  readonly taken: number;
  readonly left: number;
  readonly onBoard: boolean;
}

/**
 * Of everyone who is not out. Who has nothing to come will not do more: so nobody waits for a team
 * that has fewer gymnasts, or for one that a withdrawal has cost a score.
 */
export function progressOf(all: readonly Turns[]): Progress {
  const most = Math.max(0, ...all.map((t) => t.taken));
  const going = all.filter((t) => t.left > 0).map((t) => t.taken);
  const fewest = going.length === 0 ? most : Math.min(...going);
  if (fewest === most) return { footing: 'even', fewest, most };
  const onBoard = new Set(all.flatMap((t) => (t.onBoard ? t.taken : [])));
  return { footing: onBoard.size <= 1 ? 'so-far' : 'uneven', fewest, most };
}

/** The indices of the routines that are over, in the order they go up. */
function turnsOf({ routines }: Contender, performances: Performances): number[] {
  return routines.filter((i) => performances[i] != null);
}

function competing(contest: Contest, performances: Performances): Entry[] {
  return contest.contenders.map((c) => entryOf(c, performances)).filter((e) => !e.out);
}

export function progressIn(contest: Contest, performances: Performances): Progress {
  return progressOf(
    competing(contest, performances).map(({ contender, onBoard }) => {
      const taken = turnsOf(contender, performances).length;
      return { taken, left: contender.routines.length - taken, onBoard };
    }),
  );
}

/** The places when everyone is counted after the fewest routines that anybody has done. */
export function evenPlaces(contest: Contest, performances: Performances): Places {
  const { fewest } = progressIn(contest, performances);
  const counted = [...performances];
  for (const { contender } of competing(contest, performances)) {
    for (const i of turnsOf(contender, performances).slice(fewest)) counted[i] = null;
  }
  const { rows } = rank(contest, counted);
  return new Map(
    rows.map(({ entry, place }) => [entry.contender.id, entry.out ? null : place] as const),
  );
}

/** Everyone at the end, if what is to come scores as is likely of it. */
export interface Projection {
  /** Null when the likely of somebody is missing: a place among some is a false impression. */
  readonly places: Places | null;
  /** By contender's id, of whoever is not out and has all of hers. */
  readonly entries: ReadonlyMap<string, Entry>;
  /** What is missing for places. */
  readonly missing: readonly { readonly gymnast: string; readonly apparatus: string }[];
}

export function projectionOf(meet: Meet, contest: Contest, performances: Performances): Projection {
  const projected = [...performances];
  const missing: number[] = [];
  const entries = new Map<string, Entry>();
  for (const { contender } of competing(contest, performances)) {
    const lacking = missing.length;
    for (const i of contender.routines) {
      if (performances[i] !== null) continue;
      const { likely, d } = rangeAt(meet, i);
      if (likely === null) missing.push(i);
      else projected[i] = assumed(likely, d);
    }
    if (missing.length === lacking) entries.set(contender.id, entryOf(contender, projected));
  }
  return {
    places: missing.length > 0 ? null : placesOf([...entries.values()], contest),
    entries,
    missing: missing.map((i) => {
      const { gymnast, apparatus } = routineAt(meet, i);
      return { gymnast, apparatus };
    }),
  };
}

function placesOf(entries: readonly Entry[], contest: Contest): Places {
  const { rows } = rankEntries(entries, contest.ties);
  return new Map(rows.map(({ entry, place }) => [entry.contender.id, place] as const));
}

/** The last rotation in which, and before which, every routine has its result; 0 before there is one. */
export function lastFullRotation({ routines, results }: Meet): number {
  const open = routines.filter((r) => results[r.index] === null).map((r) => r.rotation);
  return open.length > 0 ? Math.min(...open) - 1 : Math.max(0, ...routines.map((r) => r.rotation));
}
