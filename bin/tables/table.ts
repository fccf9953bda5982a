/** Tables without lines: columns by what they are called, the least needed left out where it is narrow. */
import Table from 'cli-table3';
import { colour, columnsOf, safe, terminalWidth, wrap } from '../terminal.js';

export interface Column<Row> {
  readonly head: string;
  readonly cell: (row: Row) => string;
  readonly align?: 'left' | 'right';
  /** Left out when the terminal is too narrow, the highest number first. */
  readonly spare?: number;
  /** Broken into several lines where the table is too wide. */
  readonly flexible?: boolean;
  /** A style for the cell, which must not change its width. */
  readonly style?: (row: Row) => (text: string) => string;
}

const NO_LINES = {
  top: '',
  'top-mid': '',
  'top-left': '',
  'top-right': '',
  bottom: '',
  'bottom-mid': '',
  'bottom-left': '',
  'bottom-right': '',
  left: '',
  'left-mid': '',
  mid: '',
  'mid-mid': '',
  right: '',
  'right-mid': '',
  middle: '  ',
};

/** Between two columns. */
const GAP = 2;

/** No flexible column is made narrower than this. */
const NARROWEST = 24;

/** The table as text, and the heads of the columns that did not fit. */
export function renderTable<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  /** Lines in words under a row, across the table. */
  under?: (row: Row) => readonly string[],
): { text: string; leftOut: string[] } {
  const width = terminalWidth();
  const filled = columns
    .map((column) => filledColumn(column, rows))
    .filter((c) => c.cells.some((lines) => lines.join('') !== ''));
  const { shown, leftOut } = fitted(filled, width);
  const [heads = [], ...body] = draw(shown, rows);
  const lines = body.flatMap((block, i) => {
    const words = rows[i] === undefined ? [] : (under?.(rows[i]) ?? []);
    return [...block, ...words.flatMap((text) => wrap(safe(text), width - 2)).map((l) => `  ${l}`)];
  });
  return { text: [...(heads.join('') === '' ? [] : heads), ...lines].join('\n'), leftOut };
}

/** A column with its cells, each in lines. */
interface Filled<Row> {
  readonly column: Column<Row>;
  readonly cells: readonly (readonly string[])[];
  readonly width: number;
}

function filledColumn<Row>(column: Column<Row>, rows: readonly Row[]): Filled<Row> {
  return measured(
    column,
    rows.map((row) => column.cell(row).split('\n').map(safe)),
  );
}

function measured<Row>(column: Column<Row>, cells: readonly (readonly string[])[]): Filled<Row> {
  return { column, cells, width: Math.max(columnsOf(column.head), ...cells.flat().map(columnsOf)) };
}

/** Breaks the flexible column, then leaves out the most spare ones, until all fits. */
function fitted<Row>(
  filled: readonly Filled<Row>[],
  width: number,
): { shown: readonly Filled<Row>[]; leftOut: string[] } {
  const over = (list: readonly Filled<Row>[]) =>
    list.reduce((sum, c) => sum + c.width + GAP, -GAP) - width;
  const tooWide = over(filled);
  let shown = filled.map((c) => {
    if (tooWide <= 0 || !c.column.flexible) return c;
    const narrower = Math.max(c.width - tooWide, NARROWEST);
    const cells = c.cells.map((lines) => lines.flatMap((line) => wrap(line, narrower)));
    return measured(c.column, cells);
  });
  const leftOut: string[] = [];
  for (;;) {
    const mostSpare = Math.max(...shown.map((c) => c.column.spare ?? 0));
    if (over(shown) <= 0 || mostSpare <= 0) return { shown, leftOut };
    leftOut.push(...shown.filter((c) => c.column.spare === mostSpare).map((c) => c.column.head));
    shown = shown.filter((c) => c.column.spare !== mostSpare);
  }
}

/** The lines of the heads, then those of each row. */
function draw<Row>(columns: readonly Filled<Row>[], rows: readonly Row[]): string[][] {
  const table = new Table({
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    colAligns: columns.map((c) => c.column.align ?? 'left'),
    colWidths: columns.map((c) => c.width),
  });
  table.push(columns.map((c) => colour.dim(c.column.head)));
  rows.forEach((row, i) => {
    table.push(
      columns.map(({ column, cells }) => {
        const text = (cells[i] ?? []).join('\n');
        return column.style === undefined ? text : column.style(row)(text);
      }),
    );
  });
  const lines = table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd());
  const heights = rows.map((_, i) => Math.max(1, ...columns.map((c) => c.cells[i]?.length ?? 1)));
  return [1, ...heights].map((height) => lines.splice(0, height));
}
