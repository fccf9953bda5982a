/** The figure of a need that is read out: the lowest real score that does it, and apart from it the tie. */
import type { Meet } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score } from '../score.js';
import { tieScoreOf } from './need-words.js';
import { ruleInWords, shower } from './words.js';

/** A real score with which she is level with the mark, and the tie does not go to her. */
export interface RealTie {
  readonly score: Score;
  readonly goesTo: 'rival' | 'shared' | 'open';
  readonly by: TieRuleName | null;
}

/**
 * `any` score does it; from `score` on; at best a `tie`, which is shared or may yet go to her; or `none`.
 * Only scores that the panel can give are real.
 */
export type Figure =
  | { readonly way: 'any' | 'none'; readonly score: null; readonly tie: null }
  | { readonly way: 'score'; readonly score: Score; readonly tie: RealTie | null }
  | { readonly way: 'tie'; readonly score: null; readonly tie: RealTie };

/** Null where the need has no answer. */
export function figureOf(meet: Meet, need: Need): Figure | null {
  if (need.status === null) return null;
  if (need.status === 'secured') return { way: 'any', score: null, tie: null };
  const tie = realTie(meet, need);
  // Both of two who share the last place go through.
  if (need.target === 'advance' && tie?.goesTo === 'shared') {
    if (tie.score === 0) return { way: 'any', score: null, tie: null };
    return { way: 'score', score: tie.score, tie: null };
  }
  if (need.onGrid !== null) return { way: 'score', score: need.onGrid, tie };
  if (tie !== null && tie.goesTo !== 'rival') return { way: 'tie', score: null, tie };
  return { way: 'none', score: null, tie: null };
}

function realTie(meet: Meet, need: Need): RealTie | null {
  const { ahead, tieGoesTo, tieBy } = need;
  const score = tieScoreOf(meet, need);
  if (score === null || ahead === null || score >= ahead) return null;
  if (tieGoesTo === null || tieGoesTo === 'her') return null;
  return { score: asScore(score), goesTo: tieGoesTo, by: tieBy };
}

/** "14.600 shares the lead", "14.600 ties, and loses the tie on execution"; `what` is what it would share. */
export function tieOfFigure(meet: Meet, { score, goesTo, by }: RealTie, what: string): string {
  const shown = shower(meet)(score);
  if (goesTo === 'shared') return `${shown} shares ${what}`;
  if (goesTo === 'rival') {
    return `${shown} ties, and loses the tie${by === null ? '' : ` on ${ruleInWords(by)}`}`;
  }
  return `${shown} ties, to be decided${by === null ? ' by the tie rules' : ` on ${ruleInWords(by)}`}`;
}
