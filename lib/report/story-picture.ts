/** What a picture of the evening shows: the chances of those in contention, and what happened when. */
import { findContest } from '../contest/contest.js';
import { type Meet, sessionsOf } from '../meet/meet.js';
import { coursesOf } from '../story/contention.js';
import type { Story } from '../story/story.js';
import { goalWords } from './goals.js';
import { endedInWords } from './story-words.js';
import { capital, shortName, titleOf } from './words.js';

export interface StoryPictured {
  readonly title: string;
  /** The same in a sentence, for who does not see the picture. */
  readonly description: string;
  /** The best in the end first. */
  readonly lines: readonly {
    readonly id: string;
    readonly name: string;
    /** Before the first score, then after each. */
    readonly chances: readonly number[];
  }[];
  /** Which of the scores, counted from 1, were turning points. */
  readonly turns: readonly number[];
  /** From which score on a rotation was under way. */
  readonly rotations: readonly { readonly before: number; readonly words: string }[];
}

/** `most`: so many lines can be told apart. */
export function storyPictured(meet: Meet, answer: Story, most: number): StoryPictured {
  const { points, about, turningPoints } = answer;
  const contest = findContest(meet, answer.contest);
  const of = goalWords(contest, about)?.of ?? '';
  const began = new Map<string, number>();
  const several = sessionsOf(meet).length > 1;
  for (const [k, { session, rotation, score }] of points.entries()) {
    // A withdrawal may be told long before her turn.
    if (rotation === null || score === null) continue;
    const words = several ? `session ${session}` : `rotation ${rotation}`;
    if (!began.has(words)) began.set(words, k);
  }
  return {
    title: `${titleOf(meet, contest.id)}: ${`chance ${of}`} after every score`,
    description: endedInWords(meet, answer).map(capital).join(' '),
    lines: coursesOf(answer, about)
      .slice(0, most)
      .map(({ id, chances }) => ({ id, name: shortName(meet, id), chances })),
    turns: points.flatMap(({ row }, k) => (turningPoints.includes(row) ? [k + 1] : [])),
    rotations: [...began].map(([words, before]) => ({ before, words })),
  };
}
