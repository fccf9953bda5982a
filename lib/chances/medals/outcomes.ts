/** The likeliest medal outcomes of a race. */
import type { Meet } from '../../meet/meet.js';
import { placesOnBoard } from '../board.js';
import { countInCells } from '../cells/cells.js';
import type { InOrder, OnProgress } from '../order/order.js';
import type { Race } from '../runner.js';
import { ROUNDING, wayOf } from '../way.js';
import { beginningsOf, type Followed, type MayHave } from './beginnings.js';
import { countMedals, likeliest, type MedalOutcome } from './medal-count.js';
import { boundMedals } from './podium-bound.js';
import { sharingIn } from './shared-medals.js';

/** Among so few all medals that can be shared are followed. */
const SMALL = 8;

/** Where the others cover enough, or there are more, two who share a medal are followed if that is as likely as this. */
const SHARED = 0.002;

/** Where there are more beginnings with those who may share a medal, only likelier sets are followed. */
const MOST_BEGINNINGS = 300_000;

/** By how much two chances that are equal can differ. */
const NEAR = 1e-9;

/** What is asked about medal outcomes. */
export interface MedalQuestion {
  /** Of how many places the outcomes are; by default of all that bring a medal. */
  readonly places?: number | undefined;
  /** The outcomes of one place less that may begin those that are followed; by default all. */
  readonly known?: Followed['known'];
  /** Who is followed on which medal place; by default everyone on all. */
  readonly mayHave?: MayHave | undefined;
  readonly onProgress?: OnProgress | undefined;
}

/** Ordered medal outcomes, by runner; who shares a place together. */
export interface MedalOutcomes {
  /** The likeliest first. */
  readonly outcomes: readonly MedalOutcome[];
  /** A bound on how wrong each of their chances can be. */
  readonly error: number;
}

/**
 * The likeliest medal outcomes among some of the runners, each on the places that it may have, until
 * so much is covered.
 */
export function medalOutcomes(
  meet: Meet,
  race: Race,
  medallists: readonly boolean[],
  covered: number,
  { places = race.contest.medals, mayHave = () => true, known, onProgress }: MedalQuestion = {},
): MedalOutcomes {
  const { runners } = race;
  if (race.over) return { outcomes: boardMedals(meet, race), error: 0 };
  const way = wayOf(meet, race);
  const size = runners.length;
  const medals = Math.min(places, size);
  const followed: Followed = {
    medals,
    mayHave: (i, place) => medallists[i]! && mayHave(i, place),
    known,
  };
  if ('pieces' in way) {
    const outcomes = outcomesInOrder(way, followed, medallists, covered, onProgress);
    return { outcomes, error: ROUNDING };
  }
  const { outcomes, error } = boundMedals(size, followed, covered, (visit) =>
    countInCells(runners, way.lowest, [], way.statics, medals, { visit, onProgress }),
  );
  return { outcomes, error: Math.min(error + ROUNDING, 1) };
}

function outcomesInOrder(
  way: InOrder,
  followed: Followed,
  medallists: readonly boolean[],
  covered: number,
  onProgress: OnProgress | undefined,
): MedalOutcome[] {
  // Without shared places first: then only those are followed that may be among the likeliest.
  const alone = beginningsOf(way.size, followed);
  const strict = likeliest(countMedals(way, alone, onProgress), covered);
  const sum = strict.reduce((a, o) => a + o.chance, 0);
  const last = sum < covered ? 0 : (strict.at(-1)?.chance ?? 0);
  const isSmall = medallists.filter((m) => m).length <= SMALL;
  let least = last === 0 && isSmall ? 0 : Math.max(last * (1 - NEAR), SHARED);
  const setsAbove = sharingIn(way, followed.medals, medallists);
  const beginningsAbove = (least: number) => {
    const sharing = setsAbove(least);
    return sharing && beginningsOf(way.size, { ...followed, sharing }, MOST_BEGINNINGS);
  };
  let beginnings = beginningsAbove(least);
  const isMuch = beginnings === null;
  while (beginnings === null) {
    least = Math.max(4 * least, SHARED);
    beginnings = beginningsAbove(least);
  }
  if (beginnings.sharing.length === 0 && !isMuch) return strict;
  const all = countMedals(way, beginnings, onProgress);
  // None that shares a place and is not followed is likelier than that.
  return likeliest(isMuch ? all.filter((o) => o.chance > least) : all, covered);
}

function boardMedals(meet: Meet, race: Race): MedalOutcome[] {
  const placeOf = placesOnBoard(meet, race);
  const sets: number[][] = [];
  for (let k = 1; k <= race.contest.medals; k++) {
    const there = placeOf.flatMap((place, i) => (place === k ? [i] : []));
    if (there.length > 0) sets.push(there);
  }
  return sets.length === 0 ? [] : [{ sets, chance: 1 }];
}
