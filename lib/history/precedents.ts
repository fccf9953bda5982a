/** How often somebody that far behind did it, with so many routines left. */

import type { DisciplineCode } from '../apparatus.js';
import type { Chance } from '../chance.js';
import { afterRotations } from '../meet/meet.js';
import { asScore, type Decimals, type Score, type Units, unitsPerPoint } from '../score.js';
import type { History } from './history.js';
import { allAroundRounds, entriesIn, finalBoard, type PastFinal } from './rounds.js';
import { wilson } from './wilson.js';

export interface PrecedentQuestion {
  readonly discipline: DisciplineCode;
  /** How far behind the one in that place, in units of so many decimals, as all of the answer. */
  readonly behind: Units;
  readonly decimals: Decimals;
  /** How many routines each has to come. */
  readonly remaining: number;
  /** The place that is wanted: 1 to win. Null: only to pass whoever leads now, or to draw level. */
  readonly place: number | null;
}

/** One who was about as far behind. */
export interface PrecedentCase {
  /** As the history calls it. */
  readonly competition: string;
  /** The day it was held: `2022-11-06`. */
  readonly date: string;
  /** As the history calls it, in one spelling. */
  readonly round: string;
  /** Who it was, as the history spells her. */
  readonly gymnast: string;
  /** How far she was. */
  readonly behind: Score;
  /** The place in the end. */
  readonly place: number;
  /** Whether she got what is claimed. */
  readonly success: boolean;
  /** Whether the history says in which order they went up, or that was assumed. */
  readonly order: 'known' | 'assumed';
}

/** How often it has been done before. */
export interface Precedents {
  /** How many were about as far behind with as much to come. */
  readonly cases: number;
  /** How many of them did it. */
  readonly successes: number;
  /** The share of those. */
  readonly rate: Chance;
  /** Wilson's, 95%; the cases of one meet are not independent, so that it is too narrow if anything. */
  readonly interval: readonly [low: Chance, high: Chance];
  /** `assumed` as soon as one of the cases is. */
  readonly order: 'known' | 'assumed';
  /** From how far behind to how far counts as that far. */
  readonly from: Score;
  /** The other end of that. */
  readonly to: Score;
  /** Every case, the earliest final first. */
  readonly list: readonly PrecedentCase[];
}

/** So much nearer or further is still about that far behind; a tenth of a point at least. */
const ABOUT = 0.2;
const TENTH = 0.1;

/** Goes through the all-around finals of a history; null where nobody was that far behind. */
export function precedentsOf(history: History, question: PrecedentQuestion): Precedents | null {
  const { behind, discipline, decimals } = question;
  const point = unitsPerPoint(decimals);
  const about = Math.max(behind * ABOUT, TENTH * point);
  const inUnits = (past: Units) => Math.round((past * point) / unitsPerPoint(history.decimals));
  const [from, to] = [Math.round(behind - about), Math.round(behind + about)];
  const list = allAroundRounds(history)
    .filter((round) => round.discipline === discipline)
    .flatMap((round) => casesIn(round, question, inUnits))
    .filter((c) => c.behind >= Math.max(from, 1) && c.behind <= to);
  if (list.length === 0) return null;
  const successes = list.filter((c) => c.success).length;
  return {
    cases: list.length,
    successes,
    rate: successes / list.length,
    interval: wilson(successes, list.length),
    order: list.every((c) => c.order === 'known') ? 'known' : 'assumed',
    from: asScore(from),
    to: asScore(to),
    list,
  };
}

/** Everyone who was behind the wanted place when so many routines were left. */
function casesIn(
  round: PastFinal,
  { remaining, place }: PrecedentQuestion,
  inUnits: (past: Units) => Units,
): PrecedentCase[] {
  const { meet, gymnasts, competition, date, order, rotations } = round;
  const rotation = rotations - remaining;
  if (rotation < 1) return [];
  const entries = entriesIn(afterRotations(meet, rotation));
  const totals = entries.map((e) => e.total);
  // Where the order is known somebody may have a bye; then the rotation is no fair comparison.
  if (entries.some((e) => e.done !== entries[0]!.done)) return [];
  const sorted = [...totals].sort((a, b) => b - a);
  const mark = sorted[(place ?? 1) - 1];
  if (mark === undefined) return [];
  const leader = totals.indexOf(sorted[0]!);
  const board = finalBoard(round);
  return totals.flatMap((total, i): PrecedentCase[] => {
    if (total >= mark) return [];
    const end = board[i]!;
    const success = place === null ? end.total >= board[leader]!.total : end.place <= place;
    return [
      {
        competition,
        date,
        round: round.round.name,
        gymnast: gymnasts[i]!,
        behind: asScore(inUnits(mark - total)),
        place: end.place,
        success,
        order: order === 'known' ? 'known' : 'assumed',
      },
    ];
  });
}
