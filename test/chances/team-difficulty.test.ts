/**
 * Team contests that drop scores and go by difficulty or execution, with four to come for every team: too
 * many ways to go through them team by team, so here they are gone through apparatus by apparatus.
 */
import { describe, expect, it } from 'vitest';
import { routineDistribution } from '../../lib/chances/open-part.js';
import { chances, type Meet } from '../../lib/index.js';
import { routineOf } from '../../lib/meet/meet.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** A routine: the score without a fall, its D, and the chance of a fall, or null where it is done. */
type Routine = readonly [score: number, d: number, falls: number | null];

/** By team and apparatus three routines, of which two count; on each apparatus two are to come. */
const TEAMS: Readonly<Record<string, readonly (readonly Routine[])[]>> = {
  plover: [
    [
      [12_500, 5000, null],
      [13_000, 5600, 0.5],
      [13_000, 5000, 0.2],
    ],
    [
      [12_000, 5400, null],
      [13_000, 5300, 0.3],
      [12_000, 5900, 0.1],
    ],
  ],
  wigeon: [
    [
      [12_000, 5300, null],
      [13_000, 5500, 0.4],
      [13_000, 5100, 0.4],
    ],
    [
      [13_000, 5000, null],
      [12_500, 5700, 0.2],
      [13_000, 5400, 0.6],
    ],
  ],
  dunlin: [
    [
      [12_500, 5200, null],
      [13_500, 5200, 0.3],
      [12_000, 5800, 0.1],
    ],
    [
      [12_000, 5600, null],
      [13_000, 5100, 0.5],
      [12_500, 5300, 0.2],
    ],
  ],
};
const CODES = ['BB', 'FX'] as const;

const points = (units: number) => (units / 1000).toFixed(3);

/** `width`: how many points wide ranges are, besides falls. */
function meetWith(ties: string, width = 0) {
  const rows: string[] = [];
  const gymnasts = Object.entries(TEAMS).flatMap(([team, apparatus]) =>
    apparatus.flatMap((routines, a) =>
      routines.map(([score, d, falls], i) => {
        const id = `${team}${a}${i}`;
        if (falls === null) rows.push(`${id},${CODES[a]},${points(score)},${points(d)}`);
        const likely = points(score);
        const ends = `low: ${points(score - 600 * width)}, likely: ${likely}, high: ${points(score + 400 * width)}`;
        const range = `{ ${ends}, falls: ${falls ?? 0}, d: ${points(d)} }`;
        return `  - { id: ${id}, team: ${team}, on: [${CODES[a]}], ranges: { ${CODES[a]}: ${range} } }`;
      }),
    ),
  );
  const discipline = 'discipline: [{ code: BB, name: beam }, { code: FX, name: floor }]';
  const contest = `contests: [{ kind: team, up: 3, count: 2, ties: ${ties} }]`;
  const text = `${discipline}\nscoring: open\n${contest}\ngymnasts:\n${gymnasts.join('\n')}\n`;
  const log = logFrom(...rows).replace(/^.*\n/, 'gymnast,apparatus,score,d\n');
  return meetFrom(text, log);
}

/** What is compared, most important first, the higher ahead: the total, then what the rules add up. */
type Result = readonly number[];
type Key = (score: number, d: number) => number;

const BY_E: Key = (score, d) => score - d;
const BY_D: Key = (_, d) => d;

/** Every result of a team with its chance, apparatus by apparatus: every way its routines can go. */
function resultsOf(meet: Meet, team: string, keys: readonly Key[]): (readonly [Result, number])[] {
  const nothing: readonly [Result, number] = [[0, ...keys.map(() => 0)], 1];
  return (TEAMS[team] ?? []).reduce<(readonly [Result, number])[]>(
    (sums, routines, a) => {
      const scores = routines.map(([score, , falls], i) => {
        const routine = routineOf(meet, `${team}${a}${i}`, CODES[a] ?? '');
        return falls === null || routine === undefined
          ? { scores: [score], chances: [1] }
          : routineDistribution(meet, routine.index);
      });
      const [x, y, z] = scores.map((one) => one.scores.map((s, k) => [s, one.chances[k] ?? 0]));
      const ways = product([x, y, z] as [number, number][][]).map(
        ([three, chance]): readonly [Result, number] => [
          bestTwo(
            three.map((score, i) => [score, routines[i]?.[1] ?? 0]),
            keys,
          ),
          chance,
        ],
      );
      const worth = together(ways);
      return together(
        sums.flatMap(([sum, p]) =>
          worth.map(([one, q]) => [sum.map((s, k) => s + (one[k] ?? 0)), p * q] as const),
        ),
      );
    },
    [nothing],
  );
}

function product(lists: [number, number][][]): (readonly [number[], number])[] {
  return lists.reduce<(readonly [number[], number])[]>(
    (ways, list) => ways.flatMap(([w, p]) => list.map(([s, q]) => [[...w, s], p * q] as const)),
    [[[], 1]],
  );
}

/** The best two of three: of equal scores the one with more of what a rule compares counts. */
function bestTwo(three: (readonly [score: number, d: number])[], keys: readonly Key[]): Result {
  const sorted = [...three].sort((a, b) => b[0] - a[0]);
  const sums = keys.map((key) => {
    const [p, q] = [...sorted].sort((a, b) => b[0] - a[0] || key(...b) - key(...a));
    return (p === undefined ? 0 : key(...p)) + (q === undefined ? 0 : key(...q));
  });
  return [(sorted[0]?.[0] ?? 0) + (sorted[1]?.[0] ?? 0), ...sums];
}

function together(list: (readonly [Result, number])[]): (readonly [Result, number])[] {
  const found = new Map<string, [Result, number]>();
  for (const [result, chance] of list) {
    const name = result.join();
    const one = found.get(name);
    if (one === undefined) found.set(name, [result, chance]);
    else one[1] += chance;
  }
  return [...found.values()];
}

function compare(a: Result, b: Result): number {
  const at = a.findIndex((value, k) => value !== b[k]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}

/** By team the chances of its places: that none, one or both of the others are ahead. */
function placesOf(meet: Meet, keys: readonly Key[]) {
  const results = Object.keys(TEAMS).map((team) =>
    resultsOf(meet, team, keys).sort(([a], [b]) => compare(b, a)),
  );
  return results.map((own, i) => {
    const places = [0, 0, 0];
    const others = results.filter((_, j) => j !== i);
    const next = others.map(() => 0);
    const passed = others.map(() => 0);
    for (const [result, chance] of own) {
      for (const [j, list] of others.entries()) {
        for (let k = next[j] ?? 0; k < list.length; k++) {
          const [theirs, p] = list[k] ?? [[], 0];
          if (compare(theirs, result) <= 0) break;
          passed[j] = (passed[j] ?? 0) + p;
          next[j] = k + 1;
        }
      }
      const [p = 0, q = 0] = passed;
      for (const [k, ahead] of [(1 - p) * (1 - q), p * (1 - q) + q * (1 - p), p * q].entries()) {
        places[k] = (places[k] ?? 0) + chance * ahead;
      }
    }
    return places;
  });
}

describe('with two to come on each of two apparatus, the best two of three count', () => {
  it.each([
    ['[difficulty]', [BY_D], 1],
    ['[execution]', [BY_E], 1],
    ['[difficulty, execution]', [BY_D, BY_E], 1],
    ['[execution, difficulty]', [BY_E, BY_D], 1],
    // Falls alone: teams are level very often.
    ['[difficulty, execution]', [BY_D, BY_E], 0],
  ])('ties %s are as every way it can go', (ties, keys, width) => {
    const meet = meetWith(ties, width);
    const { contenders, error, skipped } = chances(meet);
    expect(skipped).toEqual([]);
    expect(error).toBeLessThanOrEqual(1e-12);
    for (const [i, places] of placesOf(meet, keys).entries()) {
      for (const [k, p] of places.entries()) expect(contenders[i]?.places[k]).toBeCloseTo(p, 11);
    }
  });
});
