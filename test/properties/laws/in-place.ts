/** A score in its place, against the board, the ranges and the scores as the second judge has them. */
import fc from 'fast-check';
import {
  chances,
  type InPlace,
  LastRotationError,
  type Meet,
  needs,
  record,
  scoreInPlace,
} from '../../../lib/index.js';
import { amount, type RoutineFact } from '../../support/random-meet.js';
import {
  assumeFor,
  type Case,
  caseArb,
  contestId,
  must,
  type Put,
  type Read,
  randomFrom,
  readCase,
} from '../asking.js';
import { weighedScores } from '../enumerate.js';
import {
  type Court,
  courtOf,
  type Done,
  type Judged,
  keysOf,
  placesOf,
  recordedWorld,
  standOf,
  standsIn,
} from '../naive.js';

const NEAR = 1e-9;
/** Chances take the longest by far. */
const CHANCES_EVERY = 6;
const MOST_TO_COME = 8;

interface Recording {
  readonly read: Read;
  readonly court: Court;
  readonly her: Judged;
  readonly routine: RoutineFact;
  readonly done: Done;
  readonly inPlace: InPlace;
}

const TARGETS = [
  { target: 'lead', when: 'now', rivals: 'as-is' },
  { target: 'win', when: 'end', rivals: 'likely' },
  { target: 'medal', when: 'end', rivals: 'likely' },
] as const;

export const scoresAreInTheirPlace = fc.property(
  caseArb(1, { done: [10, 40, 75, 92] }),
  ({ sketch, asks: [ask] }: Case) => {
    const read = readCase(sketch);
    const random = randomFrom(ask?.seed ?? 0);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, read.facts, index);
      const world = recordedWorld(read.facts);
      const open = court.contenders.flatMap((her) =>
        standOf(her, world).out
          ? []
          : keysOf(her).flatMap((key) => (world.get(key) === null ? [{ her, key }] : [])),
      );
      const picked = open[random(Math.max(open.length, 1))];
      if (picked === undefined) continue;
      const routine = read.facts.routines.find((r) => r.key === picked.key);
      if (routine === undefined) throw new RangeError(picked.key);
      const score = scoreNear(read, court, routine, random);
      const { told, done } = toldOf(read, routine, score, random);
      const contest = contestId(court.contest);
      const { meet: after, recorded } = record(read.meet, told, { contest });
      const inPlace = scoreInPlace(read.meet, after, recorded);
      if (inPlace === null) throw new RangeError('a score');
      const recording = { read, court, her: picked.her, routine, done, inPlace };
      checkNeeded(recording);
      checkRange(recording);
      checkTonight(recording);
      if ((ask?.seed ?? 0) % CHANCES_EVERY === 0) checkChances(recording, after);
      // However often it was changed before, it is the score that stands.
      const first = record(read.meet, { ...told, score: '0', d: null, e: null }, { contest });
      const again = record(first.meet, told, { contest });
      const changed = scoreInPlace(first.meet, again.meet, again.recorded);
      must(
        again.recorded.was === again.recorded.now ||
          JSON.stringify(changed) === JSON.stringify(inPlace),
        sketch,
        () => `corrected: ${JSON.stringify(changed)}\nat once: ${JSON.stringify(inPlace)}`,
      );
    }
  },
);

/** A score near one that matters. */
function scoreNear(
  { meet, facts }: Read,
  court: Court,
  { key, gymnast, apparatus }: RoutineFact,
  random: (below: number) => number,
): number {
  const contest = contestId(court.contest);
  const { needs: all } = needs(meet, gymnast, { contest, on: apparatus });
  const limit = facts.limits.get(key) ?? 0;
  const { low, likely, high } = facts.ranges.get(key) ?? {};
  const wanted = [
    ...all.flatMap(({ level, ahead }) => [level, ahead, ahead === null ? null : ahead - 1]),
    low,
    likely,
    high,
    high === undefined ? null : high + 1,
    random(limit + 1),
  ].filter((s) => s != null);
  return Math.min(Math.max(wanted[random(wanted.length)] ?? 0, 0), limit);
}

/** The score as it is told: with a D or without. */
function toldOf(
  { facts, sketch }: Read,
  { key, gymnast, apparatus }: RoutineFact,
  score: number,
  random: (below: number) => number,
) {
  const shown = (units: number) => amount(units, sketch.decimals);
  const { d: usual } = facts.ranges.get(key) ?? {};
  const d = usual === undefined || random(3) === 0 ? null : usual;
  const fits = d !== null && score - d >= 0 && score - d <= 10 * 10 ** sketch.decimals;
  const told = { gymnast, apparatus, score: shown(score), note: null };
  if (!fits) {
    const done: Done = { score, d: 'unrecorded', e: 'unrecorded' };
    return { told: { ...told, d: null, e: null }, done };
  }
  return {
    told: { ...told, d: shown(d), e: shown(score - d) },
    done: { score, d, e: score - d },
  };
}

function checkNeeded({ read, court, her, routine, done, inPlace }: Recording): void {
  const contest = contestId(court.contest);
  const said = new Map(inPlace.needed.map((n) => [n.target, n]));
  for (const { target, when, rivals } of TARGETS) {
    const [need] = sheetNeed(read.meet, routine, { contest, target, when, rivals });
    const isOpen =
      need !== undefined && ['needs', 'beyond', 'level-only'].includes(need.status ?? '');
    const one = said.get(target);
    must(isOpen === (one !== undefined), read.sketch, () => `${target}: ${JSON.stringify(one)}`);
    if (one === undefined) continue;
    const put = { court, her, asked: routine.key, when, rivals, rest: 'likely', d: null };
    const world = assumeFor(put as unknown as Put).world.set(routine.key, done);
    const stands = standsIn(court, world);
    const places = placesOf(stands, court.rules);
    const place = places.get(her.id)?.place ?? Number.POSITIVE_INFINITY;
    const sharing = stands.filter((s) => !s.out && places.get(s.who.id)?.place === place).length;
    const wanted = target === 'medal' ? court.medals : 1;
    const got = place > wanted ? 'short' : place + sharing - 1 <= wanted ? 'ahead' : 'level';
    must(
      one.got === got && one.ahead === need?.ahead && one.onGrid === need?.onGrid,
      read.sketch,
      () => `${routine.key} ${done.score} for ${target}: ${JSON.stringify(one)}, not ${got}`,
    );
  }
}

function sheetNeed(
  meet: Meet,
  { gymnast, apparatus }: RoutineFact,
  asked: Pick<Put, 'when' | 'rivals'> & { contest: string; target: 'lead' | 'win' | 'medal' },
) {
  const { contest, target, when, rivals } = asked;
  try {
    return needs(meet, gymnast, { contest, on: apparatus, for: target, when, rivals }).needs;
  } catch (error) {
    if (error instanceof LastRotationError && error.code === 'missing-range') return [];
    throw error;
  }
}

function checkRange({ read, court, routine, done, inPlace }: Recording): void {
  const { expected, overBy, underBy, percentile } = inPlace;
  const weighed = weighedScores(court, routine.key);
  const say = () => `${routine.key} ${done.score}: ${expected} ${percentile}`;
  if (weighed === null) {
    must(expected === null && percentile === null, read.sketch, say);
    return;
  }
  const mean = weighed.reduce((sum, { score, chance }) => sum + score * chance, 0);
  const below = weighed.reduce((sum, w) => sum + (w.score < done.score ? w.chance : 0), 0);
  must(Math.abs((expected ?? 0) - mean) <= 0.5 + 1e-6, read.sketch, say);
  must(Math.abs((percentile ?? 0) - 100 * below) < 100 * NEAR, read.sketch, say);
  const difference = overBy === null ? -(underBy ?? 0) : overBy;
  must(difference === done.score - (expected ?? 0), read.sketch, say);
  must((overBy === null) !== (underBy === null) && underBy !== 0, read.sketch, say);
}

function checkTonight({ read, routine, done, inPlace }: Recording): void {
  const others: number[] = [];
  for (const { key, apparatus } of read.facts.routines) {
    const result = read.facts.results.get(key);
    if (apparatus !== routine.apparatus || key === routine.key) continue;
    if (result !== null && typeof result === 'object') others.push(result.score);
  }
  const { tonight } = inPlace;
  const top = others.length === 0 ? null : Math.max(...others);
  const lead = top === null ? 0 : done.score - top;
  const should = [
    1 + others.filter((s) => s > done.score).length,
    others.includes(done.score),
    others.length + 1,
    top,
    top === null || lead > 0 ? null : -lead,
    top !== null && lead > 0 ? lead : null,
  ];
  const { place, tied, of, best, behind, ahead } = tonight;
  must(
    JSON.stringify([place, tied, of, best?.score ?? null, behind, ahead]) ===
      JSON.stringify(should),
    read.sketch,
    () => `${routine.key} ${done.score} tonight: ${JSON.stringify(tonight)}`,
  );
}

/** The chances are those of the meets before and after, which have laws of their own. */
function checkChances({ read, court, her, inPlace }: Recording, after: Meet): void {
  const contest = contestId(court.contest);
  if (inPlace.chances === null) return;
  if (read.meet.results.filter((r) => r === null).length > MOST_TO_COME) return;
  const [was, is] = [read.meet, after].map(
    (meet) => new Map(chances(meet, null, { contest }).contenders.map((c) => [c.id, c])),
  );
  const all = new Map(inPlace.chances.map((c) => [c.id, c]));
  for (const { id } of court.contenders) {
    for (const target of ['win', 'medal'] as const) {
      const [before, then] = [was?.get(id)?.[target] ?? 0, is?.get(id)?.[target] ?? 0];
      const said = all.get(id)?.[target] ?? { before: 0, after: 0 };
      const off = Math.max(Math.abs(said.before - before), Math.abs(said.after - then));
      must(
        off <= (all.has(id) ? NEAR : 0.001),
        read.sketch,
        () => `${id} ${target}: ${JSON.stringify(said)}, not ${before} and ${then}`,
      );
      if (id !== her.id) continue;
      must(
        Math.abs((inPlace.worth?.[target] ?? 9) - (then - before)) < NEAR,
        read.sketch,
        () => `worth ${JSON.stringify(inPlace.worth)}, not ${then - before}`,
      );
    }
  }
}
