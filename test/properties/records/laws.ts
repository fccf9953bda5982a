/** Laws that hold for every kind of contest and every tie rule, against every way it can go. */

import { chances } from '../../../lib/chances/chances.js';
import { modelOf } from '../../../lib/chances/model.js';
import { placeChances } from '../../../lib/chances/place-chances.js';
import { placeGoal } from '../../../lib/contest/goal.js';
import { bothSenses, settledIn } from '../../../lib/contest/settled.js';
import { needs, standings } from '../../../lib/index.js';
import { limitAt, routineAt, routineOf } from '../../../lib/meet/meet.js';
import type { Performance } from '../../../lib/rules/entry.js';
import { recordedPerformances } from '../../../lib/rules/recorded.js';
import {
  ableIn,
  compare,
  countIn,
  type Finish,
  finishesIn,
  rulesFor,
  type World,
  worldOf,
  worldsOf,
} from './judge.js';
import type { SmallMeet } from './small-meet.js';

/** Two ways of adding up agree to this much. */
export const NEAR = 1e-12;

/** Stops with the texts of the meet, so that it can be run by hand. */
export function must(small: SmallMeet, holds: boolean, what: () => string): void {
  if (!holds) throw new Error(`${what()}\n\n${small.texts}`);
}

export const everyWorld = (small: SmallMeet) => worldsOf(small, ({ scores }) => scores);

/** By contender who can have one: the chance of each place, each rule applied for all or for none. */
function placesIn(small: SmallMeet, worlds: readonly World[], skipped: readonly string[]) {
  const { contenders, ties } = small.contest;
  const used = ties.map((rule) => !skipped.includes(rule.name));
  const places = new Map(ableIn(small).map((c) => [c.id, contenders.map(() => 0)]));
  for (const { finishes, chance } of worlds) {
    for (const her of finishes) {
      const ahead = finishes.filter(
        (f) => f !== her && compare(f, her, (r) => used[r] ?? false) === 'ahead',
      );
      const hers = places.get(her.contender.id);
      if (hers !== undefined) hers[ahead.length] = (hers[ahead.length] ?? 0) + chance;
    }
  }
  return places;
}

/** Exact chances are those of full enumeration; with too many results to go through, within the error. */
export function chancesAreExact(small: SmallMeet): void {
  const answer = chances(small.meet);
  const worlds = everyWorld(small);
  must(small, answer.method === 'exact' && answer.error <= NEAR, () => `error ${answer.error}`);
  checkSkipped(small, worlds, answer.skipped);
  const truth = placesIn(small, worlds, answer.skipped);
  const none = small.contest.contenders.map(() => 0);
  for (const { id, places } of answer.contenders) {
    const wanted = truth.get(id) ?? none;
    must(
      small,
      places.every((p, k) => Math.abs(p - (wanted[k] ?? 0)) <= NEAR),
      () => `places of ${id}: ${places.join()}, by enumeration ${wanted.join()}`,
    );
  }
  const model = modelOf(small.meet, small.contest);
  const coarse = placeChances(model, { mostResults: 0 });
  for (const [i, { contender }] of model.entrants.entries()) {
    const wanted = truth.get(contender.id) ?? none;
    must(
      small,
      (coarse.places[i] ?? []).every((p, k) => Math.abs(p - (wanted[k] ?? 0)) <= coarse.error),
      () => `places of ${contender.id}: not within ${coarse.error} of ${wanted.join()}`,
    );
  }
}

/** A rule is skipped where somebody lacks the data in some world, and only where somebody may. */
function checkSkipped(small: SmallMeet, worlds: readonly World[], skipped: readonly string[]) {
  const able = ableIn(small);
  for (const [r, { name }] of small.contest.ties.entries()) {
    const keys = worlds.flatMap(({ finishes }) => finishes.map((f) => f.keys[r] ?? 'unknown'));
    const isLacking =
      keys.some((key) => typeof key === 'string') || new Set(keys.map((k) => k.length)).size > 1;
    const isSkipped = skipped.includes(name);
    if (able.length > 1 && isLacking) must(small, isSkipped, () => `${name} is not skipped`);
    if (small.isComplete && !isLacking) must(small, !isSkipped, () => `${name} is skipped`);
  }
}

/** So many meets are drawn. */
export const SAMPLES = 2000;

/** A sample is within four standard errors of full enumeration. */
export function samplesAreNear(small: SmallMeet, seed: number): void {
  const answer = chances(small.meet, null, { sample: SAMPLES, seed });
  const truth = placesIn(small, everyWorld(small), answer.skipped);
  must(small, answer.method === 'sampled', () => 'it is sampled');
  for (const { id, places } of answer.contenders) {
    for (const [k, p] of places.entries()) {
      const wanted = truth.get(id)?.[k] ?? 0;
      // What happens in fewer than one meet of a sample has the deviation of what happens in one.
      const variance = Math.max(wanted * (1 - wanted), 1 / SAMPLES);
      const isCertain = wanted < NEAR || wanted > 1 - NEAR;
      const within = isCertain ? NEAR : 4 * Math.sqrt(variance / SAMPLES);
      must(
        small,
        Math.abs(p - wanted) <= within,
        () => `place ${k + 1} of ${id}: ${p} of a sample, ${wanted} by enumeration`,
      );
    }
  }
}

/** Everyone when others score as expected and one routine scores so much. */
export function finishesAt(small: SmallMeet, routine: number, score: number): Finish[] {
  const scores = new Map([...small.toCome].map(([i, { likely }]) => [i, likely]));
  return finishesIn(small, worldOf(small, scores.set(routine, score)));
}

/** `ahead` is the lowest score that does it, and no higher one loses it. */
export function needsAreMinimalAndSafe(small: SmallMeet): void {
  for (const contender of ableIn(small)) {
    if (!contender.routines.some((i) => small.toCome.has(i))) continue;
    for (const place of [1, 2]) {
      const sheet = needs(small.meet, contender.id, {
        for: place === 1 ? 'win' : `place:${place}`,
        when: 'end',
        rivals: 'likely',
      });
      // Which is next depends on who has been passed over; the law is about whichever is asked.
      const routine =
        routineOf(small.meet, sheet.gymnast ?? '', sheet.apparatus ?? '')?.index ?? -1;
      must(small, small.toCome.has(routine), () => `what ${contender.id} does next is to come`);
      const [need] = sheet.needs;
      const ahead = need?.ahead ?? -1;
      const { apparatus } = routineAt(small.meet, routine);
      const what = (holds: string) => () =>
        `${contender.id} for place ${place}: ${ahead} on ${apparatus} ${holds}`;
      // Who is level and could yet be ahead has the place as much as she has.
      const isReached = (score: number) => {
        const finishes = finishesAt(small, routine, score);
        const her = finishes.find((f) => f.contender === contender);
        return her !== undefined && countIn(finishes, her, ['ahead', 'equal', 'open']) < place;
      };
      must(small, Number.isInteger(ahead) && ahead >= 0, what('is a score'));
      must(small, isReached(ahead), what('does it'));
      must(small, ahead === 0 || !isReached(ahead - 1), what('is the lowest: one unit less does'));
      for (const more of [1, 2, 3, 499, 500, 501, 1000, 1500, 2000, 2500, 5000]) {
        must(small, isReached(ahead + more), what(`does it, but ${more} units more do not`));
      }
    }
  }
}

/** What is settled holds in every way it can go, and what holds in every way is settled. */
export function settledIsCertain(small: SmallMeet): void {
  const { meet, contest } = small;
  const byRanges = everyWorld(small);
  const byLimit = worldsOf(small, (_, routine) =>
    [0, limitAt(meet, routine)].map((score) => ({ score, chance: 1 })),
  );
  const targets = [1, 2, 3].map((place) => ({
    target: `place:${place}`,
    place,
    goal: placeGoal(place),
  }));
  for (const contender of ableIn(small)) {
    const settled = settledIn(bothSenses(meet, contest), contest, contender, targets);
    for (const { target, place } of targets) {
      const claim = settled.find((s) => s.target === target) ?? null;
      const [limit, ranges] = [byLimit, byRanges].map((worlds) =>
        statusIn(worlds, contender.id, place),
      );
      const what = () =>
        `${contender.id}, ${target}: ${JSON.stringify(claim)}; ` +
        `at the limits ${limit}, by the ranges ${ranges}`;
      if (claim !== null) {
        must(small, claim.status === (claim.by === 'limit' ? limit : ranges), what);
      }
      // Where somebody lacks data a third on the same total may have a rule skipped; and a D that is
      // expected makes nothing certain.
      const looksAtParts = contest.ties.some((rule) => rule.needs !== 'scores');
      if (!small.isComplete || looksAtParts) continue;
      must(small, (claim?.status ?? null) === (limit ?? ranges ?? null), what);
      must(small, claim === null || claim.by === (limit === null ? 'ranges' : 'limit'), what);
    }
  }
}

function statusIn(worlds: readonly World[], id: string, place: number) {
  const places = worlds.map(({ finishes }) => {
    const her = finishes.find((f) => f.contender.id === id);
    return her === undefined ? 0 : 1 + countIn(finishes, her, ['ahead']);
  });
  if (places.every((p) => p <= place)) return 'secured';
  return places.every((p) => p > place) ? 'out-of-reach' : null;
}

/** The board when all is done: places are one more than the number ahead. */
export function boardsAreTrue(small: SmallMeet): void {
  const finishes = finishesIn(small, worldOf(small, new Map()));
  const recorded = recordedPerformances(small.meet);
  const isDone = (p: Performance | null) => p !== null && p !== 'out';
  for (const { id, place, total, toCome } of standings(small.meet).rows) {
    const her = finishes.find((f) => f.contender.id === id);
    if (her === undefined) continue;
    must(small, total === her.total, () => `the total of ${id} is ${her.total}, not ${total}`);
    // Rules rank finished sets: only where all on her total have finished they break the tie.
    const level = finishes.filter((f) => f.total === her.total);
    const isFinished = (f: Finish) => !f.contender.routines.some((i) => small.toCome.has(i));
    const isBroken = level.every(isFinished) && toCome.length === 0;
    const isUsed = isBroken ? rulesFor(level) : () => false;
    // A withdrawal by itself puts nobody on the board.
    const isOnBoard = (f: Finish) =>
      f.contender.carried > 0 || f.contender.routines.some((i) => isDone(recorded[i] ?? null));
    const on = finishes.filter(isOnBoard);
    const ahead = on.filter((f) => f !== her && compare(f, her, isUsed) === 'ahead').length;
    const wanted = isOnBoard(her) ? ahead + 1 : null;
    must(small, place === wanted, () => `the place of ${id} is ${wanted}, not ${place}`);
  }
}
