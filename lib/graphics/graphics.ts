/** `graphics`: lines for graphics and for the voice, from the answers of the other rooms. */
import { CAUTION } from '../caution.js';
import { findContest } from '../contest/contest.js';
import { findContender } from '../contest/who.js';
import { badUsage } from '../error.js';
import { type Meet, type Routine, routineOf } from '../meet/meet.js';
import { listed } from '../meet/names.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { didYouMean } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import { checkedOptions, type When } from '../needs/target.js';
import { waitingBefore } from '../needs/turn.js';
import { givenScore, type Score } from '../score.js';
import { type About, aboutOf } from './about.js';
import { type Context, contextOf } from './context.js';
import type { Fact, LineValues } from './fact.js';
import { lineFor } from './fit.js';
import { KINDS, LINE_KINDS, type LineKind } from './kinds/index.js';
import type { LineKindOf } from './line-kind.js';
import { shippedTemplates, type Templates } from './templates.js';
import { SHORTEST } from './words.js';

/**
 * Grows when a key of an answer changes its meaning or goes; not for one that is added.
 * @example
 * graphics(meet).schema === GRAPHICS_SCHEMA // → true
 */
export const GRAPHICS_SCHEMA = 1;

/** One thing to say, as a text and as values. */
export interface GraphicsLine extends LineValues {
  /** The same for the same contest, kind, subject, apparatus, target and band, whatever the text says. */
  readonly id: string;
  /** What sort of thing it says; docs/graphics.md has them one by one. */
  readonly kind: LineKind;
  /** Whoever it is said of first; in a team contest the gymnast, then the team. */
  readonly about: readonly About[];
  /** Null when none of the templates fits, however names are shortened: then nothing can be shown. */
  readonly text: string | null;
  /** In characters a viewer sees; 0 without a text. */
  readonly length: number;
  /** The most its template allows. */
  readonly limit: number;
  /** Ids of gymnasts on whose awaited scores it rests; the text says whose where there is room, here and below. */
  readonly awaited: readonly string[];
  /** Ids of gymnasts on whose scores under inquiry it rests. */
  readonly underInquiry: readonly string[];
  /** Of what is true right after a routine, ids of those who go up there before her: their scores are not in it. */
  readonly upBefore: readonly string[];
}

/** On whose scores a line rests that may still change it. */
type Rests = Pick<GraphicsLine, 'awaited' | 'underInquiry' | 'upBefore'>;

/** Of what state of which contest some lines are. */
export interface GraphicsHeader {
  /** `GRAPHICS_SCHEMA` of the version that made them. */
  readonly schema: number;
  /** The id of the contest they are about. */
  readonly contest: string;
  /** Of an answer by itself 1; who follows an evening counts on with every change of the lines. */
  readonly sequence: number;
  /** How many rows of the log were read. */
  readonly rows: number;
  /** When the last of them was written, as a time in ISO form; null where it does not say. */
  readonly at: string | null;
  /** Null, or since when what the lines are made from could not be read, as a time in ISO form. */
  readonly stale: string | null;
}

/** The lines of a contest. */
export interface Graphics extends GraphicsHeader, OpenScores {
  /** In the order they are said. */
  readonly lines: readonly GraphicsLine[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** Which lines are wanted, and in whose words. */
export interface GraphicsOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** Only these kinds; otherwise those that are news now. */
  readonly kinds?: readonly string[] | null | undefined;
  /**
   * Only lines about these, by id or any part of a name that fits only one; prepared for their next
   * routines, whether they are next up or not.
   */
  readonly who?: readonly string[] | null | undefined;
  /** The user's own, as `readTemplates` read them. */
  readonly templates?: Templates | null | undefined;
  /** The meet before the last score; otherwise what is new is so since the last rotation. */
  readonly before?: Meet | null | undefined;
  /** Of which board the places of outcomes are: right after the routine, of its rotation, of the end. */
  readonly when?: When | null | undefined;
  /** No outcome that is all below this score. */
  readonly from?: Score | string | null | undefined;
  /** Only outcomes that have a chance by her range. */
  readonly withChance?: boolean | undefined;
  /** As `logEnd` gives them; otherwise the rows that stand, and no time. */
  readonly rows?: number | null | undefined;
  /** When the last row of the log was written, as a time in ISO form; none without it. */
  readonly at?: string | null | undefined;
}

/**
 * The lines there are to prepare now. Every score that a gymnast next up can get is in exactly one of her
 * `outcome` lines.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param options - Which lines, in whose words; without it what is news now.
 * @throws `wrong-score`: `from` is no score
 * @throws `wrong-option`: `when` is not one of those known
 * @throws `unknown-contest` (the meet has no such contest), `unknown-kind` (no such kind of line)
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const [line] = graphics(meet, { kinds: ['need'], who: ['brondt'] }).lines;
 * line?.text // → 'Ida Brondt needs 14.633 on beam to lead so far, with 3 routines to others’ 2; 14.600 shares the lead.'
 * [line?.id, line?.score, line?.from] // → ['all-around/need/brondt/BB/lead', 14633, 14600]
 */
export function graphics(meet: Meet, options: GraphicsOptions = {}): Graphics {
  const contest = findContest(meet, options.contest);
  if (options.before != null) requireSound(options.before);
  const templates = options.templates ?? shippedTemplates();
  const ids = (options.who ?? []).map((text) => {
    const { contender, gymnast } = findContender(meet, contest, text);
    return gymnast?.id ?? contender.id;
  });
  const asked = { ids, when: checkedOptions(meet, { when: options.when }).when ?? 'now' };
  const context = contextOf(meet, options.before ?? null, contest, asked, templates.words);
  const isAsked = ({ about }: Fact) => ids.length === 0 || about.some((id) => ids.includes(id));
  const isPrepared = preparedBy(meet, options);
  const open = openScores(meet, contest.contenders);
  const restsOn = restingOn(meet, open);
  const lines = kindsOf(options.kinds ?? null, context).flatMap((kind) => {
    if (templates.of[kind.name].length === 0) return [];
    return kind.facts(context).flatMap((fact): GraphicsLine[] => {
      if (!isAsked(fact) || !isPrepared(fact)) return [];
      const rests = restsOn(kind, fact);
      const line = lineFor(fact, templates.of[kind.name], remarksOn(context, fact, rests));
      return line === null ? [] : [{ ...saidOf(context, kind, fact), ...line, ...rests }];
    });
  });
  return {
    schema: GRAPHICS_SCHEMA,
    contest: contest.id,
    sequence: 1,
    rows: options.rows ?? meet.told.length,
    at: options.at ?? null,
    stale: null,
    lines,
    ...open,
    caution: CAUTION,
  };
}

type Kind = (typeof KINDS)[number];

/** What a line says as values, and of whom. */
function saidOf({ meet, contest }: Context, kind: Kind, { about, key, values }: Fact) {
  const isOfTeams = contest.kind.ranks === 'teams';
  // A routine is told of the gymnast first, then of the team.
  const isTeam = (i: number) => isOfTeams && (i > 0 || values.apparatus === null);
  return {
    id: [contest.id, kind.name, about.map(partOfId).join('+'), ...key.map(partOfId)].join('/'),
    kind: kind.name,
    about: about.map((id, i) => aboutOf(meet, id, isTeam(i))),
    ...values,
  };
}

/** What stands between the parts of an id stands in none of them. */
function partOfId(text: string): string {
  return text.replace(/[%/+]/g, (sign) => `%${sign.charCodeAt(0).toString(16)}`);
}

/** Whether an outcome is one of those that are asked for. */
function preparedBy(meet: Meet, { from, withChance }: GraphicsOptions): (fact: Fact) => boolean {
  const least = from == null ? null : givenScore(from, meet.scoring.decimals, 'from');
  return ({ values }) => {
    if (values.worst === null) return true;
    if (least !== null && values.to !== null && values.to < least) return false;
    return withChance !== true || (values.chance ?? 0) > 0;
  };
}

function restingOn(meet: Meet, { awaited, underInquiry }: OpenScores) {
  const teamOf = new Map(meet.gymnasts.map((g) => [g.id, g.team]));
  const before = new Map<Routine | undefined, readonly string[]>();
  const upBeforeOf = ({ about: [gymnast = ''], values: { apparatus, by } }: Fact) => {
    if (by !== 'now' || apparatus === null) return [];
    const routine = routineOf(meet, gymnast, apparatus);
    const ids = before.get(routine) ?? whoIsUpBefore(meet, routine);
    before.set(routine, ids);
    return ids;
  };
  return (kind: LineKindOf, fact: Fact): Rests => {
    const { about } = fact;
    const isOf = ({ gymnast }: { readonly gymnast: string }) =>
      !kind.isOfOne || about.includes(gymnast) || about.includes(teamOf.get(gymnast) ?? '');
    const ids = (open: readonly { readonly gymnast: string }[]) => [
      ...new Set(open.filter(isOf).map((r) => r.gymnast)),
    ];
    return {
      awaited: ids(awaited),
      underInquiry: ids(underInquiry),
      upBefore: upBeforeOf(fact),
    };
  };
}

function whoIsUpBefore(meet: Meet, routine: Routine | undefined): readonly string[] {
  if (routine === undefined) return [];
  return [...new Set(waitingBefore(meet, routine).map((r) => r.gymnast))];
}

/** More names than this are counted. */
const MOST_NAMES = 2;

/** Whose score a line rests on, or is without: as much of it as there is room for. */
function remarksOn(
  { names }: Context,
  { about }: Fact,
  { awaited, underInquiry, upBefore }: Rests,
): string[] {
  const inquiry = openInWords(underInquiry, 'under inquiry');
  const waiting = openInWords(awaited, 'awaited');
  const before = upBefore.length === 0 ? '' : `before ${scoresInWords(upBefore, ' others’')}`;
  const all = [inquiry, waiting, before].filter((words) => words !== '');
  if (all.length === 0) return [''];
  const shorter = inquiry === '' ? [] : [inquiry, 'under inquiry'];
  return [...[all.join('; '), ...shorter].map((words) => ` (${words})`), ''];

  function openInWords(ids: readonly string[], what: string): string {
    if (ids.length === 0) return '';
    return `${scoresInWords(ids)} ${what}`;
  }

  /** "Quillmore’s score", "score" where it is hers, "3 scores", "3 others’ scores". */
  function scoresInWords(ids: readonly string[], whose = ''): string {
    const scores = ids.length === 1 ? 'score' : 'scores';
    if (ids.every((id) => about.includes(id))) return scores;
    if (ids.length > MOST_NAMES) return `${ids.length}${whose} ${scores}`;
    return `${listed(ids.map((id) => names.of(id)(SHORTEST)))}’s ${scores}`;
  }
}

function kindsOf(given: readonly string[] | null, context: Context): readonly Kind[] {
  if (given === null || given.length === 0) return KINDS.filter((k) => k.isUnasked(context));
  for (const kind of given) {
    if (LINE_KINDS.some((k) => k === kind)) continue;
    const mend = didYouMean(kind, LINE_KINDS, 'one of');
    throw badUsage('unknown-kind', `"${kind}" is no kind of line`, mend);
  }
  return KINDS.filter((k) => given.includes(k.name));
}
