/**
 * Whom a contest ranks, in the one form behind every contest: a total is what was carried in plus a
 * sum of parts, each the best few of its routines or the cut mean of its two.
 */
import type { Units } from '../score.js';

/** `best`: the sum of the best `count` scores. `mean`: the average of two, cut to the unit. */
export type PartRule =
  | { readonly kind: 'best'; readonly count: number }
  | { readonly kind: 'mean' };

export interface Part {
  /** What a board calls it: mostly an apparatus. */
  readonly apparatus: string;
  readonly rule: PartRule;
  /** Indices of routines. */
  readonly routines: readonly number[];
}

/** Whoever a contest ranks: a gymnast or a team. */
export interface Contender {
  readonly id: string;
  readonly name: string;
  /** The team of a gymnast; null for a team. */
  readonly team: string | null;
  readonly carried: Units;
  readonly parts: readonly Part[];
  /** All its routines that the contest counts, in the order they go up. */
  readonly routines: readonly number[];
  /** Whether one DNS or DNF puts it out of the contest. */
  readonly outByDns: boolean;
}

/** A contender as a kind of contest makes it; its routines follow from its parts. */
export type ContenderDraft = Omit<Contender, 'routines'>;

/** How many of its scores a part will drop. */
export function scoresDropped({ rule, routines }: Part): number {
  return rule.kind === 'best' ? Math.max(routines.length - rule.count, 0) : 0;
}

/** Whether a part is a sum in which every one of its routines counts as it is. */
export function countsAll(part: Part): boolean {
  return part.rule.kind === 'best' && scoresDropped(part) === 0;
}
