/** Rounds of a competition, by the many names they go by. */
import { plain } from '../meet/problems.js';

export interface Round {
  /** In one spelling. */
  readonly name: string;
  readonly stage: 'qualification' | 'final';
  /** What it is for; null where it is for all of them, or not said. */
  readonly contest: 'all-around' | 'apparatus' | 'team' | null;
}

/** `AAfinal`, `all-around final`, `TeamQual`, `qualification`, `final`; anything else is a round of its own. */
export function readRound(text: string): Round {
  const name = plain(text).replace(/[^a-z0-9]+/g, '');
  const stage = /qual|prelim|^q\d?$/.test(name) ? 'qualification' : 'final';
  const contest = /team|^t[fq]$/.test(name)
    ? 'team'
    : /^aa|aa$|allaround/.test(name)
      ? 'all-around'
      : /apparatus|event|^ef$|^app|^finals?$/.test(name)
        ? 'apparatus'
        : null;
  return { name, stage, contest };
}
