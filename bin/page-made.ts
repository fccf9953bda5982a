/** The page of a meet that changes: made again and again, with what is known of its story already. */
import {
  contestUnderWay,
  type Follows,
  LastRotationError,
  type Meet,
  page,
  type Source,
  type Story,
  story,
} from '../lib/index.js';
import { pageAssets } from './page-assets.js';

export interface PageAsked {
  readonly contest: string | undefined;
  readonly follows: Follows;
  /** Another for every other state of the page. */
  readonly version: string;
  readonly stale: string | null;
}

export type PageMaker = (
  files: { readonly meet: Meet; readonly log: Source | null },
  asked: PageAsked,
) => string;

/** What a maker is told of the story on the way: how many rows of how many are done. */
export type OnRows = (done: number, of: number) => void;

export function pageMaker(onProgress?: OnRows): PageMaker {
  const assets = pageAssets();
  /** By contest. */
  const told = new Map<string, Story>();
  return ({ meet, log }, { contest, ...asked }) => {
    const id = contest ?? contestUnderWay(meet);
    const known = told.get(id) ?? null;
    const now = ifRangesAre(() => story(meet, log, { contest: id, known, onProgress }));
    if (now !== null) told.set(id, now);
    // Only what is served knows where the pages of the others are.
    const others = meet.contests.filter((c) => asked.follows === 'events' && c.id !== id);
    const links = others.map((c) => ({
      contest: c.id,
      href: `?contest=${encodeURIComponent(c.id)}`,
    }));
    return page(meet, { ...asked, contest: id, assets, story: now, others: links });
  };
}

/** Without a range that it needs there is no story, and all else is told. */
function ifRangesAre<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof LastRotationError && error.code === 'missing-range') return null;
    throw error;
  }
}
