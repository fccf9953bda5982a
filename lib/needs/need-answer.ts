/** What an answer to a need holds, by its status. */
import type { Chance } from '../chance.js';
import type { Standings } from '../contest/standings.js';
import type { TieRuleName } from '../rules/ties/index.js';
import type { Score } from '../score.js';
import type { TieGoesTo } from './mark.js';
import type { MissingRange } from './scenario.js';
import type { Split } from './split.js';
import type { Assumption, Rivals, Target, When } from './target.js';

/**
 * The first that holds, under the need's assumption. `secured`: 0.000 does it, if she competes.
 * `impossible`: not even level within the limit. `level-only`: level is within the limit, ahead is
 * not. `beyond`: more than her high, where one was given. `needs`: none of these.
 */
export type NeedStatus = 'secured' | 'needs' | 'beyond' | 'impossible' | 'level-only';

/** Whose total sets what she needs; no id for a total as such. */
export interface Mark {
  /** Id of the rival; null where it is a total that was asked for. */
  readonly id: string | null;
  /** What her total is compared with, at the end of the scenario. */
  readonly total: Score;
}

/** What is asked, and what is said of it whatever the status. */
export interface NeedCommon {
  /** What she is to reach. */
  readonly target: Target;
  /** On which board: right after the routine, after its rotation, at the end. */
  readonly when: When;
  /** What the others are taken to score. */
  readonly rivals: Rivals;
  /** What her own other routines to come are taken to score. */
  readonly rest: Assumption;
  /** To whom a tie at `level` goes; null when there is none to speak of. */
  readonly tieGoesTo: TieGoesTo | null;
  /** The rule that decides that tie; null without one. */
  readonly tieBy: TieRuleName | null;
  /** Falls she can afford from her likely; null when likely without a fall is not enough. */
  readonly fallsAffordable: number | null;
  /** The chance, by her range, of at least `ahead`; null when her range is missing. */
  readonly reach: Chance | null;
  /** With two or more routines to come, at the end: what she needs over all of them. */
  readonly remainingTotal: Score | null;
  /**
   * That total over her apparatus, equally hard everywhere; null where a range is missing, and where
   * all her best scores are not enough.
   */
  readonly split: Split | null;
  /** The lowest score that gives the target the chance asked for, everyone's ranges considered. */
  readonly scoreForChance: Score | null;
  /** Tie rules skipped at `level` for lack of data. */
  readonly skipped: readonly TieRuleName[];
  /** Whose range is missing for some of it. */
  readonly missing: readonly MissingRange[];
}

/** Any score does it, if she competes. */
export interface SecuredNeed extends NeedCommon {
  /** Any score is enough under the assumption. */
  readonly status: 'secured';
  /** 0, as `onGrid` is. */
  readonly ahead: Score;
  /** 0: the lowest score there is. */
  readonly onGrid: Score;
  /** 0, or null where her total is above the mark's with any score. */
  readonly level: Score | null;
  /** Null when nobody sets it. */
  readonly mark: Mark | null;
  /** Null: no E score is needed. */
  readonly e: null;
  /** The board with a score of 0, when asked for. */
  readonly boards: {
    /** With a score of 0: she has the target. */
    readonly at: Standings;
    /** Null: there is no lower score. */
    readonly below: null;
  } | null;
}

/** A score within the limit does it; for `beyond` more than her high, where one was given. */
export interface OpenNeed extends NeedCommon {
  /** `needs`: within reach. `beyond`: above what her range takes for a very good day. */
  readonly status: 'needs' | 'beyond';
  /** The lowest score that puts her ahead of the mark for certain. */
  readonly ahead: Score;
  /** The lowest score of the grid that is at least `ahead`; null beyond the limit. */
  readonly onGrid: Score | null;
  /** The lowest score that makes her total the mark's. */
  readonly level: Score;
  /** Whom she has to pass, or the total she has to reach. */
  readonly mark: Mark;
  /** The E score `ahead` takes, without a deduction, when D is known; over 10.000: not with that D. */
  readonly e: Score | null;
  /** The boards at `ahead` and one unit below, when asked for. */
  readonly boards: {
    /** With a score of `ahead`: she has the target. */
    readonly at: Standings;
    /** One unit below: she has not, or shares it. */
    readonly below: Standings;
  } | null;
}

/** No score within the limit puts her ahead; for `level-only` one draws level. */
export interface OutOfReachNeed extends Omit<OpenNeed, 'status' | 'onGrid'> {
  /** `impossible`: not even a tie. `level-only`: a tie at best. */
  readonly status: 'impossible' | 'level-only';
  /** Null: no score there can be is enough. */
  readonly onGrid: null;
}

/** The assumption cannot be made: `missing` says for want of what. */
export interface UnansweredNeed extends NeedCommon {
  /** Null: without those ranges there is no answer. */
  readonly status: null;
  /** Null, as all that depends on the missing range. */
  readonly ahead: null;
  /** Null, as `ahead` is. */
  readonly onGrid: null;
  /** Null, as `ahead` is. */
  readonly level: null;
  /** Null, as `ahead` is. */
  readonly mark: null;
  /** Null, as `ahead` is. */
  readonly e: null;
  /** Null, as `ahead` is. */
  readonly boards: null;
  /** The routines whose range would have to be known; at least one. */
  readonly missing: readonly [MissingRange, ...MissingRange[]];
}

/**
 * An answer that is true under its assumption, and is said with it. What there is
 * of it depends on its `status`; every key is always there.
 */
export type Need = SecuredNeed | OpenNeed | OutOfReachNeed | UnansweredNeed;
