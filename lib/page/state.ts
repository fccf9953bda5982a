/** What the script of a page is told: the meet, so that it can work answers out in the page itself. */
import { parse, stringify } from 'flatted';
import type { Meet } from '../meet/meet.js';
import { asSound } from '../meet/sound.js';

/** How an open page learns of new scores: not at all, by looking at its own file, or from a stream of events. */
export type Follows = 'file' | 'events' | null;

export interface PageState {
  readonly meet: Meet;
  readonly contest: string;
  /** Another for every other state of the page. */
  readonly version: string;
  readonly follows: Follows;
}

/** As JSON that can stand inside a script element; what the meet has in several places is there once. */
export function packed({ meet, ...state }: PageState): string {
  const contests = meet.contests.map(({ carried, ...rules }) => ({
    ...rules,
    carried: carried === null ? null : [...carried],
  }));
  return stringify({ ...state, meet: { ...meet, contests } }).replaceAll('<', '\\u003c');
}

/** Only of a state that `packed` has made: its meet is taken to be sound, as it was. */
export function unpacked(text: string): PageState {
  const { meet, ...state } = parse(text);
  const contests = meet.contests.map(
    ({ carried, ...rules }: { carried: [string, number][] | null }) => ({
      ...rules,
      carried: carried === null ? null : new Map(carried),
    }),
  );
  return { ...state, meet: asSound({ ...meet, contests }) };
}
