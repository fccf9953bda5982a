/** What is said beside a need of the sheet. */
import { findContest } from '../contest/contest.js';
import { progressAfter } from '../contest/like-for-like.js';
import { type Meet, routineOf } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { NeedsSheet } from '../needs/sheet.js';
import { anotherDInWords, isAsExpected, statusInWords, tieInWords } from './need-words.js';
import { someHaveDone } from './standing.js';
import { numberInWords } from './words.js';

/** What the status of a need means, and where a tie goes. */
export function remarkOn(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const words = [
    need.when === 'now' ? unevenThen(meet, sheet) : '',
    statusInWords(meet, sheet, need),
    anotherDInWords(meet, sheet, need),
    need.status === 'secured' ? '' : tieInWords(meet, need),
    quotaInWords(meet, sheet, need),
  ];
  return words.filter((w) => w !== '').join('; ');
}

/** That it is a team-mate whom she must pass, since of a team only so many go through. */
function quotaInWords(meet: Meet, { contest, contender }: NeedsSheet, need: Need): string {
  const { advance, contenders } = findContest(meet, contest);
  const teamOf = (id: string | null | undefined) => contenders.find((c) => c.id === id)?.team;
  const team = teamOf(contender);
  const isMate = team != null && teamOf(need.mark?.id) === team && isAsExpected(need);
  if (need.target !== 'advance' || advance?.perTeam == null || !isMate) return '';
  if (need.status === null || need.status === 'secured') return '';
  const go = advance.perTeam === 1 ? 'goes' : 'go';
  return `a team-mate: ${numberInWords(advance.perTeam)} of a team ${go} through at most`;
}

/** That the board right after her routine compares no like with like: "then some have done 2 routines, others 3". */
function unevenThen(meet: Meet, { contest, gymnast, apparatus }: NeedsSheet): string {
  const asked = routineOf(meet, gymnast, apparatus);
  const progress = progressAfter(meet, findContest(meet, contest), (r) => r === asked);
  return progress.footing === 'even' ? '' : `then ${someHaveDone(progress)}`;
}
