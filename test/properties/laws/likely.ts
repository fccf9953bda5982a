/**
 * Needs and chances together: the chance of a target by her score, against totals that are tried one
 * by one; and the score for a chance, against one score after another.
 */
import fc from 'fast-check';
import { type Contest, findContest } from '../../../lib/contest/contest.js';
import {
  chances,
  LastRotationError,
  type Meet,
  type Need,
  needChances,
  needs,
  outcomes,
} from '../../../lib/index.js';
import { limitAt, type Range, rangeAt, routineAt, routineOf } from '../../../lib/meet/meet.js';
import { derived } from '../../../lib/meet/sound.js';
import { type CurveTarget, targetByScore } from '../../../lib/needs/target-curve.js';
import { distributionOf } from '../../../lib/range/given.js';
import type { Contender } from '../../../lib/rules/contender.js';
import { assumed, entryOf } from '../../../lib/rules/entry.js';
import { recordedPerformances } from '../../../lib/rules/recorded.js';
import { asScore } from '../../../lib/score.js';
import { gridAtOrAbove, gridAtOrBelow } from '../../../lib/scoring.js';
import {
  type Ask,
  type Case,
  contestId,
  must,
  type Put,
  putQuestion,
  type Read,
  randomFrom,
  readCase,
  wantedBy,
} from '../asking.js';
import { smallCaseArb } from './chances.js';

const NEAR = 1e-9;
/** Nobody's routines to come are tried in more ways than this. */
const MOST = 3000;
const CHANCES = [0.01, 0.1, 0.25, 0.5, 0.5, 0.75, 0.9, 0.99, 1];

/** A target of somebody's next score, as the library is asked for it. */
interface Question {
  readonly meet: Meet;
  readonly contest: Contest;
  readonly contender: Contender;
  readonly routine: number;
  readonly target: CurveTarget;
  readonly when: Put['when'];
  readonly margin: number;
  readonly need: (chance: number | null) => Need | string;
  readonly check: (holds: boolean, what: string) => void;
}

function questionOf(read: Read, ask: Ask): Question | null {
  const put = putQuestion(read, ask);
  if (put === null) return null;
  const wanted = wantedBy(put, ask);
  if (wanted.kind === 'hold' && wanted.place === null) return null;
  const contest = findContest(read.meet, contestId(put.court.contest));
  const contender = contest.contenders.find((c) => c.id === put.her.id);
  const [gymnast = '', apparatus = ''] = put.asked.split('/');
  const routine = routineOf(read.meet, gymnast, apparatus)?.index;
  if (contender === undefined || routine === undefined) return null;
  const { when } = put;
  const margin = [0, 0, 0, 1, 40, 300][ask.margin] ?? 0;
  const d = put.d;
  const { ranges } = read.meet;
  const shown =
    d === null ? ranges : ranges.map((r, i) => (i === routine ? withD(read, r, i, d) : r));
  const rivals = when === 'now' ? ('as-is' as const) : ('likely' as const);
  const options = { ...put.options, when, rivals, rest: 'likely' as const, for: wanted.text };
  const target: CurveTarget =
    wanted.kind === 'total'
      ? { total: wanted.total }
      : wanted.kind === 'beat'
        ? { beat: wanted.id }
        : { place: wanted.place ?? 1 };
  return {
    meet: derived(read.meet, { ranges: shown }),
    contest,
    contender,
    routine,
    target,
    when,
    margin,
    need: (chance) => {
      try {
        const sheet = needs(read.meet, put.named, { ...options, margin: asScore(margin), chance });
        return sheet.needs[0] ?? 'none';
      } catch (error) {
        if (error instanceof LastRotationError) return error.code;
        throw error;
      }
    },
    check: (holds, what) =>
      must(
        holds,
        read.sketch,
        () => `${what}\n${put.named}: ${JSON.stringify({ ...options, margin })}`,
      ),
  };
}

/** The curve, or null where a range is missing. */
function curveOf({ meet, contest, contender, routine, target, when, margin }: Question) {
  try {
    return targetByScore(meet, contest, {
      contender: contender.id,
      routine,
      target,
      when,
      margin,
    });
  } catch (error) {
    if (error instanceof LastRotationError && error.code === 'missing-range') return null;
    throw error;
  }
}

// ---------------------------------------------------------------------------------------------

/** The chance of a target given a score lies where totals, tried one by one, put it. */
export const curvesAreTrue = fc.property(smallCaseArb, ({ sketch, asks: [ask] }: Case) => {
  const read = readCase(sketch);
  const question = ask && questionOf(read, ask);
  if (!question) return;
  const curve = curveOf(question);
  if (curve === null) return;
  const { when, check } = question;
  const { points, error } = curve;
  // Her own range is missing, which the board of now can do without.
  if (points.length === 0 && when === 'now') return;
  check(
    Math.abs(points.reduce((sum, p) => sum + p.chance, 0) - 1) < NEAR,
    'the chances of her scores add up to 1',
  );
  if (when === 'now') {
    checkBoards(question, points);
    return;
  }
  const random = randomFrom(ask.seed);
  for (let n = 0; n < 3; n++) {
    const point = points[random(points.length)];
    const bounds = point && boundsOf(question, point.score);
    if (!point || !bounds) continue;
    const { least, most } = bounds;
    check(
      point.met >= least - error - NEAR && point.met <= most + error + NEAR,
      `with ${point.score} the target has ${point.met}, between ${least} and ${most}`,
    );
  }
});

/** On the board of now nothing is left to chance: the need says it all. */
function checkBoards(
  { need, target, check }: Question,
  points: readonly { score: number; met: number }[],
): void {
  const found = need(null);
  if (typeof found === 'string' || found.ahead === null) return;
  const { ahead, level } = found;
  for (const { score, met } of points) {
    check(met === 0 || met === 1, `with ${score} it is certain: ${met}`);
    if (score >= ahead) check(met === 1, `with ${score}, at least ${ahead}, it is met`);
    else if (!('place' in target) || score < (level ?? ahead)) {
      check(met === 0, `with ${score}, less than ${level ?? ahead}, it is not met`);
    }
  }
}

/** With every tie against her, and every tie for her; null where there are too many ways to go. */
function boundsOf(question: Question, score: number): { least: number; most: number } | null {
  const { meet, contest, contender, routine, target, when, margin } = question;
  const recorded = recordedPerformances(meet);
  const { at } = routineAt(meet, routine);
  const counts = (i: number) => when === 'end' || routineAt(meet, i).at <= at;
  const totalsOf = (who: Contender, given: boolean): Map<number, number> | null => {
    const open = who.routines.filter(
      (i) => recorded[i] === null && counts(i) && !(given && i === routine),
    );
    const performances = [...recorded];
    if (given) performances[routine] = assumed(score, rangeAt(meet, routine).d);
    let ways = 1;
    for (const i of open) ways *= distributionOf(meet, rangeAt(meet, i))?.scores.length ?? 1;
    if (ways > MOST) return null;
    const totals = new Map<number, number>();
    const go = (k: number, chance: number): void => {
      const i = open[k];
      if (i === undefined) {
        const entry = entryOf(who, performances);
        const total = entry.out || !entry.onBoard ? -1 : entry.total;
        totals.set(total, (totals.get(total) ?? 0) + chance);
        return;
      }
      const { scores = [], chances = [] } = distributionOf(meet, rangeAt(meet, i)) ?? {};
      for (const [n, s] of scores.entries()) {
        performances[i] = assumed(s, rangeAt(meet, i).d);
        go(k + 1, chance * (chances[n] ?? 0));
      }
    };
    go(0, 1);
    return totals;
  };
  const hers = totalsOf(contender, true);
  if (hers === null) return null;
  if ('total' in target) {
    let met = 0;
    for (const [total, p] of hers) if (total >= target.total + margin) met += p;
    return { least: met, most: met };
  }
  const rivals: Map<number, number>[] = [];
  for (const c of contest.contenders) {
    if (c === contender || ('beat' in target && c.id !== target.beat)) continue;
    const totals = totalsOf(c, false);
    if (totals === null) return null;
    rivals.push(totals);
  }
  const place = 'place' in target ? target.place : 1;
  /** The chance that fewer than `place` rivals have a total that counts against hers. */
  const chanceWhere = (against: (rival: number, her: number) => boolean): number => {
    let sum = 0;
    for (const [her, p] of hers) {
      let ahead = [1];
      for (const totals of rivals) {
        let q = 0;
        for (const [total, r] of totals) if (total >= 0 && against(total, her)) q += r;
        ahead = Array.from(
          { length: ahead.length + 1 },
          (_, n) => (ahead[n] ?? 0) * (1 - q) + (ahead[n - 1] ?? 0) * q,
        );
      }
      sum += p * ahead.slice(0, place).reduce((a, b) => a + b, 0);
    }
    return sum;
  };
  const most = chanceWhere((rival, her) => rival + margin > her);
  // Level with the margin is ahead by it.
  if (margin > 0) return { least: most, most };
  const least = chanceWhere((rival, her) => rival >= her);
  if (contest.ties.length > 0) return { least, most };
  // A shared place is that place; but who only shares it does not beat the other.
  return 'beat' in target ? { least, most: least } : { least: most, most };
}

// ---------------------------------------------------------------------------------------------

/** Over all her scores, bands and needs come to the chances of the whole field. */
export const partsMakeTheWhole = fc.property(smallCaseArb, ({ sketch, asks: [ask] }: Case) => {
  const read = readCase(sketch);
  const put = ask && putQuestion(read, ask);
  if (!put) return;
  const { meet } = read;
  const { named, her } = put;
  const contest = contestId(put.court.contest);
  const { on } = put.options;
  const answer = <T>(ask: () => T): T | null => {
    try {
      return ask();
    } catch (error) {
      if (error instanceof LastRotationError && error.code === 'missing-range') return null;
      throw error;
    }
  };
  const field = answer(() => chances(meet, null, { contest }));
  const bands = answer(() => outcomes(meet, named, { contest, on }).bands);
  const sheet = needs(meet, named, { contest, on });
  const likely = needChances(meet, sheet);
  const check = (holds: boolean, what: () => string) =>
    must(holds, sketch, () => `${named} in ${contest}: ${what()}`);
  if (field === null) {
    check(
      bands === null || bands.every((b) => b.win === null && b.medal === null),
      () => 'a range is missing, so bands have no chances',
    );
    return;
  }
  const hers = field.contenders.find((c) => c.id === her.id);
  for (const target of ['win', 'medal'] as const) {
    const whole = hers?.[target] ?? 0;
    const sum = bands?.reduce((s, b) => s + (b.chance ?? 0) * (b[target] ?? 0), 0) ?? whole;
    check(Math.abs(sum - whole) <= 2 * field.error + NEAR, () => `${target}: ${sum} of ${whole}`);
    for (const [i, need] of sheet.needs.entries()) {
      const found = likely[i];
      if (need.target !== target || need.when !== 'end' || !found) continue;
      const { any, onceAhead } = found;
      check(Math.abs(any - whole) <= 2 * field.error + NEAR, () => `${target}: ${any} of ${whole}`);
      check(
        (onceAhead === null) === (need.reach === 0),
        () => `${need.ahead} has a chance just where it is within reach`,
      );
      check(
        onceAhead === null || onceAhead >= any - 2 * field.error - NEAR,
        () => `${target}: from ${need.ahead} on no worse than with any score`,
      );
    }
  }
});

// ---------------------------------------------------------------------------------------------

/** `scoreForChance` is the lowest score of the grid that gives the target the chance. */
export const scoresForChancesAreLowest = fc.property(
  smallCaseArb,
  fc.nat(),
  ({ sketch, asks: [ask] }: Case, pick: number) => {
    const read = readCase(sketch);
    const question = ask && questionOf(read, ask);
    if (!question) return;
    const { meet, routine, need, check } = question;
    const curve = curveOf(question);
    const random = randomFrom(pick);
    const chance = CHANCES[random(CHANCES.length)] ?? 0.5;
    const found = need(chance);
    if (curve === null) {
      check(
        found === 'missing-range' || (typeof found === 'object' && found.status === null),
        `a range is missing, so nothing is found: ${JSON.stringify(found)}`,
      );
      return;
    }
    if (typeof found === 'string' || found.status === null) return;
    const score = found.scoreForChance;
    const { grid } = meet.scoring;
    const limit = limitAt(meet, routine);
    const metAt = (s: number) => curveOf(certainly(question, s))?.points[0]?.met ?? Number.NaN;
    const below = (s: number) => {
      const met = metAt(s);
      check(
        met < chance + curve.error,
        `${s} is not enough for ${chance}: it gives ${met}, and ${score} is the lowest`,
      );
    };
    if (score === null) {
      below(gridAtOrBelow(limit, grid));
      return;
    }
    const met = metAt(score);
    check(met >= chance - curve.error - NEAR, `${score} is enough for ${chance}: ${met}`);
    check(score <= limit, `${score} is within the limit`);
    // A range without width is one score, on the grid or not.
    const isHers = curve.points.some((p) => p.score === score);
    check(isHers || gridAtOrAbove(score, grid) === score, `${score} is on the grid`);
    if (score === 0) return;
    const next = gridAtOrBelow(score - 1, grid);
    below(next);
    below(gridAtOrBelow(random(next + 1), grid));
  },
);

/** Her range moves with the D she shows, as far as it was given with one. */
function withD({ meet }: Read, range: Range, routine: number, d: number): Range {
  const by = range.d === null ? 0 : d - range.d;
  const moved = (s: number | null) =>
    s === null || by === 0 ? s : Math.max(0, Math.min(s + by, limitAt(meet, routine)));
  const [low, likely, high] = [range.low, range.likely, range.high].map((s) => {
    const to = moved(s);
    return to === null ? null : asScore(to);
  });
  return { ...range, low: low ?? null, likely: likely ?? null, high: high ?? null, d: asScore(d) };
}

/** The same question where her score is known beforehand. */
function certainly(question: Question, score: number): Question {
  const { meet, routine } = question;
  const { d } = rangeAt(meet, routine);
  const it = asScore(score);
  const only = { low: it, likely: it, high: it, falls: 0, d, within: null, from: 'own' as const };
  return {
    ...question,
    meet: derived(meet, { ranges: meet.ranges.map((r, i) => (i === routine ? only : r)) }),
  };
}
