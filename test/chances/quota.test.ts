/**
 * Places where at most so many of each team count as ahead of her: another way of counting those ahead,
 * given to the sweep that goes through everyone's results. Against every way the scores can go.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type ContestModel, modelOf, totalOf } from '../../lib/chances/model.js';
import { groupsOf } from '../../lib/chances/place-chances.js';
import type { AheadCount, AheadCounter, CountSums } from '../../lib/chances/sweep/ahead.js';
import { sweepPlaces } from '../../lib/chances/sweep/places.js';
import { findContest } from '../../lib/contest/contest.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** The chances of how many of some are ahead, each with a chance of its own. */
function countOf(chances: readonly number[]): number[] {
  let counts = [1];
  for (const p of chances) {
    const next = new Array<number>(counts.length + 1).fill(0);
    for (const [k, chance] of counts.entries()) {
      next[k] = (next[k] ?? 0) + chance * (1 - p);
      next[k + 1] = (next[k + 1] ?? 0) + chance * p;
    }
    counts = next;
  }
  return counts;
}

/** The same when those above the quota count no more. */
function cut(counts: readonly number[], quota: number): number[] {
  const within = counts.slice(0, quota + 1);
  const rest = counts.slice(quota + 1).reduce((a, b) => a + b, 0);
  within[within.length - 1] = (within.at(-1) ?? 0) + rest;
  return within;
}

function sumOf(a: readonly number[], b: readonly number[]): number[] {
  const sum = new Array<number>(a.length + b.length - 1).fill(0);
  for (const [i, p] of a.entries()) {
    for (const [j, q] of b.entries()) sum[i + j] = (sum[i + j] ?? 0) + p * q;
  }
  return sum;
}

/** Of each other team at most `perTeam` count as ahead; her own team counts whole. */
function quotaCounter(teamOf: readonly string[], perTeam: number): AheadCounter {
  return (size: number, { sums, bounds }: CountSums): AheadCount => {
    const ahead = new Float64Array(size);
    const set = (who: number, p: number) => {
      ahead[who] = p;
    };
    const addOthers = (who: number, at: number, weight: number, bound: number) => {
      let counts = [1];
      for (const team of new Set(teamOf)) {
        const chances = [...ahead].filter((_, i) => i !== who && teamOf[i] === team);
        const whole = countOf(chances);
        counts = sumOf(counts, team === teamOf[who] ? whole : cut(whole, perTeam));
      }
      for (const [k, chance] of counts.entries()) {
        sums[at + k] = (sums[at + k] ?? 0) + weight * chance;
        bounds[at + k] = (bounds[at + k] ?? 0) + bound * chance;
      }
    };
    const addAndSet = (who: number, at: number, weight: number, p: number) => {
      addOthers(who, at, weight, 0);
      set(who, p);
    };
    return { set, addOthers, addAndSet };
  };
}

/** Everyone's total in every way it can go; level totals share. */
function everyWay(model: ContestModel, teamOf: readonly string[], perTeam: number): number[][] {
  const size = model.entrants.length;
  const totals = model.entrants.map(totalOf);
  const places = teamOf.map(() => new Array<number>(size).fill(0));
  const had: number[] = [];
  const go = (i: number, chance: number): void => {
    const own = totals[i];
    if (own !== undefined) {
      for (const [k, score] of own.scores.entries()) {
        had[i] = score;
        go(i + 1, chance * (own.chances[k] ?? 0));
      }
      return;
    }
    for (const [her, row] of places.entries()) {
      const ahead = new Map<string, number>();
      for (const [j, total] of had.entries()) {
        if (total <= (had[her] ?? 0)) continue;
        const team = teamOf[j] ?? '';
        ahead.set(team, (ahead.get(team) ?? 0) + 1);
      }
      let count = 0;
      for (const [team, n] of ahead) {
        count += team === teamOf[her] ? n : Math.min(n, perTeam);
      }
      row[count] = (row[count] ?? 0) + chance;
    }
  };
  go(0, 1);
  return places;
}

interface Drawn {
  /** By gymnast: her team, where her range begins, and whether she has her score already. */
  readonly field: readonly { team: number; low: number; falls: number; isDone: boolean }[];
  readonly perTeam: number;
}

const drawn: fc.Arbitrary<Drawn> = fc.record({
  field: fc.array(
    fc.record({
      team: fc.nat(2),
      low: fc.nat(3),
      falls: fc.constantFrom(0, 0.25),
      isDone: fc.boolean(),
    }),
    { minLength: 3, maxLength: 6 },
  ),
  perTeam: fc.integer({ min: 1, max: 3 }),
});

const points = (units: number) => (units / 1000).toFixed(3);

/** A qualification on floor with coarse scores, so that many are level. */
function modelIn({ field }: Drawn): ContestModel {
  const lines = field.map(({ team, low, falls }, i) => {
    const least = 12_000 + 500 * low;
    const three = `low: ${points(least)}, likely: ${points(least)}, high: ${points(least + 500)}`;
    return `  - { id: g${i}, team: T${team}, ranges: { FX: { ${three}, falls: ${falls} } } }`;
  });
  const rules =
    'panel: { counting: 1, step: 0.5 }\nfall: 0.500\ncontests: [{ kind: apparatus, on: FX, ties: [] }]';
  const done = field.flatMap(({ low, isDone }, i) =>
    isDone && i > 0 ? [`g${i},FX,${points(12_500 + 500 * low)}`] : [],
  );
  const meet = meetFrom(
    `discipline: wag\nscoring: open\n${rules}\ngymnasts:\n${lines.join('\n')}\n`,
    logFrom(...done),
  );
  return modelOf(meet, findContest(meet, null));
}

/** By entrant and place, with everybody's results in groups. */
function swept(model: ContestModel, counter?: AheadCounter) {
  const size = model.entrants.length;
  const { groups } = groupsOf(model, {}, 0);
  const asked = model.entrants.map(() => true);
  const { places } = sweepPlaces(groups, { of: [], asked, ...(counter && { counter }) });
  return model.entrants.map((_, i) => [...places.subarray(i * size, (i + 1) * size)]);
}

it('places under a quota are those of full enumeration', () => {
  let limited = 0;
  fc.assert(
    fc.property(drawn, (one) => {
      const model = modelIn(one);
      const teamOf = model.entrants.map(({ contender }) => contender.team ?? '');
      const found = swept(model, quotaCounter(teamOf, one.perTeam));
      const truth = everyWay(model, teamOf, one.perTeam);
      for (const [i, row] of truth.entries()) {
        for (const [k, p] of row.entries()) expect(found[i]?.[k]).toBeCloseTo(p, 12);
      }
      const plain = swept(model);
      if (plain.some((row, i) => row.some((p, k) => Math.abs(p - (truth[i]?.[k] ?? 0)) > 0.01))) {
        limited++;
      }
      // With a quota nobody reaches, everybody counts.
      const whole = swept(model, quotaCounter(teamOf, one.field.length));
      for (const [i, row] of plain.entries()) {
        for (const [k, p] of row.entries()) expect(whole[i]?.[k]).toBeCloseTo(p, 12);
      }
    }),
    { numRuns: 60, seed: 20_250 },
  );
  // The quota changes the places of many of these fields.
  expect(limited).toBeGreaterThan(15);
});

// By hand: bea and cleo of one team are surely ahead of ada, and dana of another is with 0.75, since
// with a fall she has 12.500 to ada's 13.000 and with none 13.500 (falls 0.25: 0.75, 0.1875, 0.0625).
it('two of one team ahead of her count as one under a quota of one', () => {
  const sure = (score: string, falls: number) =>
    `FX: { low: ${score}, likely: ${score}, high: ${score}, falls: ${falls} }`;
  const meet = meetFrom(
    `discipline: wag
scoring: open
fall: 1.000
contests: [{ kind: apparatus, on: FX, ties: [] }]
gymnasts:
  - { id: ada, team: NQY, ranges: { ${sure('13.000', 0)} } }
  - { id: bea, team: HBR, ranges: { ${sure('14.000', 0)} } }
  - { id: cleo, team: HBR, ranges: { ${sure('14.500', 0)} } }
  - { id: dana, team: LTH, ranges: { ${sure('13.500', 0.25)} } }
`,
  );
  const model = modelOf(meet, findContest(meet, null));
  const teams = model.entrants.map(({ contender }) => contender.team ?? '');
  const adas = (counter?: AheadCounter) => swept(model, counter)[0] ?? [];
  const near = (...chances: number[]) => chances.map((p) => expect.closeTo(p, 12));
  expect(adas()).toEqual(near(0, 0, 0.25, 0.75));
  expect(adas(quotaCounter(teams, 1))).toEqual(near(0, 0.25, 0.75, 0));
  // Of her own team all count: cleo is ahead of bea, who has nobody else ahead.
  expect(swept(model, quotaCounter(teams, 1))[1]).toEqual(near(0, 1, 0, 0));
});
