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
  const { shown, leftOut } = fitted(table, width);
  const [heads = [], ...body] = draw(shown, rows);
  const lines = body.flatMap((block, i) => {
    const words = rows[i]?.under ?? [];
    return [...block, ...words.flatMap((text) => wrap(safe(text), width - 2)).map((l) => `  ${l}`)];
  });
  return { text: [...(heads.join('') === '' ? [] : heads), ...lines].join('\n'), leftOut };
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
