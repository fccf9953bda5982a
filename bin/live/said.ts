/** What is said after a score, in lines that can be read aloud. */
import type { RecordedBetween } from '../../lib/files/score-log.js';
import { type Meet, nextUp, type Recorded } from '../../lib/index.js';
import { colour, writeWords } from '../terminal.js';
import {
  apparatusName,
  contenderOf,
  listed,
  nameOf,
  ordinal,
  placedInWords,
  type SharedPlaces,
  settledInWords,
  sharedPlaces,
  shower,
} from '../words.js';
import { nextLine } from './next.js';

/** More places that changed than this are counted. */
const MOST_CHANGES = 4;

/** Her score, total and place; who moved; what was settled. */
export function sayRecorded({ recorded, after: meet }: RecordedBetween): void {
  const show = shower(meet);
  const { row, rows, contest, total, place } = recorded;
  const codes = rows.map((r) => apparatusName(meet, r.apparatus ?? '')).join(', ');
  const shared = sharedPlaces(meet, contest);
  const contender = contenderOf(meet, recorded);
  const placed = placedInWords(place, shared.has(contender));
  const whose = contender === row.gymnast ? '' : `${nameOf(meet, contender)} `;
  const stands = total === null ? '' : `: ${whose}${show(total)}, ${placed}`;
  const score = row.score === 'void' ? 'taken back' : row.score;
  writeWords(`${nameOf(meet, row.gymnast ?? '')}, ${codes} ${score}${stands}`, colour.bold);
  for (const warning of recorded.warnings) writeWords(`note: ${warning}`, colour.yellow);
  sayMoves(meet, recorded, shared);
  saySettled(meet, recorded);
}

/** Whose place changed, the best places first. */
function sayMoves(meet: Meet, { row, changes }: Recorded, shared: SharedPlaces): void {
  const others = changes
    .flatMap(({ id, from, to }) => (id === row.gymnast || to === null ? [] : [{ id, from, to }]))
    .sort((a, b) => a.to - b.to);
  if (others.length === 0) return;
  const moves = others
    .slice(0, MOST_CHANGES)
    .map(({ id, from, to }) => `${nameOf(meet, id)} ${moveInWords(from, to, shared.has(id))}`);
  const more = others.length - moves.length;
  writeWords(`${moves.join(', ')}${more > 0 ? `, and ${more} more` : ''}.`);
}

/** What was settled, the same of several at once. */
function saySettled(meet: Meet, { settled }: Recorded): void {
  const whose = new Map<string, string[]>();
  for (const { id, ...what } of settled) {
    const words = settledInWords(what, null);
    whose.set(words, [...(whose.get(words) ?? []), nameOf(meet, id)]);
  }
  for (const [words, names] of whose) writeWords(`${listed(names)}: ${words}.`, colour.bold);
}

/** "up to 2nd", "up to share 2nd" */
function moveInWords(from: number | null, to: number, shares: boolean): string {
  if (from === null) return `${shares ? 'shares' : 'is'} ${ordinal(to)}`;
  return `${to < from ? 'up' : 'down'} to ${shares ? 'share ' : ''}${ordinal(to)}`;
}

/** One line for the next up on each apparatus. */
export function sayNextUp(meet: Meet, contest: string): void {
  const next = nextUp(meet);
  if (next.length === 0) writeWords('Nothing is to come.');
  for (const routine of next) writeWords(nextLine(meet, routine, contest));
}
