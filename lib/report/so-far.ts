/** What is said under a board that is not the last word: totals like for like, a rotation that is not over. */
import { findContest } from '../contest/contest.js';
import { evenBoard, rotationsFull } from '../contest/like-for-like.js';
import type { Standings } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Section, sentence } from './report.js';
import { evenInWords, saidBoard } from './standing.js';
import { capital, rotationInWords, shortName, shower } from './words.js';

/** So many are told like for like. */
const MOST_ALIKE = 3;

/** "After 15 routines each: Merriford 126.825, Aldmoor 126.700 (0.125 behind)." */
export function likeForLikeSection(meet: Meet, board: Standings): Section {
  const contest = findContest(meet, board.contest);
  const { progress } = saidBoard(meet, board);
  if (board.after !== null || progress.footing !== 'uneven' || progress.fewest === 0) return [];
  const best = evenBoard(contest, recordedPerformances(meet))
    .filter((r) => r.place !== null && !r.entry.out)
    .slice(0, MOST_ALIKE);
  const [first] = best;
  if (first === undefined || best.length < 2) return [];
  const show = shower(meet);
  const said = best.map(({ entry }) => {
    const behind = first.entry.total - entry.total;
    const gap = behind === 0 ? '' : ` (${show(behind)} behind)`;
    return `${shortName(meet, entry.contender.id)} ${show(entry.total)}${gap}`;
  });
  return [sentence(`${capital(evenInWords(progress))}: ${said.join(', ')}.`)];
}

/** That the rotation after which the board is asked for is not over. */
export function unfinishedSection(meet: Meet, { after, session }: Standings): Section {
  const at = meet.rotations.findIndex((r) => r.rotation === after && r.session === session);
  if (after === null || session === null || at < rotationsFull(meet)) return [];
  const isOn = meet.routines.some((r) => r.at === at && meet.results[r.index] !== null);
  const rotation = capital(rotationInWords(meet, { rotation: after, session }));
  return [
    sentence(`${rotation} ${isOn ? 'is not over' : 'has not begun'}: this is the board so far.`),
  ];
}
