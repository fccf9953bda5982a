/** Makes a table fit: names are shortened, words broken, the longest names cut, and only then columns left out. */
import type { reports } from '../../lib/index.js';
import { columnsOf, cut, safe, wrap } from '../terminal.js';
import { barWithText, compared, PICTURE, sparkline } from './bar.js';

/** Between two columns. */
export const GAP = 2;

/** No flexible column is made narrower than this. */
const NARROWEST = 20;

/** No name is cut to less than this. */
const SHORTEST_NAME = 12;

/** Few whole names are longer. */
const LONG_NAME = 24;

/** Items of one cell are put on lines of about this many characters. */
const ITEMS_WIDTH = 50;

/** A column of a table, its head and its cells as text, each cell in lines. */
export interface Filled {
  readonly column: reports.Column;
  readonly index: number;
  readonly head: string;
  readonly cells: readonly (readonly string[])[];
  readonly width: number;
}

/**
 * The columns there is room for, with the longest texts there is room for, those that are said under their
 * rows instead, and the heads of the others.
 * Where a column is left out every text is at its shortest: nothing is missing for the sake of a name.
 */
export function fitted(
  { columns, rows, tellsLeftOut }: reports.Table,
  width: number,
): { shown: readonly Filled[]; under: readonly Filled[]; leftOut: string[] } {
  const steps = Math.max(0, ...rows.flatMap((r) => r.cells.map((c) => c.shorter?.length ?? 0)));
  const filled = (step: number) => columns.map((column, i) => filledColumn(column, i, rows, step));
  const leftOut: string[] = [];
  const mostSpare = (some: readonly Filled[]) => Math.max(...some.map((c) => c.column.spare ?? 0));
  const withoutMostSpare = (some: readonly Filled[]) => {
    const isSpare = (c: Filled) => c.column.spare === mostSpare(some);
    leftOut.push(...some.filter(isSpare).map((c) => c.head));
    return some.filter((c) => !isSpare(c));
  };
  let whole: readonly Filled[] = filled(0);
  // A series has more columns than there is room for, whatever the names: they stay, but for a very long one.
  while (tellsLeftOut === 'series' && mostSpare(whole) > 1 && tooWide(usual(whole), width) > 0) {
    whole = withoutMostSpare(whole);
  }
  const kept = (step: number) => filled(step).filter((c) => whole.some((w) => w.index === c.index));
  for (let step = 0; step < steps; step++) {
    const shown = kept(step);
    if (tooWide(shown, width) <= 0) return { shown, under: [], leftOut };
  }
  const shortest = kept(steps);
  const isUnder = (c: Filled) => c.column.goesUnder && tooWide(shortest, width) > 0;
  const under = shortest.filter(isUnder);
  const beside = shortest.filter((c) => !isUnder(c));
  for (let left: readonly Filled[] = beside; ; left = withoutMostSpare(left)) {
    const shown = namesCut(wordsBroken(left, width), width);
    if (tooWide(shown, width) <= 0 || mostSpare(left) <= 0) return { shown, under, leftOut };
  }
}

/** As wide as they would be if no name were longer than most. */
function usual(columns: readonly Filled[]): Filled[] {
  return columns.map((c) => (c.column.isNames ? { ...c, width: Math.min(c.width, LONG_NAME) } : c));
}

/** By how much columns are wider than there is room; negative where they are not. */
function tooWide(columns: readonly Filled[], width: number): number {
  return columns.reduce((sum, c) => sum + c.width + GAP, -GAP) - width;
}

function wordsBroken(columns: readonly Filled[], width: number): readonly Filled[] {
  const over = tooWide(columns, width);
  return columns.map((c) => {
    if (over <= 0 || !c.column.isFlexible) return c;
    const narrower = Math.max(c.width - over, NARROWEST);
    return measured(
      c,
      c.cells.map((lines) => lines.flatMap((line) => wrap(line, narrower))),
    );
  });
}

/** All names cut to the same width, the widest that fits. */
function namesCut(columns: readonly Filled[], width: number): readonly Filled[] {
  const isNames = ({ column }: Filled) => column.isNames;
  let shown = columns;
  let wide = Math.max(0, ...columns.filter(isNames).map((c) => c.width));
  while (tooWide(shown, width) > 0 && wide > SHORTEST_NAME) {
    wide--;
    const narrower = wide;
    shown = columns.map((c) => (isNames(c) ? cutTo(c, narrower) : c));
  }
  return shown;
}

/** Every line cut to a width, or to the least that makes no two of them alike. */
function cutTo(column: Filled, width: number): Filled {
  const { cells } = column;
  const differing = (lines: Filled['cells']) => new Set(lines.map((l) => l.join('\n'))).size;
  for (let wide = width; wide < column.width; wide++) {
    const shorter = cells.map((lines) => lines.map((line) => cut(line, wide)));
    if (differing(shorter) === differing(cells)) return measured(column, shorter);
  }
  return column;
}

function filledColumn(
  column: reports.Column,
  index: number,
  rows: reports.Table['rows'],
  step: number,
): Filled {
  const cells = rows.map((row) => linesOf(row.cells[index] ?? { text: '' }, step));
  return measured({ column, index, head: headOf(column) }, cells);
}

function headOf({ head, ends }: reports.Column): string {
  if (ends === null) return head;
  const [left, right] = ends;
  return `${left}${right.padStart(PICTURE - left.length)}`;
}

function linesOf(cell: reports.Cell, step: number): string[] {
  const { bar, spark, items, comparison } = cell;
  const text = [cell.text, ...(cell.shorter ?? [])].slice(0, step + 1).at(-1) ?? '';
  if (items !== undefined) return itemLines(items.map(safe));
  if (spark !== undefined) return [sparkline(spark)];
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
  const heads = column.head.split('\n');
  const width = Math.max(...[...heads, ...cells.flat()].map(columnsOf));
  return { ...column, cells, width };
}
