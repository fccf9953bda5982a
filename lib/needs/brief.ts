/** What a voice has ten seconds for: gold, a medal, and what a fall does. */
import { findContest, hasMedalsToWin } from '../contest/contest.js';
import { type Meet, routineOf } from '../meet/meet.js';
import { asScore, type Score } from '../score.js';
import { type EndCurves, endCurves, meanOf } from './likely.js';
import type { Need } from './need.js';
import { type NeedsOptions, type NeedsSheet, needs } from './sheet.js';
import type { TargetPoint } from './target-curve.js';

/** A target at the end, if all else goes as expected, and its chance, everyone's ranges considered. */
export interface BriefGoal {
  /** The score it takes of the next routine. */
  readonly need: Need;
  /** Null where a range is missing. */
  readonly chance: number | null;
}

/** What a commentator says in two sentences while she chalks up. */
export interface Brief {
  /** All that `needs` has to say, for whoever wants more than the brief. */
  readonly sheet: NeedsSheet;
  /** To win; null where the sheet has no need to win. */
  readonly gold: BriefGoal | null;
  /** Null where only the winner has a medal, or everybody. */
  readonly medal: BriefGoal | null;
  /** Null where nobody advances from the contest. */
  readonly advance: BriefGoal | null;
  /** Her expected score less one fall, and the chances then; null where her range is not known. */
  readonly fall: {
    /** Her likely less what a fall costs, never below 0. */
    readonly score: Score;
    /** The chance to win with that score, 0 to 1. */
    readonly win: number;
    /** The chance of a medal with it, 0 to 1. */
    readonly medal: number;
    /** The chance of going on with it, 0 to 1; null where nobody advances from the contest. */
    readonly advance: number | null;
  } | null;
}

/**
 * Gold, a medal and a fall of a gymnast's, or a team's, next routine; null of who has finished, of whom there
 * is nothing to be brief about.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param who - An id, or any part of a name that fits only one; in a team contest a team, or one of its
 *   gymnasts.
 * @param options - `contest` as of `needs`; `on`: another of her routines than the next.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two),
 *   `nothing-to-come` (she has nothing to come there), `out` (she has withdrawn)
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { gold, fall } = brief(meet, 'brondt') ?? {};
 * [gold?.need.onGrid, gold?.chance?.toFixed(3)] // → [14700, '0.146']
 * [fall?.score, fall?.win.toFixed(4), fall?.medal.toFixed(2)] // → [13366, '0.0005', '0.32']
 */
export function brief(
  meet: Meet,
  who: string,
  options: Pick<NeedsOptions, 'contest' | 'on'> = {},
): Brief | null {
  const sheet = needs(meet, who, options);
  if (sheet.finished !== null) return null;
  const contest = findContest(meet, sheet.contest);
  const routine = routineOf(meet, sheet.gymnast, sheet.apparatus);
  const curves =
    routine === undefined ? null : endCurves(meet, contest, sheet.contender, routine, null);
  const goal = (target: string, points: readonly TargetPoint[]): BriefGoal | null => {
    const need = sheet.needs.find(
      (n) => n.target === target && n.when === 'end' && n.rivals === 'likely',
    );
    return need === undefined ? null : { need, chance: meanOf(points) };
  };
  const { win = [], medal = [], advance = null } = curves ?? {};
  return {
    sheet,
    gold: goal('win', win),
    medal: hasMedalsToWin(contest) ? goal('medal', medal) : null,
    advance: contest.advance === null ? null : goal('advance', advance ?? []),
    fall: afterFall(meet, sheet, { win, medal, advance }),
  };
}

function afterFall(
  meet: Meet,
  { range: { likely } }: NeedsSheet,
  { win, medal, advance }: EndCurves,
): Brief['fall'] {
  if (likely === null) return null;
  const score = asScore(Math.max(0, likely - meet.scoring.fall));
  const [w, m] = [win, medal].map((points) => nearest(points, score)?.met);
  if (w === undefined || m === undefined) return null;
  return { score, win: w, medal: m, advance: nearest(advance ?? [], score)?.met ?? null };
}

/** What a fall leaves of a score need not be one that can happen: the nearest that can. */
function nearest(points: readonly TargetPoint[], score: Score): TargetPoint | undefined {
  const off = (p: TargetPoint) => Math.abs(p.score - score);
  return [...points].sort((a, b) => off(a) - off(b))[0];
}
