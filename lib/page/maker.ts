/** The page of a meet that changes: made again and again, with what is known of its story already. */
import { contestUnderWay } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { Source } from '../meet/read.js';
import { ifRangesAre } from '../needs/likely.js';
import { type Story, story } from '../story/story.js';
import { type PageAssets, type PageOptions, page } from './page.js';

/** What may be said of a page besides what its maker knows already. */
export type PageAsked = Omit<PageOptions, 'assets' | 'story' | 'others'>;

/** A meet as it stands now, and its log, from which the story is told. */
export interface PageSources {
  /** With every row of the log. */
  readonly meet: Meet;
  /** The text of the log; null while there is none. */
  readonly log: Source | null;
}

/** Makes the text of a page from a meet as it stands. */
export type PageMaker = (sources: PageSources, asked: PageAsked) => string;

/** Told how many rows of the log, of how many, the story has come to. */
export type OnRows = (done: number, of: number) => void;

/**
 * Makes pages that tell the story of their contest; what the last page of a contest has told is not worked
 * out again. Without a range that it needs there is no story. What it makes throws as `page` does.
 * @param assets - `lastrotation/page/assets.json`, as the package has it.
 * @param onProgress - Told how far the story has come.
 * @returns Makes the text of a page, each time from the meet and the log it is given.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @example
 * const none = { head: '', headHash: '', script: '', scriptHash: '', style: '', styleHash: '' };
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,VT,14.6' };
 * pageMaker(none)({ meet, log }, { contest: 'all-around' }).includes('Where it turned') // → false
 */
export function pageMaker(assets: PageAssets, onProgress?: OnRows): PageMaker {
  /** By contest. */
  const told = new Map<string, Story>();
  return ({ meet, log }, asked) => {
    const contest = asked.contest ?? contestUnderWay(meet);
    const known = told.get(contest) ?? null;
    const now = ifRangesAre(() => story(meet, log, { contest, known, onProgress }));
    if (now !== null) told.set(contest, now);
    // Only what is served knows where the pages of the others are.
    const ids = asked.follows === 'events' ? meet.contests.map((c) => c.id) : [];
    const others = ids
      .filter((id) => id !== contest)
      .map((id) => ({ contest: id, href: `?contest=${encodeURIComponent(id)}` }));
    return page(meet, { ...asked, contest, assets, story: now, others });
  };
}
