/** `standings`: the board as an answer, with gaps, movement and what is to come. */
import { badUsage } from '../error.js';
import {
  afterRotations,
  type Meet,
  rotationAt,
  rotationsBegun,
  routineAt,
  sessionsOf,
} from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import type { Entry, Performances } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score, type Units } from '../score.js';
import { type Advancement, type Advances, advancementOn } from './advance.js';
import { rank } from './board.js';
import { type Contest, findContest } from './contest.js';
import { type CountedScore, countedByPart } from './counting.js';
import { evenPlaces, type Places, projectionOf, rotationsFull } from './like-for-like.js';

/** One gymnast, or one team, on the board. */
export interface StandingsRow {
  /** Null when nothing is done and nothing carried in. */
  readonly place: number | null;
  /** Shares its place. */
  readonly tied: boolean;
  /**
   * The rule that broke a tie on this total: the first that separates it from the one nearest in place
   * on the same total, of two equally near the one ahead. Null without a tie, and where it is shared.
   */
  readonly tieBy: TieRuleName | null;
  /** Ids of all others on the board, not out, with the same total, in board order. */
  readonly levelWith: readonly string[];
  /**
   * The place when everyone is counted after as many routines as whoever has done the fewest, in the
   * order they go up; null for who is out, and without anything done by then or carried in.
   */
  readonly evenPlace: number | null;
  /** The place by projected total; null for who is out, and for all when one of them has none. */
  readonly projectedPlace: number | null;
  /** As the meet file has it. */
  readonly id: string;
  /** As it is shown. */
  readonly name: string;
  /** The team of a gymnast. */
  readonly team: string | null;
  /** All that counts so far, with what was carried in. */
  readonly total: Score;
  /** Behind the leader; null without a place. */
  readonly behind: Score | null;
  /**
   * Places gained from one full rotation to the next, negative when lost; null before the second, and
   * without a place then. A rotation under way moves nobody.
   */
  readonly moved: number | null;
  /** Routines done. */
  readonly done: number;
  /** Apparatus codes of the routines to come, one each, in the order they go up. */
  readonly toCome: readonly string[];
  /** Total + likely of what is to come; null when a range is missing, or for who is out. */
  readonly projected: Score | null;
  /**
   * By apparatus: the score, `DNS`, `DNF`, or null while it is to come; for a team its apparatus
   * totals.
   */
  readonly scores: Readonly<Record<string, Score | 'DNS' | 'DNF' | null>>;
  /**
   * Of a team, by apparatus: its scores so far, the highest first, and which of them count; of equal ones
   * the first up does. Null for a gymnast.
   */
  readonly counting: Readonly<Record<string, readonly CountedScore[]>> | null;
  /** Whether this board takes her on; null without a place, and where nobody advances from the contest. */
  readonly advance: Advances | null;
  /** Of a reserve: 1 for the first to be called. */
  readonly reserve: number | null;
  /** Ids of the team-mates who have the places of her team, where they keep her out. */
  readonly blockedBy: readonly string[];
  /** The same by projected totals; null as `projectedPlace` is, and where nobody advances. */
  readonly projectedAdvance: Onward | null;
}

/** How somebody stands with going on, on one board. */
export interface Onward {
  /** In, waiting or out. */
  readonly advance: Advances;
  /** Of a reserve: 1 for the first to be called; else null. */
  readonly reserve: number | null;
  /** Ids of the team-mates who have the places of her team, where they keep her out; else empty. */
  readonly blockedBy: readonly string[];
}

/** The board of a contest. */
export interface Standings extends OpenScores {
  /** The id of the contest, or the code of the apparatus that is ranked. */
  readonly contest: string;
  /** The rotation after which the board is shown, and its session; null for the board as it stands. */
  readonly after: number | null;
  /** The session that `after` is counted in. */
  readonly session: number | null;
  /** The leader first; behind all others who is out, and last who has no place yet. */
  readonly rows: readonly StandingsRow[];
  /** Tie rules skipped for lack of data. */
  readonly skipped: readonly TieRuleName[];
}

/** Which board is meant; without any of it the first contest as it stands. */
export interface StandingsOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** Show the board as it stood when this rotation was over. */
  readonly after?: number | null | undefined;
  /**
   * The session of that rotation: the one under way when it is not given. Alone: the board as it stood
   * when this session was over.
   */
  readonly session?: number | null | undefined;
}

/**
 * The board of a contest.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param options - Which board; without it the first contest as it stands.
 * @throws `unknown-contest` (the meet has no such contest), `unknown-session` (no such session),
 *   `unknown-rotation` (no such rotation)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { rows } = standings(meet);
 * [rows[0]?.name, rows[0]?.total, rows[1]?.behind] // → ['Suzu Tanakura', 43566, 1334]
 * standings(meet, { contest: 'FX', after: 2 }).rows[0]?.id // → 'kimsan'
 */
export function standings(meet: Meet, options: StandingsOptions = {}): Standings {
  const contest = findContest(meet, options.contest);
  const over = rotationAskedFor(meet, options);
  const shown = over === null ? meet : afterRotations(meet, over);
  const full = Math.min(rotationsFull(meet), over ?? meet.rotations.length);
  const moved = full < 2 ? null : { from: placesAfter(full - 1), to: placesAfter(full) };
  return {
    contest: contest.id,
    ...namedRotation(meet, over),
    ...boardRows(shown, contest, recordedPerformances(shown), moved),
  };

  function placesAfter(rotations: number): Places {
    const { rows } = rank(contest, recordedPerformances(afterRotations(meet, rotations)));
    return new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  }
}

/** How many rotations, over all sessions, are over on the board that is asked for; null as it stands. */
function rotationAskedFor(
  meet: Meet,
  { after = null, session = null }: Pick<StandingsOptions, 'after' | 'session'>,
): number | null {
  if (after === null && session === null) return null;
  const sessions = sessionsOf(meet);
  if (session !== null && !sessions.includes(session)) {
    const mend = `choose from: ${sessions.join(', ')}`;
    throw badUsage('unknown-session', `there is no session ${session}`, mend);
  }
  const asked = session ?? sessionUnderWay(meet);
  const last = meet.rotations.filter((r) => r.session === asked).length;
  const at = meet.rotations.findIndex((r) => r.session === asked && r.rotation === (after ?? last));
  if (at >= 0) return at + 1;
  const where = sessions.length > 1 ? ` in session ${asked}` : '';
  throw badUsage(
    'unknown-rotation',
    `there is no rotation ${after}${where}`,
    `choose one from 1 to ${last}${sessions.length > 1 ? ', or another session' : ''}`,
  );
}

/** The latest session with a score; the first before any. */
function sessionUnderWay(meet: Meet): number {
  return meet.rotations[Math.max(rotationsBegun(meet), 1) - 1]?.session ?? 1;
}

function namedRotation(meet: Meet, over: number | null): Pick<Standings, 'after' | 'session'> {
  if (over === null) return { after: null, session: null };
  const { rotation, session } = rotationAt(meet, over - 1);
  return { after: rotation, session };
}

/** A board of assumed performances, in the shape of `standings`. */
export function boardOf(meet: Meet, contest: Contest, performances: Performances): Standings {
  return {
    contest: contest.id,
    after: null,
    session: null,
    ...boardRows(meet, contest, performances, null),
  };
}

function boardRows(
  meet: Meet,
  contest: Contest,
  performances: Performances,
  moved: { readonly from: Places; readonly to: Places } | null,
): Omit<Standings, 'contest' | 'after' | 'session'> {
  const { rows, skipped } = rank(contest, performances);
  const leader = rows[0]?.entry.total ?? 0;
  const even = evenPlaces(contest, performances);
  const projected = projectionOf(meet, contest, performances);
  const { advance } = contest;
  const advancing = advance === null ? null : advancementOn(advance, rows);
  const projectedOn =
    advance === null || projected.rows === null ? null : advancementOn(advance, projected.rows);
  return {
    rows: rows.map(({ entry, place, tied, tieBy, levelWith }) => {
      const { id, name, team } = entry.contender;
      const onward = advancing?.get(entry.contender);
      const [was, is] = [moved?.from.get(id) ?? null, moved?.to.get(id) ?? null];
      return {
        place,
        tied,
        tieBy,
        levelWith: levelWith.map((e) => e.contender.id),
        evenPlace: even.get(id) ?? null,
        projectedPlace: projected.places?.get(id) ?? null,
        id,
        name,
        team,
        total: asScore(entry.total),
        behind: place === null ? null : asScore(leader - entry.total),
        moved: was === null || is === null ? null : was - is,
        done: entry.done,
        toCome: routinesToCome(entry).map((i) => routineAt(meet, i).apparatus),
        projected: scoreOrNull(projected.entries.get(id)?.total),
        scores: scoresOf(meet, contest, entry),
        counting: contest.kind.ranks === 'teams' ? countedByPart(meet, entry) : null,
        advance: onward?.advance ?? null,
        reserve: onward?.reserve ?? null,
        blockedBy: onward?.blockedBy.map((c) => c.id) ?? [],
        projectedAdvance: onwardOf(projectedOn?.get(entry.contender)),
      };
    }),
    skipped,
    ...openScores(meet, contest.contenders),
  };
}

function onwardOf(found: Advancement | undefined): Onward | null {
  if (found === undefined) return null;
  return { ...found, blockedBy: found.blockedBy.map((c) => c.id) };
}

/** Indices of the routines that an entry has still to come. */
export function routinesToCome(entry: Entry): number[] {
  return entry.contender.routines.filter((i) => entry.performances[i] === null);
}

function scoresOf(meet: Meet, contest: Contest, entry: Entry): StandingsRow['scores'] {
  const { contender, performances } = entry;
  if (contest.kind.ranks === 'teams') {
    return Object.fromEntries(
      contender.parts.map((p, i) => [p.apparatus, scoreOrNull(entry.parts[i])]),
    );
  }
  return Object.fromEntries(
    contender.routines.map((i) => {
      const p = performances[i];
      const result = meet.results[i];
      const word = result === 'DNF' ? 'DNF' : 'DNS';
      const shown = p === 'out' ? word : scoreOrNull(p?.score);
      return [routineAt(meet, i).apparatus, shown] as const;
    }),
  );
}

function scoreOrNull(units: Units | null | undefined): Score | null {
  return units == null ? null : asScore(units);
}
