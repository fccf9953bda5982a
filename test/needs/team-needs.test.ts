/**
 * Needs, and which scores count, where a team drops its lowest: every score from 0.000 to 10.000 is tried,
 * with boards of the test's own.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LastRotationError, type Meet, type NeedsSheet, needs } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';

const APPARATUS = ['VT', 'BB'] as const;
const LIMIT = 10_000;
const FALL = 500;
const LIKELY = [9400, 9500, 9600, 9700, 9750];

interface Field {
  readonly up: number;
  readonly count: number;
  readonly ties: boolean;
  /** By team, by gymnast: what she is expected to score. */
  readonly likely: readonly (readonly number[])[];
  /** Results, in the order they go up: a score, or none by a withdrawal. */
  readonly results: readonly (number | 'DNS')[];
}

const scoreArb = fc.oneof(
  { weight: 8, arbitrary: fc.integer({ min: 360, max: 396 }).map((n) => n * 25) },
  { weight: 1, arbitrary: fc.constantFrom(0, 9000, 10_000) },
);

const fieldArb: fc.Arbitrary<Field> = fc
  .record({
    upCount: fc.constantFrom([4, 3], [5, 4], [6, 5], [5, 3]),
    teams: fc.integer({ min: 2, max: 3 }),
    ties: fc.boolean(),
  })
  .chain(({ upCount: [up = 4, count = 3], teams, ties }) =>
    fc.record({
      up: fc.constant(up),
      count: fc.constant(count),
      ties: fc.constant(ties),
      likely: fc.array(fc.array(fc.constantFrom(...LIKELY), { minLength: up, maxLength: up }), {
        minLength: teams,
        maxLength: teams,
      }),
      results: fc.array(
        fc.oneof(
          { weight: 15, arbitrary: scoreArb },
          { weight: 1, arbitrary: fc.constant('DNS' as const) },
        ),
        { minLength: 0, maxLength: up * teams * 2 - 1 },
      ),
    }),
  );

const points = (units: number) => (units / 1000).toFixed(3);

/** Everyone of the first on vault, of the second on vault, …, then beam. */
function orderOf({ likely }: Field): { key: string; team: string; on: string; likely: number }[] {
  return APPARATUS.flatMap((on) =>
    likely.flatMap((of, t) =>
      of.map((score, i) => ({ key: `t${t}g${i}/${on}`, team: `T${t}`, on, likely: score })),
    ),
  );
}

function meetOf(field: Field): Meet {
  const { up, count, ties, likely, results } = field;
  const gymnasts = likely.flatMap((of, t) =>
    of.map((score, i) => {
      const range = `{ low: ${points(score - 100)}, likely: ${points(score)}, high: ${points(score + 100)}, falls: 0.1 }`;
      return `  - { id: t${t}g${i}, team: T${t}, ranges: { VT: ${range}, BB: ${range} } }`;
    }),
  );
  const rows = orderOf(field)
    .slice(0, results.length)
    .map(({ key }, i) => {
      const result = results[i] ?? 'DNS';
      return `${key.replace('/', ',')},${result === 'DNS' ? result : points(result)}`;
    });
  const yaml = `
discipline: [{ code: VT, name: vault, limit: 10.000 }, { code: BB, name: beam, limit: 10.000 }]
scoring: ten
medals: 2
contests: [{ kind: team, up: ${up}, count: ${count}, ties: [${ties ? 'best-scores' : ''}] }]
gymnasts:
${gymnasts.join('\n')}
`;
  return meetFrom(yaml, rows.length === 0 ? '' : logFrom(...rows));
}

type World = ReadonlyMap<string, number>;

const best = (scores: readonly number[], count: number) =>
  [...scores]
    .sort((a, b) => b - a)
    .slice(0, count)
    .reduce((sum, s) => sum + s, 0);

interface Stand {
  readonly total: number;
  /** The higher of the two apparatus: what is left when the lower is dropped. */
  readonly most: number;
}

/** The stand of a team by its score in one routine, which may be none. */
function standsWith(field: Field, world: World, team: string, asked: string | null) {
  const order = orderOf(field).filter((o) => o.team === team);
  const scoresOn = APPARATUS.map((on) =>
    order.flatMap((o) => (o.on === on && o.key !== asked ? (world.get(o.key) ?? []) : [])),
  );
  const at = order.find((o) => o.key === asked)?.on;
  return (score: number): Stand => {
    const parts = scoresOn.map((scores, i) =>
      best(APPARATUS[i] === at ? [...scores, score] : scores, field.count),
    );
    return { total: (parts[0] ?? 0) + (parts[1] ?? 0), most: Math.max(...parts) };
  };
}

const standIn = (field: Field, world: World, team: string) =>
  standsWith(field, world, team, null)(0);

/** What has been scored, and what is still to come. */
function known(field: Field): { world: Map<string, number>; toCome: ReturnType<typeof orderOf> } {
  const order = orderOf(field);
  const world = new Map<string, number>();
  for (const [i, result] of field.results.entries()) {
    if (result !== 'DNS') world.set(order[i]?.key ?? '', result);
  }
  return { world, toCome: order.slice(field.results.length) };
}

/** `now`: nothing else; `end`: all that is to come as expected, the others at `off` from that. */
function assumedIn(field: Field, asked: string, team: string, when: string, off: number): World {
  const { world, toCome } = known(field);
  if (when === 'now') return world;
  for (const o of toCome) {
    if (o.key !== asked) world.set(o.key, o.likely + (o.team === team ? 0 : off));
  }
  return world;
}

/** Whether she meets the target with each score from 0 to the limit, by the test's own board. */
function heldBy(
  field: Field,
  { asked, team, world, isEnd }: { asked: string; team: string; world: World; isEnd: boolean },
  target: { place: number; rivals: readonly string[] } | { total: number },
): boolean[] {
  const others =
    'total' in target
      ? []
      : target.rivals
          .filter((t) => [...world.keys()].some((key) => key.startsWith(t.replace('T', 't'))))
          .map((t) => standIn(field, world, t));
  const standWith = standsWith(field, world, team, asked);
  return Array.from({ length: LIMIT + 1 }, (_, score) => {
    const hers = standWith(score);
    if ('total' in target) return hers.total >= target.total;
    const isAhead = (o: Stand) =>
      hers.total > o.total || (hers.total === o.total && field.ties && isEnd && hers.most > o.most);
    return others.filter((o) => !isAhead(o)).length < target.place;
  });
}

function sheetOf(meet: Meet, who: string, options: Parameters<typeof needs>[2]): NeedsSheet | null {
  try {
    const sheet = needs(meet, who, options);
    return sheet.finished === null ? sheet : null;
  } catch (error) {
    // Nothing to come of her.
    if (error instanceof LastRotationError) return null;
    throw error;
  }
}

describe('needs of a team that drops its lowest score, by trying every score', () => {
  const ASKED = [
    { for: 'lead', when: 'now', rivals: 'as-is', off: 0 },
    { for: 'win', when: 'end', rivals: 'likely', off: 0 },
    { for: 'win', when: 'end', rivals: 'high', off: 100 },
    { for: 'medal', when: 'end', rivals: 'low', off: -100 },
    { for: 'place:2', when: 'end', rivals: 'likely', off: 0 },
    { for: 'hold', when: 'end', rivals: 'likely', off: 0 },
    { for: 'beat:T1', when: 'end', rivals: 'likely', off: 0 },
    { for: 'total', when: 'end', rivals: 'likely', off: 0 },
  ] as const;

  it.each(ASKED)('$for, $when, $rivals', ({ for: target, when, rivals, off }) => {
    let asked = 0;
    fc.assert(
      fc.property(fieldArb, fc.integer({ min: 0, max: 5 }), (field, member) => {
        const meet = meetOf(field);
        const wanted = Math.round(field.count * 2 * 9600);
        const named = target === 'total' ? (`total:${points(wanted)}` as const) : target;
        for (const who of ['T0', `t0g${member % field.up}`]) {
          const sheet = sheetOf(meet, who, { contest: 'team', for: named, when, rivals });
          const need = sheet?.needs[0];
          if (sheet == null || need === undefined || need.status === null) continue;
          asked++;
          const key = `${sheet.gymnast}/${sheet.apparatus}`;
          const team = 'T0';
          const world = assumedIn(field, key, team, when, off);
          const rivalsOf = field.likely.flatMap((_, t) => (t === 0 ? [] : `T${t}`));
          const places = { lead: 1, win: 1, medal: 2, 'place:2': 2, hold: sheet.hold?.place ?? 0 };
          const goal =
            target === 'total'
              ? { total: wanted }
              : target === 'beat:T1'
                ? { place: 1, rivals: ['T1'] }
                : { place: places[target], rivals: rivalsOf };
          const held = heldBy(field, { asked: key, team, world, isEnd: when === 'end' }, goal);
          const lowest = held.indexOf(true);
          // Minimal, and safe: no higher score loses it.
          expect(held.slice(lowest < 0 ? held.length : lowest)).not.toContain(false);
          if (lowest < 0) {
            expect(['impossible', 'level-only']).toContain(need.status);
            expect(need.ahead ?? 0).toBeGreaterThan(LIMIT);
            continue;
          }
          expect(need.ahead).toBe(lowest);
          expect(need.status === 'secured').toBe(lowest === 0);
          // Falls from what she is expected to score, as long as the target is met.
          const likely = sheet.range.likely ?? 0;
          let falls: number | null = null;
          for (let n = 0; likely - n * FALL >= 0 && held[likely - n * FALL]; n++) falls = n;
          expect(need.fallsAffordable).toBe(falls);
        }
      }),
      { numRuns: times(10), seed: 20241 },
    );
    expect(asked).toBeGreaterThan(times(10));
  });
});

describe('which scores count, by trying every score', () => {
  it('from where hers counts, for certain too; what a fall costs; where nothing changes the place', () => {
    const seen = { pushed: 0, certain: 0, cheap: 0, same: 0 };
    fc.assert(
      fc.property(fieldArb, (field) => {
        const sheet = sheetOf(meetOf(field), 'T0', { contest: 'team' });
        if (sheet === null) return;
        const { counting, apparatus, gymnast, range } = sheet;
        const order = orderOf(field).filter((o) => o.team === 'T0' && o.on === apparatus);
        const { world, toCome } = known(field);
        const scores = order.flatMap((o) => world.get(o.key) ?? []);
        const others = order.filter(
          (o) => toCome.some((r) => r.key === o.key) && o.key !== `${gymnast}/${apparatus}`,
        );
        expect(counting).not.toBeNull();
        if (counting === null) return;
        const { count } = field;
        expect(counting.of).toBe(scores.length + 1 + others.length);
        expect(counting.scores.map((s) => s.score)).toEqual([...scores].sort((a, b) => b - a));
        expect(counting.scores.filter((s) => s.counts).length).toBe(Math.min(scores.length, count));
        expect(counting.toCome).toEqual(others.map((o) => o.key.split('/')[0]));

        const value = (...more: number[]) => best([...scores, ...more], count);
        for (let score = 1; score <= LIMIT; score += 1) {
          const counts = value(score) > value();
          if (counts !== score >= counting.now.from) expect(counting.now.from).toBe(score);
        }
        // All that follows at the limit is the worst for her.
        const limits = others.map(() => LIMIT);
        const isCertain = (score: number) => value(score, ...limits) > value(...limits);
        const first = Array.from({ length: LIMIT }, (_, i) => i + 1).find(isCertain);
        const { certain } = counting;
        if (certain === null) expect(first).toBeUndefined();
        else expect(first ?? LIMIT + 1).toBe(Math.max(certain.from, 1));

        const likely = range.likely ?? 0;
        expect(counting.fall?.now.costs).toBe(value(likely) - value(likely - FALL));
        const after = others.map((o) => o.likely);
        expect(counting.fall?.expected?.costs ?? null).toBe(
          others.length === 0 ? null : value(likely, ...after) - value(likely - FALL, ...after),
        );

        const key = `${gymnast}/${apparatus}`;
        const end = assumedIn(field, key, 'T0', 'end', 0);
        const standWith = standsWith(field, end, 'T0', key);
        const rivals = field.likely.flatMap((_, t) =>
          t === 0 ? [] : standIn(field, end, `T${t}`),
        );
        const placeWith = (score: number) => {
          const hers = standWith(score);
          const all = [hers, ...rivals];
          const order = (a: Stand) => a.total - hers.total || (field.ties ? a.most - hers.most : 0);
          const level = all.filter((a) => order(a) === 0).length > 1;
          return `${1 + all.filter((a) => order(a) > 0).length}${level ? '=' : ''}`;
        };
        const places = new Set(Array.from({ length: LIMIT / 5 + 1 }, (_, i) => placeWith(i * 5)));
        const { place } = counting;
        if (place === null) expect(places.size).toBeGreaterThan(1);
        else expect([...places]).toEqual([`${place.place}${place.tied ? '=' : ''}`]);

        if (counting.now.over !== null) seen.pushed++;
        if (certain !== null && others.length > 0) seen.certain++;
        if ((counting.fall?.now.costs ?? FALL) < FALL) seen.cheap++;
        if (place !== null) seen.same++;
      }),
      { numRuns: times(25), seed: 20241 },
    );
    // None of the cases is empty.
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(2);
  });
});
