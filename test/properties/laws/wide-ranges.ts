/**
 * Chances with realistic, wide ranges and three or four routines to come, against the slow way: every
 * set of scores a gymnast can end with, one by one, whole sets compared by the rule. A few gymnasts
 * only, since each of them has up to millions of sets.
 */
import fc from 'fast-check';
import { modelOf } from '../../../lib/chances/model.js';
import { placeChances } from '../../../lib/chances/place-chances.js';
import { findContest } from '../../../lib/contest/contest.js';
import type { Sketch } from '../../support/random-meet.js';
import { must, randomFrom, readCase } from '../asking.js';
import { weighedScores } from '../enumerate.js';
import { type Court, courtOf, type Judged } from '../naive.js';
import { type Check, comparePlaces } from './chances.js';

const OLYMPIC = ['VT', 'UB', 'BB', 'FX'] as const;
const POINT = 1000;
/** The grid of three judges and tenths of a point. */
const onGrid = (step: number) => Math.floor((step * POINT) / 30);
const stepOf = (score: number) => Math.round((score * 30) / POINT);
/** More grid points than a score can have. */
const STEPS = 512;

const wideArb: fc.Arbitrary<Sketch> = fc
  .record({
    gymnasts: fc.integer({ min: 2, max: 5 }),
    done: fc.constantFrom(0, 0, 1),
    wide: fc.integer({ min: 6, max: 26 }),
    apart: fc.constantFrom(1, 5, 15),
    seed: fc.nat(),
  })
  .map(({ gymnasts, done, wide, apart, seed }) => {
    const random = randomFrom(seed);
    const ids = Array.from({ length: gymnasts }, (_, i) => `g${i}`);
    const ranges = ids.map(() =>
      OLYMPIC.map(() => {
        const lowest = 400 + random(apart);
        const width = wide - random(4);
        const [low, high] = [onGrid(lowest), onGrid(lowest + width)];
        return { low, likely: onGrid(lowest + random(width + 1)), high };
      }),
    );
    const fallOn = ids.map(() => random(4));
    return {
      discipline: 'wag',
      scoring: 'open',
      decimals: 3,
      panel: { counting: 3, step: '0.1' },
      fall: null,
      ceiling: null,
      contests: [{ kind: 'all-around', ties: ['best-scores'], medals: 3 }],
      startOrder: null,
      teams: [],
      usual: {},
      gymnasts: ids.map((id, i) => ({
        id,
        team: null,
        on: null,
        carried: null,
        ranges: Object.fromEntries(
          OLYMPIC.map((code, a) => [
            code,
            {
              ...(ranges[i]?.[a] ?? { low: 0, likely: 0, high: 0 }),
              falls: a === fallOn[i] ? 0.15 : 0,
              d: 5 * POINT,
            },
          ]),
        ),
      })),
      groups: null,
      rotations: null,
      log: ids.flatMap((gymnast, i) =>
        OLYMPIC.slice(0, done).map((apparatus, a) => ({
          gymnast,
          apparatus,
          score: ranges[i]?.[a]?.likely ?? 0,
          d: 5 * POINT,
          e: (ranges[i]?.[a]?.likely ?? 0) - 5 * POINT,
          nd: 0,
        })),
      ),
    };
  });

/** The chance of every set, by a number that is higher the better the set is. */
function setsOf(court: Court, who: Judged): Map<number, number> {
  const options = who.parts.map((part) => {
    const [key = ''] = part.keys;
    const done = court.facts.results.get(key);
    return typeof done === 'object' && done !== null
      ? [{ score: done.score, chance: 1 }]
      : (weighedScores(court, key) ?? []);
  });
  const [first = [], second = [], third = [], fourth = []] = options;
  const sets = new Map<number, number>();
  for (const a of first) {
    for (const b of second) {
      for (const c of third) {
        for (const d of fourth) {
          // Best three: the total without the lowest; best two: without the two lowest; and so on.
          const [low = 0, next = 0, third = 0] = [a, b, c, d]
            .map(({ score }) => stepOf(score))
            .sort((x, y) => x - y);
          const total = a.score + b.score + c.score + d.score;
          const better = [low, next, third].map((step) => STEPS - 1 - step);
          const rank = better.reduce((sum, s) => sum * STEPS + s, total);
          sets.set(rank, (sets.get(rank) ?? 0) + a.chance * b.chance * c.chance * d.chance);
        }
      }
    }
  }
  return sets;
}

/** Every place of everyone: how many others are ahead of each set, those equal to it not. */
function placesOf(all: readonly Map<number, number>[]): number[][] {
  const ranks = new Float64Array(new Set(all.flatMap((sets) => [...sets.keys()]))).sort();
  const ahead = all.map(() => 0);
  const places = all.map(() => all.map(() => 0));
  for (let r = ranks.length - 1; r >= 0; r--) {
    const mass = all.map((sets) => sets.get(ranks[r] ?? -1) ?? 0);
    for (const [i, p] of mass.entries()) {
      if (p === 0) continue;
      let counts = all.map((_, k) => (k === 0 ? 1 : 0)) as number[];
      for (const [j, chance] of ahead.entries()) {
        if (j === i) continue;
        counts = counts.map((q, k) => q * (1 - chance) + (counts[k - 1] ?? 0) * chance);
      }
      const row = places[i];
      for (const [k, q] of counts.entries()) if (row) row[k] = (row[k] ?? 0) + p * q;
    }
    for (const [i, p] of mass.entries()) ahead[i] = (ahead[i] ?? 0) + p;
  }
  return places;
}

export const wideRangesAreTrue = fc.property(wideArb, (sketch: Sketch) => {
  const { facts, meet } = readCase(sketch);
  const court = courtOf(sketch, facts);
  const found = placesOf(court.contenders.map((who) => setsOf(court, who)));
  const truth = new Map(court.contenders.map(({ id }, i) => [id, found[i] ?? []]));
  const model = modelOf(meet, findContest(meet, null));
  // As it is asked for, and by cells whatever the number of results.
  for (const question of [{}, { mostResults: 0 }]) {
    const { places, error } = placeChances(model, question);
    const check: Check = (holds, what) => must(holds, sketch, () => `${what()}, error ${error}`);
    check(error <= 0.0005, () => 'it is exact to the tenth of a percent');
    for (const [i, { contender }] of model.entrants.entries()) {
      comparePlaces(truth, contender.id, places[i] ?? [], error + 1e-12, check, '');
    }
  }
});
