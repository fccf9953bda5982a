/** The board as a table. */
import type { Meet, Standings, StandingsRow } from '../../lib/index.js';
import { colour, terminalWidth, writeLine, writeWords } from '../terminal.js';
import { ruleInWords, shower, toComeInWords } from '../words.js';
import { type Column, renderTable } from './table.js';

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

export function boardColumns(meet: Meet, board: Standings): Column<StandingsRow>[] {
  const show = shower(meet);
  const codes = [...new Set(board.rows.flatMap((r) => Object.keys(r.scores)))].sort(
    (a, b) => codeOrder(meet, a) - codeOrder(meet, b),
  );
  const leader = (row: StandingsRow) => (row.place === 1 ? colour.bold : (s: string) => s);
  return [
    { head: '', cell: placeText, align: 'right', style: leader },
    { head: 'name', cell: (r) => r.name, style: leader },
    { head: 'team', cell: (r) => r.team ?? '', spare: 1 },
    ...codes.map(
      (code): Column<StandingsRow> => ({
        head: code,
        cell: (r) => {
          const score = r.scores[code];
          return typeof score === 'number' ? show(score) : (score ?? '·');
        },
        align: 'right',
        spare: 2,
      }),
    ),
    { head: 'total', cell: (r) => show(r.total), align: 'right', style: leader },
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

function codeOrder(meet: Meet, code: string): number {
  return meet.apparatus.findIndex((a) => a.code === code);
}

export function printBoard(meet: Meet, board: Standings, heading: string): void {
  writeWords(heading, colour.bold);
  const columns = boardColumns(meet, board);
  const { text, leftOut } = renderTable(columns, board.rows);
  writeLine(text);
  const notes = [
    board.rows.some((r) => r.tied) ? '= shares its place' : '',
    board.rows.some((r) => (r.moved ?? 0) !== 0) ? '▲▼ places since the rotation before' : '',
    board.rows.some((r) => r.projected !== null && r.toCome.length > 0)
      ? 'projected: total + likely of what is to come'
      : '',
  ].filter((n) => n !== '');
  if (notes.length > 0) writeWords(notes.join(' · '), colour.dim);
  if (leftOut.length > 0) {
    writeWords(`Not shown in ${terminalWidth()} columns: ${leftOut.join(', ')}.`, colour.dim);
  }
  printSkipped(board.skipped);
}

/** Which tie rules could not be applied, and so left a place shared. */
export function printSkipped(skipped: readonly string[]): void {
  if (skipped.length === 0) return;
  const rules = skipped.map(ruleInWords).join(', ');
  writeLine(`A tie was not taken to ${rules}: not everyone in it has the scores for that.`);
}
