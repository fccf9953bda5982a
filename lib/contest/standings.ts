/** `standings`: the board as an answer, with gaps, movement and what is to come. */
import { badUsage } from '../error.js';
import { afterRotation, latestRotation, type Meet, rangeAt, routineAt } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { assumed, type Entry, entryOf, type Performances } from '../rules/entry.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score, type Units } from '../score.js';
import { type Ranked, type Ranking, rank } from './board.js';
import { type Contest, findContest } from './contest.js';
import { recordedPerformances } from './recorded.js';

export interface StandingsRow {
  /** Null when nothing is done and nothing carried in. */
  readonly place: number | null;
  readonly tied: boolean;
  readonly id: string;
  readonly name: string;
  /** The team of a gymnast. */
  readonly team: string | null;
  readonly total: Score;
  /** Behind the leader; null without a place. */
  readonly behind: Score | null;
  /** Places gained since the rotation before; negative when lost; null when there was no place. */
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
}

export interface Standings {
  readonly contest: string;
  /** The rotation after which the board is shown; null for the board as it stands. */
  readonly after: number | null;
  readonly rows: readonly StandingsRow[];
  /** Tie rules skipped for lack of data. */
  readonly skipped: readonly TieRuleName[];
}

export interface StandingsOptions {
  readonly contest?: string | null | undefined;
  /** Show the board as it stood when this rotation was over. */
  readonly after?: number | null | undefined;
}

/**
 * The board of a contest. Throws when the contest or the rotation does not exist.
 * @example
 * const { rows } = standings(meet);
 * [rows[0]?.name, rows[0]?.total, rows[1]?.behind] // → ['Suzu Tanakura', 43566, 1334]
 * standings(meet, { contest: 'FX', after: 2 }).rows[0]?.id // → 'kim'
 */
export function standings(meet: Meet, options: StandingsOptions = {}): Standings {
  const contest = findContest(meet, options.contest);
  const after = options.after ?? null;
  const last = meet.rotations.length;
  if (after !== null && !(Number.isInteger(after) && after >= 1 && after <= last)) {
    throw badUsage(
      'unknown-rotation',
      `there is no rotation ${after}`,
      `rotations run from 1 to ${last}`,
    );
  }
  const shown = after === null ? meet : afterRotation(meet, after);
  const before = afterRotation(meet, (after ?? latestRotation(meet)) - 1);
  return {
    contest: contest.id,
    after,
    ...boardRows(
      shown,
      contest,
      recordedPerformances(shown),
      rank(contest, recordedPerformances(before)),
    ),
  };
}

/** A board of assumed performances, in the shape of `standings`. */
export function boardOf(meet: Meet, contest: Contest, performances: Performances): Standings {
  return { contest: contest.id, after: null, ...boardRows(meet, contest, performances, null) };
}

function boardRows(
  meet: Meet,
  contest: Contest,
  performances: Performances,
  before: Ranking | null,
): Pick<Standings, 'rows' | 'skipped'> {
  const { rows, skipped } = rank(contest, performances);
  const leader = rows[0]?.entry.total ?? 0;
  const earlier = new Map(before?.rows.map((r) => [r.entry.contender.id, r.place]));
  return {
    rows: rows.map((row) => {
      const was = earlier.get(row.entry.contender.id) ?? null;
      return {
        ...identity(row.entry.contender),
        place: row.place,
        tied: row.tied,
        total: asScore(row.entry.total),
        behind: row.place === null ? null : asScore(leader - row.entry.total),
        moved: was === null || row.place === null ? null : was - row.place,
        done: row.entry.done,
        toCome: toComeOf(meet, row.entry),
        projected: projectedOf(meet, row),
        scores: scoresOf(meet, contest, row.entry),
      };
    }),
    skipped,
  };
}

function identity({ id, name, team }: Contender): Pick<StandingsRow, 'id' | 'name' | 'team'> {
  return { id, name, team };
}

/** Indices of the routines that an entry has still to come. */
export function routinesToCome(entry: Entry): number[] {
  return entry.contender.routines.filter((i) => entry.performances[i] === null);
}

function toComeOf(meet: Meet, entry: Entry): string[] {
  return routinesToCome(entry).map((i) => routineAt(meet, i).apparatus);
}

function projectedOf(meet: Meet, { entry }: Ranked): Score | null {
  if (entry.out) return null;
  const performances = [...entry.performances];
  for (const i of routinesToCome(entry)) {
    const { likely } = rangeAt(meet, i);
    if (likely === null) return null;
    performances[i] = assumed(likely, null);
  }
  return asScore(entryOf(entry.contender, performances).total);
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
