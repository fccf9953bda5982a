/** A place as every line of the board has it: values, marks and fields. */
import type { Progress } from '../contest/like-for-like.js';
import { isToCome, type Meet, type Routine } from '../meet/meet.js';
import {
  evenInWords,
  type FairPlace,
  fairPlace,
  isShared,
  levelAfterAsMany,
  type SaidBoard,
  type Standing,
} from '../report/standing.js';
import { routinesInWords } from '../report/words.js';
import type { Contender } from '../rules/contender.js';
import type { Units } from '../score.js';
import type { Context } from './context.js';
import {
  asIs,
  type LineValues,
  NO_VALUES,
  namesIn,
  placeWords,
  scoreIn,
  YES_NO,
  yesNo,
} from './fact.js';
import type { Words } from './words.js';

/** Whether everyone has done equally many routines; only those on the board; or not even they. */
export const BOARD = ['even', 'so-far', 'uneven'] as const;

/** Of a place on the board. */
export const PLACE_FIELDS = [
  ...['total', 'place', 'soFar', 'even', 'each', 'projected', 'done', 'left'],
  ...['levelWith', 'side', 'rule'],
] as const;

export const PLACE_WHEN = {
  board: BOARD,
  tied: YES_NO,
  level: ['shared', 'ahead', 'behind', 'no'],
  out: YES_NO,
} as const;

/** Where somebody stands; on an uneven board the place that compares like with like. */
export function placeOf(context: Context, board: SaidBoard, standing: Standing) {
  const { meet } = context;
  const { row, tie } = standing;
  const { footing } = board.progress;
  const isUneven = footing === 'uneven';
  const level = isUneven ? levelAfterAsMany(standing, board.of) : (tie?.with ?? []);
  const isBroken = !isUneven && tie !== null && tie.kind !== 'shares';
  return {
    values: {
      ...NO_VALUES,
      ...fairValues(board, standing),
      done: row.done,
      levelWith: level,
      total: row.total,
    },
    marks: {
      board: footing,
      tied: yesNo(row.tied),
      level: tie === null ? 'no' : tie.kind === 'shares' ? 'shared' : tie.kind,
      out: yesNo(standing.isOut),
    },
    fields: {
      total: scoreIn(meet, row.total),
      place: placeWords(standing.isOut ? null : row.place),
      soFar: asIs(footing === 'so-far' ? ' so far' : ''),
      even: fairWords(board, row, 'evenPlace'),
      each: asIs(evenInWords(board.progress)),
      projected: fairWords(board, row, 'projectedPlace'),
      done: asIs(routinesInWords(row.done)),
      left: asIs(routinesInWords(row.toCome.length)),
      levelWith: namesIn(context, level),
      side: isBroken ? asIs(tie.kind) : null,
      rule: isBroken && tie.on !== null ? asIs(tie.on) : null,
    },
  };
}

/** The place that is said of somebody, and of which board it is; who is out has none. */
function fairValues(
  board: SaidBoard,
  { row, isOut }: Standing,
): Pick<LineValues, 'by' | 'place' | 'tied' | 'tieBy'> {
  const { footing } = board.progress;
  if (isOut || row.place === null) return { by: null, place: null, tied: null, tieBy: null };
  if (footing !== 'uneven') {
    const by = footing === 'even' ? 'board' : 'so-far';
    return { by, place: row.place, tied: row.tied, tieBy: row.tieBy };
  }
  const rows = [...board.of.values()].map((standing) => standing.row);
  for (const [by, key] of [
    ['projection', 'projectedPlace'],
    ['each', 'evenPlace'],
  ] as const) {
    if (row[key] !== null) {
      return { by, place: row[key], tied: isShared(rows, row, key), tieBy: null };
    }
  }
  return { by: null, place: null, tied: null, tieBy: null };
}

function fairWords(board: SaidBoard, row: Standing['row'], by: FairPlace): Words | null {
  const place = fairPlace(board, row, by);
  return place === null ? null : asIs(place);
}

/** What those on a board are behind the leader, and the leaders ahead of the next; by row. */
export interface Gaps {
  readonly behind: Units | null;
  readonly lead: Units | null;
}

export function gapsOn({ of }: SaidBoard): (index: number) => Gaps {
  // Nobody is ahead of one who is out, nor behind anybody then.
  const rows = [...of.values()].map(({ row, isOut }) => (isOut ? null : row));
  const [leader = null] = rows;
  // Behind by nothing is a tie, and what one is behind somebody with more routines is no gap.
  const gap = (behind: Units | null, done: number, than: Standing['row'] | null) =>
    behind !== null && behind > 0 && than?.done === done ? behind : null;
  return (index) => {
    const [row = null, next = null] = rows.slice(index, index + 2);
    if (row === null) return { behind: null, lead: null };
    const isAlone = row.place === 1 && !row.tied && next !== null && next.place !== null;
    return {
      behind: gap(row.behind, row.done, leader),
      lead: isAlone ? gap(next.behind, row.done, next) : null,
    };
  };
}

/** Said after a place on the board right after a routine, where not all have done equally many then. */
export function soFarAfter(
  { contest, meet }: Context,
  { footing, fewest, most }: Progress,
  routine: Routine,
): { soFar: Words; unequal: Words } {
  const soFar = asIs(footing === 'even' ? '' : ' so far');
  if (footing !== 'uneven') return { soFar, unequal: asIs('') };
  const hers = doneBy(meet, contest.contenders, routine) + 1;
  const others = hers === fewest ? most : hers === most ? fewest : `${fewest} to ${most}`;
  return { soFar, unequal: asIs(`, with ${routinesInWords(hers)} to others’ ${others}`) };
}

function doneBy(meet: Meet, contenders: readonly Contender[], { index }: Routine): number {
  const contender = contenders.find((c) => c.routines.includes(index));
  return (contender?.routines ?? []).filter((i) => !isToCome(meet, i)).length;
}
