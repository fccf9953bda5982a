/**
 * What tells results on one total apart, rule by rule: what is fixed whatever the routines to come
 * score, scores in order, or what only every way the total comes about tells (docs/model.md, "Results
 * in order").
 */
import type { SortedScores } from '../../rules/ties/tie-rule.js';
import type { ContestModel } from '../model.js';

type Rule = ContestModel['rules'][number];

export type TieStep =
  /** By entrant: its rank, the lower ahead. */
  | { readonly kind: 'fixed'; readonly ranks: readonly number[] }
  | { readonly kind: 'sorted'; readonly sorted: SortedScores }
  | { readonly kind: 'open'; readonly rule: Rule };

/** The steps of a model, the first that differs decides. */
export function tieSteps({ entrants, rules }: ContestModel): TieStep[] {
  // Nobody is level with herself.
  if (entrants.length < 2) return [];
  const steps: TieStep[] = [];
  for (const rule of rules) {
    const values = entrants.map((e) =>
      rule.fixedAtEqualTotals(
        e.assumed,
        e.open.map((o) => o.part),
      ),
    );
    const fixed = values.filter((v) => v !== null);
    if (fixed.length === values.length) {
      const before = steps.at(-1);
      const ranks = ranksOf(fixed.map((v) => -v));
      // Rules that are fixed one after the other are one.
      if (before?.kind !== 'fixed') steps.push({ kind: 'fixed', ranks });
      else {
        const both = ranks.map((rank, i) => (before.ranks[i] ?? 0) * ranks.length + rank);
        steps.splice(-1, 1, { kind: 'fixed', ranks: ranksOf(both) });
      }
    } else if (rule.sorted === null) steps.push({ kind: 'open', rule });
    else steps.push({ kind: 'sorted', sorted: rule.sorted });
  }
  return steps;
}

/** Ranks from 0, the lowest value first; equal values have one rank. */
function ranksOf(values: readonly number[]): number[] {
  const distinct = [...new Set(values)].sort((a, b) => a - b);
  return values.map((v) => distinct.indexOf(v));
}
