/** Tables without lines, the least needed columns left out where it is narrow. */
import type { reports } from '../../lib/index.js';
import { columnsOf, safe, terminalWidth, wrap } from '../terminal.js';
import { type Filled, fitted, GAP } from './fit.js';
import { colour, styleOf } from './style.js';

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

/** The lines of the heads, which stand at the foot of theirs, then those of each row. */
function draw(columns: readonly Filled[], rows: readonly reports.Row[]): string[][] {
  const heads = columns.map((c) => c.head.split('\n'));
  const height = Math.max(...heads.map((lines) => lines.length));
  const atFoot = heads.map((lines) => [...new Array(height - lines.length).fill(''), ...lines]);
  return [
    beside(columns, atFoot, () => colour.dim),
    ...rows.map((row, i) =>
      beside(
        columns,
        columns.map((c) => c.cells[i] ?? []),
        (c) => styleOf(row.cells[c.index]?.tone),
      ),
    ),
  ];
}

type Style = (column: Filled) => (text: string) => string;

/** Cells side by side, each as wide as its column. */
function beside(
  columns: readonly Filled[],
  cells: readonly (readonly string[])[],
  style: Style,
): string[] {
  const height = Math.max(1, ...cells.map((lines) => lines.length));
  return Array.from({ length: height }, (_, k) => {
    const texts = columns.map((column, j) => {
      const text = cells[j]?.[k] ?? '';
      const blanks = ' '.repeat(Math.max(column.width - columnsOf(text), 0));
      const styled = text === '' ? '' : style(column)(text);
      return column.column.align === 'right' ? blanks + styled : styled + blanks;
    });
    return texts.join(' '.repeat(GAP)).trimEnd();
  });
}
