/** `settled` is never contradicted, and where everything can be tried it says all there is to say. */

import fc from 'fast-check';
import { findContest } from '../../../lib/contest/contest.js';
import { placeGoal } from '../../../lib/contest/goal.js';
import { bothSenses, type SettledBy, settledIn } from '../../../lib/contest/settled.js';
import type { Meet } from '../../../lib/index.js';
import { type Chances, chances, LastRotationError, needs, standings } from '../../../lib/index.js';
import { type LogLine, readSketch } from '../../support/random-meet.js';
import {
  type Case,
  caseArb,
  contestId,
  holdOf,
  must,
  type Read,
  randomFrom,
  readCase,
  toComeOf,
} from '../asking.js';
import {
  against,
  type Court,
  courtOf,
  type Done,
  type Judged,
  keysOf,
  mayTurn,
  neverSkips,
  possibleScores,
  recordedWorld,
  standOf,
  supposed,
  type World,
} from '../naive.js';

/** Somebody still to be named, who has done nothing, is in the meet and not ranked in a contest. */
function mayGrow(meet: Meet, id: string): boolean {
  const ranked = new Set(findContest(meet, id).contenders.map((c) => c.id));
  return meet.gymnasts.some((g) => {
    const hers = meet.routines.filter((r) => r.gymnast === g.id);
    const isWaiting = hers.every((r) => meet.results[r.index] === null);
    return g.unnamed && !ranked.has(g.id) && hers.length > 0 && isWaiting;
  });
}

interface Target {
  readonly target: string;
  readonly place: number;
}

function targetsOf(court: Court, her: Judged): Target[] {
  const { place } = holdOf(court, her);
  return [
    { target: 'win', place: 1 },
    { target: 'medal', place: court.medals },
    ...(place === null ? [] : [{ target: 'hold', place }]),
  ];
}

function settledOf({ meet }: Read, court: Court, her: Judged, targets: readonly Target[]) {
  const contest = findContest(meet, contestId(court.contest));
  const contender = contest.contenders.find((c) => c.id === her.id);
  if (contender === undefined) throw new RangeError(`no contender ${her.id}`);
  const goals = targets.map(({ target, place }) => ({ target, goal: placeGoal(place) }));
  return settledIn(bothSenses(meet, contest), contest, contender, goals);
}

/** The scores of a routine to come in one sense: its lowest, its highest, and one between. */
interface Bounds {
  readonly lowest: number;
  readonly highest: number;
  readonly draw: (random: (below: number) => number) => number;
}

function boundsOf(court: Court, key: string, by: SettledBy): Bounds {
  const scores = by === 'ranges' ? possibleScores(court, key) : null;
  if (scores !== null) {
    const [lowest = 0] = scores;
    const draw = (random: (below: number) => number) => scores[random(scores.length)] ?? lowest;
    return { lowest, highest: scores.at(-1) ?? lowest, draw };
  }
  const highest = court.facts.limits.get(key) ?? 0;
  return { lowest: 0, highest, draw: (random) => random(highest + 1) };
}

/** A D score that may come with a score: the expected one, one above it, or any; none on record. */
function shownWith(
  { facts, sketch }: Court,
  key: string,
  score: number,
  random: (below: number) => number,
): number | null {
  const least = Math.max(score - 10 * 10 ** sketch.decimals, 0);
  const any = least + random(score - least + 1);
  const { d = any } = facts.ranges.get(key) ?? {};
  const above = d + 1 + random(2000);
  const wanted = [null, d, above, any][random(4)] ?? null;
  return wanted === null ? null : Math.min(Math.max(wanted, least), score);
}

/** A routine that was done, whatever D and E came with its score. */
function doneWith(
  court: Court,
  key: string,
  score: number,
  random: (below: number) => number,
): Done {
  const d = shownWith(court, key, score, random);
  return d === null ? { score, d: 'unrecorded', e: 'unrecorded' } : { score, d, e: score - d };
}

/** Everything to come, in one of many ways: the worst for her, the best, or at random. */
function completion(
  court: Court,
  her: Judged,
  open: readonly { key: string; bounds: Bounds }[],
  way: number,
  random: (below: number) => number,
): World {
  const world = recordedWorld(court.facts);
  const hers = new Set(keysOf(her));
  for (const { key, bounds } of open) {
    const { lowest, highest, draw } = bounds;
    const own = hers.has(key);
    const score = [
      () => (own ? lowest : highest),
      () => (own ? highest : lowest),
      () => (random(2) === 0 ? lowest : highest),
      () => (own ? lowest : draw(random)),
      () => (own ? highest : draw(random)),
      () => draw(random),
    ][way % 6];
    world.set(key, doneWith(court, key, score?.() ?? lowest, random));
  }
  return world;
}

function openIn(court: Court, by: SettledBy) {
  const keys = new Set(court.contenders.flatMap(keysOf));
  return [...recordedWorld(court.facts)]
    .filter(([key, cell]) => cell === null && keys.has(key))
    .map(([key]) => ({ key, bounds: boundsOf(court, key, by) }));
}

/** How many rivals are ahead of her at the end, or may be by a D or an E that nobody knows. */
function endsIn(court: Court, her: Judged, world: World): { ahead: number; open: number } {
  const stands = court.contenders.map((c) => standOf(c, world));
  const own = stands.find((s) => s.who === her);
  return own === undefined ? { ahead: 0, open: 0 } : against(own, stands, court.rules);
}

/** Whether she takes part to the end, and so has a place to gain or lose. */
export function takesPart(court: Court, her: Judged): boolean {
  const world = recordedWorld(court.facts);
  const stand = standOf(her, world);
  return !stand.out && (stand.placed || toComeOf(court, her, world).length > 0);
}

/** How many completions each claim is tried with. */
const TRIES = 90;

export const settledHolds = fc.property(
  caseArb(1, { done: [40, 75, 92, 92, 100] }),
  ({ sketch, asks: [ask] }: Case) => {
    const read = readCase(sketch);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, read.facts, index);
      for (const her of court.contenders) {
        const targets = targetsOf(court, her);
        const settled = settledOf(read, court, her, targets);
        checkSheet(read, court, her, settled);
        if (!takesPart(court, her)) continue;
        for (const claim of settled) {
          const place = targets.find((t) => t.target === claim.target)?.place ?? 0;
          const open = openIn(court, claim.by);
          const random = randomFrom((ask?.seed ?? 0) + place);
          for (let way = 0; way < (open.length === 0 ? 1 : TRIES); way++) {
            const world = completion(court, her, open, way, random);
            const ended = 1 + endsIn(court, her, world).ahead;
            must(
              claim.status === 'secured' ? ended <= place : ended > place,
              sketch,
              () =>
                `${her.id}: ${JSON.stringify(claim)}, but she ends ${ended} when ` +
                JSON.stringify(open.map(({ key }) => [key, world.get(key)])),
            );
          }
        }
      }
    }
  },
);

/** The sheet says the same. */
function checkSheet(
  { meet, sketch, facts }: Read,
  court: Court,
  her: Judged,
  settled: readonly unknown[],
): void {
  const world = recordedWorld(facts);
  if (standOf(her, world).out || toComeOf(court, her, world).length === 0) return;
  const sheet = needs(meet, her.id, { contest: contestId(court.contest), for: 'lead' });
  must(
    JSON.stringify(sheet.settled) === JSON.stringify(settled),
    sketch,
    () => `the sheet of ${her.id} says ${JSON.stringify(sheet.settled)}`,
  );
}

/** More completions than this are not all tried. */
const MOST = 700;

/**
 * A log that goes on to the end of the meet: any score up to the limit, or any in the ranges, in any
 * order, with whatever D was shown. What was called certain in that sense is what the board says.
 */
export const certaintyIsNeverUndone = fc.property(
  caseArb(1, { done: [40, 75, 92, 92] }),
  ({ sketch, asks: [ask] }: Case) => {
    const read = readCase(sketch);
    const random = randomFrom(ask?.seed ?? 0);
    const said = sketch.contests.flatMap((sketched, index) => {
      const court = courtOf(sketch, read.facts, index);
      const { contenders } = chancesOrNull(read, contestId(sketched)) ?? { contenders: [] };
      return court.contenders
        .filter((her) => takesPart(court, her))
        .flatMap((her) => {
          const targets = targetsOf(court, her);
          const settled = settledOf(read, court, her, targets);
          const shown = contenders.find((c) => c.id === her.id)?.settled ?? [];
          must(
            shown.every((s) => settled.some((t) => JSON.stringify(t) === JSON.stringify(s))),
            sketch,
            () => `the chances say ${JSON.stringify(shown)}, not ${JSON.stringify(settled)}`,
          );
          return settled.map((claim) => ({
            ...claim,
            id: her.id,
            contest: contestId(sketched),
            place: targets.find((t) => t.target === claim.target)?.place ?? 0,
          }));
        });
    });
    for (let i = 0; i < LOGS && said.length > 0; i++) {
      const by = i % 2 === 0 ? 'limit' : 'ranges';
      const after = { ...sketch, log: [...sketch.log, ...restOfLog(read, by, random)] };
      const meet = readSketch(after);
      for (const claim of said.filter((s) => by === 'ranges' || s.by === 'limit')) {
        const { rows } = standings(meet, { contest: claim.contest });
        const place = rows.find((r) => r.id === claim.id)?.place ?? 0;
        must(
          claim.status === 'secured' ? place <= claim.place : place > claim.place,
          after,
          () => `${JSON.stringify(claim)}, but in the end the place is ${place}`,
        );
      }
    }
  },
);

/** How many ways a log goes on. */
const LOGS = 12;

function chancesOrNull({ meet }: Read, contest: string): Chances | null {
  const toCome = meet.results.filter((r) => r === null).length;
  if (toCome > 8) return null;
  try {
    return chances(meet, null, { contest });
  } catch (error) {
    if (error instanceof LastRotationError && error.code === 'missing-range') return null;
    throw error;
  }
}

/** A row for everything to come, in any order, each with the D that was shown, or without one. */
function restOfLog({ sketch, facts }: Read, by: SettledBy, random: (below: number) => number) {
  const court = courtOf(sketch, facts);
  const way = random(3);
  const rows = facts.routines
    .filter(({ key }) => facts.results.get(key) === null)
    .map(({ key, gymnast, apparatus }): LogLine => {
      const { lowest, highest, draw } = boundsOf(court, key, by);
      const score = way === 0 ? draw(random) : random(way + 1) === 0 ? lowest : highest;
      const d = sketch.scoring === 'ten' ? null : shownWith(court, key, score, random);
      return { gymnast, apparatus, score, d, e: null, nd: null };
    });
  return rows
    .map((row) => ({ row, order: random(1000) }))
    .sort((a, b) => a.order - b.order)
    .map(({ row }) => row);
}

/**
 * Scores of a few units, all of them tried: `settled` says what holds in every completion, and says
 * nothing where completions differ.
 */
export const settledIsAllThereIs = fc.property(
  caseArb(0, { scales: ['tiny'], done: [75, 92, 92], gymnasts: { min: 2, max: 5 } }),
  ({ sketch }: Case) => {
    const read = readCase(sketch);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, read.facts, index);
      const senses = (['limit', 'ranges'] as const).map((by) => ({
        by,
        all: everyWorld(court, by),
      }));
      // Where a third on the same total may have a rule skipped, less may be said than is true.
      const isOver = openIn(court, 'limit').length === 0;
      if (senses.some(({ all }) => all === null) || !(isOver || saysAll(court))) continue;
      for (const her of court.contenders.filter((c) => takesPart(court, c))) {
        const targets = targetsOf(court, her);
        const settled = settledOf(read, court, her, targets);
        for (const { target, place } of targets) {
          const claim = settled.find((s) => s.target === target) ?? null;
          // Who is still to be named may yet be ranked where nobody knows of her.
          const isOpenField = mayGrow(read.meet, contestId(court.contest));
          const expected = senses
            .map(({ by, all }) => ({ by, status: statusOver(court, her, all ?? [], place) }))
            .find(
              ({ by, status }) =>
                status !== null && !(isOpenField && by === 'limit' && status === 'secured'),
            );
          must(
            (claim?.status ?? null) === (expected?.status ?? null) &&
              (claim?.by ?? null) === (expected?.by ?? null),
            sketch,
            () =>
              `${her.id} in ${contestId(court.contest)}, ${target}: ${JSON.stringify(claim)}, ` +
              `but every completion says ${JSON.stringify(expected ?? null)}`,
          );
        }
      }
    }
  },
);

/** Every completion; null where there are too many. */
export function everyWorld(court: Court, by: SettledBy): World[] | null {
  let worlds = [recordedWorld(court.facts)];
  for (const { key, bounds } of openIn(court, by)) {
    const all = Array.from({ length: bounds.highest + 1 }, (_, score) => score);
    const scores = (by === 'ranges' ? possibleScores(court, key) : null) ?? all;
    if (worlds.length * scores.length > MOST) return null;
    worlds = worlds.flatMap((world) =>
      scores.map((score) => new Map(world).set(key, supposed(score, null))),
    );
  }
  return worlds;
}

/**
 * Whether no rule can be skipped because of a third on the same total: nobody knows whether the D and
 * the E of what is to come will be on record.
 */
export function saysAll(court: Court): boolean {
  const ofScores = court.rules.filter((rule) => rule !== 'execution' && rule !== 'difficulty');
  const looksAtParts = ofScores.length < court.rules.length;
  const able = court.contenders.filter((c) => takesPart(court, c)).length;
  if (looksAtParts && (able > 2 || mayTurn(court))) return false;
  return neverSkips({ ...court, rules: ofScores });
}

function statusOver(
  court: Court,
  her: Judged,
  worlds: readonly World[],
  place: number,
): 'secured' | 'out-of-reach' | null {
  const ended = worlds.map((world) => endsIn(court, her, world));
  if (ended.every(({ ahead, open }) => ahead + open < place)) return 'secured';
  return ended.every(({ ahead }) => ahead >= place) ? 'out-of-reach' : null;
}
