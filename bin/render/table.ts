/** Tables without lines, the least needed columns left out where it is narrow. */
import Table from 'cli-table3';
import type { reports } from '../../lib/index.js';
import { columnsOf, safe, terminalWidth, wrap } from '../terminal.js';
import { barWithText, compared, PICTURE } from './bar.js';
import { colour, styleOf } from './style.js';

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

/** Items of one cell are put on lines of about this many characters. */
const ITEMS_WIDTH = 50;

/** The table as text, and the heads of the columns that did not fit. */
export function tableText({ columns, rows }: reports.Table): { text: string; leftOut: string[] } {
  const width = terminalWidth();
  const filled = (isShort: boolean) =>
    columns.map((column, i) => filledColumn(column, i, rows, isShort));
  const whole = filled(false);
  const { shown, leftOut } = fitted(tooWide(whole, width) > 0 ? filled(true) : whole, width);
  const [heads = [], ...body] = draw(shown, rows);
  const lines = body.flatMap((block, i) => {
    const words = rows[i]?.under ?? [];
    return [...block, ...words.flatMap((text) => wrap(safe(text), width - 2)).map((l) => `  ${l}`)];
  });
  return { text: [...(heads.join('') === '' ? [] : heads), ...lines].join('\n'), leftOut };
}

/** A column of a table, its head and its cells as text, each cell in lines. */
interface Filled {
  readonly column: reports.Column;
  readonly index: number;
  readonly head: string;
  readonly cells: readonly (readonly string[])[];
  readonly width: number;
}

function filledColumn(
  column: reports.Column,
  index: number,
  rows: readonly reports.Row[],
  isShort = false,
): Filled {
  const cells = rows.map((row) => {
    const cell = row.cells[index] ?? { text: '' };
    return linesOf(isShort ? { ...cell, text: cell.short ?? cell.text } : cell);
  });
  return measured({ column, index, head: headOf(column) }, cells);
}

function headOf({ head, ends }: reports.Column): string {
  if (ends === null) return head;
  const [left, right] = ends;
  return `${left}${right.padStart(PICTURE - left.length)}`;
}

function linesOf({ text, bar, items, comparison }: reports.Cell): string[] {
  if (items !== undefined) return itemLines(items.map(safe));
  if (comparison !== undefined) return [compared(comparison)];
  if (bar !== undefined) return [barWithText(bar, safe(text))];
  return text.split('\n').map(safe);
}

/** Broken between two items, on lines short enough for a narrow terminal. */
function itemLines(items: readonly string[]): string[] {
  const lines: string[] = [];
  for (const item of items) {
    const line = lines.at(-1);
    if (line === undefined || line.length + item.length > ITEMS_WIDTH) lines.push(item);
    else lines[lines.length - 1] = `${line}, ${item}`;
  }
  return lines.map((line, i) => (i < lines.length - 1 ? `${line},` : line));
}

function measured(
  column: Pick<Filled, 'column' | 'index' | 'head'>,
  cells: readonly (readonly string[])[],
): Filled {
  const width = Math.max(columnsOf(column.head), ...cells.flat().map(columnsOf));
  return { ...column, cells, width };
}

/** By how much columns are wider than there is room; negative where they are not. */
function tooWide(columns: readonly Filled[], width: number): number {
  return columns.reduce((sum, c) => sum + c.width + GAP, -GAP) - width;
}

/** Breaks the flexible column, then leaves out the most spare ones, until all fits. */
function fitted(
  filled: readonly Filled[],
  width: number,
): { shown: readonly Filled[]; leftOut: string[] } {
  const over = tooWide(filled, width);
  let shown = filled.map((c) => {
    if (over <= 0 || !c.column.isFlexible) return c;
    const narrower = Math.max(c.width - over, NARROWEST);
    return measured(
      c,
      c.cells.map((lines) => lines.flatMap((line) => wrap(line, narrower))),
    );
  });
  const leftOut: string[] = [];
  for (;;) {
    const mostSpare = Math.max(...shown.map((c) => c.column.spare ?? 0));
    if (tooWide(shown, width) <= 0 || mostSpare <= 0) return { shown, leftOut };
    leftOut.push(...shown.filter((c) => c.column.spare === mostSpare).map((c) => c.head));
    shown = shown.filter((c) => c.column.spare !== mostSpare);
  }
}

/** The lines of the heads, then those of each row. */
function draw(columns: readonly Filled[], rows: readonly reports.Row[]): string[][] {
  const table = new Table({
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    colAligns: columns.map((c) => c.column.align),
    colWidths: columns.map((c) => c.width),
  });
  table.push(columns.map((c) => colour.dim(c.head)));
  rows.forEach((row, i) => {
    table.push(
      columns.map(({ index, cells }) =>
        styleOf(row.cells[index]?.tone)((cells[i] ?? []).join('\n')),
      ),
    );
  });
  const lines = table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd());
  const heights = rows.map((_, i) => Math.max(1, ...columns.map((c) => c.cells[i]?.length ?? 1)));
  return [1, ...heights].map((height) => lines.splice(0, height));
}
