/** Chances in fields as large as a final's, all of them to come, against all they can end with. */
import fc from 'fast-check';
import { casesOf } from '../../../lib/chances/curve.js';
import { podiumsOf } from '../../../lib/chances/medals/podiums.js';
import { modelOf } from '../../../lib/chances/model.js';
import { placeChances } from '../../../lib/chances/place-chances.js';
import { findContest } from '../../../lib/contest/contest.js';
import { routineAt } from '../../../lib/meet/meet.js';
import type { Rule, Sketch } from '../../support/random-meet.js';
import { must, randomFrom, readCase } from '../asking.js';
import {
  countedPlaces,
  fieldOf,
  type Ladder,
  ladderOf,
  rungsOf,
  weighedScores,
} from '../enumerate.js';
import { type Court, courtOf, type Judged } from '../naive.js';
import { type Check, comparePlaces, MOST, narrowed } from './chances.js';

const OLYMPIC = ['VT', 'UB', 'BB', 'FX'] as const;
const POINT = 1000;

interface Large {
  readonly sketch: Sketch;
  readonly who: number;
}

const largeArb: fc.Arbitrary<Large> = fc
  .record({
    gymnasts: fc.integer({ min: 12, max: 24 }),
    ties: fc.constantFrom<readonly Rule[] | null>(
      null,
      null,
      ['best-scores'],
      ['best-scores', 'difficulty'],
    ),
    done: fc.constantFrom(0, 0, 0, 30),
    counting: fc.constantFrom(1, 3),
    wide: fc.integer({ min: 2, max: 5 }),
    spread: fc.constantFrom(1, 4, 8),
    seed: fc.nat(),
  })
  .map(({ gymnasts, ties, done, counting, wide, spread, seed }) => {
    const random = randomFrom(seed);
    const ids = Array.from({ length: gymnasts }, (_, i) => `g${i}`);
    const steps = (j: number) => 13 * POINT + Math.floor((j * POINT) / 10 / counting);
    const log = ids.flatMap((gymnast) =>
      OLYMPIC.flatMap((apparatus) => {
        if (random(100) >= done) return [];
        const score = steps(random(spread + wide));
        return [{ gymnast, apparatus, score, d: 5 * POINT, e: score - 5 * POINT, nd: 0 }];
      }),
    );
    const sketch: Sketch = {
      discipline: 'wag',
      scoring: 'open',
      decimals: 3,
      panel: { counting, step: '0.1' },
      fall: null,
      ceiling: null,
      contests: [{ kind: 'all-around', ties, medals: 3 }],
      startOrder: null,
      teams: [],
      usual: {},
      gymnasts: ids.map((id) => ({
        id,
        team: null,
        on: null,
        carried: null,
        ranges: Object.fromEntries(
          OLYMPIC.map((code) => {
            const lowest = random(spread);
            const width = 1 + random(wide);
            const [low, high] = [steps(lowest), steps(lowest + width)];
            const likely = steps(lowest + random(width + 1));
            const falls = [0, 0.05, 0.1, 0.3][random(4)] ?? 0;
            const d = 5 * POINT + (random(3) * POINT) / 10;
            return [code, { low, likely, high, falls, d }];
          }),
        ),
      })),
      groups: null,
      rotations: null,
      log,
    };
    return { sketch, who: random(gymnasts) };
  });

/** A routine to come whose score is known after all. */
interface Fixed {
  readonly key: string;
  readonly score: number;
}

/** Endings of one gymnast whose sets are all of four scores: which of them were equal matters not. */
function endingsOf(court: Court, who: Judged, fixed: Fixed | null) {
  const { facts, rules } = court;
  let sets = new Map<string, { scores: number[]; d: number; chance: number }>();
  sets.set('', { scores: [], d: 0, chance: 1 });
  for (const part of who.parts) {
    const [key = ''] = part.keys;
    const result = facts.results.get(key);
    const done = typeof result === 'object' && result !== null ? result : null;
    const open = fixed?.key === key ? [{ score: fixed.score, chance: 1 }] : null;
    const all =
      done === null ? (open ?? weighedScores(court, key) ?? []) : [{ ...done, chance: 1 }];
    const d = done?.d ?? facts.ranges.get(key)?.d ?? 0;
    const next: typeof sets = new Map();
    for (const set of sets.values()) {
      for (const { score, chance } of all) {
        const scores = [...set.scores, score].sort((a, b) => a - b);
        const name = scores.join();
        const sum = (next.get(name)?.chance ?? 0) + set.chance * chance;
        next.set(name, { scores, d: set.d + d, chance: sum });
      }
    }
    sets = next;
  }
  return [...sets.values()].map(({ scores: [a = 0, b = 0, c = 0, e = 0], d, chance }) => {
    const total = a + b + c + e;
    const keys = rules.flatMap((rule) => {
      if (rule === 'best-scores') return [total - a, total - a - b, e];
      return [rule === 'execution' ? total - d : d];
    });
    return { chance, value: [total, ...keys] };
  });
}

function largeLadder(court: Court, fixed: Fixed | null = null): Ladder {
  const all = court.contenders.map((who) => ({ who, endings: endingsOf(court, who, fixed) }));
  const rungs = rungsOf(all.flatMap(({ endings }) => endings.map((e) => e.value)));
  return all.map(({ who, endings }) => ({
    id: who.id,
    toCome: [],
    endings: endings.map(({ chance, value }) => ({
      chance,
      scores: [],
      rung: rungs.get(value.join()) ?? -1,
    })),
  }));
}

export const largeFieldsAreTrue = fc.property(largeArb, ({ sketch, who }: Large) => {
  const { facts, meet } = readCase(sketch);
  const court = courtOf(sketch, facts);
  const model = modelOf(meet, findContest(meet, null));
  const truth = countedPlaces(largeLadder(court));
  must(model.skipped.length === 0, sketch, () => 'nothing is skipped');
  // As it is asked for, every result gone through where there are few enough; and by cells.
  const [routine] = model.entrants[who]?.toCome ?? [];
  const supposed = routine === undefined ? [] : [...casesOf(meet, who, routine).entries()];
  const cases = supposed.flatMap(([k, one]) => (k === 1 ? [one, { ...one, title: true }] : []));
  const asked = placeChances(model);
  const medals = podiumsOf(model, asked.groups, asked.places, () => undefined);
  must(medals.error <= 0.0005, sketch, () => `medal outcomes are wrong by ${medals.error}`);
  const truths = cases.map((one) => {
    const { gymnast, apparatus } = routineAt(meet, one.routine);
    const fixed = { key: `${gymnast}/${apparatus}`, score: one.score };
    return countedPlaces(largeLadder(court, fixed));
  });
  for (const most of [undefined, 0]) {
    const question = most === undefined ? { cases } : { cases, mostResults: most };
    const { places, cases: found, error } = placeChances(model, question);
    const check: Check = (holds, what) => must(holds, sketch, () => `${what()}, error ${error}`);
    check(most === 0 || error <= 0.0005, () => 'it is exact to the tenth of a percent');
    check(error >= 0 && error <= 1, () => 'the error is a bound');
    for (const [i, { contender }] of model.entrants.entries()) {
      comparePlaces(truth, contender.id, places[i] ?? [], error, check, '');
    }
    for (const [h, { score }] of cases.entries()) {
      const then = truths[h] ?? truth;
      const id = model.entrants[who]?.contender.id ?? '';
      comparePlaces(then, id, found[h]?.places ?? [], error, check, `if ${id} scores ${score} `);
      for (const [i, { contender }] of model.entrants.entries()) {
        const wins = found[h]?.title?.[i];
        if (wins === undefined) continue;
        comparePlaces(then, contender.id, [wins], error, check, `title if ${id} scores ${score} `);
      }
    }
  }
});

/** The quick way to the endings of a large field is the slow way, where that can be gone. */
export const largeJudgeIsRight = fc.property(largeArb, ({ sketch }: Large) => {
  const small = narrowed({ ...sketch, gymnasts: sketch.gymnasts.slice(0, 3) }, 1);
  const log = sketch.log.filter((l) => small.gymnasts.some((g) => g.id === l.gymnast));
  const { facts } = readCase({ ...small, log });
  const court = courtOf({ ...small, log }, facts);
  const field = fieldOf(court, MOST);
  if (field === null) throw new RangeError('too many ways');
  const [slow, quick] = [ladderOf(field, []), largeLadder(court)].map(countedPlaces);
  if (slow === undefined || quick === undefined) return;
  const check: Check = (holds, what) => must(holds, sketch, what);
  for (const [id, places] of slow) comparePlaces(quick, id, places, 1e-13, check, '');
});
