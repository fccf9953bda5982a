/** The chance of every place for everyone in a race, by whichever count is exact and in time. */
import { rank } from '../contest/board.js';
import { tieKey } from '../contest/ties.js';
import { assumed, entryOf, recordedPerformances } from '../contest/total.js';
import { type Meet, rangeAt } from '../meet/meet.js';
import type { Score } from '../score.js';
import type { Grid, TieRule } from '../scoring.js';
import { beginningsOf, type Followed, type MayHave } from './beginnings.js';
import { type CellCount, countInCells } from './cells.js';
import { Lowest } from './lowest.js';
import { countMedals, likeliest, type MedalOutcome } from './medal-count.js';
import {
  type InOrder,
  inOrder,
  type OnProgress,
  ranksBy,
  type StaticOrder,
  type Variant,
} from './order.js';
import { countPlaces } from './places.js';
import { boundMedals } from './podium-bound.js';
import { countByValues } from './rows.js';
import {
  isStatic,
  type Race,
  type Runner,
  routineDistribution,
  runnerIfScored,
  staticKey,
} from './runner.js';
import { sharingIn } from './shared-medals.js';
import { countTitles } from './titles.js';

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

/** Among so few all medals that can be shared are followed. */
const SMALL = 8;

/** Where the others cover enough, or there are more, two who share a medal are followed if that is as likely as this. */
const SHARED = 0.002;

/** Where there are more beginnings with those who may share a medal, only likelier sets are followed. */
const MOST_BEGINNINGS = 300_000;

/** By how much two chances that are equal can differ. */
const NEAR = 1e-9;

/** What rounding can do: some ten thousand additions and exchanges of numbers below 1. */
const ROUNDING = 1e-12;

/** With up to so many routines to come for anybody every result is gone through. */
const FEW_TO_COME = 2;

/** With more of them, while there are no more results than this. */
const MOST_RESULTS = 1_000_000;

/** Nor more results of cases than this. */
const MOST_OF_CASES = 2_000_000;

/** With more values times totals than this, as in teams, only the total tells results apart. */
const MOST_CELLS = 1_500_000;

/** So much of each part is left out where ties are told apart. */
const LEFT_OUT = 1e-4;

/** So many ways the routines of one runner can go are still gone through one by one. */
const MOST_WAYS = 100_000;

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
  if ('who' in way) {
    ordered.set(race, way);
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

/** What is asked about medal outcomes. */
export interface MedalQuestion {
  /** Of how many places the outcomes are; by default of all that bring a medal. */
  readonly places?: number | undefined;
  /** Whether outcomes that begin so are followed. */
  readonly mayBegin?: Followed['mayBegin'];
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
  { places = race.contest.medals, mayHave = () => true, mayBegin, onProgress }: MedalQuestion = {},
): MedalOutcomes {
  const { runners } = race;
  if (race.over) return { outcomes: boardMedals(meet, race), error: 0 };
  const way = ordered.get(race) ?? wayThrough(meet, race, [], MOST_RESULTS);
  const size = runners.length;
  const medals = Math.min(places, size);
  const followed: Followed = {
    medals,
    mayHave: (i, place) => medallists[i]! && mayHave(i, place),
    mayBegin,
  };
  if ('who' in way) {
    // Without shared places first: then only those are followed that may be among the likeliest.
    const alone = beginningsOf(size, followed);
    const strict = likeliest(countMedals(way, alone, onProgress), covered);
    const sum = strict.reduce((a, o) => a + o.chance, 0);
    const last = sum < covered ? 0 : (strict.at(-1)?.chance ?? 0);
    const isSmall = medallists.filter((m) => m).length <= SMALL;
    let least = last === 0 && isSmall ? 0 : Math.max(last * (1 - NEAR), SHARED);
    const setsAbove = sharingIn(way, medals, medallists);
    const beginningsAbove = (least: number) => {
      const sharing = setsAbove(least);
      return sharing && beginningsOf(size, { ...followed, sharing }, MOST_BEGINNINGS);
    };
    let beginnings = beginningsAbove(least);
    const isMuch = beginnings === null;
    while (beginnings === null) {
      least = Math.max(2 * least, SHARED);
      beginnings = beginningsAbove(least);
    }
    if (beginnings.sharing.length === 0 && !isMuch) return { outcomes: strict, error: ROUNDING };
    const all = countMedals(way, beginnings, onProgress);
    // None that shares a place and is not followed is likelier than that.
    const told = isMuch ? all.filter((o) => o.chance > least) : all;
    return { outcomes: likeliest(told, covered), error: ROUNDING };
  }
  const { outcomes, error } = boundMedals(size, followed, covered, (visit) =>
    countInCells(runners, way.lowest, [], way.statics, medals, { visit, onProgress }),
  );
  return { outcomes, error: Math.min(error + ROUNDING, 1) };
}

/** What has been put in order for a race need not be again. */
const ordered = new WeakMap<Race, InOrder>();

/** Result by result, or, where that is too much, total by total. */
type Way = InOrder | { readonly lowest: readonly (Lowest | null)[]; readonly statics: StaticOrder };

function wayThrough(
  meet: Meet,
  race: Race,
  variants: readonly Variant[],
  mostResults: number,
): Way {
  const { runners, rules } = race;
  const dynamic = rules.findIndex((rule) => rule !== 'best-scores' && !isStatic(rule, race));
  if (dynamic >= 0 && runners.every((r) => waysOf(meet, r) <= MOST_WAYS)) {
    return everyWayInOrder(meet, race, variants);
  }
  const known = dynamic < 0 ? rules : rules.slice(0, dynamic);
  const statics = staticOrder(runners, known);
  const byValues = known.includes('best-scores');
  const toCome = Math.max(...runners.map((r) => r.toCome.length));
  const isFew = () =>
    toCome <= FEW_TO_COME ||
    (countByValues(runners) <= mostResults &&
      countByValues(variants.map((v) => v.runner)) <= MOST_OF_CASES);
  if (dynamic < 0 && (!byValues || isFew())) {
    return inOrder(runners, variants, statics, byValues);
  }
  const { grid } = meet.scoring;
  const isTold = (r: Runner) =>
    byValues && dynamic < 0 && valuesOf(r) * r.total.scores.length <= MOST_CELLS;
  return {
    lowest: runners.map((r) => (isTold(r) ? keptLowest(r, grid) : null)),
    statics,
  };
}

/** How many values its open parts can have, the widest counted. */
function valuesOf({ open }: Runner): number {
  return Math.max(0, ...open.map((o) => o.distribution.scores.length));
}

/** No titles. */
const NONE = new Float64Array(0);

const kept = new WeakMap<Runner, Lowest>();

function keptLowest(runner: Runner, grid: Grid): Lowest {
  const found = kept.get(runner) ?? Lowest.of(runner, grid, LEFT_OUT);
  kept.set(runner, found);
  return found;
}

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

function placesOnBoard(meet: Meet, { contest, runners }: Race): (number | null)[] {
  const { rows } = rank(contest, recordedPerformances(meet));
  const placeOf = new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  return runners.map((r) => placeOf.get(r.contender.id) ?? null);
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

/** At equal totals E and D totals differ by what is fixed, whatever the scores to come. */
function staticOrder(runners: readonly Runner[], rules: readonly TieRule[]): StaticOrder {
  const at = rules.indexOf('best-scores');
  const [before, after] = at < 0 ? [rules, []] : [rules.slice(0, at), rules.slice(at + 1)];
  return { first: rankBy(runners, before), last: rankBy(runners, after) };
}

function rankBy(runners: readonly Runner[], rules: readonly TieRule[]): Int32Array {
  if (rules.length === 0) return new Int32Array(runners.length);
  const keys = runners.map(({ assumed: entry }) => rules.map((rule) => staticKey(rule, entry)));
  return ranksBy(runners.length, (a, b) => compareKeys(keys[b]!, keys[a]!));
}

function waysOf(meet: Meet, runner: Runner): number {
  return runner.toCome.reduce((n, i) => n * routineDistribution(meet, i).scores.length, 1);
}

/** Every way the routines of each runner can go, compared by the rules of the board. */
function everyWayInOrder(
  meet: Meet,
  { runners, rules }: Race,
  variants: readonly Variant[],
): InOrder {
  const everyone = [...runners, ...variants.map((v) => v.runner)];
  const results = everyone.flatMap((runner, who) =>
    everyWay(meet, runner, rules).map((way) => ({ ...way, who })),
  );
  results.sort((a, b) => compareKeys(b.key, a.key));
  const isEqual = (k: number) => k > 0 && compareKeys(results[k - 1]!.key, results[k]!.key) === 0;
  return {
    size: runners.length,
    who: Int32Array.from(results, (r) => r.who),
    chance: Float64Array.from(results, (r) => r.chance),
    equals: Uint8Array.from(results, (_, k) => (isEqual(k) ? 1 : 0)),
  };
}

function everyWay(
  meet: Meet,
  { contender, toCome, assumed: entry }: Runner,
  rules: readonly TieRule[],
): { key: readonly number[]; chance: number }[] {
  const ways = new Map<string, { key: readonly number[]; chance: number }>();
  const performances = [...entry.performances];
  const go = (k: number, chance: number): void => {
    const routine = toCome[k];
    if (routine === undefined) {
      const done = entryOf(contender, performances);
      const key = [done.total, ...rules.flatMap((rule) => numbersOf(tieKey(rule, done)))];
      const name = key.join();
      const same = ways.get(name);
      ways.set(name, { key, chance: (same?.chance ?? 0) + chance });
      return;
    }
    const { d } = rangeAt(meet, routine);
    const { scores, chances } = routineDistribution(meet, routine);
    for (const [n, score] of scores.entries()) {
      performances[routine] = assumed(score, d);
      go(k + 1, chance * chances[n]!);
    }
  };
  go(0, 1);
  return [...ways.values()].filter((w) => w.chance > 0);
}

function numbersOf(key: ReturnType<typeof tieKey>): readonly Score[] {
  return typeof key === 'string' ? [] : key;
}

function compareKeys(a: readonly number[], b: readonly number[]): number {
  for (const [k, value] of a.entries()) {
    const other = b[k] ?? 0;
    if (value !== other) return value - other;
  }
  return 0;
}
