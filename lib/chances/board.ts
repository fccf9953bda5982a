/** The places of the board, where nothing is open. */
import { rank } from '../contest/board.js';
import { recordedPerformances } from '../contest/recorded.js';
import type { Meet } from '../meet/meet.js';
import type { Race } from './runner.js';

/** By runner: its place; null for who has none. */
export function placesOnBoard(meet: Meet, { contest, runners }: Race): (number | null)[] {
  const { rows } = rank(contest, recordedPerformances(meet));
  const placeOf = new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  return runners.map((r) => placeOf.get(r.contender.id) ?? null);
}
