/** What the script of a page is told: the meet, so that it can work answers out in the page itself. */
import { parse, stringify } from 'devalue';
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

/** As JSON that can stand inside a script element. */
export function packed(state: PageState): string {
  return stringify(state).replaceAll('<', '\\u003c');
}

/** Only of a state that `packed` has made: its meet is taken to be sound, as it was. */
export function unpacked(text: string): PageState {
  const state: PageState = parse(text);
  return { ...state, meet: asSound(state.meet) };
}
