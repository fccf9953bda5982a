/** What is asked for: targets, against which rivals, and when. */
import type { Contest } from '../contest/contest.js';
import { findContender } from '../contest/who.js';
import { badUsage } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { formatScore, parseScore, type Score } from '../score.js';

/** On which board a target must be met: right after the routine, after its rotation, at the end. */
export const WHENS = ['now', 'rotation', 'end'] as const;
export type When = (typeof WHENS)[number];

/** What routines to come are taken to score. */
export const ASSUMPTIONS = ['low', 'likely', 'high', 'limit'] as const;
export type Assumption = (typeof ASSUMPTIONS)[number];

/** What is assumed of rivals: `as-is` on the board of now, and only there. */
export const RIVALS = ['as-is', ...ASSUMPTIONS] as const;
export type Rivals = (typeof RIVALS)[number];

export type Target =
  | { readonly kind: 'lead' | 'win' | 'medal' | 'hold' }
  | { readonly kind: 'place'; readonly place: number }
  | { readonly kind: 'beat'; readonly id: string }
  | { readonly kind: 'total'; readonly total: Score };

const BARE = ['lead', 'win', 'medal', 'hold'] as const;

/** Reads `win`, `place:3`, `beat:adeyemi`, `total:57.000`. */
export function parseTarget(meet: Meet, contest: Contest, text: string): Target {
  const bare = BARE.find((k) => k === text);
  if (bare !== undefined) return { kind: bare };
  const colon = text.indexOf(':');
  const [kind, value] = [text.slice(0, colon), text.slice(colon + 1)];
  if (colon > 0 && kind === 'place') {
    const place = /^\d{1,4}$/.test(value) ? Number(value) : 0;
    if (place >= 1) return { kind, place };
    throw badUsage('wrong-target', `"${value}" is not a place`, 'write it like place:3');
  }
  if (colon > 0 && kind === 'beat') {
    return { kind, id: findContender(meet, contest, value).contender.id };
  }
  if (colon > 0 && kind === 'total') {
    const parsed = parseTotal(meet, value);
    return { kind, total: parsed };
  }
  throw badUsage(
    'wrong-target',
    `"${text}" is not a target`,
    'one of: lead, win, medal, hold, place:3, beat:NAME, total:57.000',
  );
}

function parseTotal(meet: Meet, text: string): Score {
  const parsed = parseScore(text, meet.scoring.decimals);
  if ('value' in parsed) return parsed.value;
  throw badUsage('wrong-score', parsed.wrong, parsed.mend);
}

export function targetText(meet: Meet, target: Target): string {
  switch (target.kind) {
    case 'place':
      return `place:${target.place}`;
    case 'beat':
      return `beat:${target.id}`;
    case 'total':
      return `total:${formatScore(target.total, meet.scoring.decimals)}`;
    default:
      return target.kind;
  }
}

/** One question about one target, whole. */
export interface Question {
  readonly target: Target;
  readonly when: When;
  readonly rivals: Rivals;
  /** What her own other routines to come are taken to score. */
  readonly rest: Assumption;
  /** Ahead of the mark by this much; 0 is no margin. */
  readonly margin: Score;
  /** The D score she will show, where it is said. */
  readonly d: Score | null;
}

/**
 * Fills in what a question leaves open: `lead` asks for now, everything else for the end, rivals at
 * their likely; and one of `now` and `as-is` brings the other along.
 */
export function completeQuestion(
  target: Target,
  when: When | null,
  rivals: Rivals | null,
): Pick<Question, 'target' | 'when' | 'rivals'> {
  const now = when ?? (rivals === null && target.kind === 'lead' ? 'now' : null);
  const asked = now ?? (rivals === 'as-is' ? 'now' : 'end');
  const against = rivals ?? (asked === 'now' ? 'as-is' : 'likely');
  if ((asked === 'now') !== (against === 'as-is')) {
    throw badUsage(
      'now-is-as-is',
      asked === 'now'
        ? `the board of now completes nothing, so rivals cannot be at "${against}"`
        : `"as-is" is for the board of now, not for the ${asked}`,
      asked === 'now' ? 'ask with --when rotation or --when end' : 'ask with --when now',
    );
  }
  if (target.kind === 'win' && asked !== 'end') {
    throw badUsage('win-is-end', 'a meet is won at the end', 'ask for lead, or with --when end');
  }
  return { target, when: asked, rivals: against };
}
