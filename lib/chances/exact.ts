/** The chance of every place for everyone in a race, by whichever count is exact and in time. */
import type { Meet } from '../meet/meet.js';
import type { Score } from '../score.js';
import { placesOnBoard } from './board.js';
import { type CellCount, countInCells } from './cells/cells.js';
import { Lowest } from './cells/lowest.js';
import type { OnProgress, Variant } from './order/order.js';
import { countPlaces } from './places.js';
import { type Race, runnerIfScored } from './runner.js';
import { countTitles } from './titles.js';
import { LEFT_OUT, MOST_CELLS, MOST_RESULTS, ROUNDING, valuesOf, wayThrough } from './way.js';

/** Chances of places, by runner of the race and place. */
export interface PlaceChances {
  readonly places: readonly (readonly number[])[];
  /** By case that was asked about. */
  readonly cases: readonly CaseChances[];
  /** A bound on how wrong each of them, and a sum of the first few, can be. */
  readonly error: number;
}

/** One runner if a routine of it scores so much. */
export interface Case {
  readonly who: number;
  readonly routine: number;
  readonly score: Score;
  /** Who wins then is asked, instead of the runner's own places. */
  readonly title: boolean;
}

export interface CaseChances {
  /** Of the runner itself, by place; none where the title was asked. */
  readonly places: readonly number[];
  /** By runner: the chance of first place; null where it was not asked. */
  readonly title: readonly number[] | null;
}

export interface PlaceQuestion {
  readonly cases?: readonly Case[];
  /** More results than this are not gone through one by one. */
  readonly mostResults?: number;
  /** Besides the cases only the places of these runners are asked for, and no titles. */
  readonly only?: readonly number[] | null;
  readonly onProgress?: OnProgress | undefined;
}

/** The chances of all places, and what they would be in some cases. */
export function placeChances(
  meet: Meet,
  race: Race,
  { cases = [], mostResults = MOST_RESULTS, only = null, onProgress }: PlaceQuestion = {},
): PlaceChances {
  const { runners, contest } = race;
  if (race.over) return boardPlaces(meet, race);
  const size = runners.length;
  const variants = cases.map(({ who, routine, score }): Variant => {
    return { of: who, runner: runnerIfScored(meet, runners[who]!, routine, score) };
  });
  const way = wayThrough(meet, race, variants, mostResults);
  if ('pieces' in way) {
    const countedOf = (asked: (one: Case) => boolean) =>
      variants.map(({ of }, h) => (asked(cases[h]!) ? of : -1));
    const isTitle = (one: Case) => one.title;
    const counted = countPlaces(
      way,
      countedOf((one) => !one.title),
      onProgress,
    );
    const titles = cases.some(isTitle) ? countTitles(way, countedOf(isTitle)) : NONE;
    return tidy(cases, { ...counted, titles }, size, ROUNDING);
  }
  const { lowest, statics } = way;
  const { grid } = meet.scoring;
  const told = variants.map((variant, h) => {
    const before = lowest[variant.of] ?? null;
    const { title } = cases[h]!;
    return { ...variant, title, lowest: before && lowestIfScored(before, variant, cases[h]!) };
  });
  const count = countInCells(runners, lowest, told, statics, contest.medals, {
    only,
    onProgress,
  });
  return tidy(cases, count, size, Math.min(count.error + ROUNDING, 1));

  function lowestIfScored(
    before: Lowest,
    { of, runner }: Variant,
    { routine, score }: Case,
  ): Lowest | null {
    const at = runners[of]!.open.findIndex((o) => o.toCome.includes(routine));
    const isAll = runners[of]!.open[at]!.part.routines.length === 1;
    if (isAll) return before.given(at, score);
    // A team's routines are many, and each would need tables of its own.
    const isMuch = variants.length * valuesOf(runner) * runner.total.scores.length > MOST_CELLS;
    return isMuch ? null : Lowest.of(runner, grid, LEFT_OUT);
  }
}

/** No titles. */
const NONE = new Float64Array(0);

function tidy(
  cases: readonly Case[],
  { places, variantPlaces, titles }: Pick<CellCount, 'places' | 'variantPlaces' | 'titles'>,
  size: number,
  error: number,
): PlaceChances {
  const row = (of: Float64Array, i: number): number[] => {
    const chances = new Array<number>(size);
    for (let k = 0; k < size; k++) chances[k] = Math.min(Math.max(of[i * size + k]!, 0), 1);
    return chances;
  };
  return {
    places: Array.from({ length: size }, (_, i) => row(places, i)),
    cases: cases.map(({ title }, h) => ({
      places: title ? [] : row(variantPlaces, h),
      title: title ? row(titles, h) : null,
    })),
    error,
  };
}

/** Nothing is open: the places of the board, by runner. */
function boardPlaces(meet: Meet, race: Race): PlaceChances {
  const placeOf = placesOnBoard(meet, race);
  return {
    places: placeOf.map((place) => placeOf.map((_, k) => (place === k + 1 ? 1 : 0))),
    cases: [],
    error: 0,
  };
}
