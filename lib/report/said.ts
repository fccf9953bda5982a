/** What is said after a score, and of what another desk has written, in lines that can be read aloud. */
import { findContest } from '../contest/contest.js';
import { type Footing, progressIn } from '../contest/like-for-like.js';
import { contenderFor } from '../contest/who.js';
import type { PastBest } from '../history/past-best.js';
import { type Meet, resultFor, rotationAt, routineOf, type Told } from '../meet/meet.js';
import type { InPlace } from '../needs/in-place.js';
import type { Recorded } from '../needs/recorded.js';
import { recordedPerformances } from '../rules/recorded.js';
import { settledInWords } from './chance-words.js';
import { goalWords, isAskedIn } from './goals.js';
import { inPlaceLines } from './in-place.js';
import { type Report, reportOf, type Section, sentence } from './report.js';
import { boardNow, movesTo, namingOf, type SaidBoard, standingInWords } from './standing.js';
import { changeInWords, moveTold, toldInWords, warningsBeside } from './told.js';
import {
  apparatusName,
  capital,
  contenderOf,
  listed,
  nameOf,
  ordinal,
  rotationInWords,
} from './words.js';

/** More places that changed than this are counted. */
const MOST_CHANGES = 4;

/** So much of what another desk did at once is said one by one. */
const MOST_NEWS = 8;

/** So many lines are said of a score; whether it was what she needed, what is settled and warnings in any case. */
const MOST_LINES = 6;

/**
 * Her score, total and place; what was settled; whether it was what she needed, who moved, how good it was.
 * `meet` is the meet with the score, `inPlace` what `scoreInPlace` gave for it, `past` what `pastBest` gave.
 * @param meet - The meet with the row.
 * @param recorded - As `record` gave it.
 * @param inPlace - As `scoreInPlace` gave it; null to leave it out.
 * @param past - As `pastBest` gave it; null where there is no history.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.5' };
 * const { meet: after, recorded } = record(meet, told);
 * const report = reports.said(after, recorded, scoreInPlace(meet, after, recorded));
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[0] // → 'Ida Brondt, beam 14.500: 43.466 after 3 routines, 3rd by projection'
 */
export function saidReport(
  meet: Meet,
  recorded: Recorded,
  inPlace: InPlace | null = null,
  past: PastBest | null = null,
): Report {
  const { row, contest, total } = recorded;
  const board = boardNow(meet, contest);
  const contender = contenderOf(meet, recorded);
  const whose = contender === row.gymnast ? '' : `${nameOf(meet, contender)} `;
  const stands =
    total === null ? '' : `: ${whose}${standingInWords(board, contender, namingOf(meet))}`;
  const { needed, others } =
    inPlace === null ? { needed: '', others: [] } : inPlaceLines(meet, inPlace, past);
  const always = [
    sentence(`${toldInWords(meet, recorded)}${stands}`, 'strong'),
    ...warningsBeside(meet, recorded).map((warning) => sentence(`note: ${warning}`, 'warning')),
    ...(needed === '' ? [] : [sentence(needed)]),
    ...settledBy(meet, recorded, board),
    ...unsettledBy(meet, recorded),
  ];
  const moves = movesIn(meet, recorded, board);
  const room = Math.max(MOST_LINES - always.length - moves.length, 0);
  const lines = [...(total === null ? [] : elsewhere(meet, recorded)), ...others];
  return reportOf([...always, ...moves, ...lines.slice(0, room).map((line) => sentence(line))]);
}

/**
 * What the same routine brings in the other contests of the meet: "In the other contests: beam 13.300, 1st so
 * far, in as things stand; North Quay 54.300, 2nd by projection."
 */
export function elsewhere(meet: Meet, { row, contest }: Recorded): string[] {
  const her = meet.gymnasts.find((g) => g.id === row.gymnast);
  const routine = routineOf(meet, row.gymnast ?? '', row.apparatus ?? '');
  if (her === undefined || routine === undefined) return [];
  const said = meet.contests.flatMap(({ id }) => {
    if (id === contest) return [];
    const other = findContest(meet, id);
    const contender = contenderFor(other, her);
    if (contender === undefined || !contender.routines.includes(routine.index)) return [];
    const isTeam = other.kind.ranks === 'teams';
    const what = isTeam ? nameOf(meet, contender.id) : apparatusName(meet, id);
    return [`${what} ${standingInWords(boardNow(meet, id), contender.id, namingOf(meet))}`];
  });
  return said.length === 0 ? [] : [`In the other contests: ${said.join('; ')}.`];
}

/** Whose place changed, the best places first. */
function movesIn(meet: Meet, recorded: Recorded, board: SaidBoard): Section {
  const { contest, changes } = recorded;
  const her = contenderOf(meet, recorded);
  const { at, moves } = movesTo(meet, contest, footingBefore(meet, recorded), changes);
  const told = moves.filter(({ id }) => at !== null || id !== her).sort((a, b) => a.to - b.to);
  if (told.length === 0) return [];
  const words = told.slice(0, MOST_CHANGES).map(({ id, from, to }) => {
    const shares = board.of.get(id)?.tie?.kind === 'shares';
    return `${nameOf(meet, id)} ${moveInWords(from, to, shares)}`;
  });
  const more = told.length - words.length;
  const when =
    at === null ? '' : `${capital(rotationInWords(meet, rotationAt(meet, at)))} is over: `;
  return [sentence(`${when}${words.join(', ')}${more > 0 ? `, and ${more} more` : ''}.`)];
}

/** How far everyone had come before the rows that were recorded. */
function footingBefore(meet: Meet, { rows, contest, was }: Recorded): Footing {
  const before = [...recordedPerformances(meet)];
  for (const { gymnast, apparatus } of rows) {
    const routine = routineOf(meet, gymnast ?? '', apparatus ?? '');
    if (routine === undefined) continue;
    if (was === null) before[routine.index] = null;
    else before[routine.index] ??= { score: 0, d: 'unrecorded', e: 'unrecorded' };
  }
  return progressIn(findContest(meet, contest), before).footing;
}

/**
 * What was settled, the same of several at once, and what is secured first. Who has won has a medal and nobody
 * else can win, who can have none cannot win, and of who is out nothing is left to say.
 */
export function settledBy(meet: Meet, { settled, contest }: Recorded, board: SaidBoard): Section {
  const has = (id: string, target: string, status: string) =>
    settled.some((s) => s.id === id && s.target === target && s.status === status);
  const rules = findContest(meet, contest);
  const isAsked = isAskedIn(rules);
  const hasWinner = settled.some((s) => s.target === 'win' && s.status === 'secured');
  const isNews = ({ id, target, status }: Recorded['settled'][number]) =>
    board.of.get(id)?.isOut !== true &&
    isAsked(target) &&
    // Where it is about going through, first place is for the board.
    (rules.givesMedals || target !== 'win') &&
    !(target === 'medal' && status === 'secured' && has(id, 'win', 'secured')) &&
    !(
      target === 'win' &&
      status === 'out-of-reach' &&
      (hasWinner || has(id, 'medal', 'out-of-reach') || has(id, 'advance', 'out-of-reach'))
    );
  const news = settled.filter(isNews);
  const secured = news.filter((s) => s.status === 'secured');
  const whose = new Map<string, string[]>();
  for (const { id, ...what } of [...secured, ...news.filter((s) => s.status !== 'secured')]) {
    const words = settledInWords(rules, what, null);
    whose.set(words, [...(whose.get(words) ?? []), nameOf(meet, id)]);
  }
  return [...whose].map(([words, names]) => sentence(`${listed(names)}: ${words}.`, 'strong'));
}

/** What is certain no longer: "Adelie Corran: the title is open again." */
export function unsettledBy(meet: Meet, { unsettled, contest }: Recorded): Section {
  const whose = new Map<string, string[]>();
  for (const { id, target } of unsettled) {
    const what = `${goalWords(findContest(meet, contest), target)?.what ?? target} is`;
    whose.set(what, [...new Set([...(whose.get(what) ?? []), nameOf(meet, id)])]);
  }
  return [...whose].map(([what, names]) =>
    sentence(`${listed(names)}: ${what} open again.`, 'strong'),
  );
}

/** "up to 2nd", "up to share 2nd" */
function moveInWords(from: number | null, to: number, shares: boolean): string {
  if (from === null) return `${shares ? 'shares' : 'is'} ${ordinal(to)}`;
  return `${to < from ? 'up' : 'down'} to ${shares ? 'share ' : ''}${ordinal(to)}`;
}

/** A routine by whose it is and where. */
export interface WhoseRoutine {
  /** Her id; null for a routine that nobody has. */
  readonly gymnast: string | null;
  /** The code of it; null where all of hers are meant. */
  readonly apparatus: string | null;
}

/**
 * What changed from one board to another, but for the routines this desk has just written itself.
 * @param before - The meet as it was last looked at.
 * @param now - The meet as it is.
 * @param own - Routines that this desk has written itself, and says nothing of again.
 * @example
 * const { meet: now } = record(meet, { gymnast: 'brondt', apparatus: 'BB', score: '14.5' });
 * reports.news(meet, now).flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : [])) // → ['From another desk: Ida Brondt, BB 14.500']
 */
export function newsReport(before: Meet, now: Meet, own: readonly WhoseRoutine[] = []): Report {
  const isOwn = (gymnast: string, apparatus: string) =>
    own.some((m) => m.gymnast === gymnast && (m.apparatus === apparatus || m.apparatus === 'all'));
  const results = now.routines.flatMap(({ index, gymnast, apparatus }) => {
    const was = routineOf(before, gymnast, apparatus);
    const stood = resultFor(before, gymnast, apparatus);
    const stands = now.results[index] ?? null;
    const isUp = now.up[index] === true && (was === undefined || before.up[was.index] !== true);
    const isSame = JSON.stringify(stood) === JSON.stringify(stands);
    if ((isSame && !isUp) || isOwn(gymnast, apparatus)) return [];
    // Who stands in for her, or does no more, is told below.
    const wasReplaced = was !== undefined && before.replaced[was.index] === true;
    if (wasReplaced || now.replaced[index] === true) return [];
    return [`${nameOf(now, gymnast)}, ${apparatus} ${changeInWords(now, stood, stands)}`];
  });
  const others = (moves: readonly Told[]) => moves.filter((t) => !isOwn(t.gymnast, t.apparatus));
  const gone = others(movesOnlyIn(before, now)).map((t) => `taken back: ${moveTold(now, t)}`);
  const moves = others(movesOnlyIn(now, before)).map((t) => moveTold(now, t));
  const news = [...gone, ...moves, ...results];
  const more = news.length - MOST_NEWS;
  return reportOf([
    ...news.slice(0, MOST_NEWS).map((one) => sentence(`From another desk: ${one}`, 'strong')),
    ...(more > 0 ? [sentence(`From another desk: ${more} more changes`, 'strong')] : []),
  ]);
}

/** Who steps in, and who goes up after whom, by the log of one meet and not by that of the other. */
function movesOnlyIn({ told }: Meet, other: Meet): Told[] {
  const known = new Set(other.told.map((t) => JSON.stringify(t)));
  return told.filter(
    (t) => (t.act.kind === 'for' || t.act.kind === 'after') && !known.has(JSON.stringify(t)),
  );
}
