/** The chance of every place for everyone in a race, by whichever count is exact and in time. */
import { rank } from '../contest/board.js';
import { tieKey } from '../contest/ties.js';
import { assumed, entryOf, recordedPerformances } from '../contest/total.js';
import { type Meet, rangeAt } from '../meet/meet.js';
import type { Score } from '../score.js';
import type { Grid, TieRule } from '../scoring.js';
import { countInCells } from './cells.js';
import { Lowest } from './lowest.js';
import { countByValues, ranksBy, type StaticOrder, type Visitor, visitInOrder } from './order.js';
import { PlaceCount } from './places.js';
import { isStatic, type Race, type Runner, routineDistribution } from './runner.js';

/** Chances of places, by runner of the race and place. */
export interface PlaceChances {
  readonly places: readonly (readonly number[])[];
  /** A bound on how wrong each of them, and a sum of the first few, can be. */
  readonly error: number;
}

/** What rounding can do: some ten thousand additions and exchanges of numbers below 1. */
const ROUNDING = 1e-12;

/** With up to so many parts open every result is gone through. */
const FEW_OPEN = 2;

/** With more of them, while there are no more results than this. */
const MOST_RESULTS = 1_000_000;

/** So much of each part is left out where ties are told apart. */
const LEFT_OUT = 1e-4;

/** So many ways the routines of one runner can go are still gone through one by one. */
const MOST_WAYS = 100_000;

/** Sees every result that is gone through; `split` those that are level as far as is known. */
export interface Onlooker extends Visitor {
  readonly split: Visitor['shared'];
}

/** The chances of all places; who looks on is shown every result from the best to the worst. */
export function placeChances(
  meet: Meet,
  race: Race,
  onlooker: Onlooker | null = null,
  mostResults = MOST_RESULTS,
): PlaceChances {
  const { runners, contest, rules } = race;
  if (race.over) return boardPlaces(meet, race, onlooker);
  const size = runners.length;
  const dynamic = rules.findIndex((rule) => rule !== 'best-scores' && !isStatic(rule, race));
  if (dynamic >= 0 && runners.every((r) => waysOf(meet, r) <= MOST_WAYS)) {
    return tidy(countEveryWay(meet, race, onlooker), size, ROUNDING);
  }
  const known = dynamic < 0 ? rules : rules.slice(0, dynamic);
  const statics = staticOrder(runners, known);
  const byValues = known.includes('best-scores');
  const open = Math.max(...runners.map((r) => r.open.length));
  const isFew = () => open <= FEW_OPEN || countByValues(runners) <= mostResults;
  if (dynamic < 0 && (!byValues || isFew())) {
    let count: PlaceCount | null = null;
    visitInOrder(runners, statics, byValues, (results) => {
      count = new PlaceCount(size, results);
      return both(count, onlooker);
    });
    return tidy(count!, size, ROUNDING);
  }
  const { grid } = meet.scoring;
  const lowest = runners.map((r) => (byValues && dynamic < 0 ? keptLowest(r, grid) : null));
  const look = onlooker === null ? null : onlooker.split.bind(onlooker);
  const count = countInCells(runners, lowest, statics, contest.medals, look);
  return tidy(count, size, Math.min(count.error + ROUNDING, 1));
}

const kept = new WeakMap<Runner, Lowest>();

function keptLowest(runner: Runner, grid: Grid): Lowest {
  const found = kept.get(runner) ?? new Lowest(runner, grid, LEFT_OUT);
  kept.set(runner, found);
  return found;
}

function both(count: PlaceCount, onlooker: Onlooker | null): Visitor {
  if (onlooker === null) return count;
  return {
    single: (runner, chance) => {
      count.single(runner, chance);
      onlooker.single(runner, chance);
    },
    shared: (runners, chances) => {
      count.shared(runners, chances);
      onlooker.shared(runners, chances);
    },
  };
}

function tidy(
  { places }: { readonly places: Float64Array },
  size: number,
  error: number,
): PlaceChances {
  return {
    places: Array.from({ length: size }, (_, i) =>
      Array.from(places.subarray(i * size, (i + 1) * size), (p) => Math.min(Math.max(p, 0), 1)),
    ),
    error,
  };
}

/** Nothing is open: the places of the board. */
function boardPlaces(
  meet: Meet,
  { contest, runners }: Race,
  onlooker: Onlooker | null,
): PlaceChances {
  const { rows } = rank(contest, recordedPerformances(meet));
  const placeOf = new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  for (const [k] of runners.entries()) {
    const there = runners.flatMap((r, i) => (placeOf.get(r.contender.id) === k + 1 ? [i] : []));
    if (there.length > 0) {
      onlooker?.shared(
        there,
        there.map(() => 1),
      );
    }
  }
  return {
    places: runners.map(({ contender }) =>
      runners.map((_, k) => (placeOf.get(contender.id) === k + 1 ? 1 : 0)),
    ),
    error: 0,
  };
}

/** At equal totals E and D totals differ by what is fixed, whatever the scores to come. */
function staticOrder(runners: readonly Runner[], rules: readonly TieRule[]): StaticOrder {
  const at = rules.indexOf('best-scores');
  const [before, after] = at < 0 ? [rules, []] : [rules.slice(0, at), rules.slice(at + 1)];
  return { first: rankBy(runners, before), last: rankBy(runners, after) };
}

function rankBy(runners: readonly Runner[], rules: readonly TieRule[]): Int32Array {
  const keys = runners.map(({ assumed: entry }) =>
    rules.map((rule) => {
      const key = tieKey(rule, entry);
      const value = typeof key === 'string' ? 0 : (key[0] ?? 0);
      return rule === 'execution' ? value - entry.total : value;
    }),
  );
  return ranksBy(runners.length, (a, b) => compareKeys(keys[b]!, keys[a]!));
}

function waysOf(meet: Meet, runner: Runner): number {
  return runner.toCome.reduce((n, i) => n * routineDistribution(meet, i).scores.length, 1);
}

/** Every way the routines of each runner can go, compared by the rules of the board. */
function countEveryWay(meet: Meet, race: Race, onlooker: Onlooker | null): PlaceCount {
  const results = race.runners.flatMap((runner, who) =>
    everyWay(meet, runner, race.rules).map((way) => ({ ...way, who })),
  );
  results.sort((a, b) => compareKeys(b.key, a.key));
  const counts = race.runners.map((_, i) => results.filter((r) => r.who === i).length);
  const count = new PlaceCount(race.runners.length, counts);
  const visitor = both(count, onlooker);
  for (let from = 0; from < results.length; ) {
    let to = from + 1;
    while (to < results.length && compareKeys(results[from]!.key, results[to]!.key) === 0) to++;
    const equal = results.slice(from, to);
    if (equal.length === 1) visitor.single(equal[0]!.who, equal[0]!.chance);
    else {
      visitor.shared(
        equal.map((r) => r.who),
        equal.map((r) => r.chance),
      );
    }
    from = to;
  }
  return count;
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
