/** What a recorded score changed, short enough to read while the next gymnast salutes. */
import type { RecordedBetween } from '../../lib/files/score-log.js';
import { colour, safe, writeLine, writeWords } from '../terminal.js';
import {
  contenderOf,
  nameOf,
  ordinal,
  placedInWords,
  type SharedPlaces,
  settledInWords,
  sharedPlaces,
  shower,
} from '../words.js';

const MOST_CHANGES = 8;

export function printRecorded({ before, recorded, after }: RecordedBetween, log: string): void {
  const show = shower(after);
  const { row, rows, contest } = recorded;
  const codes = rows.map((r) => r.apparatus).join(', ');
  writeLine(
    `${colour.bold(safe(`${nameOf(after, row.gymnast ?? '')}, ${codes}: ${row.score}`))} ${colour.dim(safe(`in ${log}`))}`,
  );
  for (const warning of recorded.warnings) writeLine(colour.yellow(safe(`  note: ${warning}`)));
  const [was, is] = [sharedPlaces(before, contest), sharedPlaces(after, contest)];
  if (recorded.total !== null) {
    const { place } = recorded;
    const contender = contenderOf(after, recorded);
    const whose = contender === row.gymnast ? '' : `${nameOf(after, contender)}: `;
    const placed = placedInWords(place, is.has(contender));
    writeWords(`  ${whose}${placed} with ${show(recorded.total)} in ${contest}`);
  }
  const others = recorded.changes.filter((c) => c.id !== row.gymnast);
  for (const { id, from, to } of others.slice(0, MOST_CHANGES)) {
    writeWords(`  ${nameOf(after, id)}: ${placeOf(id, from, was)} → ${placeOf(id, to, is)}`);
  }
  const more = others.length - MOST_CHANGES;
  if (more > 0) writeLine(`  and ${more} more moved: lastrotation standings`);
  for (const { id, ...settled } of recorded.settled) {
    writeWords(`  ${nameOf(after, id)}: ${settledInWords(settled, null)}`);
  }
}

function placeOf(id: string, place: number | null, shared: SharedPlaces): string {
  if (place === null) return 'no place';
  return `${shared.has(id) ? 'shared ' : ''}${ordinal(place)}`;
}
