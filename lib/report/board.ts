/** The board. */
import type { Standings, StandingsRow } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import { type Report, reportOf, type Section, sentence, type Tone, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { ruleInWords, shower, titleOf, toComeInWords } from './words.js';

/** The board as it stands, or as it stood after a rotation. */
export function standingsReport(meet: Meet, board: Standings): Report {
  const when = board.after === null ? 'as it stands' : `after rotation ${board.after}`;
  return reportOf(boardSection(meet, board, `${titleOf(meet, board.contest)}, ${when}`));
}

/** A board under a heading of its own. */
export function boardSection(meet: Meet, board: Standings, heading: string): Section {
  const { rows } = board;
  const notes = [
    rows.some((r) => r.tied) ? '= shares its place' : '',
    rows.some((r) => (r.moved ?? 0) !== 0) ? '▲▼ places since the rotation before' : '',
    rows.some((r) => r.projected !== null && r.toCome.length > 0)
      ? 'projected: total + likely of what is to come'
      : '',
  ].filter((n) => n !== '');
  return [
    title(heading),
    tableOf(boardColumns(meet, board), rows, { notes, tellsLeftOut: 'names' }),
    ...skippedOnBoard(board.skipped),
  ];
}

function boardColumns(meet: Meet, board: Standings): ColumnOf<StandingsRow>[] {
  const show = shower(meet);
  const codes = [...new Set(board.rows.flatMap((r) => Object.keys(r.scores)))].sort(
    (a, b) => codeOrder(meet, a) - codeOrder(meet, b),
  );
  const tone = (row: StandingsRow): Tone | null => (row.place === 1 ? 'strong' : null);
  return [
    { head: '', cell: placeText, align: 'right', tone },
    { head: 'name', cell: (r) => r.name, tone },
    { head: 'team', cell: (r) => r.team ?? '', spare: 1 },
    ...codes.map(
      (code): ColumnOf<StandingsRow> => ({
        head: code,
        cell: (r) => {
          const score = r.scores[code];
          return typeof score === 'number' ? show(score) : (score ?? '·');
        },
        align: 'right',
        spare: 2,
      }),
    ),
    { head: 'total', cell: (r) => show(r.total), align: 'right', tone },
    {
      head: 'behind',
      cell: (r) => (r.behind === null || r.place === 1 ? '' : show(r.behind)),
      align: 'right',
    },
    { head: '', cell: (r) => movedText(r.moved), align: 'right' },
    { head: 'done', cell: (r) => String(r.done), align: 'right', spare: 3 },
    {
      head: 'to come',
      cell: (r) => (isOut(r) ? 'out' : toComeInWords(r.toCome)),
    },
    {
      head: 'projected',
      cell: (r) => (r.projected === null || r.toCome.length === 0 ? '' : show(r.projected)),
      align: 'right',
    },
  ];
}

/** "1", "=2", and "–" where there is no place yet. */
export function placeText({ place, tied }: Pick<StandingsRow, 'place' | 'tied'>): string {
  return place === null ? '–' : `${tied ? '=' : ''}${place}`;
}

function movedText(moved: number | null): string {
  if (moved === null || moved === 0) return '';
  return moved > 0 ? `▲${moved}` : `▼${-moved}`;
}

function isOut(row: StandingsRow): boolean {
  return Object.values(row.scores).some((s) => s === 'DNS' || s === 'DNF');
}

function codeOrder(meet: Meet, code: string): number {
  return meet.apparatus.findIndex((a) => a.code === code);
}

/** Which tie rules could not be applied, and so left a place shared. */
export function skippedOnBoard(skipped: readonly string[]): Section {
  if (skipped.length === 0) return [];
  const rules = skipped.map(ruleInWords).join(', ');
  return [sentence(`A tie was not taken to ${rules}: not everyone in it has the scores for that.`)];
}
