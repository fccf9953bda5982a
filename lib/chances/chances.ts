/** `chances`: how likely every place is, and what hangs on the routines to come. */

import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import { type Contest, findContest } from '../contest/contest.js';
import { type GoalOfAll, goalsOf } from '../contest/goal.js';
import { routinesToCome } from '../contest/standings.js';
import { findContender } from '../contest/who.js';
import { noAnswer } from '../error.js';
import { type Meet, routineAt } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { type Distribution, percentile } from '../range/distribution.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score } from '../score.js';
import { casesOf, type PointByScore, pointsOf } from './curve.js';
import { COVERED, likeliest, type Podium, podiumsOf } from './medals/podiums.js';
import { type ContestModel, modelOf, totalOf } from './model.js';
import { placeChances } from './place-chances.js';
import { type SampleOptions, type Sampling, samplePlaces, samplingOf } from './sampled/sampled.js';
import { fieldExtremes, type Settled, settledIn } from './settled.js';
import { type Stake, stakeCases, stakesOf } from './stakes.js';
import { sumOfFirst } from './sweep/places.js';

export type { Stake };

export interface ContenderChances {
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
  readonly total: { readonly p5: Score; readonly p50: Score; readonly p95: Score } | null;
  /** What of `win` and `medal` is certain, and in which sense. */
  readonly settled: readonly Settled[];
}

export interface CurvePoint {
  readonly score: Score;
  readonly win: Chance;
  readonly medal: Chance;
  readonly advance: Chance | null;
  readonly places: readonly Chance[];
}

export interface Chances extends OpenScores {
  readonly contest: string;
  readonly method: 'exact' | 'sampled';
  /** A bound on how wrong a chance can be; of a sample the largest standard error. */
  readonly error: Chance;
  /** Tie rules that somebody lacks the data for, and so nobody is ranked by. */
  readonly skipped: readonly TieRuleName[];
  /** In start order. */
  readonly contenders: readonly ContenderChances[];
  /** The likeliest first, until nine in ten of all outcomes are covered. */
  readonly podiums: readonly Podium[];
  readonly stillWin: number;
  readonly stillMedal: number;
  /** Null where nobody advances from the contest. */
  readonly stillAdvance: number | null;
  readonly atStake: readonly Stake[];
  /** For one contender: by its next score. */
  readonly curve?: { readonly apparatus: string; readonly points: readonly CurvePoint[] };
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

export interface ChancesOptions extends SampleOptions {
  readonly contest?: string | null | undefined;
}

/** What is certain differs from 0 or 1 by no more than rounding and the error. */
const ROUNDING = 1e-12;

/**
 * The chances of every place, computed, or sampled where the options ask for it. With `who`, also as
 * a function of that contender's next score. Throws when a range is missing, when `who` is nobody,
 * is out or has nothing to come, and when the options make no sense.
 * @example
 * const { contenders, method, curve } = chances(meet, 'brandt');
 * contenders.find((c) => c.id === 'brandt')?.win.toFixed(2) // → '0.15'
 * method // → 'exact'
 * curve?.points[0]?.score // → 11766
 */
export function chances(
  meet: Meet,
  who: string | null = null,
  options: ChancesOptions = {},
): Chances {
  const sampling = samplingOf(options);
  const contest = findContest(meet, options.contest);
  const asked = who === null ? null : askedOf(meet, contest, who);
  const model = modelOf(meet, contest);
  const at = model.entrants.findIndex((e) => e.contender.id === asked?.id);
  const routine = asked === null ? null : { who: at, routine: asked.routine };
  const found =
    sampling === null
      ? computed(model, routine, options.onProgress ?? null)
      : drawn(model, routine, sampling);
  return {
    contest: contest.id,
    method: sampling === null ? 'exact' : 'sampled',
    error: found.error,
    skipped: model.skipped.map((r) => r.name),
    contenders: found.rows,
    podiums: found.podiums,
    stillWin: found.rows.filter((r) => isPossible(r, 'win')).length,
    stillMedal: found.rows.filter((r) => isPossible(r, 'medal')).length,
    stillAdvance:
      contest.advance === null ? null : found.rows.filter((r) => isPossible(r, 'advance')).length,
    atStake: found.stakes,
    ...(asked === null ? {} : { curve: curveOf(meet, contest, asked.routine, found.points) }),
    ...openScores(meet, contest.contenders),
    caution: CAUTION,
  };
}

/**
 * Whether a target can still be met. What is settled says so, since a chance may be too small for its
 * digits, or for a sample; where the whole contest does without a rule that settles it, the chance does.
 */
function isPossible(row: ContenderChances, target: GoalOfAll['target']): boolean {
  const isOut = row.settled.some((s) => s.target === target && s.status === 'out-of-reach');
  return row.total !== null && (!isOut || (row[target] ?? 0) > 0);
}

interface Found {
  readonly rows: readonly ContenderChances[];
  readonly podiums: readonly Podium[];
  readonly stakes: readonly Stake[];
  readonly points: readonly PointByScore[];
  readonly error: number;
}

/** Whose next score is asked about, by entrant of the model, and for which routine. */
interface Routine {
  readonly who: number;
  readonly routine: number;
}

/** What is computed tells how many of so many steps are done. */
const STEPS = 1000;

/** So much of the work is done when the places are counted; what is left are the medals. */
const PLACES = 0.7;

function computed(
  model: ContestModel,
  asked: Routine | null,
  onProgress: SampleOptions['onProgress'],
): Found {
  const { meet, entrants } = model;
  let done = 0;
  const tell = (share: number) => {
    // Some of the work may be done more than once.
    done = Math.max(done, Math.floor(share * STEPS));
    onProgress?.(done, STEPS);
  };
  const stakes = stakeCases(model);
  const curve = asked === null ? [] : casesOf(meet, asked.who, asked.routine);
  const { places, advance, cases, error, groups } = placeChances(model, {
    cases: [...stakes, ...curve],
    advance: true,
    onProgress: (share) => tell(PLACES * share),
  });
  const rows = contenderChances(model, { places, advance, totals: entrants.map(totalOf), error });
  const rowOf = new Map(rows.map((r) => [r.id, r]));
  const told = entrants.map(({ contender }) => rowOf.get(contender.id)?.places ?? []);
  const medals = podiumsOf(model, groups, told, (share) => tell(PLACES + (1 - PLACES) * share));
  tell(1);
  return {
    rows,
    podiums: medals.podiums,
    stakes: stakesOf(model, stakes, cases),
    points: pointsOf(meet, curve, cases.slice(stakes.length)),
    error: Math.max(error, medals.error),
  };
}

function drawn(model: ContestModel, asked: Routine | null, sampling: Sampling): Found {
  const wishes = { stakes: true, routine: asked?.routine ?? null };
  const found = samplePlaces(model, sampling, wishes);
  return {
    rows: contenderChances(model, found),
    podiums: likeliest(found.podiums, COVERED),
    stakes: found.stakes,
    points: found.byScore?.points ?? [],
    error: Math.max(found.error, found.byScore?.error ?? 0),
  };
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
  const senses = (['limit', 'ranges'] as const).map((by) => fieldExtremes(meet, contest, by));
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
    const statusOf = (target: GoalOfAll['target'], chance: number) => {
      const status = settled.find((s) => s.target === target)?.status ?? null;
      const wanted = status === 'secured' ? 1 : 0;
      // A tie by itself can be settled by a rule that the whole contest has to do without.
      return status === null || Math.abs(chance - wanted) > error + ROUNDING ? null : status;
    };
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

/** The contender a text names, and its next routine in the contest. */
function askedOf(meet: Meet, contest: Contest, who: string): { id: string; routine: number } {
  const { contender, gymnast } = findContender(meet, contest, who);
  const entry = entryOf(contender, recordedPerformances(meet));
  const routine = routinesToCome(entry).find(
    (i) => gymnast === null || routineAt(meet, i).gymnast === gymnast.id,
  );
  if (entry.out)
    throw noAnswer('out', `${contender.name} has withdrawn, and is out of ${contest.id}`, null);
  if (routine === undefined) {
    throw noAnswer('nothing-to-come', `${contender.name} has no routine to come`, null);
  }
  return { id: contender.id, routine };
}

function curveOf(
  meet: Meet,
  contest: Contest,
  routine: number,
  points: readonly PointByScore[],
): NonNullable<Chances['curve']> {
  return {
    apparatus: routineAt(meet, routine).apparatus,
    points: points.map(({ score, places, advance }) => ({
      score: asScore(score),
      win: places[0] ?? 0,
      medal: sumOfFirst(places, contest.medals),
      advance,
      places: contest.contenders.map((_, k) => places[k] ?? 0),
    })),
  };
}
