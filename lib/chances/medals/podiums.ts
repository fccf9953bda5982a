/** The likeliest medal outcomes, as they are told: how many places of them, and how many of them. */
import type { Chance } from '../../chance.js';
import { placesOnBoard } from '../board.js';
import type { ContestModel } from '../model.js';
import { sumOfFirst } from '../sweep/places.js';
import type { TieGroups } from '../tie-groups.js';
import { type MedalOutcome, outcomesByPlaces, type Sets } from './outcomes.js';
import { sharingUnits } from './shared.js';

/** The medals, place by place: who has it; nobody where a place before it is shared. */
export interface Podium {
  /** First place first; ids of all who share it. */
  readonly places: readonly (readonly string[])[];
  /** That the medals go exactly so. */
  readonly chance: Chance;
}

/** By place: who has it. */
export function podiumPlaces(sets: Sets, ids: readonly string[], medals: number): string[][] {
  const places: string[][] = Array.from({ length: medals }, () => []);
  let place = 0;
  for (const set of sets) {
    places[place] = set.map((i) => ids[i] ?? '');
    place += set.length;
  }
  return places;
}

/** How much of what can happen the medal outcomes cover. */
export const COVERED = 0.9;

/** So many outcomes are enough, whatever they make up. */
const ENOUGH = 5000;

/** The likeliest outcomes that together make up `share` of all; fewer where there are too many. */
export function likeliest<T extends { readonly chance: number }>(
  outcomes: readonly T[],
  share: number,
): T[] {
  const found: T[] = [];
  let sum = 0;
  for (const outcome of [...outcomes].sort((a, b) => b.chance - a.chance)) {
    if (sum >= share || outcome.chance === 0 || found.length === ENOUGH) break;
    sum += outcome.chance;
    found.push({ ...outcome, chance: Math.min(outcome.chance, 1) });
  }
  return found;
}

/** Beginnings are followed that are as likely as this; and, where that tells too little, as this at last. */
const LIKELY = 1e-5;
const NEVER = 1e-9;

/** Of so many places the outcomes are always told, and of more where there are no more orders than this. */
const FEW_PLACES = 3;
const MOST_ORDERS = 10_000;

/** Among so few all who can share a medal are looked for. */
const FEW_ENTRANTS = 8;

/** Else, who share a medal as often as this. */
const SHARED = 0.002;

/** What is told: of how many places, and by how much the chances can be wrong. */
interface Told {
  readonly outcomes: readonly MedalOutcome[];
  readonly places: number;
  readonly error: number;
}

/**
 * Who has a medal in 9 of 10 cases, and by how much the chances of that can be wrong. `chances`: by
 * entrant and place. Where there are too many outcomes of all medals they are of the first few places.
 */
export function podiumsOf(
  model: ContestModel,
  groups: TieGroups,
  chances: readonly (readonly number[])[],
  onProgress: (share: number) => void,
): { podiums: Podium[]; error: number } {
  const ids = model.entrants.map((e) => e.contender.id);
  const medals = Math.min(model.contest.medals, ids.length);
  const told = model.over
    ? { outcomes: outcomesOnBoard(model), places: medals, error: 0 }
    : toldOf(groups, chances, medals, onProgress);
  const places = told.places < medals ? told.places : model.contest.medals;
  return {
    podiums: told.outcomes.map(({ sets, chance }) => ({
      places: podiumPlaces(sets, ids, places),
      chance,
    })),
    error: told.error,
  };
}

/** The outcome that is on the board, where nothing is open. */
function outcomesOnBoard(model: ContestModel): MedalOutcome[] {
  const placeOf = placesOnBoard(model);
  const sets: number[][] = [];
  for (let k = 1; k <= model.contest.medals; k++) {
    const there = placeOf.flatMap((place, i) => (place === k ? [i] : []));
    if (there.length > 0) sets.push(there);
  }
  return sets.length === 0 ? [] : [{ sets, chance: 1 }];
}

/** Who may share a medal is looked for first; among few, only what may be among the likeliest outcomes. */
function toldOf(
  groups: TieGroups,
  chances: readonly (readonly number[])[],
  medals: number,
  onProgress: (share: number) => void,
): Told {
  const alone = chances.map((_, i) => [i]);
  const question = { groups, chances, medals, onProgress };
  const among = chances.map((hers) => sumOfFirst(hers, medals) >= NEVER);
  const isSmall = among.filter((is) => is).length <= FEW_ENTRANTS;
  let least = isSmall && !covers(toldWith(question, alone).outcomes) ? NEVER : SHARED;
  let sets = sharingUnits(groups, medals, among, least);
  const isMuch = sets === null;
  while (sets === null) {
    least = Math.max(4 * least, SHARED);
    sets = sharingUnits(groups, medals, among, least);
  }
  const told = toldWith(question, [...alone, ...sets]);
  // None that shares a place and is not looked for is likelier than that.
  return isMuch ? { ...told, outcomes: told.outcomes.filter((o) => o.chance > least) } : told;
}

function covers(outcomes: readonly MedalOutcome[]): boolean {
  return outcomes.reduce((sum, o) => sum + o.chance, 0) >= COVERED;
}

interface MedalQuestion {
  readonly groups: TieGroups;
  readonly chances: readonly (readonly number[])[];
  readonly medals: number;
  readonly onProgress: (share: number) => void;
}

/** With these who can have a place, alone or together: of as many places as can be told. */
function toldWith(
  { groups, chances, medals, onProgress }: MedalQuestion,
  units: readonly (readonly number[])[],
): Told {
  const few = Math.min(medals, fewPlacesOf(groups.size));
  for (let least = LIKELY; ; ) {
    const mayHave = (who: number, place: number) => (chances[who]?.[place] ?? 0) >= least;
    let told: Told | null = null;
    let next: number | null = null;
    const followed = { fewest: few, units, least, mayHave, onProgress };
    for (const found of outcomesByPlaces(groups, followed)) {
      if (found.places < few) continue;
      const best = likeliest(found.outcomes, COVERED);
      const isAll = covers(best) && (best.at(-1)?.chance ?? 0) >= found.complete;
      if (!isAll && found.places === few && least > NEVER && found.complete === least) {
        next = Math.max(covers(best) ? (best.at(-1)?.chance ?? 0) : least / 10, NEVER);
        break;
      }
      const outcomes = isAll ? best : best.filter((o) => o.chance >= found.complete);
      if (isAll || told === null) told = { outcomes, places: found.places, error: found.error };
      if (!isAll || found.places === medals) break;
    }
    if (next === null) return told ?? { outcomes: [], places: few, error: 0 };
    least = next;
  }
}

/** How many places so many can be told of, whoever has them. */
function fewPlacesOf(count: number): number {
  let places = 1;
  // Whoever is on the last of them makes no further order to go through.
  for (let orders = count; places < count; places++) {
    if (places >= FEW_PLACES && orders > MOST_ORDERS) break;
    orders *= count - places;
  }
  return places;
}
