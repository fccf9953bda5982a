/** The chances of everyone in a contest: of places, of a medal, of going on, and what of it is certain. */
import type { Chance } from '../chance.js';
import { type GoalOfAll, goalsOf } from '../contest/goal.js';
import { bothSenses, type Settled, settledIn } from '../contest/settled.js';
import { type Distribution, percentile } from '../range/distribution.js';
import { asScore, type Score } from '../score.js';
import { ROUNDING } from './bound.js';
import type { ContestModel } from './model.js';
import { sumOfFirst } from './sweep/places.js';

/** What one gymnast or team can hope for. */
export interface ContenderChances {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** Of first place, a shared one too. */
  readonly win: Chance;
  /** Of one of the places that bring a medal. */
  readonly medal: Chance;
  /** Of going on; null where nobody advances from the contest. */
  readonly advance: Chance | null;
  /** By place, first place first; all 0 for who is out. */
  readonly places: readonly Chance[];
  /** The totals that are reached at most 5, 50 and 95 times in a hundred; null for who is out. */
  readonly total: {
    /** A bad evening: one in twenty is no better. */
    readonly p5: Score;
    /** The middle. */
    readonly p50: Score;
    /** A very good evening: one in twenty is better. */
    readonly p95: Score;
  } | null;
  /** What of `win` and `medal` is certain, and in which sense. */
  readonly settled: readonly Settled[];
}

/**
 * Whether a chance says the same as what is settled: it is 0 or 1 but for rounding and the error. A tie by itself
 * can be settled by a rule that the whole contest has to do without in its chances.
 */
export function isBorneOut({ status }: Settled, chance: number, error: number): boolean {
  return Math.abs(chance - (status === 'secured' ? 1 : 0)) <= error + ROUNDING;
}

/** By entrant of the model. */
interface Counted {
  readonly places: readonly (readonly number[])[];
  readonly advance: readonly number[] | null;
  readonly totals: readonly Distribution[];
  readonly error: number;
}

/** Everyone's chances, in start order. */
export function contenderChances(
  { meet, contest, entrants }: ContestModel,
  { places, advance, totals, error }: Counted,
): ContenderChances[] {
  const senses = bothSenses(meet, contest);
  const targets = goalsOf(contest);
  const count = contest.contenders.length;
  return contest.contenders.map((contender): ContenderChances => {
    const settled = settledIn(senses, contest, contender, targets);
    const at = entrants.findIndex((e) => e.contender.id === contender.id);
    const total = totals[at];
    if (total === undefined) {
      const none = new Array<number>(count).fill(0);
      const noChance = { win: 0, medal: 0, advance: advance === null ? null : 0, places: none };
      return { id: contender.id, ...noChance, total: null, settled };
    }
    const all = Array.from({ length: count }, (_, k) => places[at]?.[k] ?? 0);
    const statusOf = (target: GoalOfAll['target'], chance: number) =>
      settled.find((s) => s.target === target && isBorneOut(s, chance, error))?.status ?? null;
    const onward = advance?.[at] ?? null;
    const through = onward === null ? null : statusOf('advance', onward);
    const kept = withSettled(
      all,
      contest.medals,
      statusOf('win', sumOfFirst(all, 1)),
      statusOf('medal', sumOfFirst(all, contest.medals)),
    );
    return {
      id: contender.id,
      win: kept.win,
      medal: kept.medal,
      advance: through === 'secured' ? 1 : through === 'out-of-reach' ? 0 : onward,
      places: kept.places,
      total: totalsOf(total),
      settled,
    };
  });
}

/** Places as they are settled: what is certain is exactly 0 or 1. */
function withSettled(
  places: number[],
  medals: number,
  win: Settled['status'] | null,
  medal: Settled['status'] | null,
): Pick<ContenderChances, 'win' | 'medal' | 'places'> {
  if (win === 'secured') places.fill(0).fill(1, 0, 1);
  if (win === 'out-of-reach') places[0] = 0;
  if (medal === 'secured') places.fill(0, medals);
  if (medal === 'out-of-reach') places.fill(0, 0, medals);
  const chance =
    medal === 'secured' ? 1 : medal === 'out-of-reach' ? 0 : sumOfFirst(places, medals);
  return { win: places[0] ?? 0, medal: chance, places };
}

function totalsOf(total: Distribution): ContenderChances['total'] {
  const at = (chance: number) => asScore(percentile(total, chance));
  return { p5: at(0.05), p50: at(0.5), p95: at(0.95) };
}
