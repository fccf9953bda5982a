/** Tables without lines: columns by what they are called, the least needed left out where it is narrow. */
import Table from 'cli-table3';
import stringWidth from 'string-width';
import { colour, safe, terminalWidth } from '../terminal.js';

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

/** The table as text, and the heads of the columns that did not fit. */
export function renderTable<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  /** Lines in words under a row, across the table. */
  under?: (row: Row) => readonly string[],
): { text: string; leftOut: string[] } {
  const width = terminalWidth();
  let shown = columns.filter((c) => rows.some((row) => c.cell(row) !== ''));
  const leftOut: string[] = [];
  let flexWidth = Number.POSITIVE_INFINITY;
  for (;;) {
    const blocks = draw(shown, rows, flexWidth);
    const over = Math.max(...blocks.flat().map((l) => stringWidth(l))) - width;
    const flexible = shown.find((c) => c.flexible);
    if (over > 0 && flexible !== undefined && flexWidth === Number.POSITIVE_INFINITY) {
      const widest = Math.max(...rows.map((r) => widthOf(flexible.cell(r))));
      flexWidth = Math.max(widest - over, NARROWEST);
      continue;
    }
    const mostSpare = Math.max(...shown.map((c) => c.spare ?? 0));
    if (over > 0 && mostSpare > 0) {
      leftOut.push(...shown.filter((c) => c.spare === mostSpare).map((c) => c.head));
      shown = shown.filter((c) => c.spare !== mostSpare);
      continue;
    }
    const [heads = [], ...body] = blocks;
    const lines = body.flatMap((block, i) => {
      const words = rows[i] === undefined ? [] : (under?.(rows[i]) ?? []);
      return [
        ...block,
        ...words.flatMap((text) => wrap(safe(text), width - 2)).map((l) => `  ${l}`),
      ];
    });
    return { text: [...(heads.join('') === '' ? [] : heads), ...lines].join('\n'), leftOut };
  }
}

/** No flexible column is made narrower than this. */
const NARROWEST = 24;

function widthOf(cell: string): number {
  return Math.max(...cell.split('\n').map((l) => stringWidth(safe(l))));
}

function draw<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  flexWidth: number,
): string[][] {
  const table = new Table({
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    colAligns: columns.map((c) => c.align ?? 'left'),
  });
  const heads = columns.map((c) => c.head);
  const cells = rows.map((row) =>
    columns.map((c) => {
      const lines = c.cell(row).split('\n').map(safe);
      return c.flexible ? lines.flatMap((l) => wrap(l, flexWidth)) : lines;
    }),
  );
  table.push(heads.map((h) => colour.dim(h)));
  rows.forEach((row, i) => {
    table.push(
      columns.map((c, k) => {
        const text = (cells[i]?.[k] ?? []).join('\n');
        return c.style === undefined ? text : c.style(row)(text);
      }),
    );
  });
  const lines = table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd());
  // The lines of the heads, then those of each row.
  const heights = [1, ...cells.map((row) => Math.max(1, ...row.map((cell) => cell.length)))];
  return heights.map((height) => lines.splice(0, height));
}

/** Breaks a text into lines of at most `width` columns, at its blanks. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line === undefined || stringWidth(line) + 1 + stringWidth(word) > width) lines.push(word);
    else lines[lines.length - 1] = `${line} ${word}`;
  }
  return lines;
}
