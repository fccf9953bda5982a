/** What there is to say of the board: where everyone stands, and what changed. */
import type { Progress } from '../contest/like-for-like.js';
import {
  isScored,
  isToCome,
  type Meet,
  type Result,
  type Routine,
  resultFor,
  type Scored,
} from '../meet/meet.js';
import { resultShown } from '../meet/names.js';
import { isUnderInquiry } from '../meet/now.js';
import {
  boardNow,
  evenInWords,
  type FairPlace,
  fairPlace,
  levelAfterAsMany,
  movesTo,
  type SaidBoard,
  type Standing,
} from '../report/standing.js';
import { routinesInWords } from '../report/words.js';
import type { Contender } from '../rules/contender.js';
import type { Context } from './context.js';
import {
  aboutRoutine,
  asIs,
  type Fact,
  NO_BAND,
  namesIn,
  ofMark,
  placeMark,
  placeWords,
  scoreIn,
  whoFields,
  yesNo,
} from './fact.js';
import type { Words } from './words.js';

/** Where somebody stands: the marks and fields that every line of the board has. */
function standingOf(context: Context, board: SaidBoard, standing: Standing) {
  const { meet } = context;
  const { row, tie } = standing;
  const { footing } = board.progress;
  const isUneven = footing === 'uneven';
  const level = isUneven ? levelAfterAsMany(standing, board.of) : (tie?.with ?? []);
  const isBroken = !isUneven && tie !== null && tie.kind !== 'shares';
  return {
    marks: {
      board: footing,
      tied: yesNo(row.tied),
      level: tie === null ? 'no' : tie.kind === 'shares' ? 'shared' : tie.kind,
      out: yesNo(standing.isOut),
    },
    fields: {
      total: scoreIn(meet, row.total),
      place: placeWords(row.place),
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

function fairWords(board: SaidBoard, row: Standing['row'], by: FairPlace): Words | null {
  const place = fairPlace(board, row, by);
  return place === null ? null : asIs(place);
}

export function standingFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  const board = boardNow(meet, contest.id);
  const standings = [...board.of.values()];
  const over = contest.contenders.every((c) =>
    c.routines.every((i) => !isToCome(meet, i) && !isUnderInquiry(meet, i)),
  );
  const [leader] = standings;
  return standings.flatMap((standing, i): Fact[] => {
    const { row } = standing;
    const contender = contest.contenders.find((c) => c.id === row.id);
    if (row.place === null || contender === undefined) return [];
    const next = standings[i + 1]?.row;
    // Behind by nothing is a tie; by less than nothing, somebody is out; and what one is behind
    // somebody with more routines is no gap.
    const gap = (behind: number | null | undefined, than: Standing['row'] | undefined) =>
      behind != null && behind > 0 && than?.done === row.done ? scoreIn(meet, behind) : null;
    const { marks, fields } = standingOf(context, board, standing);
    return [
      {
        ...NO_BAND,
        kind: 'standing',
        about: [row.id],
        apparatus: null,
        marks: {
          ...ofMark(contest),
          ...marks,
          place: placeMark(contest, row.place),
          over: yesNo(over),
        },
        fields: {
          ...whoFields(context, contender, row.id),
          ...fields,
          behind: gap(row.behind, leader?.row),
          lead: row.place === 1 && next?.place != null ? gap(next.behind, next) : null,
        },
      },
    ];
  });
}

/** More routines than this are a rotation, of which the places tell. */
const MOST_AT_ONCE = 6;

/** A place before and now, of two boards that compare like with like, or both by projection. */
interface Change {
  readonly was: number | null;
  readonly is: number | null;
  /** Null where the two cannot be compared. */
  readonly by: 'board' | 'projection' | null;
}

/** Whose place moved, where that can be said of anybody. */
interface Moved {
  readonly isKnown: boolean;
  readonly of: ReadonlyMap<string, Change>;
}

/** What the routines that were scored since did: to those who did them, then to the others. */
export function changeFacts(context: Context): Fact[] {
  const { meet, before, contest } = context;
  const [then, now] = [boardNow(before, contest.id), boardNow(meet, contest.id)];
  const changed = meet.routines.filter(
    (r) =>
      JSON.stringify(meet.results[r.index]) !==
      JSON.stringify(resultFor(before, r.gymnast, r.apparatus)),
  );
  const latest = changed.length <= MOST_AT_ONCE ? changed : [];
  const moves = movesBetween(context, then, now);
  const told = new Set<string>();
  const own = latest.flatMap((routine) => {
    const contender = contest.contenders.find((c) => c.routines.includes(routine.index));
    // A row that was taken back leaves nothing to say but the places that moved.
    if (contender === undefined || meet.results[routine.index] === null) return [];
    told.add(contender.id);
    const change = changeOf(then, now, contender.id, moves);
    return factOf(context, now, { contender, routine, change });
  });
  const moved = [...moves.of]
    .filter(([id]) => !told.has(id))
    .sort(([, a], [, b]) => (a.is ?? 0) - (b.is ?? 0))
    .flatMap(([id, change]) => {
      const contender = contest.contenders.find((c) => c.id === id);
      return contender === undefined
        ? []
        : factOf(context, now, { contender, routine: null, change });
    });
  return [...own, ...moved];
}

function movesBetween({ meet, contest }: Context, then: SaidBoard, now: SaidBoard): Moved {
  const changes = [...now.of.values()].flatMap(({ row: { id, place: to } }) => {
    const from = then.of.get(id)?.row.place ?? null;
    return from === to ? [] : [{ id, from, to }];
  });
  const { isKnown, moves } = movesTo(meet, contest.id, then.progress.footing, changes);
  return {
    isKnown,
    of: new Map(moves.map(({ id, from, to }) => [id, { was: from, is: to, by: 'board' }])),
  };
}

/** What became of whoever had a routine: on the board, or by projection in the middle of a rotation. */
function changeOf(then: SaidBoard, now: SaidBoard, id: string, moves: Moved): Change {
  const row = now.of.get(id)?.row;
  if (now.progress.footing !== 'uneven') {
    const is = row?.place ?? null;
    return moves.of.get(id) ?? { was: is, is, by: moves.isKnown ? 'board' : null };
  }
  const was = then.of.get(id)?.row.projectedPlace ?? null;
  const is = row?.projectedPlace ?? null;
  return { was, is, by: was === null ? null : 'projection' };
}

function factOf(
  context: Context,
  board: SaidBoard,
  about: {
    readonly contender: Contender;
    readonly routine: Routine | null;
    readonly change: Change;
  },
): Fact[] {
  const { meet, before, contest, names } = context;
  const { contender, routine, change } = about;
  const standing = board.of.get(contender.id);
  if (standing === undefined) return [];
  const result = routine === null ? null : meet.results[routine.index];
  const stood = routine === null ? null : resultFor(before, routine.gymnast, routine.apparatus);
  const gymnast = routine?.gymnast ?? contender.id;
  const { marks, fields } = standingOf(context, board, standing);
  const moved = change.was === change.is ? null : placeWords(change.was);
  return [
    {
      ...NO_BAND,
      kind: 'change',
      about: aboutRoutine(contender, gymnast),
      apparatus: routine?.apparatus ?? null,
      marks: {
        ...ofMark(contest),
        ...marks,
        what: routine === null ? 'moved' : isScored(result) ? 'score' : 'withdrawn',
        ...wayMark(change),
      },
      fields: {
        ...whoFields(context, contender, gymnast),
        ...fields,
        apparatus: routine === null ? null : names.apparatus(routine.apparatus),
        score: isScored(result) ? asIs(scoreWords(meet, stood, result)) : null,
        was: change.by === 'board' ? moved : null,
        wasProjected: change.by === 'projection' ? moved : null,
      },
    },
  ];
}

/** A score, and what it was: "13.100 after an inquiry (was 12.900)". */
function scoreWords(meet: Meet, was: Result | null, now: Scored): string {
  const is = resultShown(meet, now);
  const after = isScored(was) && was.underInquiry && !now.underInquiry ? ' after an inquiry' : '';
  const stood = was === null ? is : resultShown(meet, was);
  if (stood !== is) return `${is}${after} (was ${stood})`;
  return after === '' ? is : `${is}, confirmed,`;
}

function wayMark({ was, is, by }: Change): { way?: string } {
  if (is === null || by === null) return {};
  if (was === null) return { way: 'new' };
  return { way: is < was ? 'up' : is > was ? 'down' : 'same' };
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
