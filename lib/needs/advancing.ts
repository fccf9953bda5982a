/** `advancing`: who goes through, by itself and at once, however large the field. */
import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import { modelOf } from '../chances/model.js';
import { placeChances } from '../chances/place-chances.js';
import { findContest } from '../contest/contest.js';
import { goalsOf } from '../contest/goal.js';
import { bothSenses, type Settled, settledIn } from '../contest/settled.js';
import { type Onward, standings } from '../contest/standings.js';
import { badUsage } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import type { Score } from '../score.js';

/** Where somebody stands with a contest that takes so many on. */
export interface Advancing {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** What she has so far, with what was carried in. */
  readonly total: Score;
  /** Apparatus codes of her routines to come, in the order they go up. */
  readonly toCome: readonly string[];
  /** As the board has it now; null without a place. */
  readonly now: Onward | null;
  /** If all that is to come scores as expected; null where a range is missing. */
  readonly projected: Onward | null;
  /** Of going through; 0 for who is out. */
  readonly chance: Chance;
  /**
   * Whether going through is certain, or out of reach, and in which sense; empty while it is open.
   */
  readonly settled: readonly Settled[];
}

/** Everyone's chance of going through from a contest that takes so many on. */
export interface AdvanceChances extends OpenScores {
  /** The id of the contest they go on from. */
  readonly contest: string;
  /** A bound on how wrong a chance can be. */
  readonly error: Chance;
  /** The likeliest first, then in the order of the board. */
  readonly contenders: readonly Advancing[];
  /** How many go through for certain, by the ranges or whatever is scored, and how many still may. */
  readonly through: number;
  /** How many of whom that is not settled. */
  readonly open: number;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/**
 * Whether a contest is about going through and not about medals.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param contest - Id of a contest, or the code of an apparatus; null for the first contest.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * isAboutAdvancing(meet, 'all-around') // → false
 */
export function isAboutAdvancing(meet: Meet, contest: string | null | undefined): boolean {
  const { advance, givesMedals } = findContest(meet, contest);
  return advance !== null && !givesMedals;
}

/** With more routines to come neighbouring results are taken together. */
const FEW = 12;

/** With more to come than this, ties on total are not told apart. */
const AT_ONCE = 60;

/** Chances that differ by less are the same, but for the order in which they were added up. */
const STEPS = 1e9;

/**
 * The chances of going through from a contest with `advance`; with much to come ties on total are not told
 * apart, which `error` counts.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param options - `contest`: id of the contest; the first contest of the meet without it.
 * @throws `wrong-target`: nobody advances from the contest
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * advancing(meet, { contest: 'all-around' }) // → throws wrong-target
 */
export function advancing(
  meet: Meet,
  options: { readonly contest?: string | null | undefined } = {},
): AdvanceChances {
  const contest = findContest(meet, options.contest);
  if (contest.advance === null) {
    throw badUsage(
      'wrong-target',
      `nobody advances from ${contest.id}`,
      'say who does in the meet file: advance: { places: 8 }',
    );
  }
  const model = modelOf(meet, contest);
  const toCome = model.entrants.reduce((n, e) => n + e.toCome.length, 0);
  const isByTotal = toCome > AT_ONCE;
  const rough = { isRough: toCome > FEW, isByTotal };
  const { advance, error } = placeChances(model, { only: [], advance: true, ...rough });
  const chanceOf = new Map(model.entrants.map((e, i) => [e.contender.id, advance?.[i] ?? 0]));
  const senses = bothSenses(meet, contest);
  const goals = goalsOf(contest).filter((g) => g.target === 'advance');
  const settledOf = new Map(
    contest.contenders.map((c) => [c.id, settledIn(senses, contest, c, goals)] as const),
  );
  const all = standings(meet, { contest: contest.id }).rows.map((row): Advancing => {
    const { id, total, toCome, advance: now, reserve, blockedBy } = row;
    const settled = settledOf.get(id) ?? [];
    const [claim] = settled;
    const chance = chanceOf.get(id) ?? 0;
    return {
      id,
      total,
      toCome,
      now: now === null ? null : { advance: now, reserve, blockedBy },
      projected: row.projectedAdvance,
      chance: claim === undefined ? chance : claim.status === 'secured' ? 1 : 0,
      settled,
    };
  });
  const steps = ({ chance }: Advancing) => Math.round(chance * STEPS);
  const isSettled = (one: Advancing, status: Settled['status']) =>
    one.settled.some((s) => s.status === status);
  return {
    contest: contest.id,
    error,
    contenders: all.sort((a, b) => steps(b) - steps(a)),
    through: all.filter((one) => isSettled(one, 'secured')).length,
    open: all.filter((one) => one.settled.length === 0 && one.chance > 0).length,
    ...openScores(meet, contest.contenders),
    caution: CAUTION,
  };
}
