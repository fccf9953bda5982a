/** Tables as data: how one is made of rows, and what is said under it. */
import type { Cell, Column, Note, Table, Tone } from './report.js';

/** A column, and what it holds of a row. */
export interface ColumnOf<Row> extends Partial<Omit<Column, 'head'>> {
  readonly head: string;
  readonly cell: (row: Row) => string | Cell;
  readonly tone?: (row: Row) => Tone | null;
}

interface Around<Row> {
  readonly under?: (row: Row) => readonly string[];
  readonly notes?: readonly (string | Note)[];
  readonly tellsLeftOut?: Table['tellsLeftOut'];
}

/** A table of rows, without the columns that would be empty. */
export function tableOf<Row>(
  columns: readonly ColumnOf<Row>[],
  rows: readonly Row[],
  { under = () => [], notes = [], tellsLeftOut = null }: Around<Row> = {},
): Table {
  const filled = columns
    .map((column) => ({ column, cells: rows.map((row) => cellOf(column, row)) }))
    .filter(({ cells }) => cells.some(hasContent));
  return {
    kind: 'table',
    columns: filled.map(({ column }) => ({
      head: column.head,
      align: column.align ?? 'left',
      spare: column.spare ?? null,
      isFlexible: column.isFlexible ?? false,
      goesUnder: column.goesUnder ?? false,
      isNames: column.isNames ?? false,
      ends: column.ends ?? null,
    })),
    rows: rows.map((row, i) => ({
      cells: filled.map(({ cells }) => cells[i] ?? { text: '' }),
      under: under(row),
    })),
    notes: notes.map((note) => (typeof note === 'string' ? { text: note, about: null } : note)),
    tellsLeftOut,
  };
}

function cellOf<Row>({ cell, tone }: ColumnOf<Row>, row: Row): Cell {
  const made = cell(row);
  const whole = typeof made === 'string' ? { text: made } : made;
  return tone === undefined ? whole : { ...whole, tone: tone(row) };
}

function hasContent({ text, bar = 0, spark = [], items = [], comparison }: Cell): boolean {
  const isListed = items.length > 0 || spark.length > 0;
  return text !== '' || bar > 0 || isListed || comparison !== undefined;
}

/**
 * What is said under a table in which some columns had no room: each text a paragraph. `leftOut`: their
 * heads, the first that went first; `width`: how many characters there was room for.
 * @param table - The notes of a table, and how it tells which columns it lacks.
 * @param leftOut - Heads of the columns that had no room, the first that went first.
 * @param width - How many characters there was room for.
 * @example
 * const report = reports.standings(meet, standings(meet));
 * const [board] = report.flat().flatMap((b) => (b.kind === 'table' ? [b] : []));
 * board === undefined ? [] : reports.notesUnder(board, ['team'], 40)[0]?.split(' · ')[0] // → '= shared place'
 */
export function notesUnder(
  { notes, tellsLeftOut }: Pick<Table, 'notes' | 'tellsLeftOut'>,
  leftOut: readonly string[] = [],
  width = 0,
): string[] {
  const shown = notes.filter(({ about }) => about === null || !leftOut.includes(about));
  const isSeries = tellsLeftOut === 'series' && leftOut.length > 0;
  const remarks = [
    ...shown.map(({ text }) => text),
    ...(isSeries ? [`not shown: ${seriesInWords(leftOut)}`] : []),
  ];
  return [
    ...(remarks.length > 0 ? [remarks.join(' · ')] : []),
    ...(tellsLeftOut === 'names' && leftOut.length > 0
      ? [`Not shown in ${width} columns: ${leftOut.join(', ')}.`]
      : []),
  ];
}

/** "4th to 8th", of heads of which the last went first. */
function seriesInWords(heads: readonly string[]): string {
  const [first] = heads;
  const last = heads.at(-1);
  return heads.length <= 1 ? `${first}` : `${last} to ${first}`;
}
