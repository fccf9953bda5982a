/** Which scores of a part count, and which are dropped. */
import { type Meet, routineAt } from '../meet/meet.js';
import type { Part } from '../rules/contender.js';
import type { Entry, Performances } from '../rules/entry.js';
import { asScore, type Score } from '../score.js';

/** A score of a team on an apparatus, and whether it counts there. */
export interface CountedScore {
  /** Whose it is, by id. */
  readonly gymnast: string;
  /** What she got. */
  readonly score: Score;
  /** Of equal scores the one of whoever goes up first. */
  readonly counts: boolean;
}

/**
 * The scores of a part, the highest first. Of equal ones the first up is first, so that it is always the
 * later of two that is dropped; the value of the part is the same either way.
 */
export function countedScores(
  meet: Meet,
  { rule, routines }: Part,
  performances: Performances,
): CountedScore[] {
  const scored = routines.flatMap((routine) => {
    const p = performances[routine];
    return p !== null && typeof p === 'object' ? [{ routine, score: p.score }] : [];
  });
  scored.sort((a, b) => b.score - a.score || a.routine - b.routine);
  const count = rule.kind === 'best' ? rule.count : routines.length;
  return scored.map(({ routine, score }, i) => ({
    gymnast: routineAt(meet, routine).gymnast,
    score: asScore(score),
    counts: i < count,
  }));
}

/** The scores of an entry, by what its parts are called. */
export function countedByPart(
  meet: Meet,
  { contender, performances }: Entry,
): Record<string, CountedScore[]> {
  return Object.fromEntries(
    contender.parts.map((part) => [part.apparatus, countedScores(meet, part, performances)]),
  );
}
