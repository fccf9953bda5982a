/** What is said after a score, and of what another desk has written, in lines that can be read aloud. */
import type { Meet } from '../meet/meet.js';
import type { Recorded } from '../needs/recorded.js';
import { settledInWords } from './chance-words.js';
import { type Report, reportOf, type Section, sentence } from './report.js';
import {
  apparatusName,
  contenderOf,
  listed,
  nameOf,
  ordinal,
  placedInWords,
  type SharedPlaces,
  sharedPlaces,
  shower,
} from './words.js';

/** More places that changed than this are counted. */
const MOST_CHANGES = 4;

/** So much of what another desk did at once is said one by one. */
const MOST_NEWS = 8;

/** Her score, total and place; who moved; what was settled. `meet` is the meet with the score. */
export function saidReport(meet: Meet, recorded: Recorded): Report {
  const { row, rows, contest, total, place } = recorded;
  const codes = rows.map((r) => apparatusName(meet, r.apparatus ?? '')).join(', ');
  const shared = sharedPlaces(meet, contest);
  const contender = contenderOf(meet, recorded);
  const placed = placedInWords(place, shared.has(contender));
  const whose = contender === row.gymnast ? '' : `${nameOf(meet, contender)} `;
  const stands = total === null ? '' : `: ${whose}${shower(meet)(total)}, ${placed}`;
  const score = row.score === 'void' ? 'taken back' : row.score;
  return reportOf([
    sentence(`${nameOf(meet, row.gymnast ?? '')}, ${codes} ${score}${stands}`, 'strong'),
    ...recorded.warnings.map((warning) => sentence(`note: ${warning}`, 'warning')),
    ...movesIn(meet, recorded, shared),
    ...settledBy(meet, recorded),
  ]);
}

/** Whose place changed, the best places first. */
function movesIn(meet: Meet, { row, changes }: Recorded, shared: SharedPlaces): Section {
  const others = changes
    .flatMap(({ id, from, to }) => (id === row.gymnast || to === null ? [] : [{ id, from, to }]))
    .sort((a, b) => a.to - b.to);
  if (others.length === 0) return [];
  const moves = others
    .slice(0, MOST_CHANGES)
    .map(({ id, from, to }) => `${nameOf(meet, id)} ${moveInWords(from, to, shared.has(id))}`);
  const more = others.length - moves.length;
  return [sentence(`${moves.join(', ')}${more > 0 ? `, and ${more} more` : ''}.`)];
}

/** What was settled, the same of several at once. */
function settledBy(meet: Meet, { settled }: Recorded): Section {
  const whose = new Map<string, string[]>();
  for (const { id, ...what } of settled) {
    const words = settledInWords(what, null);
    whose.set(words, [...(whose.get(words) ?? []), nameOf(meet, id)]);
  }
  return [...whose].map(([words, names]) => sentence(`${listed(names)}: ${words}.`, 'strong'));
}

/** "up to 2nd", "up to share 2nd" */
function moveInWords(from: number | null, to: number, shares: boolean): string {
  if (from === null) return `${shares ? 'shares' : 'is'} ${ordinal(to)}`;
  return `${to < from ? 'up' : 'down'} to ${shares ? 'share ' : ''}${ordinal(to)}`;
}

/** A routine by whose it is and where. */
export interface WhoseRoutine {
  readonly gymnast: string | null;
  readonly apparatus: string | null;
}

/** What changed from one board to another, but for the routines this desk has just written itself. */
export function newsReport(before: Meet, now: Meet, own: readonly WhoseRoutine[] = []): Report {
  const show = shower(now);
  const news = now.routines.flatMap(({ index, gymnast, apparatus }) => {
    const [was, is] = [before.results[index] ?? null, now.results[index] ?? null];
    if (JSON.stringify(was) === JSON.stringify(is)) return [];
    if (own.some((m) => m.gymnast === gymnast && m.apparatus === apparatus)) return [];
    const text = is === null ? 'taken back' : typeof is === 'string' ? is : show(is.score);
    return [`${nameOf(now, gymnast)}, ${apparatus} ${text}`];
  });
  const more = news.length - MOST_NEWS;
  return reportOf([
    ...news.slice(0, MOST_NEWS).map((one) => sentence(`From another desk: ${one}`, 'strong')),
    ...(more > 0 ? [sentence(`From another desk: ${more} more changes`, 'strong')] : []),
  ]);
}
