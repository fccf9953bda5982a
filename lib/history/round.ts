/** Rounds of a competition, by the many names they go by. */
import { plain } from '../meet/problems.js';

/** Which part of a competition a result is from. */
export interface Round {
  /** In one spelling. */
  readonly name: string;
  /** Whether it only qualifies, or is the one that is won. */
  readonly stage: 'qualification' | 'final';
  /** What it is for; null where it is for all of them, or not said. */
  readonly contest: 'all-around' | 'apparatus' | 'team' | null;
  /** Of a competition over several days, such as "day 2"; null where it is not said. */
  readonly day: number | null;
}

/**
 * `AAfinal`, `Senior AA final`, `all-around day 2`, `TeamQual`, `qualification`, `final`; anything else is a
 * round of its own.
 */
export function readRound(text: string): Round {
  const words = plain(text).replace(/all[\s-]*around/g, ' aa ');
  const name = words.replace(/[^a-z0-9]+/g, '');
  const stage = /qual|prelim|^q\d?$/.test(name) ? 'qualification' : 'final';
  const contest = /team|^t[fq]$/.test(name)
    ? 'team'
    : /^aa|aa$|(^|[^a-z])aa([^a-z]|$|final|qual)/.test(words)
      ? 'all-around'
      : /apparatus|event|^ef$|^app|^finals?$/.test(name)
        ? 'apparatus'
        : null;
  const day = /day\s*(\d)/.exec(words)?.[1];
  return { name, stage, contest, day: day === undefined ? null : Number(day) };
}

const ORDER = { team: 1, 'all-around': 2, apparatus: 3 } as const;

/** Qualification comes before finals, the team final before the all-around, that before the apparatus finals. */
function orderOf({ stage, contest }: Round): number | null {
  if (stage === 'qualification') return 0;
  return contest === null ? null : ORDER[contest];
}

/** Whether one round of a competition is over before another begins, as far as their names say. */
export function isBefore(one: Round, other: Round): boolean {
  if (one.day !== null && other.day !== null && one.day !== other.day) return one.day < other.day;
  const [a, b] = [orderOf(one), orderOf(other)];
  return a !== null && b !== null && a < b;
}
