/** Prints a report on the terminal. */
import { type Report, reports } from '../../lib/index.js';
import { safe, terminalWidth, wrap, writeLine, writeWords } from '../terminal.js';
import { colour, styleOf } from './style.js';
import { tableText } from './table.js';

export function printReport(report: Report): void {
  report.forEach((section, i) => {
    if (i > 0) writeLine();
    section.forEach(printBlock);
  });
}

function printBlock(block: reports.Block): void {
  switch (block.kind) {
    case 'title': {
      const style = (text: string) => colour.bold(styleOf(block.tone)(text));
      if (block.aside === null) writeWords(block.text, style);
      else writeLine(`${style(safe(block.text))} ${colour.dim(safe(block.aside))}`);
      return;
    }
    case 'sentence': {
      const indent = block.isDetail ? '  ' : '';
      const style = styleOf(block.tone);
      const lines = wrap(safe(block.text), terminalWidth() - indent.length);
      for (const line of lines) writeLine(style(`${indent}${line}`));
      return;
    }
    case 'problem':
      printProblem(block);
      return;
    case 'verbatim':
      for (const line of block.text.split('\n')) writeLine(safe(line));
      return;
    case 'table': {
      const { text, leftOut } = tableText(block);
      writeLine(text);
      for (const note of reports.notesUnder(block, leftOut, terminalWidth())) {
        writeWords(note, colour.dim);
      }
    }
  }
}

/** How bad it is, where, what and the mend, on two lines of any length: others read them too. */
function printProblem({ severity, where, message, mend }: reports.FoundProblem): void {
  const style = styleOf(severity === 'note' ? 'quiet' : severity);
  writeLine(`${style(severity)} ${safe(`${where}: ${message}`)}`);
  writeLine(`  ${safe(mend)}`);
}
