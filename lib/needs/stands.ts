/** Where a contender stands, and what of the end is certain. */

import { rank } from '../contest/board.js';
import type { Contest } from '../contest/contest.js';
import { goalsOf, placeGoal } from '../contest/goal.js';
import { type FieldExtremes, type Settled, settledIn } from '../contest/settled.js';
import { routinesToCome } from '../contest/standings.js';
import { type Meet, routineAt } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score } from '../score.js';
import { type Hold, holdIn } from './hold.js';

/** A neighbour on the board and the gap to it, never negative. */
export interface Neighbour {
  /** Of the gymnast or the team next to her. */
  readonly id: string;
  /** How far its total is from hers. */
  readonly gap: Score;
}

/** Where somebody stands on the board of now. */
export interface Stands {
  /** How many of her routines are done. */
  readonly done: number;
  /** Apparatus codes of the routines to come, in the order they go up. */
  readonly toCome: readonly string[];
  /** All that counts so far, with what was carried in. */
  readonly total: Score;
  /** On the board of now, counted from 1; null where nothing is done and nothing carried in. */
  readonly place: number | null;
  /** What `hold` keeps; null without a place, or where it takes a range that is missing. */
  readonly hold: Hold | null;
  /** Next ahead of her; null for the leader, and without a place. */
  readonly above: Neighbour | null;
  /** Next behind her; null for the last, and without a place. */
  readonly below: Neighbour | null;
  /** Only what is settled; a target that is not here is open. */
  readonly settled: readonly Settled[];
}

export function standsOf(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  senses: readonly FieldExtremes[],
): Stands {
  const recorded = recordedPerformances(meet);
  const rows = rank(contest, recorded).rows.filter((r) => !r.entry.out);
  const at = rows.findIndex((r) => r.entry.contender === contender);
  const row = rows[at];
  const entry = row?.entry ?? entryOf(contender, recorded);
  const place = row?.place ?? null;
  const neighbour = (i: number): Neighbour | null => {
    const other = place === null ? undefined : rows[i];
    if (other === undefined || other.place === null) return null;
    return {
      id: other.entry.contender.id,
      gap: asScore(Math.abs(other.entry.total - entry.total)),
    };
  };
  const hold = holdIn(meet, contest, contender.id);
  const targets = [
    ...goalsOf(contest),
    ...(hold === null ? [] : [{ target: 'hold', goal: placeGoal(hold.place) }]),
  ];
  return {
    done: entry.done,
    toCome: routinesToCome(entry).map((i) => routineAt(meet, i).apparatus),
    total: asScore(entry.total),
    place,
    hold,
    above: neighbour(at - 1),
    below: neighbour(at + 1),
    settled: settledIn(senses, contest, contender, targets),
  };
}
