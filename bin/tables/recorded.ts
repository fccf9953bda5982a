/** What a recorded score changed, short enough to read while the next gymnast salutes. */
import type { Meet, Recorded } from '../../lib/index.js';
import { colour, safe, writeLine, writeWords } from '../terminal.js';
import { nameOf, ordinal, settledInWords, shower } from '../words.js';

const MOST_CHANGES = 8;

export function printRecorded(meet: Meet, recorded: Recorded, log: string): void {
  const show = shower(meet);
  const { row, rows } = recorded;
  const codes = rows.map((r) => r.apparatus).join(', ');
  writeLine(
    `${colour.bold(safe(`${nameOf(meet, row.gymnast ?? '')}, ${codes}: ${row.score}`))} ${colour.dim(safe(`in ${log}`))}`,
  );
  for (const warning of recorded.warnings) writeLine(colour.yellow(safe(`  note: ${warning}`)));
  if (recorded.total !== null) {
    const place = recorded.place === null ? 'no place yet' : ordinal(recorded.place);
    writeWords(`  ${place} with ${show(recorded.total)} in ${recorded.contest}`);
  }
  const places = (place: number | null) => (place === null ? 'no place' : ordinal(place));
  const others = recorded.changes.filter((c) => c.id !== row.gymnast);
  for (const { id, from, to } of others.slice(0, MOST_CHANGES)) {
    writeWords(`  ${nameOf(meet, id)}: ${places(from)} → ${places(to)}`);
  }
  const more = others.length - MOST_CHANGES;
  if (more > 0) writeLine(`  and ${more} more moved: lastrotation standings`);
  for (const { id, ...settled } of recorded.settled) {
    writeWords(`  ${nameOf(meet, id)}: ${settledInWords(settled, null)}`);
  }
}
