/**
 * Places that compare like with like while a rotation is under way: everyone after as many routines as
 * whoever has done the fewest, or everyone by projected total; and between which two boards places move.
 */
import { type Meet, type Routine, rangeAt, routineAt } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import {
  assumed,
  type Entry,
  entryOf,
  type Performance,
  type Performances,
} from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Ranked, rank, rankEntries } from './board.js';
import type { Contest } from './contest.js';

/** By contender's id; null for who has none. */
export type Places = ReadonlyMap<string, number | null>;

/**
 * `even`: everyone has done as many routines as anybody. `so-far`: who is on the board has done equally
 * many, and others are behind. `uneven`: on the board itself some have done more than others.
 */
export type Footing = 'even' | 'so-far' | 'uneven';

/** How far everyone who is not out has come. */
export interface Progress {
  readonly footing: Footing;
  /** Routines done by whoever is the furthest behind of those with one to come; of all when none has. */
  readonly fewest: number;
  /** Routines done by whoever is the furthest ahead. */
  readonly most: number;
  /** After how many routines each counts, like for like; null where teams of two sizes have no one number. */
  readonly each: number | null;
  /** The same of one of them. */
  readonly countedOf: (turns: Pick<Turns, 'taken' | 'left'>) => number;
}

/** How far one contender has come. */
export interface Turns {
  /** Routines that are over: a team's that brought no score, too. */
  readonly taken: number;
  readonly left: number;
  readonly onBoard: boolean;
}

/**
 * Of everyone who is not out. Who has nothing to come will not do more, so nobody waits for it. Teams
 * may have more gymnasts than others: they are as far as each other after the same share of their routines.
 */
export function progressOf({ kind }: Contest, all: readonly Turns[]): Progress {
  const isBySize = kind.ranks === 'teams';
  const sizeOf = ({ taken, left }: Pick<Turns, 'taken' | 'left'>) => taken + left;
  const lengthOf = (t: Turns) => (isBySize ? t.taken / Math.max(sizeOf(t), 1) : t.taken);
  const rising = [...all].sort((a, b) => lengthOf(a) - lengthOf(b));
  const last = rising.find((t) => t.left > 0);
  const first = rising.at(-1);
  const most = first?.taken ?? 0;
  if (last === undefined || first === undefined || lengthOf(first) <= lengthOf(last)) {
    return { footing: 'even', fewest: most, most, each: most, countedOf: (t) => t.taken };
  }
  const fewest = last.taken;
  const countedOf = (t: Pick<Turns, 'taken' | 'left'>) =>
    Math.min(t.taken, isBySize ? Math.floor((fewest * sizeOf(t)) / sizeOf(last)) : fewest);
  const onBoard = new Set(all.flatMap((t) => (t.onBoard ? lengthOf(t) : [])));
  const each = isBySize && all.some((t) => sizeOf(t) !== sizeOf(last)) ? null : fewest;
  return { footing: onBoard.size <= 1 ? 'so-far' : 'uneven', fewest, most, each, countedOf };
}

/** The indices of the routines that are over, in the order they go up. */
function turnsOf({ routines }: Contender, performances: Performances): number[] {
  return routines.filter((i) => performances[i] != null);
}

function competing(contest: Contest, performances: Performances): Entry[] {
  return contest.contenders.map((c) => entryOf(c, performances)).filter((e) => !e.out);
}

function turnsIn({ contender, onBoard, performances }: Entry): Turns {
  const taken = turnsOf(contender, performances).length;
  return { taken, left: contender.routines.length - taken, onBoard };
}

export function progressIn(contest: Contest, performances: Performances): Progress {
  return progressOf(contest, competing(contest, performances).map(turnsIn));
}

const DONE: Performance = { score: 0, d: 'unknown', e: 'unknown' };

/** How far everyone will have come once some routines are over. */
export function progressAfter(
  meet: Meet,
  contest: Contest,
  isOver: (routine: Routine) => boolean,
): Progress {
  const performances = recordedPerformances(meet).map((performance, i) =>
    performance === null && isOver(routineAt(meet, i)) ? DONE : performance,
  );
  return progressIn(contest, performances);
}

/** The board when everyone is counted after as many routines as whoever is the furthest behind. */
export function evenBoard(contest: Contest, performances: Performances): readonly Ranked[] {
  const entries = competing(contest, performances);
  const { countedOf } = progressOf(contest, entries.map(turnsIn));
  const counted = [...performances];
  for (const entry of entries) {
    const turns = turnsOf(entry.contender, performances);
    for (const i of turns.slice(countedOf(turnsIn(entry)))) counted[i] = null;
  }
  return rank(contest, counted).rows;
}

/** The places on it. */
export function evenPlaces(contest: Contest, performances: Performances): Places {
  return new Map(
    evenBoard(contest, performances).map(({ entry, place }) => [
      entry.contender.id,
      entry.out ? null : place,
    ]),
  );
}

/** Everyone at the end, if what is to come scores as is likely of it. */
export interface Projection {
  /** Null when the likely of somebody is missing: a place among some is a false impression. */
  readonly places: Places | null;
  /** The board then, the first place first; null as `places` is. */
  readonly rows: readonly Ranked[] | null;
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
  const rows = missing.length > 0 ? null : rankEntries([...entries.values()], contest.ties).rows;
  return {
    places: rows && new Map(rows.map(({ entry, place }) => [entry.contender.id, place] as const)),
    rows,
    entries,
    missing: missing.map((i) => {
      const { gymnast, apparatus } = routineAt(meet, i);
      return { gymnast, apparatus };
    }),
  };
}

/** How many rotations from the first on, over all sessions, have all their results. */
export function rotationsFull({ routines, results }: Meet): number {
  const open = routines.filter((r) => results[r.index] === null).map((r) => r.at);
  return open.length > 0 ? Math.min(...open) : Math.max(0, ...routines.map((r) => r.at + 1));
}
