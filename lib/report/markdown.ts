/** A report as a document: Markdown, with all of its columns and rows. */
import type { Block, Cell, Report, Table } from './report.js';

/** The sections as paragraphs, headings and tables; what is drawn on a terminal is left out. */
export function asMarkdown(report: Report): string {
  return `${report.map((section) => section.map(blockText).join('\n\n')).join('\n\n')}\n`;
}

function blockText(block: Block): string {
  switch (block.kind) {
    case 'title':
      return `## ${plainText(block.text)}`;
    case 'sentence':
      return block.isDetail ? `- ${plainText(block.text)}` : plainText(block.text);
    case 'problem':
      return `- ${plainText(`${block.where}: ${block.message}; ${block.mend}`)}`;
    case 'verbatim':
      return `\`\`\`\n${block.text}\n\`\`\``;
    case 'table':
      return tableText(block);
  }
}

function tableText({ columns, rows, notes }: Table): string {
  const drawn = columns.map((_, k) =>
    rows.every(({ cells }) => cells[k]?.comparison !== undefined || cells[k]?.text === ''),
  );
  const shown = columns.flatMap((column, k) => (drawn[k] === true ? [] : [{ column, k }]));
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const lines = [
    line(shown.map(({ column }) => plainText(column.head))),
    line(shown.map(({ column }) => (column.align === 'right' ? '--:' : ':--'))),
    ...rows.map(({ cells }) => line(shown.map(({ k }) => cellText(cells[k])))),
  ];
  return [lines.join('\n'), ...notes.map((note) => plainText(note.text))].join('\n\n');
}

function cellText(cell: Cell | undefined): string {
  if (cell === undefined) return '';
  return plainText(cell.items === undefined ? cell.text : cell.items.join(', '));
}

/** In one line, and nothing of it taken for Markdown or HTML: names come from files. */
function plainText(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/[\\`*_[\]<>|#~]/g, '\\$&')
    .trim();
}
