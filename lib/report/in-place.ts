/** A score in its place, in sentences that can be read aloud. */
import { type Contest, findContest } from '../contest/contest.js';
import { routinesToCome } from '../contest/standings.js';
import type { PastBest } from '../history/past-best.js';
import type { Meet } from '../meet/meet.js';
import type { AgainstRange, Changes, InPlace, Tonight } from '../needs/in-place.js';
import type { Needed } from '../needs/needed.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { gridAtOrAbove } from '../scoring.js';
import { FOR_CERTAIN, unsettled } from './chance-words.js';
import { type GoalName, goalsAsked } from './goals.js';
import { areEven } from './standing.js';
import {
  apparatusName,
  capital,
  listed,
  nameOf,
  ordinal,
  shortName,
  shower,
  theirs,
  wordsFor,
} from './words.js';

/** A chance that moves by less is not worth a word. */
const WORTH_A_WORD = 0.01;

/**
 * What is said of a score besides total and place: whether it was what she needed, empty where nothing was
 * open; how good it was for her, how good tonight and what it did to chances. `meet` is the meet with it.
 * @param meet - The meet with the score.
 * @param inPlace - As `scoreInPlace` gave it.
 * @param past - As `pastBest` gave it; null where there is no history.
 * @returns `needed`: one sentence, or empty. `others`: the rest, a sentence each.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.5' };
 * const { meet: after, recorded } = record(meet, told);
 * const inPlace = scoreInPlace(meet, after, recorded);
 * inPlace === null ? null : reports.inPlaceLines(after, inPlace).needed.split(';')[0] // → 'She needed 14.633 to lead: not enough'
 */
export function inPlaceLines(
  meet: Meet,
  inPlace: InPlace,
  past: PastBest | null = null,
): { readonly needed: string; readonly others: readonly string[] } {
  const { contender, contest, score } = inPlace;
  const needed =
    contender === null
      ? ''
      : neededInWords(meet, inPlace.needed, {
          contender,
          isFair: ({ mark }) => areEven(meet, { contest, contender, rival: mark?.id ?? null }, 0),
          ...toComeIn(meet, findContest(meet, contest), contender),
        });
  const good = againstRangeInWords(meet, inPlace);
  const on = apparatusName(meet, inPlace.apparatus);
  const others = [
    good === '' ? '' : `${shower(meet)(score)} is ${good}.`,
    `${tonightInWords(meet, inPlace.tonight, on)}${pastInWords(meet, past)}. ${chancesInWords(meet, inPlace)}`.trim(),
  ];
  return { needed, others: others.filter((line) => line !== '') };
}

/** "; her best since 12 April 2026"; empty where the last time she was as good, and where nothing is known. */
export function pastInWords(meet: Meet, past: PastBest | null): string {
  if (past === null || past.beats === 0) return '';
  const best = `${meet.words.her} best`;
  if (past.since === null) return `; ${best} of ${past.of + 1} known`;
  const day = new Intl.DateTimeFormat('en-GB', { dateStyle: 'long', timeZone: 'UTC' });
  return `; ${best} since ${day.format(new Date(past.since))}`;
}

/** Who has more to come, so that a need at the end is one on an assumption. */
export interface ToCome {
  readonly others: boolean;
  readonly own: boolean;
}

export function toComeIn(meet: Meet, { contenders }: Contest, contender: string): ToCome {
  const recorded = recordedPerformances(meet);
  const hasMore = contenders.filter((c) => {
    const entry = entryOf(c, recorded);
    return !entry.out && routinesToCome(entry).length > 0;
  });
  return {
    others: hasMore.some((c) => c.id !== contender),
    own: hasMore.some((c) => c.id === contender),
  };
}

export interface NeededWords extends ToCome {
  readonly contender: string;
  /** Whether whoever leads has done as many routines as she has then. */
  readonly isFair: (needed: Needed) => boolean;
  /** Whether what was above her best is told where she did not get it. */
  readonly beyond?: boolean;
  /** Long after the score: what was expected then may not have come. */
  readonly isPast?: boolean;
}

/**
 * "She needed 14.633 to lead: not enough; if the others score as expected, 13.766 for a medal: enough." Of
 * the board right after it, and of the end to win and, where she did not get that, a medal. Empty where
 * nothing was open.
 */
export function neededInWords(
  meet: Meet,
  needed: readonly Needed[],
  { contender, others, own, isFair, beyond = false, isPast = false }: NeededWords,
): string {
  // What was above her best, and was not reached, nobody has missed.
  const told = needed.filter(
    (n) => n.got !== 'short' || (n.onGrid !== null && (n.status === 'needs' || beyond)),
  );
  const [lead, top, medal, advance] = ['lead', 'win', 'medal', 'advance'].map((t) =>
    told.find((n) => n.target === t && (t !== 'lead' || isFair(n))),
  );
  // Where it is about going through, first place is for who asks.
  const isQualifying = needed.some((n) => n.target === 'advance') && medal === undefined;
  const win = isQualifying ? undefined : top;
  const expected = own ? 'if all else goes as expected' : 'if the others score as expected';
  const condition =
    !own && !others ? '' : isPast ? 'by what was expected of the others then' : expected;
  // Once nothing else is to come who leads has won, and who wins has a medal.
  const now = neededOf(meet, condition === '' && win !== undefined ? [] : [lead]);
  const end = neededOf(meet, [
    win,
    ...(win !== undefined && win.got !== 'short' ? [] : [medal]),
    advance,
  ]);
  const { she } = wordsFor(meet, contender);
  const first = `${capital(she)} needed ${now}`;
  if (end === '') return now === '' ? '' : `${first}.`;
  if (condition === '') return `${first}${now === '' ? '' : ', '}${end}.`;
  return now === ''
    ? `${capital(condition)}, ${she} needed ${end}.`
    : `${first}; ${condition}, ${end}.`;
}

/** "14.700 to win: not enough, 13.766 for a medal: enough"; the same figure for both is said once. */
function neededOf(meet: Meet, needed: readonly (Needed | undefined)[]): string {
  const goals = new Map<string, { figure: string; to: string[]; got: string }>();
  for (const need of needed) {
    if (need === undefined) continue;
    const to =
      { lead: 'to lead', win: 'to win', medal: 'for a medal', advance: 'to go through' }[
        need.target as string
      ] ?? '';
    // For going through a tie that is shared is enough.
    const isTie = need.target === 'advance' && need.tieGoesTo === 'shared' && need.level !== null;
    const score = isTie ? gridAtOrAbove(need.level ?? 0, meet.scoring.grid) : need.onGrid;
    const figure = shower(meet)(score ?? need.level ?? 0);
    const got = gotInWords(need.target, need.got);
    const same = goals.get(`${figure} ${got}`) ?? { figure, to: [], got };
    goals.set(`${figure} ${got}`, { ...same, to: [...same.to, to] });
  }
  return [...goals.values()].map((g) => `${g.figure} ${listed(g.to)}: ${g.got}`).join(', ');
}

function gotInWords(target: string, got: Needed['got']): string {
  if (got === 'ahead' || (got === 'level' && target === 'advance')) return 'enough';
  if (got === 'short') return 'not enough';
  const what = { lead: 'the lead', win: 'first place', medal: 'the last medal' }[target];
  return `enough to share ${what ?? 'it'}`;
}

/** "0.166 below her average, better than 38 of a hundred such routines of hers" */
export function againstRangeInWords(meet: Meet, score: AgainstRange): string {
  const { overBy, underBy, percentile, rangeFrom } = score;
  if (percentile === null) return '';
  const show = shower(meet);
  // Falls included: less than what is expected of a routine without one.
  const average = rangeFrom === 'usual' ? 'the average here' : `${meet.words.her} average here`;
  const off =
    underBy !== null
      ? `${show(underBy)} below ${average}`
      : overBy === 0
        ? average
        : `${show(overBy ?? 0)} above ${average}`;
  const of =
    rangeFrom === 'usual' ? 'usual routines' : `such routines of ${theirs(meet.words.her)}`;
  const better =
    percentile === 100
      ? `better than ${meet.words.she === 'they' ? 'they are' : `${meet.words.she} is`} ever expected to do`
      : percentile < 0.5
        ? `better than hardly any ${of}`
        : `better than ${Math.min(Math.round(percentile), 99)} of a hundred ${of}`;
  return `${off}, ${better}`;
}

/** "Best on beam tonight so far"; "4th on beam tonight so far, 0.300 from the best" */
function tonightInWords(meet: Meet, { place, tied, best, behind }: Tonight, on: string): string {
  if (best === null) return `The first score on ${on} tonight`;
  if (behind === null) return `Best on ${on} tonight so far`;
  if (behind === 0) {
    const names = listed(best.ids.map((id) => shortName(meet, id)));
    return `Level with ${names} for the best on ${on} tonight so far`;
  }
  const joint = tied ? 'Joint ' : '';
  return `${joint}${ordinal(place)} on ${on} tonight so far, ${shower(meet)(behind)} from the best`;
}

/**
 * "Chance to win: Brondt down from 15.1% to 9.0%, Tanakura up to 61.3%", hers and the one that moved most
 * besides. Empty where nothing worth a word moved.
 */
export function chancesInWords(
  meet: Meet,
  {
    contest,
    contender,
    chances,
    error,
  }: Pick<InPlace, 'contest' | 'contender' | 'chances' | 'error'>,
): string {
  if (chances === null || error === null || contender === null) return '';
  const moved = (target: GoalName) => {
    const size = (c: Changes) => Math.abs((c[target]?.after ?? 0) - (c[target]?.before ?? 0));
    const all = chances.filter((c) => size(c) >= WORTH_A_WORD);
    const hers = all.find((c) => c.id === contender);
    const [most] = all.filter((c) => c.id !== contender).sort((a, b) => size(b) - size(a));
    return [hers, most].flatMap((c) => {
      const change = c?.[target];
      if (c === undefined || change == null) return [];
      const { before, after } = change;
      const [was, is] = [before, after].map((chance) => percentOf(chance, error));
      const from = c.id === contender || hers === undefined ? ` from ${was}` : '';
      return [`${calledIn(meet, c.id)} ${after > before ? 'up' : 'down'}${from} to ${is}`];
    });
  };
  for (const { target, of } of goalsAsked(meet, contest)) {
    const said = moved(target);
    if (said.length > 0) return `Chance ${of}: ${said.join(', ')}.`;
  }
  return '';
}

/** 0 and 1 only where that is certain: which chances within an error cannot say. */
export function percentOf(chance: number, error: number): string {
  const isCertain = (chance === 0 || chance === 1) && error <= FOR_CERTAIN;
  return isCertain ? `${chance * 100}%` : unsettled(chance, error);
}

function calledIn(meet: Meet, id: string): string {
  return meet.gymnasts.some((g) => g.id === id) ? shortName(meet, id) : nameOf(meet, id);
}
