/** The score that draws level with a mark and the lowest that goes ahead of it. */

import { rankEntries } from '../contest/board.js';
import type { Contest } from '../contest/contest.js';
import type { Goal } from '../contest/goal.js';
import { type Tie, tieBetween } from '../contest/ties.js';
import type { Contender } from '../rules/contender.js';
import type { Entry } from '../rules/entry.js';
import type { TieRuleName } from '../rules/ties/index.js';
import type { Units } from '../score.js';
import type { Scenario } from './scenario.js';

/**
 * Who is ahead on equal totals: she, her rival, neither (`shared`), or nobody can know yet (`open`:
 * it depends on an E or D score to come).
 */
export type TieGoesTo = 'her' | 'rival' | 'shared' | 'open';

export interface Threshold {
  /** The lowest score that makes her total equal the mark's; null below 0, and then `ahead` is 0. */
  readonly level: Units | null;
  /** The lowest score that puts her ahead for certain. */
  readonly ahead: Units;
  /** What becomes of the tie at `level`; null when there is none to speak of. */
  readonly tieGoesTo: TieGoesTo | null;
  readonly tieBy: TieRuleName | null;
  readonly skipped: readonly TieRuleName[];
}

/** Whom she is compared with, and what she is after among them. */
export interface Field {
  readonly contender: Contender;
  readonly counted: readonly Entry[];
  readonly goal: Goal;
}

function isMet({ contender, goal }: Field, ahead: readonly Entry[]): boolean {
  return goal.isMet(
    contender,
    ahead.map((e) => e.contender),
  );
}

/** The best of the counted rivals whom she must be ahead of; null when there is none. */
export function markOf(field: Field, contest: Contest): Entry | null {
  const best = rankEntries(field.counted, contest.ties).rows.map((r) => r.entry);
  if (isMet(field, best)) return null;
  const enough = lowestWith(0, best.length, (count) => !isMet(field, best.slice(0, count)));
  return best[enough - 1] ?? null;
}

/** The lowest score with which her total is at least `total`. */
export function lowestReaching(scenario: Scenario, total: Units): Units {
  const reaches = (score: Units) => scenario.her(score).total >= total;
  const lacking = total - scenario.her(0).total;
  if (lacking <= 0) return 0;
  // Of a sum every unit counts, so this is it; where scores are dropped or averaged it takes more.
  if (reaches(lacking)) return lowestWith(0, lacking, reaches, lacking - 1);
  let high = lacking * 2;
  while (!reaches(high)) high *= 2;
  return lowestWith(lacking, high, reaches);
}

/**
 * The lowest whole number in (low, high] for which a rising condition holds; it holds at high.
 * `guess` is tried first.
 */
export function lowestWith(
  low: number,
  high: number,
  holds: (n: number) => boolean,
  guess?: number,
): number {
  let [no, yes] = [low, high];
  let next = guess ?? Math.floor((no + yes) / 2);
  while (yes - no > 1) {
    if (holds(next)) yes = next;
    else no = next;
    next = Math.floor((no + yes) / 2);
  }
  return yes;
}

/** Reaching a total by itself, or going ahead of a mark by a margin: no tie is in it. */
export function thresholdForTotal(scenario: Scenario, total: Units): Threshold {
  const nothing = { tieGoesTo: null, tieBy: null, skipped: [] };
  const ahead = lowestReaching(scenario, total);
  if (scenario.her(ahead).total > total) return { level: null, ahead: 0, ...nothing };
  return { level: ahead, ahead, ...nothing };
}

/** Going ahead of the mark, by total or by the tie rule. */
export function thresholdForPlace(
  scenario: Scenario,
  contest: Contest,
  field: Field,
  mark: Entry,
): Threshold {
  const nothing = { tieGoesTo: null, tieBy: null, skipped: [] };
  const lowest = lowestReaching(scenario, mark.total);
  if (scenario.her(lowest).total > mark.total) return { level: null, ahead: 0, ...nothing };

  const outcome = (score: Units) => tieOutcome(scenario, contest, field, mark, score);
  const tie = outcome(lowest);
  const said = { tieGoesTo: tie.goesTo, tieBy: tie.by, skipped: tie.skipped };
  // A score that is dropped or averaged can leave the total where it is and still turn the tie:
  // `ahead` is what no higher score loses.
  const above = lowestReaching(scenario, mark.total + 1);
  const goesToHer = (score: Units) => (score === lowest ? tie : outcome(score)).goesTo === 'her';
  if (!goesToHer(above - 1)) return { level: lowest, ahead: above, ...said };
  if (goesToHer(lowest)) return { level: lowest, ahead: lowest, ...said };
  const ahead = lowestWith(lowest, above - 1, goesToHer);
  return { level: lowest, ahead, ...said };
}

/** What becomes of the tie when she is level with the mark. */
function tieOutcome(
  scenario: Scenario,
  contest: Contest,
  field: Field,
  mark: Entry,
  score: Units,
): { goesTo: TieGoesTo; by: TieRuleName | null; skipped: readonly TieRuleName[] } {
  const her = scenario.her(score);
  const level = scenario.rivals.filter((e) => e.total === her.total);
  const tie = tieBetween([her, ...level], contest.ties);
  const { counted, goal } = field;
  const ahead = counted.filter((e) => e.total > her.total);
  const equal: Entry[] = [];
  const open: Entry[] = [];
  for (const rival of level.filter((e) => counted.includes(e))) {
    const { order } = tie.compare(her, rival);
    if (order === 0 || (goal.ignoresTies && order !== 1)) equal.push(rival);
    else if (order === -1) ahead.push(rival);
    else if (order === 'open') open.push(rival);
  }
  const goesTo = isMet(field, [...ahead, ...equal, ...open])
    ? 'her'
    : !isMet(field, ahead)
      ? 'rival'
      : open.length === 0
        ? 'shared'
        : 'open';
  const by = goesTo === 'shared' ? null : deciding(tie, her, mark, level, goesTo);
  return { goesTo, by, skipped: tie.skipped };
}

/** The rule that decides against the mark, or against another who is level where it does not. */
function deciding(
  tie: Tie,
  her: Entry,
  mark: Entry,
  level: readonly Entry[],
  goesTo: TieGoesTo,
): TieRuleName | null {
  const order = goesTo === 'her' ? 1 : goesTo === 'rival' ? -1 : 'open';
  for (const rival of [mark, ...level]) {
    const comparison = tie.compare(her, rival);
    if (comparison.order === order) return comparison.by;
  }
  return null;
}
