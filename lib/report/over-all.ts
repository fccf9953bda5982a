/** What somebody needs over all that is to come, and how it splits. */
import { findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { NeedsSheet } from '../needs/sheet.js';
import { scoresDropped } from '../rules/contender.js';
import { goalInWords } from './need-words.js';
import { type Section, sentence } from './report.js';
import { capital, percent, shortName, shower, wordsFor } from './words.js';

/** Of a team no more scores than these are listed. */
const LISTED = 8;

/** A sentence a target, of those that are asked about. */
export function overAll(meet: Meet, sheet: NeedsSheet, isAsked: (need: Need) => boolean): Section {
  const isAlone = sheet.needs.length === 1;
  const contender = findContest(meet, sheet.contest).contenders.find(
    (c) => c.id === sheet.contender,
  );
  const _isSum = contender?.parts.every((part) => scoresDropped(part) === 0) === true;
  return sheet.needs.filter(isAsked).flatMap((need): Section => {
    const { target, remainingTotal, status, rivals } = need;
    const isSaid = isAlone || (rivals === 'likely' && target !== 'hold');
    if (remainingTotal === null || status === 'secured' || !isSaid) return [];
    const goal = capital(goalInWords(meet, sheet, target));
    const isSum =
      need.split !== null && sheet.counting === null && sheet.gymnast === sheet.contender;
    return [
      sentence(
        `${goal}${isSum && need.split !== null ? inAll(meet, need) : growth(meet, sheet, need)}.`,
      ),
    ];
  });
}

/** What is left to the total of the mark, one unit less than what takes her past it. */
function levelOf(meet: Meet, { remainingTotal }: Need): string {
  return shower(meet)((remainingTotal ?? 1) - 1);
}

/** So often her ranges bring each of the scores, or more. */
function oftenEach({ split }: Need): string {
  return percent(Math.max(0, 1 - (split?.quantile ?? 0)));
}

/** ", 29.033 in all ties: BB 14.533, FX 14.533 (16% each, no fall)" */
function inAll(meet: Meet, need: Need): string {
  const show = shower(meet);
  const scores = need.split?.scores.map((s) => `${s.apparatus} ${show(s.score)}`).join(', ');
  return `, ${levelOf(meet, need)} in all ties: ${scores} (${oftenEach(need)} each, no fall)`;
}

/**
 * Of a team, where the total may grow by less than is scored: " its total must grow by more than 28.233:
 * BB Orr 13.600, Moor 13.200 would do (38% each, no fall)".
 */
function growth(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const { her } = wordsFor(meet, sheet.contender);
  const grow = ` ${her} total must grow by more than ${levelOf(meet, need)}`;
  const { split, missing } = need;
  if (split === null) {
    return missing.length > 0 ? grow : `${grow}, and ${her} realistic best brings no more`;
  }
  const chance = `${oftenEach(need)} each, no fall`;
  if (split.scores.length > LISTED) {
    return `${grow}: ${split.scores.length} scores as good as this would do (${chance})`;
  }
  const scores = split.scores.map(
    ({ gymnast, apparatus, score }, i) =>
      `${apparatus === split.scores[i - 1]?.apparatus ? '' : `${apparatus} `}${shortName(meet, gymnast)} ${shower(meet)(score)}`,
  );
  return `${grow}: ${scores.join(', ')} would do (${chance})`;
}
