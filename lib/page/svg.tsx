/** Pictures as files of their own: SVG, for a document or a graphics machine. */
import { renderToString } from 'preact-render-to-string';
import { type Chances, chancesByScores } from '../chances/chances.js';
import { findContest } from '../contest/contest.js';
import { noAnswer } from '../error.js';
import { type Meet, routineOf } from '../meet/meet.js';
import { ifRangesAre } from '../needs/likely.js';
import { type NeedsOptions, needs } from '../needs/sheet.js';
import { chancesPictured } from '../report/chances.js';
import { storyPictured } from '../report/story-picture.js';
import type { Story } from '../story/story.js';
import { ChancesPicture } from './pictures/chances.js';
import { FILE_PALETTE, MOST_LINES } from './pictures/palette.js';
import { StoryPicture } from './pictures/story.js';
import { RoutinePictureOf } from './routine.js';

/**
 * Her next routine, or the one `on` an apparatus: how likely each score of it is, what it brings, and her
 * chances in the end by it.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param who - An id, or any part of a name that fits only one; in a team contest a team, or one of its
 *   gymnasts.
 * @param options - `contest` as of `needs`; `on`: another of her routines than the next.
 * @returns SVG.
 * @throws `missing-range`: a range it takes is not known
 * @throws `nothing-to-come`: she has finished, or has nothing to come there
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two), `out`
 *   (she has withdrawn)
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * routinePicture(meet, 'brondt').startsWith('<svg ') // → true
 * routinePicture(meet, 'nobody') // → throws unknown-gymnast
 */
export function routinePicture(
  meet: Meet,
  who: string,
  options: Pick<NeedsOptions, 'contest' | 'on'> = {},
): string {
  const sheet = needs(meet, who, options);
  if (sheet.finished !== null) {
    throw noAnswer('nothing-to-come', `${sheet.name} has no routine to come`, null);
  }
  const routine = routineOf(meet, sheet.gymnast, sheet.apparatus)?.index ?? -1;
  const contest = findContest(meet, sheet.contest);
  const found = ifRangesAre(() => chancesByScores(meet, contest, [routine]));
  const curve = found?.curves.get(routine) ?? null;
  return fileOf(
    <RoutinePictureOf meet={meet} sheet={sheet} curve={curve} palette={FILE_PALETTE} isFile />,
  );
}

/**
 * Everyone in contention, the likeliest first, with a bar for each thing there is to be had.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `chances` gave it.
 * @returns SVG.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * chancesPicture(meet, chances(meet)).includes('Ida Brondt') // → true
 */
export function chancesPicture(meet: Meet, answer: Chances): string {
  return fileOf(
    <ChancesPicture {...chancesPictured(meet, answer)} palette={FILE_PALETTE} isFile />,
  );
}

/**
 * The chances of those in contention after every score of an evening, the turning points numbered.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `story` gave it.
 * @returns SVG.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,VT,14.6' };
 * storyPicture(meet, story(meet, log)).includes('Brondt') // → true
 */
export function storyPicture(meet: Meet, answer: Story): string {
  const pictured = storyPictured(meet, answer, MOST_LINES);
  return fileOf(<StoryPicture {...pictured} palette={FILE_PALETTE} isFile />);
}

function fileOf(picture: Parameters<typeof renderToString>[0]): string {
  // XML has no place for two characters, nor for an end that nothing began (XML 1.0, 2.2 and 2.4).
  const text = renderToString(picture)
    .replace(/[\uFFFE\uFFFF]/g, '')
    .replaceAll(']]>', ']]&gt;');
  return `${text}\n`;
}
