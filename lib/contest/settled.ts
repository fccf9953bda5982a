/**
 * What is certain. A need is true under its assumption; this is true whatever happens: a place is secured
 * when in no case that many rivals end ahead, out of reach when in every case they do. A shared place
 * counts as that place, so who can still tie for first is not out of it (the same sense as in SIAM
 * Journal on Discrete Mathematics 14(2):223-229, 2001).
 */
import { type Gymnast, isToCome, limitAt, type Meet, rangeAt } from '../meet/meet.js';
import { isUnderInquiry } from '../meet/now.js';
import { supportOf } from '../meet/realistic.js';
import type { Contender } from '../rules/contender.js';
import { assumed, type Entry, entryOf, type Performances } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { Units } from '../score.js';
import { type Contest, routinesCounted } from './contest.js';
import type { Goal } from './goal.js';
import { comparePair, thirdSkips } from './ties.js';

type TieRule = Contest['ties'][number];

/** `limit`: any score up to the limit. `ranges`: any score in the ranges, falls included. */
export type SettledBy = 'limit' | 'ranges';

/** A target that is certain, one way or the other. */
export interface Settled {
  /** `win`, `medal`, `advance`, `hold`. */
  readonly target: string;
  /** `secured`: she has it. `out-of-reach`: she cannot get it any more. */
  readonly status: 'secured' | 'out-of-reach';
  /** Against how much it is certain; `limit` is the stronger. */
  readonly by: SettledBy;
}

/** What is to be had or lost at the end. */
export interface TargetAtEnd {
  readonly target: string;
  readonly goal: Goal;
}

/** A routine to come, or one whose score is under inquiry and may change. */
function isOpen(meet: Meet, routine: number): boolean {
  return isToCome(meet, routine) || isUnderInquiry(meet, routine);
}

/** The lowest and the highest score of an open routine: after an inquiry it may be any. */
interface Bounds {
  readonly lowest: Units;
  readonly highest: Units;
}

function boundsBy(meet: Meet, routine: number, by: SettledBy): Bounds {
  const limit: Bounds = { lowest: 0, highest: limitAt(meet, routine) };
  if (by === 'limit' || isUnderInquiry(meet, routine)) return limit;
  return supportOf(meet, rangeAt(meet, routine)) ?? limit;
}

interface Extremes {
  readonly worst: Entry;
  readonly best: Entry;
  /** A score to come may take the place of another: the parts stay as they are, D and E do not. */
  readonly mayTurn: boolean;
}

/** Every contender at its worst and at its best. */
export interface FieldExtremes {
  readonly by: SettledBy;
  readonly of: ReadonlyMap<Contender, Extremes>;
  /**
   * Gymnasts are still to be named whom the contest does not rank as they stand, and may yet: on a second
   * vault, or for a team. Nobody is sure of anything then, whatever is scored.
   */
  readonly mayGrow: boolean;
}

/** In neither sense is it known which D and E scores come with a score: she may show another D. */
export function fieldExtremes(meet: Meet, contest: Contest, by: SettledBy): FieldExtremes {
  const recorded = recordedPerformances(meet);
  const worst = [...recorded];
  const best = [...recorded];
  for (const c of contest.contenders) {
    for (const i of c.routines) {
      if (!isOpen(meet, i)) continue;
      const { lowest, highest } = boundsBy(meet, i, by);
      worst[i] = assumed(lowest, null);
      best[i] = assumed(highest, null);
    }
  }
  const of = new Map(
    contest.contenders.map((c) => [
      c,
      {
        worst: entryOf(c, worst),
        best: entryOf(c, best),
        mayTurn: c.parts.some(
          ({ rule, routines }) =>
            rule.kind === 'best' &&
            routines.length > rule.count &&
            routines.some((i) => isOpen(meet, i)),
        ),
      },
    ]),
  );
  return { by, of, mayGrow: mayGrow(meet, contest, recorded) };
}

function mayGrow(meet: Meet, contest: Contest, recorded: Performances): boolean {
  const counted = routinesCounted(contest);
  const isWaiting = ({ id }: Gymnast) => {
    const hers = meet.routines.filter((r) => r.gymnast === id);
    return hers.every((r) => recorded[r.index] === null) && hers.some((r) => !counted.has(r.index));
  };
  const ranked = new Set(contest.contenders.map((c) => c.id));
  return meet.gymnasts.some((g) => g.unnamed && !ranked.has(g.id) && isWaiting(g));
}

/** A field in both senses, the stronger first. */
export function bothSenses(meet: Meet, contest: Contest): FieldExtremes[] {
  return (['limit', 'ranges'] as const).map((by) => fieldExtremes(meet, contest, by));
}

/** What is settled of some targets for one contender. */
export function settledIn(
  senses: readonly FieldExtremes[],
  contest: Contest,
  contender: Contender,
  targets: readonly TargetAtEnd[],
): Settled[] {
  return targets.flatMap(({ target, goal }): Settled[] => {
    for (const field of senses) {
      const status = statusIn(field, contest, contender, goal);
      if (status !== null) return [{ target, status, by: field.by }];
    }
    return [];
  });
}

function statusIn(
  field: FieldExtremes,
  contest: Contest,
  contender: Contender,
  goal: Goal,
): Settled['status'] | null {
  const hers = field.of.get(contender);
  if (hers === undefined) return null;
  // Who never comes on the board has no place, and takes none.
  if (hers.worst.out || !hers.worst.onBoard) return 'out-of-reach';
  const rules = goal.ignoresTies ? [] : contest.ties;
  const possible = rivalsThat(canBeAhead, field, contender, rules);
  const certain = rivalsThat(isSurelyAhead, field, contender, rules);
  if (goal.isMet(contender, possible)) {
    return field.mayGrow && field.by === 'limit' ? null : 'secured';
  }
  return goal.isMet(contender, certain) ? null : 'out-of-reach';
}

/** Who may end ahead of a contender when all goes against it, in start order. */
export function whoMayPass(
  field: FieldExtremes,
  contest: Contest,
  contender: Contender,
): Contender[] {
  return rivalsThat(canBeAhead, field, contender, contest.ties);
}

/** The rivals on the board of whom something holds, in start order. */
function rivalsThat(
  holds: typeof canBeAhead,
  field: FieldExtremes,
  contender: Contender,
  rules: readonly TieRule[],
): Contender[] {
  const hers = field.of.get(contender);
  if (hers === undefined) return [];
  return [...field.of].flatMap(([other, theirs]) => {
    if (other === contender || theirs.worst.out || !theirs.worst.onBoard) return [];
    return holds(field, theirs, hers, rules) ? [other] : [];
  });
}

/** The field if one contender ends so. */
export function fieldWith(field: FieldExtremes, entry: Entry): FieldExtremes {
  const { contender } = entry;
  const mayTurn = field.of.get(contender)?.mayTurn ?? false;
  const of = new Map(field.of).set(contender, { worst: entry, best: entry, mayTurn });
  return { ...field, of };
}

/** Whether a rival can end ahead of her when all goes against her. */
function canBeAhead(
  field: FieldExtremes,
  rival: Extremes,
  hers: Extremes,
  rules: readonly TieRule[],
): boolean {
  if (rival.best.total > hers.worst.total) return true;
  if (rival.best.total < hers.worst.total) return false;
  return tieEnds(field, rival.best, hers.worst, rules).won;
}

/** Whether a rival ends ahead of her even when all goes her way. */
function isSurelyAhead(
  field: FieldExtremes,
  rival: Extremes,
  hers: Extremes,
  rules: readonly TieRule[],
): boolean {
  if (rival.worst.total < hers.best.total) return false;
  if (rival.worst.total > hers.best.total) return true;
  return !tieEnds(field, rival.worst, hers.best, rules).notWon;
}

/** Whether what a rule looks at may be other than at the extremes, on the same totals. */
function mayTurn(field: FieldExtremes, rule: TieRule, ...entries: readonly Entry[]): boolean {
  if (rule.needs === 'scores') return false;
  return entries.some(({ contender }) => field.of.get(contender)?.mayTurn === true);
}

/** Whether a third contender on the same total has a rule skipped for all of them. */
function skipped(
  field: FieldExtremes,
  rule: TieRule,
  a: Entry,
  b: Entry,
): 'never' | 'perhaps' | 'surely' {
  let answer: 'never' | 'perhaps' = 'never';
  for (const { worst, best } of field.of.values()) {
    if (worst.contender === a.contender || worst.contender === b.contender || worst.out) continue;
    if (worst.total > a.total || best.total < a.total) continue;
    const skips = thirdSkips(rule, a, b, worst);
    const turns = mayTurn(field, rule, worst);
    const certain = !turns && worst.total === a.total && best.total === a.total;
    if (skips === 'surely' && certain) return 'surely';
    if (skips !== 'never' || turns) answer = 'perhaps';
  }
  return answer;
}

/** How a tie of `a` with `b` may end, whoever else is level with them. */
interface TieEnds {
  readonly won: boolean;
  /** Lost, or nothing tells them apart. */
  readonly notWon: boolean;
}

function tieEnds(field: FieldExtremes, a: Entry, b: Entry, rules: readonly TieRule[]): TieEnds {
  const ends = { won: false, notWon: false };
  for (const rule of rules) {
    if (mayTurn(field, rule, a, b)) return { won: true, notWon: true };
    const skip = skipped(field, rule, a, b);
    if (skip === 'surely') continue;
    const order = comparePair(a, b, rule);
    if (order === 1 || order === 'open') ends.won = true;
    if (order === -1 || order === 'open') ends.notWon = true;
    if ((order === 1 || order === -1) && skip === 'never') return ends;
  }
  return { ...ends, notWon: true };
}
