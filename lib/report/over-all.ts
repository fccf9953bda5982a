/** What somebody needs over all that is to come, and how it splits. */
import { findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { NeedsSheet } from '../needs/sheet.js';
import { scoresDropped } from '../rules/contender.js';
import { goalInWords } from './need-words.js';
import { type Section, sentence } from './report.js';
import { capital, percent, shortName, shower, wordsFor } from './words.js';

/** More scores than these are not listed. */
const LISTED = 8;

/** A sentence a target, of those that are asked about. */
export function overAll(meet: Meet, sheet: NeedsSheet, isAsked: (need: Need) => boolean): Section {
  const isAlone = sheet.needs.length === 1;
  const contender = findContest(meet, sheet.contest).contenders.find(
    (c) => c.id === sheet.contender,
  );
  const isSum = contender?.parts.every((part) => scoresDropped(part) === 0) === true;
  return sheet.needs.filter(isAsked).flatMap((need): Section => {
    const { target, remainingTotal, status, rivals } = need;
    const isSaid = isAlone || (rivals === 'likely' && target !== 'hold');
    if (remainingTotal === null || status === 'secured' || !isSaid) return [];
    // What is left to the total of the mark, one unit less than what takes her past it.
    const level = shower(meet)(remainingTotal - 1);
    const { her } = wordsFor(meet, sheet.contender);
    const more = isSum ? `, ${level} in all ties` : ` ${her} total must grow by more than ${level}`;
    const goal = capital(goalInWords(meet, sheet, target));
    return [sentence(`${goal}${more}${howItSplits(meet, sheet, need, isSum)}.`)];
  });
}

/**
 * "; say BB 14.533, FX 14.533 (16% each, no fall)"; of a team with names, and where it drops scores said to be
 * enough, since the total grows by less than their sum.
 */
function howItSplits(meet: Meet, sheet: NeedsSheet, need: Need, isSum: boolean): string {
  const { split, missing } = need;
  if (split === null) {
    const { her } = wordsFor(meet, sheet.contender);
    return missing.length > 0 ? '' : `, and ${her} realistic best brings no more`;
  }
  const { scores } = split;
  // So often her ranges bring each of the scores, or more.
  const often = percent(Math.max(0, 1 - split.quantile));
  if (scores.length > LISTED) {
    return `: scores that each of the ${scores.length} to come reaches ${often} of the time, no fall, would do`;
  }
  const isTeam = scores.some(({ gymnast }) => gymnast !== sheet.contender);
  const list = scores.map(({ gymnast, apparatus, score }, i) => {
    const where = apparatus === scores[i - 1]?.apparatus ? '' : `${apparatus} `;
    return `${where}${isTeam ? `${shortName(meet, gymnast)} ` : ''}${shower(meet)(score)}`;
  });
  const how = list.join(', ');
  return `${isSum ? `; say ${how}` : `: ${how} would do`} (${often} each, no fall)`;
}
