/** Ranges from a history: to paste, and what was left out. */
import { type History, type Ranges, rangesFile } from '../../lib/index.js';
import { colour, safe, writeLine, writeWords } from '../terminal.js';

/** More rows than this are counted by reason only. */
const MOST_ROWS = 8;

export function printRanges(history: History, made: Ranges, into: string | null): void {
  if (into === null) {
    for (const line of rangesFile(made, history.decimals).trimEnd().split('\n')) {
      writeLine(safe(line));
    }
    writeLine();
  } else {
    const many = made.gymnasts.length;
    writeWords(`Wrote ${into}: ranges of ${many} ${many === 1 ? 'gymnast' : 'gymnasts'}.`);
    writeWords(`A meet file beside it names it with: ranges: ${into}`);
  }
  const { leftOut } = made;
  const { notes } = history;
  const count = history.routines.length + history.leftOut.length - leftOut.length;
  const used = `${count} ${count === 1 ? 'row was' : 'rows were'} used`;
  writeWords(leftOut.length === 0 ? `${used}.` : `${used}, ${leftOut.length} left out:`);
  for (const { line, why } of leftOut.slice(0, MOST_ROWS)) writeWords(`  line ${line}: ${why}`);
  if (leftOut.length > MOST_ROWS) {
    writeWords(`  and ${leftOut.length - MOST_ROWS} more (--json has all)`);
  }
  for (const { line, why } of notes.slice(0, MOST_ROWS)) {
    writeWords(`Note, line ${line}: ${why}`, colour.dim);
  }
  writeWords('Ranges are opinions, these too: made from results, falls inferred.', colour.dim);
}
