/** What a recorded score changed, short enough to read while the next gymnast salutes. */
import type { Meet } from '../meet/meet.js';
import type { Recorded } from '../needs/recorded.js';
import { settledInWords } from './chance-words.js';
import { detail, type Report, reportOf, title } from './report.js';
import { toldInWords } from './told.js';
import {
  contenderOf,
  nameOf,
  ordinal,
  placedInWords,
  type SharedPlaces,
  sharedPlaces,
  shower,
} from './words.js';

const MOST_CHANGES = 8;

/**
 * What a recorded score changed: total and place, who moved, what is settled. `before` and `after`:
 * the meet without and with it; `log`: the file it was written to.
 */
export function recordedReport(before: Meet, recorded: Recorded, after: Meet, log: string): Report {
  const { row, contest, total, place } = recorded;
  const [was, is] = [sharedPlaces(before, contest), sharedPlaces(after, contest)];
  const contender = contenderOf(after, recorded);
  const whose = contender === row.gymnast ? '' : `${nameOf(after, contender)}: `;
  const placed = placedInWords(place, is.has(contender));
  const others = recorded.changes.filter((c) => c.id !== row.gymnast);
  const more = others.length - MOST_CHANGES;
  return reportOf([
    title(toldInWords(after, recorded), { aside: `in ${log}` }),
    ...recorded.warnings.map((warning) => detail(`note: ${warning}`, 'warning')),
    ...(total === null
      ? []
      : [detail(`${whose}${placed} with ${shower(after)(total)} in ${contest}`)]),
    ...others
      .slice(0, MOST_CHANGES)
      .map(({ id, from, to }) =>
        detail(`${nameOf(after, id)}: ${placeOf(id, from, was)} → ${placeOf(id, to, is)}`),
      ),
    ...(more > 0 ? [detail(`and ${more} more moved: lastrotation standings`)] : []),
    ...recorded.settled.map(({ id, ...settled }) =>
      detail(`${nameOf(after, id)}: ${settledInWords(settled, null)}`),
    ),
  ]);
}

function placeOf(id: string, place: number | null, shared: SharedPlaces): string {
  if (place === null) return 'no place';
  return `${shared.has(id) ? 'shared ' : ''}${ordinal(place)}`;
}
