/**
 * Laws of who goes on, against a walk down the board as the rule is written: she is in while fewer than
 * `perTeam` of her team are in and fewer than `places` are in; those who are level go together.
 */
import { chances } from '../../../lib/chances/chances.js';
import { modelOf } from '../../../lib/chances/model.js';
import { placeChances } from '../../../lib/chances/place-chances.js';
import { advanceGoal } from '../../../lib/contest/goal.js';
import { bothSenses, settledIn } from '../../../lib/contest/settled.js';
import { needs, standings } from '../../../lib/index.js';
import { limitAt } from '../../../lib/meet/meet.js';
import { advancing } from '../../../lib/needs/advancing.js';
import type { Contender } from '../../../lib/rules/contender.js';
import { ableIn, compare, type Finish, finishesIn, rulesFor, worldOf, worldsOf } from './judge.js';
import { everyWorld, finishesAt, must, NEAR, SAMPLES } from './laws.js';
import type { SmallMeet } from './small-meet.js';

type IsUsed = (rule: number) => boolean;
interface Walk {
  readonly in: Contender[];
  readonly reserves: Contender[];
  readonly blocked: Map<Contender, Contender[]>;
}

function rulesOf({ contest }: SmallMeet) {
  if (contest.advance === null) throw new RangeError('nobody advances');
  return contest.advance;
}

/** Those who are level together, the best first. */
function levelsIn(
  small: SmallMeet,
  finishes: readonly Finish[],
  isUsed: IsUsed | null,
): Finish[][] {
  const { ties } = rulesOf(small);
  const isAhead = (a: Finish, b: Finish) => {
    if (ties === 'all') return a.total > b.total;
    const used = isUsed ?? rulesFor(finishes.filter((f) => f.total === b.total));
    return compare(a, b, used) === 'ahead';
  };
  const levels = new Map<number, Finish[]>();
  for (const one of finishes) {
    const ahead = finishes.filter((f) => f !== one && isAhead(f, one)).length;
    levels.set(ahead, [...(levels.get(ahead) ?? []), one]);
  }
  return [...levels].sort(([a], [b]) => a - b).map(([, level]) => level);
}

const idsOf = (all: readonly Contender[]) =>
  all
    .map((c) => c.id)
    .sort()
    .join();

/** Down the board. `isUsed`: rules applied for all or for none, as chances do; null: tie by tie. */
function walk(small: SmallMeet, finishes: readonly Finish[], isUsed: IsUsed | null): Walk {
  const { places, perTeam, reserves } = rulesOf(small);
  const [taken, waiting]: Contender[][] = [[], []];
  const blocked = new Map<Contender, Contender[]>();
  for (const level of levelsIn(small, finishes, isUsed)) {
    const before = [...(taken ?? []), ...(waiting ?? [])];
    const mates = (c: Contender) => before.filter((b) => b.team !== null && b.team === c.team);
    const isFull = (c: Contender) => perTeam !== null && mates(c).length >= perTeam;
    const [isIn, isWaiting] = [(taken?.length ?? 0) < places, (waiting?.length ?? 0) < reserves];
    for (const { contender } of level) {
      if (isFull(contender)) {
        if (isIn || isWaiting) blocked.set(contender, mates(contender).slice(0, perTeam ?? 0));
      } else if (isIn) taken?.push(contender);
      else if (isWaiting) waiting?.push(contender);
    }
  }
  return { in: taken ?? [], reserves: waiting ?? [], blocked };
}

/** Three of one team on the last place that is theirs are all in, and count as many as the quota. */
function isCrowded(small: SmallMeet, finishes: readonly Finish[], isUsed: IsUsed | null): boolean {
  const { perTeam } = rulesOf(small);
  const { in: all } = walk(small, finishes, isUsed);
  return perTeam !== null && all.some((c) => all.filter((o) => o.team === c.team).length > perTeam);
}

/**
 * Who is in by the sum of the rule: fewer than the quota of her own are ahead, and of all who are ahead
 * fewer than the places count. It is the walk, but where more of a team than the quota are level.
 */
function inBySum(
  small: SmallMeet,
  finishes: readonly Finish[],
  isUsed: IsUsed | null,
): Contender[] {
  const { places, perTeam } = rulesOf(small);
  const found: Contender[] = [];
  const ahead: Contender[] = [];
  for (const level of levelsIn(small, finishes, isUsed)) {
    const teams = new Map<string, number>();
    for (const { team, id } of ahead) teams.set(team ?? id, (teams.get(team ?? id) ?? 0) + 1);
    const count = [...teams.values()].reduce((n, k) => n + Math.min(k, perTeam ?? k), 0);
    for (const { contender } of level) {
      const own = teams.get(contender.team ?? contender.id) ?? 0;
      if (count < places && (perTeam === null || own < perTeam)) found.push(contender);
    }
    ahead.push(...level.map((f) => f.contender));
  }
  if (!isCrowded(small, finishes, isUsed)) {
    const walked = walk(small, finishes, isUsed).in;
    must(small, idsOf(walked) === idsOf(found), () => 'the walk and the sum differ');
  }
  return found;
}

/** By contender: the chance of being in, each rule applied for all or for none. */
function truthOf(small: SmallMeet, skipped: readonly string[]): Map<string, number> {
  const used = small.contest.ties.map((rule) => !skipped.includes(rule.name));
  const truth = new Map(small.contest.contenders.map((c) => [c.id, 0]));
  for (const { finishes, chance } of everyWorld(small)) {
    for (const { id } of inBySum(small, finishes, (r) => used[r] ?? false)) {
      truth.set(id, (truth.get(id) ?? 0) + chance);
    }
  }
  return truth;
}

/** Exact chances are those of full enumeration, samples within four standard errors. */
export function advancingIsExact(small: SmallMeet): void {
  const answer = chances(small.meet);
  const truth = truthOf(small, answer.skipped);
  for (const { id, advance } of answer.contenders) {
    const wanted = truth.get(id) ?? 0;
    must(
      small,
      advance !== null && Math.abs(advance - wanted) <= NEAR,
      () => `${id} goes on with ${advance}, by enumeration ${wanted}`,
    );
  }
  for (const { id, chance, settled } of advancing(small.meet).contenders) {
    // What is certain goes by the board, which does without a rule only for those who are level.
    const [claim] = settled;
    const wanted = claim === undefined ? (truth.get(id) ?? 0) : Number(claim.status === 'secured');
    must(small, Math.abs(chance - wanted) <= NEAR, () => `${id}: ${chance}, not ${wanted}`);
  }
  const model = modelOf(small.meet, small.contest);
  for (const [isRough, isByTotal] of [
    [true, false],
    [true, true],
    [false, true],
  ] as const) {
    const { advance, error } = placeChances(model, { advance: true, isRough, isByTotal });
    for (const [i, { contender }] of model.entrants.entries()) {
      const wanted = truth.get(contender.id) ?? 0;
      must(
        small,
        Math.abs((advance?.[i] ?? -1) - wanted) <= error,
        () => `${contender.id}: ${advance?.[i]}, not within ${error} of ${wanted}`,
      );
    }
  }
  const sampled = chances(small.meet, null, { sample: SAMPLES });
  for (const { id, advance } of sampled.contenders) {
    const wanted = truth.get(id) ?? 0;
    const variance = Math.max(wanted * (1 - wanted), 1 / SAMPLES);
    const isCertain = wanted < NEAR || wanted > 1 - NEAR;
    const within = isCertain ? NEAR : 4 * Math.sqrt(variance / SAMPLES);
    must(
      small,
      Math.abs((advance ?? -1) - wanted) <= within,
      () => `${id} goes on with ${advance} of a sample, by enumeration ${wanted}`,
    );
  }
}

/** The curve of one who has a routine to come adds up to her chance, sampled as well. */
export function curvesAddUp(small: SmallMeet): void {
  for (const contender of ableIn(small)) {
    const routine = contender.routines.find((i) => small.toCome.has(i));
    const scores = small.toCome.get(routine ?? -1)?.scores;
    if (scores === undefined) continue;
    const sum = (points: readonly { score: number; advance: number | null }[]) =>
      points.reduce((all, { score, advance }) => {
        const chance = scores.find((s) => s.score === score)?.chance ?? 0;
        return all + chance * (advance ?? Number.NaN);
      }, 0);
    const exact = chances(small.meet, contender.id);
    const whole = exact.contenders.find((c) => c.id === contender.id)?.advance ?? Number.NaN;
    const added = sum(exact.curve?.points ?? []);
    must(small, Math.abs(added - whole) <= NEAR, () => `${contender.id}: ${added}, not ${whole}`);
    const sampled = chances(small.meet, contender.id, { sample: SAMPLES });
    const near = sum(sampled.curve?.points ?? []);
    const within = 4 * Math.sqrt(Math.max(whole * (1 - whole), 1 / SAMPLES) / SAMPLES);
    must(small, Math.abs(near - whole) <= within, () => `${contender.id}: ${near}, not ${whole}`);
  }
}

/** In for certain: whoever is level, or could yet be ahead, counts against her. */
function isSurelyIn(small: SmallMeet, finishes: readonly Finish[], her: Finish): boolean {
  const { places, perTeam, ties } = rulesOf(small);
  const isUsed = rulesFor(finishes.filter((f) => f.total === her.total));
  const against = finishes.filter(
    (f) => f !== her && ['ahead', 'equal', 'open'].includes(compare(f, her, isUsed)),
  );
  must(small, ties === 'rules' || ties === 'all', () => ties);
  const own = against.filter(
    (f) => f.contender.team !== null && f.contender.team === her.contender.team,
  );
  const teams = new Map<string, number>();
  for (const { contender } of against) {
    const team = contender.team ?? contender.id;
    teams.set(team, Math.min((teams.get(team) ?? 0) + 1, perTeam ?? 99));
  }
  const count = [...teams.values()].reduce((a, b) => a + b, 0);
  return count < places && (perTeam === null || own.length < perTeam);
}

/** `ahead` is the lowest score that does it for certain, and no higher one loses it. */
export function needsToAdvanceAreMinimal(small: SmallMeet): void {
  for (const contender of ableIn(small)) {
    const routine = contender.routines.find((i) => small.toCome.has(i));
    if (routine === undefined) continue;
    const [need] = needs(small.meet, contender.id, { for: 'advance' }).needs;
    const ahead = need?.ahead ?? -1;
    const isReached = (score: number) => {
      const finishes = finishesAt(small, routine, score);
      const her = finishes.find((f) => f.contender === contender);
      return her !== undefined && isSurelyIn(small, finishes, her);
    };
    const what = (text: string) => () => `${contender.id} to advance: ${ahead} ${text}`;
    must(small, isReached(ahead), what('does it'));
    must(small, ahead === 0 || !isReached(ahead - 1), what('is the lowest'));
    for (const more of [1, 499, 500, 501, 1000, 1500, 2000]) {
      must(small, isReached(ahead + more), what(`does it, but ${more} units more do not`));
    }
  }
}

/** What is settled holds in every way it can go; what holds in every way is settled. */
export function settledToAdvance(small: SmallMeet): void {
  const goals = [{ target: 'advance', goal: advanceGoal(rulesOf(small)) }];
  const worlds = {
    limit: worldsOf(small, (_, i) =>
      [0, limitAt(small.meet, i)].map((score) => ({ score, chance: 1 })),
    ),
    ranges: everyWorld(small),
  };
  for (const contender of ableIn(small)) {
    const [claim = null] = settledIn(
      bothSenses(small.meet, small.contest),
      small.contest,
      contender,
      goals,
    );
    const status = (by: 'limit' | 'ranges') => {
      const ins = worlds[by].map(({ finishes }) =>
        inBySum(small, finishes, null).includes(contender),
      );
      if (ins.every((is) => is)) return 'secured';
      return ins.every((is) => !is) ? 'out-of-reach' : null;
    };
    const [limit, ranges] = [status('limit'), status('ranges')];
    const what = () => `${contender.id}: ${JSON.stringify(claim)}, not ${limit} or ${ranges}`;
    if (claim !== null) must(small, claim.status === (claim.by === 'limit' ? limit : ranges), what);
    const looksAtParts = small.contest.ties.some((rule) => rule.needs !== 'scores');
    if (!small.isComplete || looksAtParts) continue;
    must(small, (claim?.status ?? null) === (limit ?? ranges), what);
  }
}

/** Once nothing is to come the board says who is in, who waits and whom the quota keeps out. */
export function boardsSayWhoAdvances(small: SmallMeet): void {
  if (small.toCome.size > 0) return;
  const finishes = finishesIn(small, worldOf(small, new Map()));
  if (isCrowded(small, finishes, null)) return;
  const truth = walk(small, finishes, null);
  for (const { id, advance, blockedBy } of standings(small.meet).rows) {
    const contender = small.contest.contenders.find((c) => c.id === id);
    if (contender === undefined) throw new RangeError(id);
    const isIn = truth.in.includes(contender);
    const wanted = isIn ? 'in' : truth.reserves.includes(contender) ? 'reserve' : 'out';
    must(small, advance === wanted, () => `${id} is ${wanted}, not ${advance}`);
    const by = (truth.blocked.get(contender) ?? []).map((c) => c.id);
    must(
      small,
      blockedBy.join() === by.join(),
      () => `${id} is kept out by ${by}, not ${blockedBy}`,
    );
  }
}
