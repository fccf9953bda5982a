/** What is said after a score, and of what another desk has written, in lines that can be read aloud. */
import type { Meet, Told } from '../meet/meet.js';
import type { Recorded } from '../needs/recorded.js';
import { settledInWords } from './chance-words.js';
import { type Report, reportOf, type Section, sentence } from './report.js';
import { changeInWords, moveTold, toldInWords } from './told.js';
import {
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
  const { row, contest, total, place } = recorded;
  const shared = sharedPlaces(meet, contest);
  const contender = contenderOf(meet, recorded);
  const placed = placedInWords(place, shared.has(contender));
  const whose = contender === row.gymnast ? '' : `${nameOf(meet, contender)} `;
  const stands = total === null ? '' : `: ${whose}${shower(meet)(total)}, ${placed}`;
  return reportOf([
    sentence(`${toldInWords(meet, recorded)}${stands}`, 'strong'),
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
  const isOwn = (gymnast: string, apparatus: string) =>
    own.some((m) => m.gymnast === gymnast && (m.apparatus === apparatus || m.apparatus === 'all'));
  const results = now.routines.flatMap(({ index, gymnast, apparatus }) => {
    const was = before.routines.find((r) => r.gymnast === gymnast && r.apparatus === apparatus);
    const stood = was === undefined ? null : (before.results[was.index] ?? null);
    const stands = now.results[index] ?? null;
    const isUp = now.up[index] === true && (was === undefined || before.up[was.index] !== true);
    const isSame = JSON.stringify(stood) === JSON.stringify(stands);
    if ((isSame && !isUp) || isOwn(gymnast, apparatus)) return [];
    // Who stands in for her is told below.
    if (stands === 'DNS' && !now.told.some((t) => isAbout(t, gymnast, apparatus))) return [];
    return [`${nameOf(now, gymnast)}, ${apparatus} ${changeInWords(now, stood, stands)}`];
  });
  const known = new Set(before.told.map((t) => JSON.stringify(t)));
  const moves = now.told.flatMap((t) => {
    const isMove = t.act.kind === 'for' || t.act.kind === 'after';
    if (!isMove || isOwn(t.gymnast, t.apparatus)) return [];
    if (known.has(JSON.stringify(t))) return [];
    return [moveTold(now, t)];
  });
  const news = [...moves, ...results];
  const more = news.length - MOST_NEWS;
  return reportOf([
    ...news.slice(0, MOST_NEWS).map((one) => sentence(`From another desk: ${one}`, 'strong')),
    ...(more > 0 ? [sentence(`From another desk: ${more} more changes`, 'strong')] : []),
  ]);
}

function isAbout(told: Told, gymnast: string, apparatus: string): boolean {
  return told.gymnast === gymnast && (told.apparatus === apparatus || told.apparatus === 'all');
}
