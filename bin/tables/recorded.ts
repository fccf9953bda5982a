/** What a recorded score changed, short enough to read while the next gymnast salutes. */
import type { Meet, Recorded } from '../../lib/index.js';
import { colour, safe, writeLine } from '../terminal.js';
import { nameOf, ordinal, settledInWords, shower } from '../words.js';

const MOST_CHANGES = 8;

export function printRecorded(
  meet: Meet,
  recorded: Recorded,
  log: string,
  contest: string | null,
): void {
  const show = shower(meet);
  const { row, rows } = recorded;
  const codes = rows.map((r) => r.apparatus).join(', ');
  writeLine(
    `${colour.bold(safe(`${nameOf(meet, row.gymnast ?? '')}, ${codes}: ${row.score}`))} ${colour.dim(safe(`in ${log}`))}`,
  );
  for (const warning of recorded.warnings) writeLine(colour.yellow(safe(`  note: ${warning}`)));
  if (recorded.total !== null) {
    const place = recorded.place === null ? 'no place yet' : ordinal(recorded.place);
    writeLine(
      safe(`  ${place} with ${show(recorded.total)} in ${contest ?? meet.contests[0]?.id ?? ''}`),
    );
  }
  const places = (place: number | null) => (place === null ? 'no place' : ordinal(place));
  for (const { id, from, to } of recorded.changes.slice(0, MOST_CHANGES)) {
    writeLine(safe(`  ${nameOf(meet, id)}: ${places(from)} → ${places(to)}`));
  }
  const more = recorded.changes.length - MOST_CHANGES;
  if (more > 0) writeLine(`  and ${more} more moved: lastrotation standings`);
  for (const { id, ...settled } of recorded.settled) {
    writeLine(safe(`  ${nameOf(meet, id)}: ${settledInWords(settled, null)}`));
  }
}
