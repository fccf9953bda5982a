/** Chances, against every way the routines to come can go (test/properties/enumerate.ts). */

import fc from 'fast-check';
import { type Chances, type ChancesOptions, chances } from '../../../lib/chances/chances.js';
import { findContest } from '../../../lib/contest/contest.js';
import { placeGoal } from '../../../lib/contest/goal.js';
import { bothSenses, settledIn } from '../../../lib/contest/settled.js';
import { LastRotationError, type Meet } from '../../../lib/index.js';
import { TIE_RULES } from '../../../lib/rules/ties/index.js';
import {
  type RangeSketch,
  RULES,
  type Rule,
  readSketch,
  type Sketch,
} from '../../support/random-meet.js';
import {
  type Ask,
  type Case,
  caseArb,
  contestId,
  must,
  type Read,
  randomFrom,
  readCase,
  toComeOf,
} from '../asking.js';
import {
  ableIn,
  countedPlaces,
  enumeratedPlaces,
  everyWorld,
  type Field,
  fieldOf,
  given,
  type Ladder,
  ladderOf,
  missingIn,
  type PlaceChances,
  placeChances,
  placesIn,
  podiumChance,
  podiumChances,
  podiumName,
  quantileOf,
  routinesToCome,
  type Weighed,
  waysOf,
  weighedScores,
} from '../enumerate.js';
import {
  breakTie,
  type Court,
  courtOf,
  type Judged,
  mayTurn,
  neverSkips,
  recordedWorld,
  standsIn,
} from '../naive.js';
import { inOtherOrder } from './board.js';

/** Two libraries and two orders of adding up agree on a chance to this much. */
const NEAR = 1e-12;
/** Whether `level` is reached where the chances add up to just that may differ by rounding. */
const EDGE = 1e-9;
/** Nobody's routines to come go in more ways than this where they are all tried. */
export const MOST = 3000;

/** Ranges so narrow that all their scores can be tried together. */
export function narrowed(sketch: Sketch, points: number): Sketch {
  const { counting, step } =
    sketch.panel ??
    { open: { counting: 3, step: '0.1' }, ten: { counting: 2, step: '0.05' } }[sketch.scoring];
  const width = Math.ceil((points * Number(step) * 10 ** sketch.decimals) / counting);
  const narrow = (range: RangeSketch): RangeSketch => {
    const { low, likely, high } = range;
    if (low === undefined || likely === undefined || high === undefined) return range;
    const top = Math.min(high, low + width);
    return { ...range, likely: Math.min(likely, top), high: top };
  };
  const all = (ranges: Sketch['usual']) =>
    Object.fromEntries(Object.entries(ranges).map(([code, range]) => [code, narrow(range)]));
  return {
    ...sketch,
    usual: all(sketch.usual),
    gymnasts: sketch.gymnasts.map((g) => ({ ...g, ranges: all(g.ranges) })),
  };
}

/** Nobody brings points in, so that the best scores can be compared. */
function fresh(sketch: Sketch): Sketch {
  return {
    ...sketch,
    teams: sketch.teams.map((t) => ({ ...t, carried: null })),
    gymnasts: sketch.gymnasts.map((g) => ({ ...g, carried: null })),
  };
}

function changed(cases: fc.Arbitrary<Case>, change: (sketch: Sketch, points: number) => Sketch) {
  return fc
    .record({ one: cases, points: fc.integer({ min: 1, max: 4 }) })
    .map(({ one: { sketch, asks }, points }): Case => ({ sketch: change(sketch, points), asks }));
}

const fewArb = { gymnasts: { min: 2, max: 4 }, done: [0, 0, 40] } as const;

/** Meets of which every end can be tried, where ties are common. */
export const smallCaseArb: fc.Arbitrary<Case> = fc.oneof(
  caseArb(1, { scales: ['tiny'], done: [0, 40, 40, 75, 75, 92, 100] }),
  changed(caseArb(1, { scales: ['usual', 'low'], done: [40, 75, 75, 92] }), narrowed),
  // Many to come, and the best scores decide.
  changed(
    caseArb(1, {
      ...fewArb,
      scales: ['tiny'],
      kinds: ['all-around', 'all-around', 'team'],
      ties: ['best-scores'],
    }),
    fresh,
  ),
  changed(caseArb(1, { ...fewArb, scales: ['usual'], kinds: ['all-around'] }), (sketch, points) =>
    fresh(narrowed(sketch, Math.ceil(points / 2))),
  ),
);

/** What `chances` answers, or the code of its refusal. */
export function askFor(meet: Meet, who: string | null, options: ChancesOptions): Chances | string {
  try {
    return chances(meet, who, options);
  } catch (error) {
    if (error instanceof LastRotationError) return error.code;
    throw error;
  }
}

export type Check = (holds: boolean, what: () => string) => void;

// ---------------------------------------------------------------------------------------------

/** Chances are those of full enumeration: places, podiums, the curve, and what is at stake. */
export const chancesAreTrue = fc.property(smallCaseArb, ({ sketch, asks: [ask] }: Case) => {
  const read = readCase(sketch);
  if (ask === undefined) return;
  for (const index of sketch.contests.keys()) checkContest(read, index, ask);
});

function checkContest({ sketch, facts, meet }: Read, index: number, ask: Ask): void {
  const court = courtOf(sketch, facts, index);
  const asked = routineOfSomebody(court, ask);
  const answer = askFor(meet, asked?.named ?? null, { contest: contestId(court.contest) });
  const check: Check = (holds, what) =>
    must(
      holds,
      sketch,
      () => `${contestId(court.contest)}: ${what()}\n${asked?.named}: ${JSON.stringify(answer)}`,
    );
  const missing = missingIn(court);
  if (missing.length > 0) {
    check(answer === 'missing-range', () => `no range for ${missing.join()}`);
    return;
  }
  check(typeof answer === 'object', () => 'expected chances');
  if (typeof answer === 'string') return;
  check(answer.contest === contestId(court.contest), () => 'it is about the contest asked for');
  check(answer.method === 'exact', () => 'it is computed');
  checkSums(court, answer, check);
  checkError(court, answer, check);
  const field = fieldOf(court, MOST);
  if (field === null) return;
  checkSkipped(field, answer, check);
  const ladder = ladderOf(field, answer.skipped);
  const near = nearFor(court, answer);
  checkPlaces(ladder, answer, near, check);
  checkTotals(field, answer, check);
  checkPodiums(court, ladder, answer, near, check);
  checkStakes(court, ladder, answer, near, check);
  if (asked !== null) checkCurve(court, ladder, asked, answer, near, check);
}

/** Somebody with a routine to come, by the name she is asked by, and the routine meant. */
function routineOfSomebody(court: Court, ask: Ask) {
  const world = recordedWorld(court.facts);
  const able = ableIn(court).filter((c) => toComeOf(court, c, world).length > 0);
  const her = able[ask.who % Math.max(able.length, 1)];
  if (her === undefined) return null;
  const toCome = toComeOf(court, her, world);
  const [next = ''] = toCome;
  if (!her.team || !ask.named) return { her, named: her.id, key: next };
  const pick = toCome[ask.on % toCome.length] ?? next;
  const [gymnast = ''] = pick.split('/');
  return { her, named: gymnast, key: toCome.find((k) => k.startsWith(`${gymnast}/`)) ?? pick };
}

/** What holds of any answer, whatever the chances. */
export function checkSums(court: Court, answer: Chances, check: Check): void {
  const { contenders, error } = answer;
  const n = court.contenders.length;
  const able = new Set(ableIn(court).map((c) => c.id));
  check(
    [...contenders.map((c) => c.id)].sort().join() ===
      [...court.contenders.map((c) => c.id)].sort().join(),
    () => 'every contender is there, once',
  );
  const near = error + NEAR;
  for (const { id, win, medal, places } of contenders) {
    check(places.length === n, () => `${id} has a chance for each of ${n} places`);
    check(
      [win, medal, ...places].every((p) => p >= 0 && p <= 1),
      () => `the chances of ${id} are chances`,
    );
    const sum = places.reduce((s, p) => s + p, 0);
    const whole = able.has(id) ? 1 : 0;
    check(Math.abs(sum - whole) <= near, () => `the places of ${id} add up to ${sum}`);
    check(whole === 1 || sum === 0, () => `${id} has no place`);
    check(Math.abs(win - (places[0] ?? 0)) <= NEAR, () => `to win is first place for ${id}`);
    const three = places.slice(0, court.medals).reduce((s, p) => s + p, 0);
    check(Math.abs(medal - three) <= NEAR, () => `a medal is one of the first places for ${id}`);
  }
  // A place is shared or taken by one: as many as k have one of the first k, or more.
  for (let k = 1; k <= able.size; k++) {
    const had = contenders.flatMap((c) => c.places.slice(0, k)).reduce((s, p) => s + p, 0);
    check(had >= k - n * near, () => `${had} are expected on the first ${k} places`);
  }
  // A chance within rounding of 0 does not say whether something can happen; what is settled does.
  for (const [of, still] of [
    ['win', answer.stillWin],
    ['medal', answer.stillMedal],
  ] as const) {
    const isOut = (c: (typeof contenders)[number]) =>
      c.settled.some((s) => s.target === of && s.status === 'out-of-reach');
    const can = contenders.filter((c) => c[of] > NEAR).length;
    const may = contenders.filter((c) => c[of] > NEAR || (able.has(c.id) && !isOut(c))).length;
    check(still >= can && still <= may, () => `${still} can still ${of}: ${can} to ${may}`);
  }
}

/** Nobody has more than so many routines to come. */
function mostToCome(court: Court): number {
  const world = recordedWorld(court.facts);
  return Math.max(0, ...ableIn(court).map((c) => toComeOf(court, c, world).length));
}

/** Where D or E decide between teams that drop scores, one total may come with several of them. */
function isByRoutine(court: Court, skipped: readonly Rule[]): boolean {
  return (
    mayTurn(court) &&
    court.rules.some((r) => /execution|difficulty/.test(r) && !skipped.includes(r))
  );
}

/** Rules by which results on one total differ with the scores to come. */
const SORTED = RULES.filter((name) =>
  TIE_RULES.some((rule) => rule.name === name && rule.sorted !== null),
);

/** Whether the answer must be that of enumeration to the last digits. */
function isWhole(court: Court, { skipped }: Chances): boolean {
  const isByScores = court.rules.some((rule) => !skipped.includes(rule) && SORTED.includes(rule));
  return mostToCome(court) <= 2 || !(isByScores || isByRoutine(court, skipped));
}

export function nearFor(court: Court, answer: Chances): number {
  return isWhole(court, answer) ? NEAR : answer.error + NEAR;
}

export function checkError(court: Court, answer: Chances, check: Check): void {
  const { error } = answer;
  check(error >= 0, () => 'the error is a bound');
  if (isWhole(court, answer)) check(error <= 1e-12, () => 'nothing is left unresolved');
  if (court.contenders.length <= 24 && mostToCome(court) <= 4) {
    check(error <= 0.0005, () => 'a tenth of a percent can be read out');
  }
}

/** Every rule is applied for all or for none. */
function checkSkipped(
  { court, members, over, lacking, mayLack }: Field,
  { skipped }: Chances,
  check: Check,
) {
  if (over) {
    const ties = tiesOnBoard(court);
    const perhaps = [...ties.flatMap((t) => t.lacking), ...mayLack];
    const surely = ties.filter((t) => t.shared).flatMap((t) => t.lacking);
    check(
      skipped.every((rule) => perhaps.includes(rule)),
      () => `only ${perhaps.join()} lack data`,
    );
    check(
      surely.every((rule) => skipped.includes(rule)),
      () => `${surely.join()} are skipped, and said so`,
    );
    return;
  }
  // Where nobody can be level with anybody no rule is missed.
  check(
    members.length < 2 || lacking.every((rule) => skipped.includes(rule)),
    () => `skipped: ${lacking.join()}`,
  );
  check(
    skipped.every((rule) => mayLack.includes(rule)),
    () => `skipped only: ${mayLack.join()}`,
  );
}

/** The ties of the final board, and the rules that could not be applied to each. */
function tiesOnBoard(court: Court): { lacking: readonly Rule[]; shared: boolean }[] {
  const able = new Set(ableIn(court));
  const stands = standsIn(court, recordedWorld(court.facts)).filter((s) => able.has(s.who));
  return [...new Set(stands.map((s) => s.total))].map((total) => {
    const level = stands.filter((s) => s.total === total);
    const { compare, lacking } = breakTie(level, court.rules);
    const shared = level.some((a) => level.some((b) => a !== b && compare(a, b).order === 'equal'));
    return { lacking, shared };
  });
}

export function checkPlaces(ladder: Ladder, answer: Chances, near: number, check: Check): void {
  const truth = placeChances(ladder);
  for (const { id, places } of answer.contenders) {
    comparePlaces(truth, id, places, near, check, '');
  }
}

export function comparePlaces(
  truth: PlaceChances,
  id: string,
  places: readonly number[],
  near: number,
  check: Check,
  when: string,
): void {
  const mine = truth.get(id) ?? [];
  for (const [i, p] of places.entries()) {
    const wanted = mine[i] ?? 0;
    check(
      Math.abs(p - wanted) <= near,
      () => `${when}${id} has place ${i + 1} with chance ${wanted}, not ${p} (± ${near})`,
    );
  }
}

/** Her total at the end: the lowest with at least that cumulative chance. */
function checkTotals({ members }: Field, answer: Chances, check: Check): void {
  for (const { id, total } of answer.contenders) {
    const member = members.find((m) => m.who.id === id);
    if (member === undefined) {
      check(total === null, () => `${id} has no total to come to`);
      continue;
    }
    const found = new Map<number, number>();
    for (const c of member.completions) found.set(c.total, (found.get(c.total) ?? 0) + c.chance);
    const totals = [...found].map(([score, chance]) => ({ score, chance }));
    totals.sort((a, b) => a.score - b.score);
    for (const [name, q] of [
      ['p5', 0.05],
      ['p50', 0.5],
      ['p95', 0.95],
    ] as const) {
      const value = total?.[name] ?? -1;
      const [from, to] = [quantileOf(totals, q - EDGE), quantileOf(totals, q + EDGE)];
      check(value >= from && value <= to, () => `${name} of ${id} is ${from}, not ${value}`);
    }
  }
}

function checkPodiums(
  { medals }: Court,
  ladder: Ladder,
  { podiums, error }: Chances,
  near: number,
  check: Check,
): void {
  const names = podiums.map((p) => podiumName(p.places));
  check(new Set(names).size === names.length, () => 'each podium is there once');
  check(
    podiums.every(({ chance }, i) => i === 0 || chance <= (podiums[i - 1]?.chance ?? 0)),
    () => 'the most likely podium is first',
  );
  const sum = podiums.reduce((s, { chance }) => s + chance, 0);
  const whole = ladder.length === 0 ? 0 : 0.9;
  check(sum >= whole - error - NEAR, () => `the podiums add up to ${sum}`);
  check(sum <= 1 + podiums.length * near, () => `the podiums add up to ${sum}`);
  for (const { places, chance } of podiums) {
    check(places.length === medals, () => `there are ${medals} places on a podium`);
    const wanted = podiumChance(ladder, places);
    check(
      Math.abs(chance - wanted) <= near,
      () => `podium ${podiumName(places)} has chance ${wanted}, not ${chance}`,
    );
  }
  const all = podiumChances(ladder, medals);
  if (all === null) return;
  const least = Math.min(...podiums.map((p) => p.chance));
  for (const [name, chance] of all) {
    check(
      names.includes(name) || chance <= least + near,
      () => `podium ${name} with chance ${chance} is left out`,
    );
  }
}

/** Title chances when a routine scores low or high in its range. */
function checkStakes(
  court: Court,
  ladder: Ladder,
  { atStake }: Chances,
  near: number,
  check: Check,
): void {
  const keys = atStake.map((s) => `${s.gymnast}/${s.apparatus}`);
  const wanted = routinesToCome(court);
  check(
    [...keys].sort().join() === [...wanted].sort().join(),
    () => `at stake: ${wanted.join()}, not ${keys.join()}`,
  );
  for (const [i, { title }] of atStake.entries()) {
    const key = keys[i] ?? '';
    const scores = weighedScores(court, key) ?? [];
    for (const [end, q] of [
      ['low', 0.1],
      ['high', 0.9],
    ] as const) {
      const candidates = [quantileOf(scores, q - EDGE), quantileOf(scores, q + EDGE)];
      const truths = [...new Set(candidates)].map((s) => placeChances(given(ladder, key, s)));
      const differences = truths.map((truth) =>
        ladder.map(({ id }) => {
          const said = title.find((t) => t.id === id)?.[end] ?? 0;
          return Math.abs(said - (truth.get(id)?.[0] ?? 0));
        }),
      );
      check(
        differences.some((list) => list.every((d) => d <= near)),
        () =>
          `title chances when ${key} scores ${candidates.join(' or ')} are ` +
          `${JSON.stringify(ladder.map(({ id }) => [id, truths[0]?.get(id)?.[0]]))}`,
      );
    }
    const ids = new Set(ladder.map((c) => c.id));
    for (const { id, low, high } of title) {
      check(ids.has(id) || (low === 0 && high === 0), () => `${id} has no title to win`);
    }
  }
}

function checkCurve(
  court: Court,
  ladder: Ladder,
  { her, key }: { her: Judged; key: string },
  { curve }: Chances,
  near: number,
  check: Check,
): void {
  const code = key.split('/')[1];
  check(curve?.apparatus === code, () => `the curve is about ${code}`);
  const scores = weighedScores(court, key) ?? [];
  const points = curve?.points ?? [];
  checkPoints(scores, points, check);
  let before = 0;
  for (const { score, win, medal, places } of points) {
    check(Math.abs(win - (places[0] ?? 0)) <= NEAR, () => `to win is first place at ${score}`);
    const three = places.slice(0, court.medals).reduce((s, p) => s + p, 0);
    check(Math.abs(medal - three) <= NEAR, () => `a medal is one of the first places at ${score}`);
    check(win >= before - NEAR, () => `more is no worse at ${score}`);
    before = win;
    if (!scores.some((s) => s.score === score)) continue;
    const truth = placeChances(given(ladder, key, score));
    comparePlaces(truth, her.id, places, near, check, `with ${score} on ${key} `);
  }
}

/** One point for every score that has a chance, rising. */
function checkPoints(
  scores: readonly Weighed[],
  points: readonly { readonly score: number }[],
  check: Check,
): void {
  const said = points.map((p) => p.score);
  check(
    said.every((s, i) => i === 0 || s > (said[i - 1] ?? 0)),
    () => 'the points of the curve rise',
  );
  const wanted = scores.filter((s) => s.chance > NEAR).map((s) => s.score);
  check(
    wanted.every((s) => said.includes(s)) && said.every((s) => scores.some((w) => w.score === s)),
    () => `the curve has ${wanted.join()}, not ${said.join()}`,
  );
}

// ---------------------------------------------------------------------------------------------

/** What is certain has chance 1 or 0, and the other way round. */
export const certaintyIsChance = fc.property(
  fc.oneof(
    caseArb(0, { scales: ['tiny'], done: [40, 75, 92, 92, 100] }),
    caseArb(0, { done: [75, 92, 92, 100] }),
  ),
  ({ sketch }: Case) => {
    const { facts, meet } = readCase(sketch);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, facts, index);
      const name = contestId(court.contest);
      const answer = askFor(meet, null, { contest: name });
      if (typeof answer === 'string') continue;
      const sound: Check = (holds, what) =>
        must(holds, sketch, () => `${name}: ${what()}\n${JSON.stringify(answer)}`);
      checkSums(court, answer, sound);
      checkError(court, answer, sound);
      const contest = findContest(meet, name);
      const alike = decidesAlike(court);
      const hangsOnD =
        routinesToCome(court).length > 0 &&
        court.rules.some((rule) => rule === 'execution' || rule === 'difficulty');
      for (const said of answer.contenders) {
        const contender = contest.contenders.find((c) => c.id === said.id);
        if (contender === undefined) throw new RangeError(said.id);
        const targets = [
          { target: 'win', place: 1, goal: placeGoal(1) },
          { target: 'medal', place: court.medals, goal: placeGoal(court.medals) },
        ] as const;
        const settled = settledIn(bothSenses(meet, contest), contest, contender, targets);
        const check: Check = (holds, what) =>
          must(holds, sketch, () => `${name}, ${said.id}: ${what()}\n${JSON.stringify(answer)}`);
        check(
          JSON.stringify(settled) === JSON.stringify(said.settled),
          () => `settled is ${JSON.stringify(settled)}`,
        );
        for (const { target, place } of targets) {
          const claim = settled.find((s) => s.target === target);
          const chance = said[target];
          if (claim !== undefined && alike) {
            const wanted = claim.status === 'secured' ? 1 : 0;
            check(chance === wanted, () => `${target} is ${claim.status}, and has ${chance}`);
          }
          // A tie that the expected D decides is no certainty.
          if (claim !== undefined || !alike || hangsOnD || (chance !== 0 && chance !== 1)) continue;
          check(
            isAsGoodAsOne(court, answer, said.id, place, chance),
            () => `${target} has ${chance}, and is not settled`,
          );
        }
      }
    }
  },
);

/** Whether a tie is decided the same when it is resolved by itself and when all are. */
function decidesAlike(court: Court): boolean {
  const { kind } = court.contest;
  const vaults = kind === 'apparatus' && court.contest.vaults === 2;
  const rules = court.rules.filter((rule) => vaults || rule !== 'best-vault');
  return routinesToCome(court).length === 0 || neverSkips({ ...court, rules });
}

/** A chance so near 1 that no number holds the rest. */
function isAsGoodAsOne(court: Court, { skipped }: Chances, id: string, place: number, p: number) {
  if (p !== 1 || missingIn(court).length > 0) return false;
  const field = fieldOf(court, 20 * MOST);
  if (field === null) return true;
  const places = placeChances(ladderOf(field, skipped)).get(id) ?? [];
  const rest = places.slice(place).reduce((sum, chance) => sum + chance, 0);
  return rest > 0 && rest < 1e-15;
}

// ---------------------------------------------------------------------------------------------

/** The order of rows, gymnasts, teams and groups changes no chance. */
export const orderChangesNoChance = fc.property(
  fc.record({ one: smallCaseArb, seed: fc.nat() }),
  ({ one: { sketch }, seed }) => {
    const { facts, meet } = readCase(sketch);
    const other = inOtherOrder(sketch, randomFrom(seed));
    const turned = readSketch(other);
    for (const index of sketch.contests.keys()) {
      const court = courtOf(sketch, facts, index);
      const contest = contestId(court.contest);
      const [here, there] = [meet, turned].map((m) => askFor(m, null, { contest }));
      if (here === undefined || there === undefined) return;
      const same = (holds: boolean, what: string) =>
        must(
          holds,
          other,
          () => `${contest}: ${what}\nwas ${JSON.stringify(here)}\nis  ${JSON.stringify(there)}`,
        );
      if (typeof here === 'string' || typeof there === 'string') {
        same(here === there, 'one is refused');
        continue;
      }
      const near = (a: number, b: number | undefined) => Math.abs(a - (b ?? -9)) <= NEAR;
      same(near(here.error, there.error), 'the error');
      same([...here.skipped].join() === [...there.skipped].join(), 'what is skipped');
      same(here.stillWin === there.stillWin, 'how many can win');
      same(here.stillMedal === there.stillMedal, 'how many can medal');
      for (const one of here.contenders) {
        const two = there.contenders.find((c) => c.id === one.id);
        same(near(one.win, two?.win) && near(one.medal, two?.medal), `chances of ${one.id}`);
        same(
          one.places.every((p, i) => near(p, two?.places[i])),
          `places of ${one.id}`,
        );
        same(JSON.stringify(one.settled) === JSON.stringify(two?.settled), `settled ${one.id}`);
      }
      // One that is as likely as the last may stand in its place.
      const least = Math.max(...[here, there].map((a) => a.podiums.at(-1)?.chance ?? 0));
      for (const { places, chance } of here.podiums) {
        if (chance <= least + NEAR) continue;
        const name = podiumName(places);
        const two = there.podiums.find((p) => podiumName(p.places) === name);
        same(near(chance, two?.chance), `podium ${name}`);
      }
      for (const { gymnast, apparatus, title } of here.atStake) {
        const two = there.atStake.find((s) => s.gymnast === gymnast && s.apparatus === apparatus);
        for (const { id, low, high } of title) {
          const said = two?.title.find((t) => t.id === id);
          same(
            near(low, said?.low) && near(high, said?.high),
            `what is at stake for ${id} in ${apparatus} of ${gymnast}`,
          );
        }
      }
    }
  },
);

// ---------------------------------------------------------------------------------------------

/** The judge of all this agrees with a walk through every world of the meet. */
export const judgeIsRight = fc.property(smallCaseArb, ({ sketch }: Case) => {
  const { facts } = readCase(sketch);
  for (const index of sketch.contests.keys()) {
    const court = courtOf(sketch, facts, index);
    if (missingIn(court).length > 0) continue;
    const field = fieldOf(court, MOST);
    const worlds = field === null ? null : everyWorld(court, 300);
    if (field === null || worlds === null) continue;
    const ladder = ladderOf(field, field.lacking);
    const rules = field.over ? court.rules : court.rules.filter((r) => !field.lacking.includes(r));
    const walked = new Map(ladder.map(({ id }) => [id, ladder.map(() => 0)]));
    const podiums = new Map<string, number>();
    const medals = court.medals;
    for (const { world, chance } of worlds) {
      const places = placesIn(court, world, rules);
      for (const [id, place] of places) {
        const own = walked.get(id) ?? [];
        own[place - 1] = (own[place - 1] ?? 0) + chance;
      }
      const name = podiumName(
        Array.from({ length: medals }, (_, p) =>
          [...places].filter(([, place]) => place === p + 1).map(([id]) => id),
        ),
      );
      podiums.set(name, (podiums.get(name) ?? 0) + chance);
    }
    const check: Check = (holds, what) =>
      must(holds, sketch, () => `${contestId(court.contest)}: ${what()}`);
    for (const [way, truth] of [
      ['tried', enumeratedPlaces(ladder)],
      ['counted', countedPlaces(ladder)],
    ] as const) {
      for (const [id, places] of walked) comparePlaces(truth, id, places, 1e-13, check, `${way}: `);
    }
    if (waysOf(ladder) > 2000) continue;
    for (const [name, chance] of podiumChances(ladder, medals) ?? []) {
      check(Math.abs(chance - (podiums.get(name) ?? 0)) < 1e-13, () => `podium ${name}: ${chance}`);
      const listed = name.split(' ').map((ids) => (ids === '' ? [] : ids.split('=')));
      const one = podiumChance(ladder, listed);
      check(Math.abs(chance - one) < 1e-13, () => `podium ${name}: ${chance} or ${one}`);
    }
  }
});
