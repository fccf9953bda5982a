/** `chances`: how likely every place is, and what hangs on the routines to come. */

import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import { type Contest, findContest } from '../contest/contest.js';
import type { GoalOfAll } from '../contest/goal.js';
import { routinesToCome } from '../contest/standings.js';
import { findContender } from '../contest/who.js';
import { noAnswer } from '../error.js';
import { type Meet, routineAt } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score } from '../score.js';
import { type ContenderChances, contenderChances } from './contender-chances.js';
import { casesOf, type PointByScore, pointsOf } from './curve.js';
import { COVERED, likeliest, type Podium, podiumsOf } from './medals/podiums.js';
import { type ContestModel, modelOf, totalOf } from './model.js';
import { placeChances } from './place-chances.js';
import { type SampleOptions, type Sampling, samplingOf } from './sampled/options.js';
import { samplePlaces } from './sampled/sampled.js';
import { type Stake, stakeCases, stakesOf } from './stakes.js';
import { sumOfFirst } from './sweep/places.js';

export type { Stake };

/** What one score of a routine would do to somebody's chances. */
export interface CurvePoint {
  /** A real score of the routine that has a chance. */
  readonly score: Score;
  /** Of first place with that score. */
  readonly win: Chance;
  /** Of a medal with it. */
  readonly medal: Chance;
  /** Of going on with it; null where nobody advances from the contest. */
  readonly advance: Chance | null;
  /** Of every place with it, first place first. */
  readonly places: readonly Chance[];
}

/** Everyone's chances in a contest, what is still open, and what hangs on each routine. */
export interface Chances extends OpenScores {
  /** The id of the contest they are about. */
  readonly contest: string;
  /** `exact`: computed. `sampled`: drawn, with a seed, where the options ask for it. */
  readonly method: 'exact' | 'sampled';
  /** A bound on how wrong a chance can be; of a sample the largest standard error. */
  readonly error: Chance;
  /** Tie rules that somebody lacks the data for, and so nobody is ranked by. */
  readonly skipped: readonly TieRuleName[];
  /** In start order. */
  readonly contenders: readonly ContenderChances[];
  /** The likeliest first, until nine in ten of all outcomes are covered. */
  readonly podiums: readonly Podium[];
  /** For how many winning is not out of reach. */
  readonly stillWin: number;
  /** For how many a medal is not out of reach. */
  readonly stillMedal: number;
  /** Null where nobody advances from the contest. */
  readonly stillAdvance: number | null;
  /** What the title hangs on, routine by routine, in the order they go up. */
  readonly atStake: readonly Stake[];
  /** For one contender: by its next score. */
  readonly curve?: {
    /** Where that routine is, by code. */
    readonly apparatus: string;
    /** Every real score that she can have, falls included, in rising order. */
    readonly points: readonly CurvePoint[];
  };
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** Which contest; and how to draw, where the chances are to be drawn and not computed. */
export interface ChancesOptions extends SampleOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
}

/**
 * The chances of every place, computed, or sampled where the options ask for it. With `who`, also as a
 * function of that contender's next score.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param who - A gymnast or a team to have a curve for; null for nobody.
 * @param options - Which contest, and how to draw where they are to be drawn.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `nothing-to-come` (she has nothing to come there), `out` (she has withdrawn)
 * @throws `wrong-sample`, `wrong-seed`, `wrong-day-form`, `wrong-precision`: `sample`, `seed`, `dayForm` or
 *   `precision` is no such number
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { contenders, method, curve } = chances(meet, 'brondt');
 * contenders.find((c) => c.id === 'brondt')?.win.toFixed(2) // → '0.15'
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
  const routine = asked === null ? null : routineIn(model, asked);
  const found =
    sampling === null || model.over
      ? computed(model, routine === null ? [] : [routine], options.onProgress ?? null)
      : drawn(model, routine, sampling);
  const [points = []] = found.points;
  const curve = asked === null ? {} : { curve: curveOf(meet, contest, asked.routine, points) };
  return answerOf(model, found, sampling === null ? 'exact' : 'sampled', curve);
}

/** Everyone's chances, and those of some contenders by the scores of a routine each has to come. */
export interface ChancesByScores {
  readonly chances: Chances;
  /** By index of the routine. */
  readonly curves: ReadonlyMap<number, NonNullable<Chances['curve']>>;
}

/**
 * The chances with a curve for each of some routines to come, given by index: all of it is counted at once.
 * Throws when a range is missing.
 */
export function chancesByScores(
  meet: Meet,
  contest: Contest,
  routines: readonly number[],
): ChancesByScores {
  const model = modelOf(meet, contest);
  const asked = routines.flatMap((routine) => {
    const id = model.entrants.find((e) => e.toCome.includes(routine))?.contender.id;
    return id === undefined ? [] : [routineIn(model, { id, routine })];
  });
  const found = computed(model, asked, null);
  const curves = asked.map(({ routine }, k) => {
    return [routine, curveOf(meet, contest, routine, found.points[k] ?? [])] as const;
  });
  return { chances: answerOf(model, found, 'exact'), curves: new Map(curves) };
}

function routineIn({ entrants }: ContestModel, { id, routine }: Asked): Routine {
  return { who: entrants.findIndex((e) => e.contender.id === id), routine };
}

function answerOf(
  { meet, contest, skipped }: ContestModel,
  found: Found,
  method: Chances['method'],
  curve: Pick<Chances, 'curve'> = {},
): Chances {
  return {
    contest: contest.id,
    method,
    error: found.error,
    skipped: skipped.map((r) => r.name),
    contenders: found.rows,
    podiums: found.podiums,
    stillWin: found.rows.filter((r) => isPossible(r, 'win')).length,
    stillMedal: found.rows.filter((r) => isPossible(r, 'medal')).length,
    stillAdvance:
      contest.advance === null ? null : found.rows.filter((r) => isPossible(r, 'advance')).length,
    atStake: found.stakes,
    ...curve,
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
  /** By routine that is asked about. */
  readonly points: readonly (readonly PointByScore[])[];
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
  asked: readonly Routine[],
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
  const curves = asked.map(({ who, routine }) => casesOf(meet, who, routine));
  const { places, advance, cases, error, groups } = placeChances(model, {
    cases: [...stakes, ...curves.flat()],
    advance: true,
    onProgress: (share) => tell(PLACES * share),
  });
  const rows = contenderChances(model, { places, advance, totals: entrants.map(totalOf), error });
  const rowOf = new Map(rows.map((r) => [r.id, r]));
  const told = entrants.map(({ contender }) => rowOf.get(contender.id)?.places ?? []);
  const medals = podiumsOf(model, groups, told, (share) => tell(PLACES + (1 - PLACES) * share));
  tell(1);
  let from = stakes.length;
  const points = curves.map((curve) => {
    const to = from + curve.length;
    const found = pointsOf(meet, curve, cases.slice(from, to));
    from = to;
    return found;
  });
  return {
    rows,
    podiums: medals.podiums,
    stakes: stakesOf(model, stakes, (h, i) => cases[h]?.title?.[i] ?? 0),
    points,
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
    points: [found.byScore?.points ?? []],
    error: Math.max(found.error, found.byScore?.error ?? 0),
  };
}

/** A contender and one of its routines to come. */
interface Asked {
  readonly id: string;
  readonly routine: number;
}

/** The contender a text names, and its next routine in the contest. */
function askedOf(meet: Meet, contest: Contest, who: string): Asked {
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
