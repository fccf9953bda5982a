/** The places of the board, where nothing is open. */
import { rank } from '../contest/board.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { ContestModel } from './model.js';

/** By entrant: its place; null for who has none. */
export function placesOnBoard({ meet, contest, entrants }: ContestModel): (number | null)[] {
  const { rows } = rank(contest, recordedPerformances(meet));
  const placeOf = new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  return entrants.map((e) => placeOf.get(e.contender.id) ?? null);
}
