/** The board. */

import { findContest } from '../contest/contest.js';
import type { Progress } from '../contest/like-for-like.js';
import type { Standings, StandingsRow } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import { asScore } from '../score.js';
import { advanceBy, advanceColumn, advanceLines, advanceNotes, certainOn } from './advance.js';
import { countedSection } from './counted-scores.js';
import { nameColumn, teamColumns } from './name-columns.js';
import { openSection } from './open.js';
import { type Report, reportOf, type Section, sentence, type Tone, title } from './report.js';
import { likeForLikeSection, unfinishedSection } from './so-far.js';
import {
  type FairPlace,
  isShared,
  type LevelGroup,
  levelGroups,
  type SaidBoard,
  saidBoard,
  someHaveDone,
} from './standing.js';
import { type ColumnOf, tableOf } from './table.js';
import { folded } from './unnamed.js';
import {
  capital,
  listed,
  ordinal,
  rotationInWords,
  ruleInWords,
  shortName,
  shower,
  titleOf,
  toComeInWords,
} from './words.js';

/**
 * The board as it stands, or as it stood after a rotation.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param board - As `standings` gave it.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const report = reports.standings(meet, standings(meet));
 * const [board] = report.flat().flatMap((b) => (b.kind === 'table' ? [b] : []));
 * board?.columns.slice(0, 3).map((column) => column.head) // → ['place', 'name', 'team']
 * board?.rows[0]?.cells.slice(0, 3).map((cell) => cell.text) // → ['1', 'Suzu Tanakura', 'LTH']
 */
export function standingsReport(meet: Meet, board: Standings): Report {
  const isFinal = board.rows.every((r) => r.toCome.length === 0) && board.underInquiry.length === 0;
  const isBegun = board.rows.some((r) => r.place !== null);
  const now = isFinal ? 'final' : isBegun ? 'as it stands' : 'not begun yet';
  const when = afterInWords(meet, board) ?? now;
  return reportOf(
    [
      ...boardSection(meet, board, `${titleOf(meet, board.contest)}, ${when}`),
      ...likeForLikeSection(meet, board),
      ...unfinishedSection(meet, board),
    ],
    countedSection(meet, board, !isFinal),
    openSection(meet, board),
  );
}

function afterInWords(meet: Meet, { after, session }: Standings): string | null {
  if (after === null || session === null) return null;
  return `after ${rotationInWords(meet, { rotation: after, session })}`;
}

/** A board under a heading of its own. */
export function boardSection(meet: Meet, board: Standings, heading: string): Section {
  const { rows } = board;
  const said = saidBoard(meet, board);
  const certain = certainOn(meet, board);
  const isEven = said.progress.footing === 'even';
  const by = advanceBy(isEven, rows);
  const { shown, said: others } = folded(meet, rows, (r) => r.id);
  const sharesFairly = (r: StandingsRow) =>
    isShared(rows, r, 'evenPlace') || isShared(rows, r, 'projectedPlace');
  const notes = [
    rows.some((r) => r.tied || (!isEven && sharesFairly(r))) ? '= shared place' : '',
    rows.some((r) => r.levelWith.length > 0) ? '* same total as somebody else' : '',
    isEven && rows.some((r) => movedText(said, r) !== '')
      ? '▲▼ places gained and lost in the last rotation'
      : '',
    rows.some((r) => r.projected !== null && r.toCome.length > 0)
      ? `projected finish: the total if all that is to come scores as expected${isEven ? '' : ', and the place it brings'}`
      : '',
    ...advanceNotes(rows, certain, by),
  ].filter((n) => n !== '');
  const through = advanceColumn(rows, certain, by);
  const scores = [...broughtColumn(meet, board), ...scoreColumns(meet, rows)];
  const columns = isEven
    ? evenColumns(meet, said, rows, scores, through)
    : unevenColumns(meet, said, rows, scores, through);
  return [
    title(heading),
    ...(isEven ? [] : [sentence(unevenInWords(said.progress, rows))]),
    tableOf(columns, shown, { notes, tellsLeftOut: 'names' }),
    ...others,
    ...advanceLines(meet, rows, by),
    ...tiesOn(meet, said),
    ...skippedOnBoard(board.skipped),
  ];
}

/** Why the places so far are no fair ones, and which are. */
function unevenInWords(progress: Progress, rows: readonly StandingsRow[]): string {
  const some = capital(someHaveDone(progress));
  const even = rows.some((r) => r.evenPlace !== null) ? evenHead(progress) : null;
  const projected = rows.some((r) => r.projectedPlace !== null);
  if (even === null) return `${some}${projected ? ', so look at the projected finish' : ''}.`;
  return `${some}, so look at the places ${even}${projected ? ', or at the projected finish' : ''}.`;
}

function evenHead({ each }: Progress): string {
  return each === null ? 'like for like' : `after ${each} each`;
}

/** Where all have done equally many. */
function evenColumns(
  meet: Meet,
  said: SaidBoard,
  rows: readonly StandingsRow[],
  scores: readonly ColumnOf<StandingsRow>[],
  through: readonly ColumnOf<StandingsRow>[],
): ColumnOf<StandingsRow>[] {
  const show = shower(meet);
  return [
    placeColumn(said),
    boardNameColumn(meet),
    ...teamColumns(meet, rows),
    ...scores,
    totalColumn(meet, rows),
    ...through,
    {
      head: 'behind',
      cell: (r) =>
        r.behind === null || r.place === 1 || said.of.get(r.id)?.isOut ? '' : show(r.behind),
      align: 'right',
    },
    { head: '', cell: (r) => movedText(said, r), align: 'right' },
    { head: 'done', cell: (r) => String(r.done), align: 'right', spare: 3 },
    toComeColumn(said),
    {
      head: PROJECTED,
      cell: (r) => (r.projected === null || r.toCome.length === 0 ? '' : show(r.projected)),
      align: 'right',
    },
  ];
}

/**
 * Where they have not: how many each has done, and the places that compare like with like, instead of
 * what they are behind.
 */
function unevenColumns(
  meet: Meet,
  said: SaidBoard,
  rows: readonly StandingsRow[],
  scores: readonly ColumnOf<StandingsRow>[],
  through: readonly ColumnOf<StandingsRow>[],
): ColumnOf<StandingsRow>[] {
  const show = shower(meet);
  const fairPlace = (row: StandingsRow, by: FairPlace) => {
    const place = row[by];
    return place === null ? '' : `${isShared(rows, row, by) ? '=' : ''}${ordinal(place)}`;
  };
  const widest = Math.max(...rows.map((r) => fairPlace(r, 'projectedPlace').length));
  return [
    placeColumn(said),
    boardNameColumn(meet),
    ...teamColumns(meet, rows),
    ...scores,
    totalColumn(meet, rows),
    ...through,
    { head: 'done', cell: (r) => String(r.done), align: 'right' },
    toComeColumn(said),
    {
      head: evenHead(said.progress),
      cell: (r) => fairPlace(r, 'evenPlace'),
      align: 'right',
    },
    {
      head: PROJECTED,
      cell: (r) => {
        if (r.projected === null) return '';
        const place = fairPlace(r, 'projectedPlace');
        return place === '' ? show(r.projected) : `${show(r.projected)}, ${place.padStart(widest)}`;
      },
      align: 'right',
    },
  ];
}

const PROJECTED = 'projected finish';

const tone = (row: StandingsRow): Tone | null => (row.place === 1 ? 'strong' : null);

/** Whoever has withdrawn stands behind all others, and in no place that is said. */
function placeColumn({ of }: SaidBoard): ColumnOf<StandingsRow> {
  return {
    head: 'place',
    cell: (r) => (of.get(r.id)?.isOut ? NO_PLACE : placeText(r)),
    align: 'right',
    tone,
  };
}

function boardNameColumn(meet: Meet): ColumnOf<StandingsRow> {
  return { ...nameColumn(meet, (r) => r.id), tone };
}

/** What is in the totals of an earlier day, where there is any. */
function broughtColumn(meet: Meet, { contest }: Standings): ColumnOf<StandingsRow>[] {
  const show = shower(meet);
  const contenders = findContest(meet, contest).contenders;
  if (contenders.every((c) => c.carried === 0)) return [];
  const brought = new Map(contenders.map((c) => [c.id, c.carried] as const));
  return [
    {
      head: 'brought in',
      cell: (r) => show(asScore(brought.get(r.id) ?? 0)),
      align: 'right',
      spare: 1,
    },
  ];
}

function scoreColumns(meet: Meet, rows: readonly StandingsRow[]): ColumnOf<StandingsRow>[] {
  const show = shower(meet);
  const codes = [...new Set(rows.flatMap((r) => Object.keys(r.scores)))].sort(
    (a, b) => codeOrder(meet, a) - codeOrder(meet, b),
  );
  return codes.map((code) => ({
    head: code,
    cell: (r) => {
      const score = r.scores[code];
      return typeof score === 'number' ? show(score) : (score ?? '·');
    },
    align: 'right',
    spare: 2,
  }));
}

/** A total that somebody else has too is marked. */
function totalColumn(meet: Meet, rows: readonly StandingsRow[]): ColumnOf<StandingsRow> {
  const show = shower(meet);
  const hasTies = rows.some((r) => r.levelWith.length > 0);
  const mark = (r: StandingsRow) => (r.levelWith.length > 0 ? '*' : hasTies ? ' ' : '');
  return { head: 'total', cell: (r) => `${show(r.total)}${mark(r)}`, align: 'right', tone };
}

function toComeColumn({ of }: SaidBoard): ColumnOf<StandingsRow> {
  return {
    head: 'to come',
    cell: (r) => (of.get(r.id)?.isOut ? 'out' : toComeInWords(r.toCome)),
  };
}

/** More ties than this are counted. */
const MOST_TIES = 6;

/** "Okafor and Lund are level on 56.432; Okafor is ahead on the best three scores." */
function tiesOn(meet: Meet, said: SaidBoard): Section {
  const groups = levelGroups(said);
  const more = groups.length - MOST_TIES;
  return [
    ...groups.slice(0, MOST_TIES).map((group) => sentence(tieInWords(meet, said, group))),
    ...(more > 0
      ? [sentence(`There ${more === 1 ? 'is 1 more tie' : `are ${more} more ties`} on total.`)]
      : []),
  ];
}

function tieInWords(meet: Meet, { of }: SaidBoard, { total, byPlace }: LevelGroup): string {
  const names = (rows: readonly StandingsRow[]) => listed(rows.map((r) => shortName(meet, r.id)));
  const are = (rows: readonly StandingsRow[]) =>
    `${names(rows)} ${rows.length === 1 ? 'is' : 'are'}`;
  const level = `${are(byPlace.flat())} level on ${shower(meet)(total)}`;
  const isPair = byPlace.length === 2 && byPlace.flat().length === 2;
  const clauses = byPlace.flatMap((rows, i) => {
    const [first] = rows;
    const next = byPlace[i + 1];
    const share =
      rows.length > 1 && first?.place != null
        ? [`${names(rows)} share ${ordinal(first.place)}`]
        : [];
    if (next === undefined) return share;
    const on = decidedBetween(rows, next);
    if (on === null) return share;
    const whom = isPair ? '' : ` of ${names(next)}`;
    return [...share, `${are(rows)} ahead${whom} on ${on}`];
  });
  if (byPlace.length === 1) return `${level} and share ${ordinal(byPlace[0]?.[0]?.place ?? 0)}.`;
  return `${[level, ...clauses].join('; ')}.`;

  /** What separates one place from the next, where one of them is nearest to the other. */
  function decidedBetween(
    rows: readonly StandingsRow[],
    next: readonly StandingsRow[],
  ): string | null {
    const said = [...next, ...rows].flatMap((r) => of.get(r.id)?.tie ?? []);
    const ids = new Set([...rows, ...next].map((r) => r.id));
    return said.find((tie) => tie.on !== null && tie.with.every((id) => ids.has(id)))?.on ?? null;
  }
}

const NO_PLACE = '–';

/** "1", "=2", and "–" where there is no place yet. */
export function placeText({ place, tied }: Pick<StandingsRow, 'place' | 'tied'>): string {
  return place === null ? NO_PLACE : `${tied ? '=' : ''}${place}`;
}

function movedText({ of }: SaidBoard, { id, moved }: StandingsRow): string {
  if (moved === null || moved === 0 || of.get(id)?.isOut) return '';
  return moved > 0 ? `▲${moved}` : `▼${-moved}`;
}

function codeOrder(meet: Meet, code: string): number {
  return meet.apparatus.findIndex((a) => a.code === code);
}

/** Which tie rules could not be applied, and so left a place shared. */
export function skippedOnBoard(skipped: readonly string[]): Section {
  if (skipped.length === 0) return [];
  const rules = listed(skipped.map(ruleInWords));
  return [
    sentence(`Not every tie can be broken on ${rules}: not everyone has the scores for that.`),
  ];
}
