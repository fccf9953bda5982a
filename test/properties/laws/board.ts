/** Boards: totals and places, and what may and may not change them. */
import fc from 'fast-check';
import { type Meet, needs, standings, type Target } from '../../../lib/index.js';
import { limitAt } from '../../../lib/meet/meet.js';
import {
  type Facts,
  keyOf,
  type LogLine,
  limitWith,
  readSketch,
  type ScoredFact,
  type Sketch,
} from '../../support/random-meet.js';
import {
  type Case,
  caseArb,
  contestId,
  must,
  putQuestion,
  randomFrom,
  readCase,
  wantedBy,
} from '../asking.js';
import {
  type Court,
  courtOf,
  evenWorld,
  keysOf,
  levelOf,
  placesInPlay,
  placesOf,
  projectedWorld,
  recordedWorld,
  type standOf,
  standsIn,
  type World,
} from '../naive.js';

const isScored = (result: unknown): result is ScoredFact =>
  typeof result === 'object' && result !== null;

/** Routines, results, ranges and limits are read as the texts say. */
export const textsAreRead = fc.property(caseArb(0), ({ sketch }: Case) => {
  const { facts, meet } = readCase(sketch);
  const same = (what: string, read: unknown, said: unknown) =>
    must(
      JSON.stringify(read) === JSON.stringify(said),
      sketch,
      () => `${what}: read ${JSON.stringify(read)}, written ${JSON.stringify(said)}`,
    );
  same(
    'routines',
    meet.routines.map((r) => `${r.gymnast}/${r.apparatus} in ${r.session}.${r.rotation}, ${r.at}`),
    facts.routines.map(({ key, rotation }) => {
      const { session, inSession } = facts.turns[rotation - 1] ?? {};
      return `${key} in ${session}.${inSession}, ${rotation - 1}`;
    }),
  );
  same(
    'limits',
    meet.routines.map((r) => limitAt(meet, r.index)),
    facts.routines.map(({ key }) => facts.limits.get(key)),
  );
  same(
    'results',
    meet.results.map((r) => (isScored(r) ? [r.score, r.d, r.e] : r)),
    facts.routines.map(({ key }) => {
      const result = facts.results.get(key) ?? null;
      return isScored(result) ? [result.score, result.d, result.e] : result;
    }),
  );
  same(
    'ranges',
    meet.ranges.map(({ low, likely, high, falls, d }) => [low, likely, high, falls, d]),
    facts.routines.map(({ key }) => {
      const {
        low = null,
        likely = null,
        high = null,
        falls = null,
        d = null,
      } = rangeOf(facts, key);
      return [low, likely, high, falls, d];
    }),
  );
});

function rangeOf(facts: Facts, key: string) {
  return facts.ranges.get(key) ?? {};
}

/** Places and totals are those of the naive judge, after every rotation too. */
export const boardsAreTrue = fc.property(caseArb(0), ({ sketch }: Case) => {
  const { facts, meet } = readCase(sketch);
  const last = Math.max(0, ...facts.routines.map((r) => r.rotation));
  for (const [index, contest] of sketch.contests.entries()) {
    const court = courtOf(sketch, facts, index);
    for (const after of [null, ...Array.from({ length: last }, (_, i) => i + 1)]) {
      const world = worldAfter(facts, after);
      const stands = standsIn(court, world);
      const places = placesOf(stands, court.rules);
      const board = standings(meet, { contest: contestId(contest), ...namedIn(facts, after) });
      must(board.rows.length === stands.length, sketch, () => 'everyone is on the board, once');
      for (const row of board.rows) {
        const stand = stands.find((s) => s.who.id === row.id);
        const place = places.get(row.id);
        must(
          row.place === place?.place &&
            row.tied === place.tied &&
            row.total === stand?.total &&
            row.done === stand.done,
          sketch,
          () =>
            `${contestId(contest)} after ${after}: ${JSON.stringify(row)}, but ` +
            `place ${place?.place}, tied ${place?.tied}, total ${stand?.total}`,
        );
      }
      // First place first; those without a place at the foot.
      const order = board.rows.map((r) => r.place ?? Number.POSITIVE_INFINITY);
      must(
        order.every((p, i) => i === 0 || p >= (order[i - 1] ?? 0)),
        sketch,
        () => `rows out of order: ${order.join()}`,
      );
    }
  }
});

/** A rotation, counted over all sessions, by its own number. */
function namedIn({ turns }: Facts, after: number | null) {
  const turn = after === null ? undefined : turns[after - 1];
  return { after: turn?.inSession ?? null, session: turn?.session ?? null };
}

/** What was recorded by the end of a rotation. */
function worldAfter(facts: Facts, after: number | null): World {
  const world = recordedWorld(facts);
  for (const { key, rotation } of facts.routines) {
    if (after !== null && rotation > after) world.set(key, null);
  }
  return world;
}

/** Ties, like for like, projection and movement are those of the naive judge, too. */
export const boardsCompareLikeWithLike = fc.property(caseArb(0), ({ sketch }: Case) => {
  const { facts, meet } = readCase(sketch);
  const last = Math.max(0, ...facts.routines.map((r) => r.rotation));
  for (const [index, contest] of sketch.contests.entries()) {
    const court = courtOf(sketch, facts, index);
    for (const after of [null, ...Array.from({ length: last }, (_, i) => i + 1)]) {
      const world = worldAfter(facts, after);
      const stands = standsIn(court, world);
      const even = placesInPlay(court, evenWorld(court, world));
      const to = projectedWorld(court, world);
      const projected = to === null ? null : placesInPlay(court, to);
      const moved = movesOf(court, facts, after);
      const { rows } = standings(meet, { contest: contestId(contest), ...namedIn(facts, after) });
      for (const row of rows) {
        const her = stands.find((s) => s.who.id === row.id);
        if (her === undefined) throw new RangeError(row.id);
        const level = levelOf(her, stands, court.rules);
        const expected = {
          tieBy: level.by,
          levelWith: rows.flatMap(({ id }) => (level.with.has(id) ? [id] : [])),
          evenPlace: even.get(row.id) ?? null,
          projectedPlace: projected?.get(row.id) ?? null,
          moved: moved.get(row.id) ?? null,
        };
        const { tieBy, levelWith, evenPlace, projectedPlace } = row;
        const said = { tieBy, levelWith, evenPlace, projectedPlace, moved: row.moved };
        must(
          JSON.stringify(said) === JSON.stringify(expected),
          sketch,
          () =>
            `${row.id} in ${contestId(contest)} after ${after}: ` +
            `${JSON.stringify(said)}, but ${JSON.stringify(expected)}`,
        );
      }
    }
  }
});

/** Places gained by the last rotation that is over for everyone, at most up to the one that is asked. */
function movesOf(court: Court, facts: Facts, after: number | null): Map<string, number> {
  let full = 0;
  const last = Math.max(0, ...facts.routines.map((r) => r.rotation));
  const isOver = (rotation: number) =>
    facts.routines.every((r) => r.rotation !== rotation || facts.results.get(r.key) != null);
  while (full < (after ?? last) && isOver(full + 1)) full++;
  const moves = new Map<string, number>();
  if (full < 2) return moves;
  const [from, to] = [full - 1, full].map((rotation) =>
    placesOf(standsIn(court, worldAfter(facts, rotation)), court.rules),
  );
  for (const { id } of court.contenders) {
    const [was, is] = [from?.get(id)?.place ?? null, to?.get(id)?.place ?? null];
    if (was !== null && is !== null) moves.set(id, was - is);
  }
  return moves;
}

/** Places and totals by id. */
function boardOf(meet: Meet, contest: string): string {
  const rows = standings(meet, { contest }).rows.map(
    ({ id, place, tied, total, done, projected }) =>
      `${id} ${place} ${tied} ${total} ${done} ${projected}`,
  );
  return rows.sort().join('\n');
}

function shuffled<T>(list: readonly T[], random: (below: number) => number): T[] {
  const rest = [...list];
  return list.flatMap(() => rest.splice(random(rest.length), 1));
}

/** The same rows in another order, those of one routine among themselves as they were. */
function otherLog(log: readonly LogLine[], random: (below: number) => number): LogLine[] {
  const waiting = new Map<string, LogLine[]>();
  for (const line of log) {
    const key = keyOf(line.gymnast, line.apparatus);
    waiting.set(key, [...(waiting.get(key) ?? []), line]);
  }
  const turns = shuffled(log, random);
  return turns.flatMap(({ gymnast, apparatus }) => {
    const next = waiting.get(keyOf(gymnast, apparatus))?.shift();
    return next === undefined ? [] : [next];
  });
}

/** The same meet, its rows, gymnasts, teams and groups in another order. */
export function inOtherOrder(sketch: Sketch, random: (below: number) => number): Sketch {
  // Those who are still to be named have their ids by the place of their group.
  const isFixed = sketch.gymnasts.some((g) => g.unnamed === true);
  const groups =
    sketch.groups === null || isFixed ? sketch.groups : shuffled(sketch.groups, random);
  return {
    ...sketch,
    gymnasts: shuffled(sketch.gymnasts, random),
    teams: shuffled(sketch.teams, random),
    groups: groups?.map((g) => ({ ...g, order: shuffled(g.order, random) })) ?? null,
    log: otherLog(sketch.log, random),
  };
}

/**
 * The order of rows, gymnasts, teams and groups changes no place, no total, and no need at the end
 * (which apparatus is next may well change, so it is named).
 */
export const orderDoesNotMatter = fc.property(
  fc.record({ one: caseArb(1), seed: fc.nat() }),
  ({ one: { sketch, asks }, seed }) => {
    const read = readCase(sketch);
    const random = randomFrom(seed);
    const other = inOtherOrder(sketch, random);
    const meet = readSketch(other);
    for (const contest of sketch.contests) {
      const [here, there] = [read.meet, meet].map((m) => boardOf(m, contestId(contest)));
      must(here === there, other, () => `the board was\n${here}\nand is\n${there}`);
    }
    const [ask] = asks;
    const put = ask === undefined ? null : putQuestion(read, { ...ask, when: 'end' });
    if (ask === undefined || put === null) return;
    const { text } = wantedBy(put, ask);
    const [gymnast = '', on = ''] = put.asked.split('/');
    const answers = [read.meet, meet].map((m) => answerOf(m, gymnast, on, text, put.options));
    must(
      answers[0] === answers[1],
      other,
      () => `the need of ${put.asked} for ${text} was\n${answers[0]}\nand is\n${answers[1]}`,
    );
  },
);

function answerOf(
  meet: Meet,
  gymnast: string,
  on: string,
  target: Target,
  options: Parameters<typeof needs>[2],
): string {
  try {
    const [need] = needs(meet, gymnast, { ...options, on, for: target }).needs;
    if (need === undefined) return 'nothing';
    const { status, ahead, level, tieGoesTo, mark, reach, remainingTotal } = need;
    const total = mark?.total ?? null;
    return JSON.stringify({ status, ahead, level, tieGoesTo, total, reach, remainingTotal });
  } catch (error) {
    return error instanceof Error ? error.message.replace(/ for .*/, '') : '';
  }
}

/** Raising one recorded score, D and ND as they were, never worsens that contender's place. */
export const moreIsNeverWorse = fc.property(
  fc.record({ one: caseArb(0), pick: fc.nat(), by: fc.constantFrom(1, 2, 33, 100, 500, 1000) }),
  ({ one: { sketch }, pick, by }) => {
    const { facts, meet } = readCase(sketch);
    const scored = facts.routines.filter(({ key }) => isScored(facts.results.get(key)));
    const routine = scored[pick % Math.max(scored.length, 1)];
    const was = routine === undefined ? null : facts.results.get(routine.key);
    if (routine === undefined || !isScored(was)) return;
    const { gymnast, apparatus, key } = routine;
    const { d, e } = was;
    const score = Math.min(was.score + by, limitWith(sketch, apparatus, d));
    if (score <= was.score) return;
    const nd = d !== null && e !== null ? d + e - was.score : null;
    const line: LogLine = { gymnast, apparatus, score, d, e: null, nd };
    const raised = { ...sketch, log: [...sketch.log, line] };
    const after = readSketch(raised);
    for (const [index, contest] of sketch.contests.entries()) {
      const court = courtOf(sketch, facts, index);
      const her = court.contenders.find((c) => keysOf(c).includes(key));
      if (her === undefined || !mayCompare(her, facts)) continue;
      const [before, now] = [meet, after].map(
        (m) =>
          standings(m, { contest: contestId(contest) }).rows.find((r) => r.id === her.id)?.place,
      );
      must(
        before != null && now != null && now <= before,
        raised,
        () => `${key} raised to ${score}: ${her.id} was ${before} and is ${now}`,
      );
    }
  },
);

/**
 * Where scores are dropped, one with an E may come to count instead of one without, and a rule that
 * was skipped for all is then applied: that may cost a place, and by the design it should.
 */
function mayCompare(her: Parameters<typeof standOf>[0], facts: Facts): boolean {
  const drops = her.parts.some((p) => p.count !== 'mean' && p.keys.length > p.count);
  if (!drops) return true;
  return keysOf(her).every((key) => {
    const result = facts.results.get(key);
    return !isScored(result) || (result.d !== null && result.e !== null);
  });
}
