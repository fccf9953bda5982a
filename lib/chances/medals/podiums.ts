/** The likeliest medal outcomes, as they are told: how many places of them, and how many of them. */
import type { Meet } from '../../meet/meet.js';
import type { OnProgress } from '../order/order.js';
import { sumOfFirst } from '../places.js';
import type { Race } from '../runner.js';
import type { Sets } from './beginnings.js';
import { likeliest, type MedalOutcome } from './medal-count.js';
import { medalOutcomes } from './outcomes.js';

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

/** How much of what can happen the medal outcomes cover. */
export const COVERED = 0.9;

/** Who has a medal less often than this is in no outcome that is looked for. */
const NEVER = 1e-9;

/** No more than so many are followed, those with the best chances of a medal. */
const MOST_MEDALLISTS = 30;

/** Medal outcomes are first looked for among those with at least this chance of a medal. */
const LIKELY_MEDALLIST = 1e-4;

/** Of so many places the outcomes are always told, and of more where there are no more orders than this. */
const FEW_PLACES = 3;
const MOST_ORDERS = 10_000;

/** Of more places still, while there are no more outcomes of one place less that are as likely as this. */
const LIKELY_BEGINNING = 1e-4;
const MOST_BEGINNINGS = 2000;

/** What is told: of how many places, and by how much the chances can be wrong. */
interface Told {
  readonly outcomes: readonly MedalOutcome[];
  readonly places: number;
  readonly error: number;
}

/**
 * Who has a medal in 9 of 10 cases, and by how much the chances of that can be wrong. `chances`: by
 * runner and place. Where there are too many outcomes of all medals they are of the first few places.
 */
export function podiumsOf(
  meet: Meet,
  race: Race,
  chances: readonly (readonly number[])[],
  onProgress: OnProgress,
): { podiums: Podium[]; error: number } {
  const { medals } = race.contest;
  const told = toldOf(meet, race, chances, onProgress);
  const ids = race.runners.map((r) => r.contender.id);
  const places = told.places < Math.min(medals, ids.length) ? told.places : medals;
  const podiums = told.outcomes.map(({ sets, chance }) => ({
    places: podiumPlaces(sets, ids, places),
    chance,
  }));
  return { podiums, error: told.error };
}

function toldOf(
  meet: Meet,
  race: Race,
  chances: readonly (readonly number[])[],
  onProgress: OnProgress,
): Told {
  const medals = Math.min(race.contest.medals, race.runners.length);
  const everyone = race.runners.map(() => true);
  if (race.over) return { ...medalOutcomes(meet, race, everyone, COVERED), places: medals };
  const few = Math.min(medals, fewPlacesOf(race.runners.length));
  let told = fewPlaces(few);
  let beginnings = medals > few ? likely(few).outcomes : [];
  for (let places = few + 1; places <= medals; places++) {
    if (beginnings.length > MOST_BEGINNINGS) break;
    const found = likely(places, beginnings);
    const outcomes = likeliest(found.outcomes, COVERED);
    if (outcomes.reduce((sum, o) => sum + o.chance, 0) < COVERED) break;
    told = { outcomes, places, error: found.error };
    beginnings = found.outcomes;
  }
  return told;

  function fewPlaces(places: number): Told {
    const ofMedal = chances.map((hers) => sumOfFirst(hers, places));
    const most = [...ofMedal].sort((a, b) => b - a)[MOST_MEDALLISTS] ?? 0;
    for (let least = Math.max(LIKELY_MEDALLIST, most); ; ) {
      const medallists = ofMedal.map((chance) => chance >= least);
      const isAll = chances.every((hers) =>
        hers.every((chance, k) => k >= places || chance >= least || chance === 0),
      );
      // No outcome is likelier than a place that it takes.
      const mayHave = (i: number, place: number) => chances[i]![place]! >= least;
      const wanted = { places, mayHave, onProgress };
      const { outcomes, error } = medalOutcomes(meet, race, medallists, COVERED, wanted);
      const sum = outcomes.reduce((a, p) => a + p.chance, 0);
      // Nobody who was left out can be part of anything likelier than this.
      const last = outcomes.at(-1)?.chance ?? 0;
      if (!isAll && least > Math.max(NEVER, most) && (sum < COVERED || last < least)) {
        least = Math.max(sum < COVERED ? least / 10 : last, most);
        continue;
      }
      return { outcomes, places, error };
    }
  }

  /** All outcomes that are likely enough to begin others; those of one place less are known. */
  function likely(places: number, before?: readonly MedalOutcome[]): Omit<Told, 'places'> {
    const mayHave = (i: number, place: number) => chances[i]![place]! >= LIKELY_BEGINNING;
    const known = before?.map((outcome) => outcome.sets);
    const wanted = { places, mayHave, known, onProgress };
    const { outcomes, error } = medalOutcomes(meet, race, everyone, 1, wanted);
    return { outcomes: outcomes.filter((o) => o.chance >= LIKELY_BEGINNING), error };
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
