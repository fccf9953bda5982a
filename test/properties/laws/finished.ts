/** What is safe, and who can still catch whom, against every way the others can end. */
import fc from 'fast-check';
import { type FinishedSheet, needChances, needs } from '../../../lib/index.js';
import { type Case, caseArb, contestId, must, type Read, readCase, toComeOf } from '../asking.js';
import {
  against,
  type Court,
  courtOf,
  gridFrom,
  type Judged,
  keysOf,
  recordedWorld,
  standOf,
  standsIn,
  supposed,
  type World,
} from '../naive.js';
import { everyWorld, saysAll, takesPart } from './settled.js';

const SENSES = ['limit', 'ranges'] as const;

/** Whether a rival is ahead of her in a world, or may be by a D or an E that nobody knows. */
function passes(court: Court, her: Judged, rival: Judged, world: World): boolean {
  const stands = standsIn(court, world);
  const own = stands.find((s) => s.who === her);
  if (own === undefined) throw new RangeError(her.id);
  const counted = stands.filter((s) => s.who === rival);
  const { ahead, open } = against(own, stands, court.rules, counted);
  return ahead + open > 0;
}

/** Every completion in which she scores so much, and what is expected in all else of hers. */
function worldsWith(
  worlds: readonly World[],
  rest: readonly (readonly [string, number])[],
  asked: readonly [string, number],
): World[] {
  const all = new Map<string, World>();
  for (const world of worlds) {
    const then = new Map(world);
    for (const [key, score] of [...rest, asked]) then.set(key, supposed(score, null));
    all.set(JSON.stringify([...then]), then);
  }
  return [...all.values()];
}

export const safeIsSafe = fc.property(
  caseArb(0, { scales: ['tiny'], done: [75, 92, 92], gymnasts: { min: 2, max: 5 } }),
  ({ sketch }: Case) => {
    const read = readCase(sketch);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, read.facts, index);
      if (!saysAll(court)) continue;
      for (const by of SENSES) {
        const worlds = everyWorld(court, by);
        if (worlds === null) continue;
        for (const her of court.contenders.filter((c) => takesPart(court, c))) {
          checkSafe(read, court, her, { by, worlds });
        }
      }
    }
  },
);

function checkSafe(
  { meet, sketch, facts }: Read,
  court: Court,
  her: Judged,
  { by, worlds }: { by: (typeof SENSES)[number]; worlds: readonly World[] },
): void {
  const toCome = toComeOf(court, her, recordedWorld(facts));
  if (toCome.length === 0) return;
  const contest = contestId(court.contest);
  const sheet = needs(meet, her.id, { contest, safe: true });
  const safe = sheet.safe?.find((s) => s.by === by);
  if (safe === undefined || sheet.finished !== null) throw new RangeError('not asked');
  const key = `${sheet.gymnast}/${sheet.apparatus}`;
  const rest = toCome
    .filter((k) => k !== key)
    .map((k) => [k, facts.ranges.get(k)?.likely] as const);
  const known = rest.flatMap(([k, likely]) => (likely === undefined ? [] : [[k, likely] as const]));
  if (known.length < rest.length) {
    must(safe.status === null && safe.missing.length > 0, sketch, () => JSON.stringify(safe));
    return;
  }
  const limit = facts.limits.get(key) ?? 0;
  const grid: number[] = [];
  for (let s = gridFrom(facts, sketch.decimals, 0); s <= limit; ) {
    grid.push(s);
    s = gridFrom(facts, sketch.decimals, s + 1);
  }
  const rivals = court.contenders.filter((c) => c !== her);
  const passing = (score: number) => {
    const all = worldsWith(worlds, known, [key, score]);
    return rivals.flatMap((rival) =>
      all.some((world) => passes(court, her, rival, world))
        ? [Math.max(...all.map((world) => standOf(rival, world).total))]
        : [],
    );
  };
  const threats = grid.map(passing);
  // From here on, and not only here.
  const lowest = threats.findLastIndex((t) => t.length > 0) + 1;
  const score = grid[lowest] ?? null;
  const high = facts.ranges.get(key)?.high ?? Number.POSITIVE_INFINITY;
  const status =
    lowest === 0 ? 'secured' : score === null ? 'impossible' : score > high ? 'beyond' : 'needs';
  const most = lowest === 0 ? null : Math.max(...(threats[lowest - 1] ?? []));
  must(
    safe.status === status && safe.score === score && (safe.threat?.total ?? null) === most,
    sketch,
    () =>
      `${key} by ${by}: ${JSON.stringify(safe)}, but in every completion ${status} ${score}, threat ${most}`,
  );
}

export const catchersCanCatch = fc.property(
  caseArb(0, { scales: ['tiny'], done: [75, 92, 92], gymnasts: { min: 2, max: 5 } }),
  ({ sketch }: Case) => {
    const read = readCase(sketch);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, read.facts, index);
      const world = recordedWorld(read.facts);
      const contest = contestId(court.contest);
      for (const her of court.contenders.filter((c) => takesPart(court, c))) {
        if (toComeOf(court, her, world).length > 0) continue;
        const sheet = needs(read.meet, her.id, { contest });
        if (sheet.finished === null) throw new RangeError('she has finished');
        must(
          sheet.apparatus === null && sheet.needs.length === 0 && sheet.toCome.length === 0,
          sketch,
          () => JSON.stringify(sheet),
        );
        checkCatchers(read, court, her, sheet);
      }
    }
  },
);

function checkCatchers(
  { meet, sketch, facts }: Read,
  court: Court,
  her: Judged,
  { finished: { catchers } }: FinishedSheet,
): void {
  const world = recordedWorld(facts);
  const contest = contestId(court.contest);
  const own = standOf(her, world).total;
  const all = new Map(SENSES.map((by) => [by, everyWorld(court, by)]));
  const isKnown = saysAll(court) && [...all.values()].every((worlds) => worlds !== null);
  for (const rival of court.contenders.filter((c) => c !== her)) {
    const said = catchers.find((c) => c.id === rival.id);
    const say = () => `${rival.id} after ${her.id}: ${JSON.stringify(said ?? null)}`;
    const stand = standOf(rival, world);
    const isIn = !stand.out && toComeOf(court, rival, world).length > 0 && stand.total <= own;
    if (!isIn) must(said === undefined, sketch, say);
    else if (isKnown) {
      const can = SENSES.filter((by) =>
        all.get(by)?.some((then) => passes(court, her, rival, then)),
      );
      must((said?.within ?? null) === (can.at(-1) ?? null), sketch, say);
    }
    if (said === undefined) continue;
    const { gymnast, apparatus, need, chance } = said;
    must(keysOf(rival).includes(`${gymnast}/${apparatus}`), sketch, say);
    // Her need, and how often she meets it, as they are asked by themselves.
    const named = court.contest.kind === 'team' ? gymnast : rival.id;
    const asked = { contest, on: apparatus } as const;
    const sheet = needs(meet, named, asked);
    if (sheet.gymnast !== gymnast) continue;
    const target = `beat:${her.id}` as const;
    const [same] =
      need.status === null ? [need] : needs(meet, named, { ...asked, for: target }).needs;
    must(JSON.stringify(same) === JSON.stringify(need), sketch, say);
    if (chance === null || need.status === null) continue;
    const [often] = needChances(meet, needs(meet, named, { ...asked, for: target }));
    must(Math.abs((often?.any ?? 9) - chance) < 1e-9, sketch, say);
  }
}
