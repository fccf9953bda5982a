/** Medal outcomes as they are told. */
import type { Sets } from './beginnings.js';

/** The medals, place by place: who has it; nobody where a place before it is shared. */
export interface Podium {
  readonly places: readonly (readonly string[])[];
  readonly chance: number;
}

/** By place: who has it. */
export function podiumPlaces(sets: Sets, ids: readonly string[], medals: number): string[][] {
  const places: string[][] = Array.from({ length: medals }, () => []);
  let place = 0;
  for (const set of sets) {
    places[place] = set.map((i) => ids[i]!);
    place += set.length;
  }
  return places;
}
