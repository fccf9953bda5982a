/** Tables without lines, the least needed columns left out where it is narrow. */
import Table from 'cli-table3';
import type { reports } from '../../lib/index.js';
import { safe, terminalWidth, wrap } from '../terminal.js';
import { type Filled, fitted, GAP } from './fit.js';
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
  middle: ' '.repeat(GAP),
};

/** The table as text, and the heads of the columns that did not fit. */
export function tableText(table: reports.Table): { text: string; leftOut: string[] } {
  const { rows } = table;
  const width = terminalWidth();
  const { shown, under, leftOut } = fitted(table, width);
  const [heads = [], ...body] = draw(shown, rows);
  const lines = body.flatMap((block, i) => {
    const moved = under.map((c) => (c.cells[i] ?? []).join(' ')).filter((text) => text !== '');
    const words = [...moved, ...(rows[i]?.under ?? []).map(safe)];
    return [...block, ...words.flatMap((text) => wrap(text, width - 2)).map((l) => `  ${l}`)];
  });
  const hasHeads = shown.some((c) => c.head !== '');
  return { text: [...(hasHeads ? heads : []), ...lines].join('\n'), leftOut };
}

/** The lines of the heads, then those of each row. */
function draw(columns: readonly Filled[], rows: readonly reports.Row[]): string[][] {
  const table = new Table({
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    colAligns: columns.map((c) => c.column.align),
    colWidths: columns.map((c) => c.width),
  });
  const dim = (head: string) =>
    head
      .split('\n')
      .map((line) => colour.dim(line))
      .join('\n');
  table.push(columns.map((c) => ({ content: dim(c.head), vAlign: 'bottom' as const })));
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
  const headHeight = Math.max(...columns.map((c) => c.head.split('\n').length));
  return [headHeight, ...heights].map((height) => lines.splice(0, height));
}
