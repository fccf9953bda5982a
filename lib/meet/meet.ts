/** The meet: who competes where and when, under which rules, and what has been recorded. */

import type { Apparatus, DisciplineCode } from '../apparatus.js';
import { asScore, type Score, type Units, unitsPerPoint } from '../score.js';
import { type Scoring, scoreLimit } from '../scoring.js';
import type {
  Gymnast,
  Range,
  Result,
  Rotation,
  Routine,
  Schedule,
  Scored,
  Team,
  Told,
} from './parts.js';
import { derived, requireSound } from './sound.js';

export type * from './parts.js';

/** What a kind of contest asks for besides ids, tie rules and medals: `{ up: 4, count: 3 }`. */
export type ContestSettings = Readonly<Record<string, unknown>>;

/** Who goes on from a contest to the next. */
export interface AdvanceRules {
  /** How many. */
  readonly places: number;
  /** How many of one team at most; null without a quota. */
  readonly perTeam: number | null;
  /** How many wait behind them, under the same quota. */
  readonly reserves: number;
  /**
   * A tie for the last place: `rules` is broken by the tie rules of the contest, and who is still equal is
   * in; `all` is not broken: everyone level with the last one in is in.
   */
  readonly ties: 'rules' | 'all';
}

/** The rules of one contest of the meet. */
export interface ContestRules {
  /** The name by which every answer and the option `contest` call it: `all-around`. */
  readonly id: string;
  /** `all-around`, `apparatus`, `team`. */
  readonly kind: string;
  /** What this kind of contest asks for besides: `{ up: 4, count: 3 }`. */
  readonly settings: ContestSettings;
  /** Names of tie rules, the first that decides. */
  readonly ties: readonly string[];
  /** How many places bring a medal. */
  readonly medals: number;
  /** By contender: points of an earlier day that it brings in; null where it does not. */
  readonly carried: ReadonlyMap<string, Score> | null;
  /** Null where nobody advances from it. */
  readonly advance: AdvanceRules | null;
  /** Whether medals are won in it: not where it is about advancing, unless it says how many. */
  readonly givesMedals: boolean;
}

/**
 * A meet as its files have it: immutable, sound, and made only by `readMeet`, `openMeet` and
 * `record`.
 */
export interface Meet extends Schedule {
  /** What it is called; null where the meet file does not say. */
  readonly title: string | null;
  /** Null for a discipline of the meet's own. */
  readonly discipline: DisciplineCode | null;
  /** Those its contests count, in Olympic order, a second vault right after the first. */
  readonly apparatus: readonly Apparatus[];
  /** Words for one of its gymnasts. */
  readonly words: {
    /** "she", "he" or "they". */
    readonly she: string;
    /** "her", "his" or "their". */
    readonly her: string;
  };
  /** How it is scored: decimals, grid, fall, limit. */
  readonly scoring: Scoring;
  /** What is won in it, the first being the one that is meant where none is named. */
  readonly contests: readonly ContestRules[];
  /** How many medals a contest gives that does not say otherwise. */
  readonly medals: number;
  /** In list order; none where nobody has a team. */
  readonly teams: readonly Team[];
  /** As the meet file has it; the schedule of the meet itself is as the log has changed it. */
  readonly planned: Schedule;
  /** The ranges that the files give, by gymnast of the list, by apparatus of the meet. */
  readonly rangesGiven: readonly (readonly Range[])[];
  /** By routine: as the files give them. */
  readonly given: readonly Range[];
  /** By routine: what the files leave open is what is usual, where that is known. */
  readonly ranges: readonly Range[];
  /** What the log says and has not taken back, in its order. */
  readonly told: readonly Told[];
  /** By routine: the result that stands. */
  readonly results: readonly (Result | null)[];
  /** By routine: performed, and its score awaited. */
  readonly up: readonly boolean[];
  /** By routine: somebody has stepped in for it. */
  readonly replaced: readonly boolean[];
}

export function isScored(result: Result | null | undefined): result is Scored {
  return result !== null && typeof result === 'object';
}

export function isWithdrawn(result: Result | null | undefined): result is 'DNS' | 'DNF' {
  return result === 'DNS' || result === 'DNF';
}

export function gymnastOf(meet: Meet, id: string): Gymnast | undefined {
  return meet.gymnasts.find((g) => g.id === id);
}

export function apparatusOf(meet: Meet, code: string): Apparatus | undefined {
  return meet.apparatus.find((a) => a.code === code);
}

/** Routines by gymnast, worked out once for a schedule. */
const indexes = new WeakMap<readonly Routine[], ReadonlyMap<string, readonly Routine[]>>();

export function routineOf(meet: Meet, gymnast: string, apparatus: string): Routine | undefined {
  const { routines } = meet;
  let index = indexes.get(routines);
  if (index === undefined) {
    const lists = new Map<string, Routine[]>();
    for (const routine of routines) {
      const hers = lists.get(routine.gymnast);
      if (hers === undefined) lists.set(routine.gymnast, [routine]);
      else hers.push(routine);
    }
    index = lists;
    indexes.set(routines, index);
  }
  return index.get(gymnast)?.find((r) => r.apparatus === apparatus);
}

/** What became of a gymnast on an apparatus; null where nothing did yet, or she does not compete there. */
export function resultFor(meet: Meet, gymnast: string, apparatus: string): Result | null {
  const routine = routineOf(meet, gymnast, apparatus);
  return (routine && meet.results[routine.index]) ?? null;
}

/** Where an apparatus is done: a second vault where the first is. */
export function stationOf(meet: Pick<Meet, 'apparatus'>, code: string): string {
  return meet.apparatus.find((a) => a.code === code)?.follows ?? code;
}

/** A routine by its index, which must be one of the meet's. */
export function routineAt(meet: Meet, index: number): Routine {
  const routine = meet.routines[index];
  if (routine === undefined) throw new RangeError(`no routine ${index}`);
  return routine;
}

/** Where nothing is given. */
export const NO_RANGE: Range = {
  low: null,
  likely: null,
  high: null,
  falls: null,
  d: null,
  within: null,
  from: null,
};

export function rangeAt(meet: Meet, index: number): Range {
  return meet.ranges[index] ?? NO_RANGE;
}

/** The highest score there can be for a routine. */
export function limitAt(meet: Meet, index: number): Units {
  const apparatus = apparatusOf(meet, routineAt(meet, index).apparatus);
  return scoreLimit(meet.scoring, apparatus?.limit ?? null);
}

/**
 * Whether a routine, by its index, has no result yet.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param index - Of the routine in `meet.routines`.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * isToCome(meet, 0) // → false
 */
export function isToCome(meet: Meet, index: number): boolean {
  requireSound(meet);
  return meet.results[index] === null;
}

/** Whether a routine has been performed and its score is awaited. */
export function isUp(meet: Meet, index: number): boolean {
  return meet.up[index] === true;
}

/** A routine to come as if it had this score: with the D score she is expected to show, ND 0. */
export function expectedResult(meet: Meet, index: number, score: Score): Scored {
  const { d } = rangeAt(meet, index);
  const e = d === null ? null : asScore(score - d);
  return { score, d, e, nd: asScore(0), underInquiry: false };
}

/** The meet as it stood when so many rotations, over all sessions, were over: all later is to come. */
export function afterRotations(meet: Meet, over: number): Meet {
  return derived(meet, {
    results: meet.results.map((r, i) => (routineAt(meet, i).at < over ? r : null)),
    up: meet.up.map((isUp, i) => isUp && routineAt(meet, i).at < over),
  });
}

/** How many rotations, over all sessions, it takes to the latest that has a score; a withdrawal reaches ahead of it. */
export function rotationsBegun(meet: Meet): number {
  return meet.routines.reduce(
    (latest, r) => (isScored(meet.results[r.index]) ? Math.max(latest, r.at + 1) : latest),
    0,
  );
}

/** A rotation by its index over all sessions, which must be one of the meet's. */
export function rotationAt({ rotations }: Pick<Schedule, 'rotations'>, at: number): Rotation {
  const rotation = rotations[at];
  if (rotation === undefined) throw new RangeError(`no rotation ${at}`);
  return rotation;
}

/** The numbers of the sessions, in their order. */
export function sessionsOf({ rotations }: Pick<Schedule, 'rotations'>): number[] {
  return [...new Set(rotations.map((r) => r.session))];
}

/** The apparatus with a station of their own. */
export function ownStations({ apparatus }: Pick<Meet, 'apparatus'>): Apparatus[] {
  return apparatus.filter((a) => a.follows === null);
}

/** 1.000 in this meet's units. */
export function onePoint(meet: Meet): Units {
  return unitsPerPoint(meet.scoring.decimals);
}
