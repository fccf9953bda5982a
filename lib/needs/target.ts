/** What is asked for: targets, against which rivals, and when. */
import type { Contest } from '../contest/contest.js';
import { advanceGoal, type Goal, placeGoal } from '../contest/goal.js';
import { findContender } from '../contest/who.js';
import { badUsage } from '../error.js';
import type { Meet } from '../meet/meet.js';
import {
  asScore,
  formatScore,
  givenScore,
  parseScore,
  type Score,
  type Units,
  unitsPerPoint,
} from '../score.js';
import { HIGHEST_D, scoreLimit } from '../scoring.js';

/** On which board a target must be met: right after the routine, after its rotation, at the end. */
export const WHENS = ['now', 'rotation', 'end'] as const;
/**
 * The board on which a target must be met: `now` right after the routine, `rotation` after its
 * rotation, `end` when all is done.
 */
export type When = (typeof WHENS)[number];

/** What routines to come are taken to score. */
export const ASSUMPTIONS = ['low', 'likely', 'high', 'limit'] as const;
/**
 * What routines to come are taken to score: the `low`, `likely` or `high` of each range, or the
 * `limit` of the apparatus.
 */
export type Assumption = (typeof ASSUMPTIONS)[number];

/** What is assumed of rivals: `as-is` on the board of now, and only there. */
export const RIVALS = ['as-is', ...ASSUMPTIONS] as const;
/**
 * What is assumed of the others: `as-is` leaves them where they stand, the rest is as of an
 * `Assumption`.
 */
export type Rivals = (typeof RIVALS)[number];

const BARE = ['lead', 'win', 'medal', 'hold', 'advance'] as const;

/**
 * What she may be asked to reach: `lead` (first on the board), `win` (first at the end), `medal`,
 * `hold` (her place), `advance` (to be among those who go on), `place:3`, `beat:adeyemi`, `total:57.000`.
 */
export type Target =
  | (typeof BARE)[number]
  | `place:${number}`
  | `beat:${string}`
  | `total:${string}`;

/** Medals by their names, the best first. */
export const MEDALS = ['gold', 'silver', 'bronze'] as const;

/** Other words for a target: `gold` is `win`, `silver` is `place:2`, `top 8` is `place:8`. */
export type TargetWord = (typeof MEDALS)[number] | `top ${number}`;

/** A target as a question names it; a total also as a score: `{ total: score('57.000') }`. */
export type AskedTarget =
  | Target
  | TargetWord
  | {
      /** A total to reach, as a text or in units. */
      readonly total: Score | string;
    };

/** A target that was understood. */
export type ParsedTarget =
  | { readonly kind: (typeof BARE)[number] }
  | { readonly kind: 'place'; readonly place: number }
  | { readonly kind: 'beat'; readonly id: string }
  | { readonly kind: 'total'; readonly total: Score };

/** Whether a word alone is a target. */
export function isTargetWord(text: string): boolean {
  return [...BARE, ...MEDALS].some((word) => word === text);
}

/** Reads `win`, `gold`, `place:3`, `top 8`, `beat:adeyemi`, `total:57.000`. */
export function parseTarget(meet: Meet, contest: Contest, asked: AskedTarget): ParsedTarget {
  if (typeof asked === 'object') {
    return { kind: 'total', total: givenScore(asked.total, meet.scoring.decimals, 'total') };
  }
  const text: string = asked;
  const bare = BARE.find((k) => k === text);
  if (bare === 'advance' && contest.advance === null) {
    throw badUsage(
      'wrong-target',
      `nobody advances from ${contest.id}`,
      'say who does in the meet file: advance: { places: 8 }',
    );
  }
  if (bare !== undefined) return { kind: bare };
  const medal = MEDALS.find((m) => m === text);
  if (medal !== undefined) return medalTarget(contest, medal);
  const top = /^top (\d{1,4})$/.exec(text)?.[1];
  if (top !== undefined && Number(top) >= 1) return { kind: 'place', place: Number(top) };
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
    'one of: lead, win, gold, medal, hold, advance, top 8, beat:NAME, total:57.000',
  );
}

/** Nobody wins a medal that is not given. */
function medalTarget({ id, medals }: Contest, medal: (typeof MEDALS)[number]): ParsedTarget {
  const place = MEDALS.indexOf(medal) + 1;
  if (place === 1) return { kind: 'win' };
  if (place <= medals) return { kind: 'place', place };
  const given = MEDALS.slice(0, medals).join(' and ');
  throw badUsage(
    'wrong-target',
    `there is no ${medal} in ${id}: ${given === '' ? 'it has no medals' : `only ${given}`}`,
    `ask for a place: place:${place}`,
  );
}

function parseTotal(meet: Meet, text: string): Score {
  const parsed = parseScore(text, meet.scoring.decimals);
  if ('value' in parsed) return parsed.value;
  throw badUsage('wrong-score', parsed.wrong, parsed.mend);
}

export function targetText(meet: Meet, target: ParsedTarget): Target {
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

/** What a target asks of a board; `hold`: the place to hold. */
export function goalOfTarget(
  { medals, advance }: Contest,
  target: ParsedTarget,
  hold: number | null,
): Goal {
  if (target.kind === 'advance' && advance !== null) return advanceGoal(advance);
  if (target.kind === 'place') return placeGoal(target.place);
  if (target.kind === 'medal') return placeGoal(medals);
  return placeGoal(target.kind === 'hold' ? (hold ?? 1) : 1);
}

/** How a question is put: on which board, against what, with which scores. */
export interface QuestionOptions {
  /** `lead` asks for `now` without it, every other target for `end`. */
  readonly when?: When | null | undefined;
  /** `likely` without it; `as-is` where `when` is `now`. */
  readonly rivals?: Rivals | null | undefined;
  /** What her own other routines to come are taken to score; likely without it. */
  readonly rest?: Assumption | null | undefined;
  /** The D score she will show. */
  readonly d?: Score | string | null | undefined;
  /** Ahead of the mark by this much. */
  readonly margin?: Score | string | null | undefined;
}

/** The same once it was checked; null where nothing was said. */
export interface Asking {
  readonly when: When | null;
  readonly rivals: Rivals | null;
  readonly rest: Assumption | null;
  readonly d: Score | null;
  readonly margin: Score;
}

/** Throws for a word that is none of those known, and for a number that is no score. */
export function checkedOptions(meet: Meet, options: QuestionOptions): Asking {
  const { decimals } = meet.scoring;
  const d = options.d == null ? null : givenScore(options.d, decimals, 'd');
  const most = highestD(meet);
  if (d !== null && d > most) {
    throw badUsage(
      'wrong-score',
      `D ${formatScore(d, decimals)} cannot be a D score`,
      'give the D score alone, such as 5.6',
    );
  }
  return {
    when: oneOf('when', options.when, WHENS),
    rivals: oneOf('rivals', options.rivals, RIVALS),
    rest: oneOf('rest', options.rest, ASSUMPTIONS),
    d,
    margin: givenScore(options.margin ?? asScore(0), decimals, 'margin'),
  };
}

/** In a discipline of the meet's own a D score may be as high as a score. */
function highestD({ discipline, scoring, apparatus }: Meet): Units {
  return discipline === null
    ? Math.max(...apparatus.map((a) => scoreLimit(scoring, a.limit)))
    : HIGHEST_D * unitsPerPoint(scoring.decimals);
}

function oneOf<T extends string>(
  name: string,
  given: T | null | undefined,
  known: readonly T[],
): T | null {
  if (given == null || known.includes(given)) return given ?? null;
  throw badUsage('wrong-option', `${name}: "${given}" is not known`, `one of: ${known.join(', ')}`);
}

/** One question about one target, whole. */
export interface Question {
  readonly target: ParsedTarget;
  readonly when: When;
  readonly rivals: Rivals;
  /** What her own other routines to come are taken to score. */
  readonly rest: Assumption;
  /** Ahead of the mark by this much; 0 is no margin. */
  readonly margin: Units;
  /** The D score she will show, where it is said. */
  readonly d: Score | null;
}

/**
 * Fills in what a question leaves open: `lead` asks for now, everything else for the end, rivals at
 * their likely; and one of `now` and `as-is` brings the other along.
 */
export function completeQuestion(
  target: ParsedTarget,
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
