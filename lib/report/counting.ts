/** Which scores of a team count, in sentences that can be read aloud: for the next up, and on a board. */
import { findContest } from '../contest/contest.js';
import type { CountedScore } from '../contest/counting.js';
import { isToCome, type Meet } from '../meet/meet.js';
import type { Counting, CountsFrom, FallCost, ScoreOf } from '../needs/counting.js';
import type { NeedsSheet } from '../needs/sheet.js';
import {
  apparatusName,
  capital,
  listed,
  numberInWords,
  ordinal,
  percent,
  shortName,
  shower,
  theirs,
} from './words.js';

/** More team-mates than these are not named where what they score is spoken of. */
const NAMED = 2;

/** More than these to come are counted. */
const LISTED = 3;

/** The scores that stand and from which on hers counts; what a fall costs, and whether it matters at all. */
export function countingLines(meet: Meet, sheet: NeedsSheet): string[] {
  const { counting } = sheet;
  if (counting === null) return [];
  return [
    [scoresSoFar(meet, sheet, counting), countsInWords(meet, sheet, counting)],
    [fallInWords(meet, sheet), placeInWords(meet, sheet, counting)],
  ]
    .map((sentences) => sentences.filter((words) => words !== '').join(' '))
    .filter((line) => line !== '');
}

/** The same in one line: from which score on hers counts, and what a fall costs. */
export function countingBrief(meet: Meet, sheet: NeedsSheet): string {
  const { counting } = sheet;
  if (counting === null) return '';
  return [countsInWords(meet, sheet, counting), fallInWords(meet, sheet, true)]
    .filter((words) => words !== '')
    .join(' ');
}

/** Whether every score there counts, since nobody is left whose could be dropped. */
function allCount({ count, of }: Counting): boolean {
  return of <= count;
}

/** "Three of four scores count on beam: so far 13.600 Orr and 13.300 Moor; Lind to come." */
function scoresSoFar(meet: Meet, { apparatus }: NeedsSheet, counting: Counting): string {
  const { count, of, scores, toCome } = counting;
  const where = `on ${apparatusName(meet, apparatus)}`;
  const rule = allCount(counting)
    ? `Every score counts ${where}`
    : `${capital(numberInWords(count))} of ${numberInWords(of)} scores count ${where}`;
  const soFar = scores.length === 0 ? '' : `: so far ${countedItems(meet, scores).join(', ')}`;
  const { she } = meet.words;
  const after =
    toCome.length > 0
      ? `${toCome.length > LISTED ? numberInWords(toCome.length) : listed(toCome.map((id) => shortName(meet, id)))} to come`
      : `${she} ${she === 'they' ? 'are' : 'is'} the last`;
  return `${rule}${soFar}; ${after}.`;
}

/** "13.600 Orr", and "(12.900 Moor dropped)". */
export function countedItems(meet: Meet, scores: readonly CountedScore[]): string[] {
  const item = ({ gymnast, score }: ScoreOf) =>
    `${shower(meet)(score)} ${shortName(meet, gymnast)}`;
  const dropped = scores.filter((s) => !s.counts).map(item);
  return [
    ...scores.filter((s) => s.counts).map(item),
    ...(dropped.length === 0 ? [] : [`(${dropped.join(', ')} dropped)`]),
  ];
}

function whose(meet: Meet, { gymnast, score }: ScoreOf): string {
  return `${shortName(meet, gymnast)}’s ${shower(meet)(score)}`;
}

/** "13.333" and how likely: "13.333, above her realistic best,". */
function figure(meet: Meet, { onGrid, reach }: CountsFrom): string {
  const { her } = meet.words;
  const chance =
    reach === null || reach === 1
      ? ''
      : reach === 0
        ? `, above ${her} realistic best,`
        : `, ${her} chance of it ${percent(reach)},`;
  return `${shower(meet)(onGrid ?? 0)}${chance}`;
}

/**
 * "Hers counts from 13.333, her chance of it 62%, and pushes out Orr’s 13.300; up to 13.300 nothing
 * changes." Empty where any score counts as it stands and none is certain to.
 */
function countsInWords(meet: Meet, sheet: NeedsSheet, counting: Counting): string {
  const { now, certain, toCome } = counting;
  const hers = theirs(meet.words.her);
  if (allCount(counting)) return '';
  const count = hers === 'theirs' ? 'count' : 'counts';
  const safe =
    certain === null || certain.onGrid === null
      ? ''
      : `from ${figure(meet, certain)} ${hers} ${count} ${whateverFollows(meet, sheet, counting)}`;
  if (now.over === null) return safe === '' ? '' : `${capital(safe)}.`;
  if (now.onGrid === null) {
    return `Nothing ${meet.words.she} can score changes the total: ${whose(meet, now.over)} counts.`;
  }
  const from = `${hers} ${count} from ${figure(meet, now)}`;
  const out = `and ${count === 'count' ? 'push' : 'pushes'} out ${whose(meet, now.over)}`;
  if (toCome.length === 0) {
    return `${capital(from)} ${out}; up to ${shower(meet)(now.over.score)} nothing changes.`;
  }
  return `As it stands ${from} ${out}${safe === '' ? '' : `; ${safe}`}.`;
}

/** "whatever Orr scores"; "whatever follows", where more than that is open. */
function whateverFollows(meet: Meet, { underInquiry }: NeedsSheet, counting: Counting): string {
  const { toCome, scores } = counting;
  const isOpen = underInquiry.some((u) => scores.some((s) => s.gymnast === u.gymnast));
  if (isOpen || toCome.length === 0 || toCome.length > NAMED) return 'whatever follows';
  return `whatever ${theyScore(meet, toCome)}`;
}

/**
 * "A fall from her expected 13.700 costs the team 0.400: Orr’s 13.300 would count instead." With team-mates
 * to come as it stands, and once they have scored as expected; briefly only the latter, where it is known.
 */
function fallInWords(
  meet: Meet,
  { counting, range: { likely } }: NeedsSheet,
  isBrief = false,
): string {
  const fall = counting?.fall;
  if (counting === null || fall == null || likely === null) return '';
  const show = shower(meet);
  const expected = `${meet.words.her} expected ${show(likely)}`;
  const from = isBrief ? '' : ` from ${expected}`;
  const amount = (costs: number) =>
    costs === likely - fall.score ? `the whole ${show(costs)}` : show(costs);
  const later = fall.expected;
  if (later === null || isSame(fall.now, later)) {
    const { costs, instead } = fall.now;
    if (costs === 0 && instead !== null) {
      return `A fall costs nothing while ${whose(meet, instead)} counts: even ${expected} is no more.`;
    }
    const still = counting.now.over === null ? '' : `: ${show(fall.score)} still counts`;
    const other = instead === null ? still : `: ${whose(meet, instead)} would count instead`;
    return `A fall${from} costs the team ${amount(costs)}${other}.`;
  }
  const { costs, instead } = later;
  const then = `if ${theyScore(meet, counting.toCome)} as expected`;
  const how = costs === 0 ? 'anyway' : 'instead';
  const other = instead === null ? '' : `: ${whose(meet, instead)} would count ${how}`;
  if (isBrief) {
    return `A fall costs the team ${costs === 0 ? 'nothing' : amount(costs)} ${then}${other}.`;
  }
  const but = costs === fall.now.costs ? 'and' : 'but';
  const now = `costs the team ${amount(fall.now.costs)} as it stands`;
  return `A fall${from} ${now}, ${but} ${costs === 0 ? 'nothing' : amount(costs)} ${then}${other}.`;
}

/** "Orr scores", "Orr and Lind score" */
function theyScore(meet: Meet, toCome: readonly string[]): string {
  if (toCome.length > NAMED) return 'the others there score';
  const names = listed(toCome.map((id) => shortName(meet, id)));
  return `${names} ${toCome.length === 1 ? 'scores' : 'score'}`;
}

function isSame(a: FallCost, b: FallCost): boolean {
  return a.costs === b.costs && a.instead?.gymnast === b.instead?.gymnast;
}

/** "If all else goes as expected, North Quay finishes 2nd whatever she scores here." */
function placeInWords(meet: Meet, sheet: NeedsSheet, { place, scores, count }: Counting): string {
  if (place === null) return '';
  const { contenders } = findContest(meet, sheet.contest);
  const isLast =
    sheet.toCome.length === 1 &&
    contenders.every(
      (c) => c.id === sheet.contender || c.routines.every((i) => !isToCome(meet, i)),
    );
  const condition = !isLast
    ? 'If all else goes as expected, '
    : sheet.underInquiry.length > 0
      ? 'If the scores under inquiry stand, '
      : '';
  const finishes = `${place.tied ? 'shares' : 'finishes'} ${ordinal(place.place)}`;
  const { she, her } = meet.words;
  // A team is not out by a withdrawal, and where enough scores are in its total is the same without hers.
  const without = scores.length >= count ? `, even without ${her} score` : '';
  const scored = she === 'they' ? 'score' : 'scores';
  return `${condition}${sheet.name} ${finishes} whatever ${she} ${scored} here${without}.`;
}
