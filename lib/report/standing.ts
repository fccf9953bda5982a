/**
 * Where everyone stands, in a form that may be said: how far all have come, every tie with whom and on
 * what, and who moved between two boards that compare like with like.
 */
import { nearestTo } from '../contest/board.js';
import { type Contest, findContest } from '../contest/contest.js';
import {
  type Footing,
  type Progress,
  progressIn,
  progressOf,
  rotationsFull,
} from '../contest/like-for-like.js';
import { type Standings, type StandingsRow, standings } from '../contest/standings.js';
import { type Meet, rotationAt, rotationsBegun, routineAt } from '../meet/meet.js';
import { type Performance, partValue } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { PartValues } from '../rules/ties/tie-rule.js';
import { advanceBy, advancesInWords } from './advance.js';
import {
  decidedInWords,
  listed,
  nameOf,
  ordinal,
  routinesInWords,
  type Show,
  shower,
} from './words.js';

/** A tie on total as one of those in it sees it. */
export interface Tie {
  readonly kind: 'shares' | 'ahead' | 'behind';
  /** Ids of all with whom the place is shared; or of the one nearest in place. */
  readonly with: readonly string[];
  /** Ids of all others with that total, where a rule has told them apart. */
  readonly also: readonly string[];
  /** What decides between the two, said after "on"; null where the place is shared. */
  readonly on: string | null;
}

export interface Standing {
  readonly row: StandingsRow;
  readonly tie: Tie | null;
  readonly isOut: boolean;
}

/** A board, and what there is to say of it. */
export interface SaidBoard {
  readonly progress: Progress;
  /** By id, in board order. */
  readonly of: ReadonlyMap<string, Standing>;
}

export function saidBoard(meet: Meet, board: Standings): SaidBoard {
  const contest = findContest(meet, board.contest);
  const contenders = new Map(contest.contenders.map((c) => [c.id, c] as const));
  const of = new Map(
    board.rows.map((row) => [
      row.id,
      {
        row,
        tie: tieOf(meet, contest, row, board.rows),
        isOut: isOut(row) && contenders.get(row.id)?.outByDns === true,
      },
    ]),
  );
  const turns = [...of.values()].flatMap(({ row, isOut }) => {
    if (isOut) return [];
    const all = contenders.get(row.id)?.routines.length ?? 0;
    const left = row.toCome.length;
    return [{ taken: all - left, left, onBoard: row.place !== null }];
  });
  return { progress: progressOf(contest, turns), of };
}

/**
 * Whether two have done as many routines as each other once the first has done so many `more`: only then is
 * being ahead of her a lead. Teams may be of two sizes, and are compared all the same.
 */
export function areEven(
  meet: Meet,
  { contest, contender, rival }: { contest: string; contender: string; rival: string | null },
  more: number,
): boolean {
  if (rival === null || findContest(meet, contest).kind.ranks === 'teams') return true;
  const { of } = boardNow(meet, contest);
  return (of.get(contender)?.row.done ?? 0) + more === of.get(rival)?.row.done;
}

/** The board as it stands. */
export function boardNow(meet: Meet, contest: string): SaidBoard {
  return saidBoard(meet, standings(meet, { contest }));
}

function isOut(row: StandingsRow): boolean {
  return Object.values(row.scores).some((s) => s === 'DNS' || s === 'DNF');
}

function tieOf(
  meet: Meet,
  contest: Contest,
  row: StandingsRow,
  rows: readonly StandingsRow[],
): Tie | null {
  const level = rows.filter((r) => row.levelWith.includes(r.id));
  const nearest = nearestTo(row, level);
  if (nearest === undefined) return null;
  if (nearest.place === row.place) {
    const sharing = level.filter((r) => r.place === row.place).map((r) => r.id);
    return { kind: 'shares', with: sharing, also: [], on: null };
  }
  return {
    kind: (row.place ?? 0) < (nearest.place ?? 0) ? 'ahead' : 'behind',
    with: [nearest.id],
    also: level.filter((r) => r !== nearest).map((r) => r.id),
    on: decidedBetween(meet, contest, row, nearest),
  };
}

/** What separates two who are level, said after "on"; null where their rule is not known. */
function decidedBetween(
  meet: Meet,
  contest: Contest,
  row: StandingsRow,
  nearest: StandingsRow,
): string | null {
  if (row.tieBy === null) return null;
  const parts = [row, nearest].map((r) => partsOf(meet, contest, r));
  return decidedInWords(row.tieBy, parts[0] ?? [], parts[1] ?? []);
}

/** The values of the parts of a total, from a row of a board. */
function partsOf(meet: Meet, contest: Contest, { id, scores }: StandingsRow): PartValues {
  const contender = contest.contenders.find((c) => c.id === id);
  const scoreOf = (code: string) => {
    const score = scores[code];
    return typeof score === 'number' ? score : null;
  };
  if (contender === undefined) return [];
  if (contest.kind.ranks === 'teams') return contender.parts.map((p) => scoreOf(p.apparatus));
  const performances: Performance[] = [];
  for (const i of contender.routines) {
    const score = scoreOf(routineAt(meet, i).apparatus);
    performances[i] = score === null ? null : { score, d: 'unrecorded', e: 'unrecorded' };
  }
  return contender.parts.map((part) => partValue(part, performances));
}

/** Those who are level with each other, by place: `[[okaforde], [lund]]`; the best total first. */
export interface LevelGroup {
  readonly total: StandingsRow['total'];
  readonly byPlace: readonly (readonly StandingsRow[])[];
}

export function levelGroups({ of }: SaidBoard): LevelGroup[] {
  const told = new Set<string>();
  return [...of.values()].flatMap(({ row }): LevelGroup[] => {
    if (row.levelWith.length === 0 || told.has(row.id)) return [];
    const all = [row, ...row.levelWith.flatMap((id) => of.get(id)?.row ?? [])];
    for (const { id } of all) told.add(id);
    const places = [...new Set(all.map((r) => r.place))].sort((a, b) => (a ?? 0) - (b ?? 0));
    return [
      { total: row.total, byPlace: places.map((place) => all.filter((r) => r.place === place)) },
    ];
  });
}

/** How scores and names are written. */
export interface Naming {
  readonly show: Show;
  readonly name: (id: string) => string;
}

export function namingOf(meet: Meet): Naming {
  return { show: shower(meet), name: (id) => nameOf(meet, id) };
}

/**
 * A total and the place it brings: "56.432, 2nd, level with Okafor, behind on the best three scores";
 * "28.966 after 2 routines, 3rd by projection".
 */
export function standingInWords(
  { progress, of }: SaidBoard,
  id: string,
  { show, name }: Naming,
  where = '',
): string {
  const standing = of.get(id);
  if (standing === undefined) return '';
  const { row, tie, isOut } = standing;
  const total = show(row.total);
  if (isOut) return `${total}${where}, out`;
  if (row.place === null) return `${total}${where}, no place yet`;
  const isOver = [...of.values()].every((s) => s.row.toCome.length === 0);
  const by = advanceBy(
    progress.footing === 'even',
    [...of.values()].map((s) => s.row),
  );
  const through = [advancesInWords(row, { by, isOver }, name)].filter((words) => words !== '');
  if (progress.footing !== 'uneven') {
    const soFar = progress.footing === 'so-far' ? ' so far' : '';
    return [`${total}${where}`, ...placeInWords(row.place, tie, name, soFar), ...through].join(
      ', ',
    );
  }
  const level = levelAfterAsMany(standing, of);
  return [
    `${total} after ${routinesInWords(row.done)}${where}`,
    ...(level.length > 0 ? [`level with ${listed(level.map(name))}`] : []),
    likeForLike({ progress, of }, row),
    ...through,
  ].join(', ');
}

/** "shares 2nd with Okafor"; "2nd", "level with Okafor", "behind on the best three scores". */
export function placeInWords(
  place: number,
  tie: Tie | null,
  name: Naming['name'],
  soFar = '',
): string[] {
  if (tie?.kind === 'shares') {
    return [`shares ${ordinal(place)}${soFar} with ${listed(tie.with.map(name))}`];
  }
  const plain = `${ordinal(place)}${soFar}`;
  return tie === null ? [plain] : [plain, ...levelInWords(tie, name)];
}

/** "level with Okafor", "behind on the best three scores"; of three "ahead of Okafor on execution" */
export function levelInWords(
  { kind, with: nearest, also, on }: Tie,
  name: Naming['name'],
): string[] {
  const whom = listed(nearest.map(name));
  const of = also.length === 0 ? '' : ` ${kind === 'ahead' ? 'of ' : ''}${whom}`;
  return [
    `level with ${listed([...nearest, ...also].map(name))}`,
    `${kind}${of}${on === null ? '' : ` on ${on}`}`,
  ];
}

/** Who has the same total after as many routines. */
export function levelAfterAsMany({ row }: Standing, of: SaidBoard['of']): string[] {
  return row.levelWith.filter((id) => of.get(id)?.row.done === row.done);
}

/** Why places so far are no fair ones. */
export function someHaveDone({ footing, fewest, most }: Progress): string {
  return footing === 'so-far' || fewest === 0
    ? 'some have not been up yet'
    : `some have done ${routinesInWords(fewest)}, others ${most}`;
}

/** "after 2 routines each"; teams of two sizes have no one number. */
export function evenInWords({ each }: Progress): string {
  return each === null ? 'like for like' : `after ${routinesInWords(each)} each`;
}

/** A place that compares like with like. */
export type FairPlace = 'evenPlace' | 'projectedPlace';

/** Whether somebody else has her place that compares like with like. */
export function isShared(rows: Iterable<StandingsRow>, row: StandingsRow, by: FairPlace): boolean {
  if (row[by] === null) return false;
  return [...rows].some((r) => r.id !== row.id && r[by] === row[by]);
}

/** "3rd", and "joint 3rd" where it is shared; null without one. */
export function fairPlace({ of }: SaidBoard, row: StandingsRow, by: FairPlace): string | null {
  const place = row[by];
  if (place === null) return null;
  const rows = [...of.values()].map((standing) => standing.row);
  return `${isShared(rows, row, by) ? 'joint ' : ''}${ordinal(place)}`;
}

/** "3rd by projection"; where nobody can say that, "3rd after 2 routines each", or "3rd so far". */
function likeForLike(board: SaidBoard, row: StandingsRow): string {
  const projected = fairPlace(board, row, 'projectedPlace');
  if (projected !== null) return `${projected} by projection`;
  const even = fairPlace(board, row, 'evenPlace');
  if (even !== null) return `${even} ${evenInWords(board.progress)}`;
  return row.place === null ? 'no place yet' : `${ordinal(row.place)} so far`;
}

/** Whose place moved, and over which rotation, by its index, or null for the last score. */
export interface Moves {
  readonly at: number | null;
  /** False in the middle of a rotation, and wherever the board before cannot be compared. */
  readonly isKnown: boolean;
  readonly moves: readonly {
    readonly id: string;
    readonly from: number | null;
    readonly to: number;
  }[];
}

const NOBODY: Moves = { at: null, isKnown: false, moves: [] };

/**
 * Who moved. With a score that leaves everyone with as many routines as before, whoever it moved; with
 * the last score of a rotation, whoever the rotation moved; in the middle of one nobody.
 */
export function movesTo(
  after: Meet,
  contest: string,
  was: Footing,
  changes: readonly {
    readonly id: string;
    readonly from: number | null;
    readonly to: number | null;
  }[],
): Moves {
  const is = progressIn(findContest(after, contest), recordedPerformances(after)).footing;
  if (is === 'uneven') return NOBODY;
  if (was !== 'uneven') {
    return {
      at: null,
      isKnown: true,
      moves: changes.flatMap(({ id, from, to }) => (to === null ? [] : [{ id, from, to }])),
    };
  }
  const over = rotationsFull(after);
  if (over < 2 || rotationsBegun(after) !== over) return NOBODY;
  const { rows } = standings(after, { contest });
  const { rotation, session } = rotationAt(after, over - 2);
  const before = standings(after, { contest, after: rotation, session }).rows;
  const from = new Map(before.map((row) => [row.id, row.place] as const));
  return {
    at: over - 1,
    isKnown: true,
    moves: rows.flatMap((row) => {
      const { id, place } = row;
      // Who withdrew has lost no place.
      if (isOut(row) && row.projected === null) return [];
      const then = from.get(id) ?? null;
      return place === null || then === null || then === place
        ? []
        : [{ id, from: then, to: place }];
    }),
  };
}
