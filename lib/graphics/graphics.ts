/** `graphics`: lines for graphics and for the voice, from the answers of the other rooms. */
import { CAUTION } from '../caution.js';
import { findContest } from '../contest/contest.js';
import { findContender } from '../contest/who.js';
import { badUsage } from '../error.js';
import type { Meet } from '../meet/meet.js';
import { listed } from '../meet/names.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { didYouMean } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import type { Score } from '../score.js';
import { type Context, contextOf, isLastRotation } from './context.js';
import type { Fact } from './fact.js';
import { FACTS } from './facts.js';
import { lineFor } from './fit.js';
import { LINE_KINDS, type LineKind } from './kinds.js';
import { shippedTemplates, type Templates } from './templates.js';
import { SHORTEST } from './words.js';

export interface GraphicsLine {
  readonly kind: LineKind;
  /** Ids, whoever it is said of first; in a team contest the gymnast, then the team. */
  readonly about: readonly string[];
  readonly apparatus: string | null;
  /** The score band of an outcome line, both ends included; null elsewhere. */
  readonly from: Score | null;
  readonly to: Score | null;
  /** Null when none of the templates fits, however names are shortened: then nothing can be shown. */
  readonly text: string | null;
  /** In characters a viewer sees; 0 without a text. */
  readonly length: number;
  /** The most its template allows. */
  readonly limit: number;
  /** Of the band, by her range, or of the medal outcome; null elsewhere. */
  readonly chance: number | null;
  /** Ids of gymnasts on whose awaited scores the line rests; the text says whose where there is room. */
  readonly awaited: readonly string[];
  /** Ids of gymnasts on whose scores under inquiry it rests; the text says so, and whose where there is room. */
  readonly underInquiry: readonly string[];
}

export interface Graphics extends OpenScores {
  readonly contest: string;
  /** Null, or since when what the lines are made from could not be read, as a time in ISO form. */
  readonly stale: string | null;
  readonly lines: readonly GraphicsLine[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

export interface GraphicsOptions {
  readonly contest?: string | null | undefined;
  /** Only these kinds; all of them otherwise, the medals before the last rotation. */
  readonly kinds?: readonly string[] | null | undefined;
  /**
   * Only lines about these, by id or any part of a name that fits only one; prepared for their next
   * routines, whether they are next up or not.
   */
  readonly who?: readonly string[] | null | undefined;
  /** The user's own, as `readTemplates` read them. */
  readonly templates?: Templates | null | undefined;
  /** The meet before the last score; otherwise changes are those since the last rotation. */
  readonly before?: Meet | null | undefined;
}

/**
 * The lines there are to prepare now. Throws when the contest, a kind or a name is unknown. Every
 * score that a gymnast next up can get is in exactly one of her `outcome` lines.
 * @example
 * graphics(meet, { kinds: ['need'], who: ['brandt'] }).lines[0]?.text // → 'Ida Brandt needs 14.633 on beam to lead so far, with 3 routines to others’ 2; 14.600 shares the lead.'
 */
export function graphics(meet: Meet, options: GraphicsOptions = {}): Graphics {
  const contest = findContest(meet, options.contest);
  if (options.before != null) requireSound(options.before);
  const templates = options.templates ?? shippedTemplates();
  const ids = (options.who ?? []).map((text) => {
    const { contender, gymnast } = findContender(meet, contest, text);
    return gymnast?.id ?? contender.id;
  });
  const context = contextOf(meet, options.before ?? null, contest, ids, templates.words);
  const kinds = kindsOf(options.kinds ?? null);
  const shown = kinds ?? LINE_KINDS.filter((k) => k !== 'medals' || isLastRotation(context));
  const isAsked = ({ about }: Fact) => ids.length === 0 || about.some((id) => ids.includes(id));
  const facts = shown.filter((k) => templates.of[k].length > 0).flatMap((k) => FACTS[k](context));
  const open = openScores(meet, contest.contenders);
  const restsOn = restingOn(meet, open);
  return {
    contest: contest.id,
    stale: null,
    lines: facts.filter(isAsked).flatMap((fact): GraphicsLine[] => {
      const rests = restsOn(fact);
      const remarks = remarksOn(context, fact, rests);
      const line = lineFor(fact, templates.of[fact.kind], remarks);
      const { kind, about, apparatus, from, to, chance } = fact;
      return line === null ? [] : [{ kind, about, apparatus, from, to, ...line, chance, ...rests }];
    }),
    ...open,
    caution: CAUTION,
  };
}

/** Where a line stands shows what happened to one; what is ahead rests on everybody. */
const OF_ONE: readonly LineKind[] = ['change', 'settled', 'standing'];

/** Whose awaited scores, and scores under inquiry, a line rests on. */
function restingOn(meet: Meet, { awaited, underInquiry }: OpenScores) {
  const teamOf = new Map(meet.gymnasts.map((g) => [g.id, g.team]));
  return ({ kind, about }: Fact): Pick<GraphicsLine, 'awaited' | 'underInquiry'> => {
    const isOf = ({ gymnast }: { readonly gymnast: string }) =>
      !OF_ONE.includes(kind) ||
      about.includes(gymnast) ||
      about.includes(teamOf.get(gymnast) ?? '');
    const ids = (open: readonly { readonly gymnast: string }[]) => [
      ...new Set(open.filter(isOf).map((r) => r.gymnast)),
    ];
    return { awaited: ids(awaited), underInquiry: ids(underInquiry) };
  };
}

/** More names than this are counted. */
const MOST_NAMES = 2;

/** Whose score a line rests on that is under inquiry or awaited: as much of it as there is room for. */
function remarksOn(
  { names }: Context,
  { about }: Fact,
  { awaited, underInquiry }: Pick<GraphicsLine, 'awaited' | 'underInquiry'>,
): string[] {
  const inquiry = openInWords(underInquiry, 'under inquiry');
  const waiting = openInWords(awaited, 'awaited');
  const all = [inquiry, waiting].filter((words) => words !== '');
  if (all.length === 0) return [''];
  const shorter = inquiry === '' ? [] : [inquiry, 'under inquiry'];
  return [...[all.join('; '), ...shorter].map((words) => ` (${words})`), ''];

  function openInWords(ids: readonly string[], what: string): string {
    if (ids.length === 0) return '';
    const scores = ids.length === 1 ? 'score' : 'scores';
    if (ids.every((id) => about.includes(id))) return `${scores} ${what}`;
    if (ids.length > MOST_NAMES) return `${ids.length} ${scores} ${what}`;
    return `${listed(ids.map((id) => names.of(id)(SHORTEST)))}’s ${scores} ${what}`;
  }
}

function kindsOf(given: readonly string[] | null): LineKind[] | null {
  if (given === null || given.length === 0) return null;
  for (const kind of given) {
    if (LINE_KINDS.some((k) => k === kind)) continue;
    const mend = didYouMean(kind, LINE_KINDS, 'one of');
    throw badUsage('unknown-kind', `"${kind}" is no kind of line`, mend);
  }
  return LINE_KINDS.filter((k) => given.includes(k));
}
