/** What a score was needed for, and whether it was enough. */
import { type Ranked, rank } from '../contest/board.js';
import { type Contest, findContest } from '../contest/contest.js';
import type { Goal } from '../contest/goal.js';
import { contenderFor } from '../contest/who.js';
import { type Meet, type Routine, routineOf, type Scored } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import type { Score } from '../score.js';
import { type Need, needFor } from './need.js';
import { buildScenario } from './scenario.js';
import { completeQuestion, goalOfTarget, type Question } from './target.js';

/** What she needed for one target, as it was before her routine, and what became of it. */
export interface Needed
  extends Pick<
    Need,
    'target' | 'when' | 'rivals' | 'rest' | 'status' | 'tieGoesTo' | 'tieBy' | 'mark' | 'reach'
  > {
  /** The score that would have drawn level; null where none would. */
  readonly level: Score | null;
  /** The lowest score that put her ahead of the mark for certain. */
  readonly ahead: Score;
  /** The lowest real score that would do; null beyond the limit. */
  readonly onGrid: Score | null;
  /** `ahead`: she has it for certain, on that assumption. `level`: she shares it. `short`: neither. */
  readonly got: 'ahead' | 'level' | 'short';
}

/** A score that is in a meet: whose it is and where. */
export interface WhoseScore {
  readonly gymnast: string;
  readonly apparatus: string;
}

/** Whose routine it is in a contest; null where it does not count there. */
export function contenderOf(meet: Meet, contest: Contest, gymnast: string): Contender | null {
  const her = meet.gymnasts.find((g) => g.id === gymnast);
  return (her && contenderFor(contest, her)) ?? null;
}

/** What a score may have been needed for. */
function targetsIn({ advance, givesMedals }: Contest) {
  return [
    { kind: 'lead', when: 'now', rivals: 'as-is' },
    { kind: 'win', when: 'end', rivals: 'likely' },
    ...(givesMedals ? [{ kind: 'medal', when: 'end', rivals: 'likely' } as const] : []),
    ...(advance === null ? [] : [{ kind: 'advance', when: 'end', rivals: 'likely' } as const]),
  ] as const;
}

/** What she needed in a meet in which the routine is to come, and what the result made of it. */
export function neededFor(
  open: Meet,
  contestId: string,
  { gymnast, apparatus }: WhoseScore,
  result: Scored,
): Needed[] {
  const contest = findContest(open, contestId);
  const contender = contenderOf(open, contest, gymnast);
  const routine = routineOf(open, gymnast, apparatus);
  if (contender === null || routine === undefined) return [];
  if (!contender.routines.includes(routine.index)) return [];
  if (entryOf(contender, recordedPerformances(open)).out) return [];
  const asked = { contest, contender, routine: routine.index, place: null };
  return targetsIn(contest).flatMap(({ kind, when, rivals }): Needed[] => {
    const question: Question = {
      ...completeQuestion({ kind }, when, rivals),
      rest: 'likely',
      margin: 0,
      d: null,
    };
    const need = needFor(open, asked, question);
    // What any score or none brings was not open.
    if (need === null || need.status === null) return [];
    if (need.status === 'secured' || need.status === 'impossible') return [];
    const { target, rest, status, ahead, onGrid, level, tieGoesTo, tieBy, mark, reach } = need;
    const goal = goalOfTarget(contest, question.target, null);
    const got = gotIn(open, { contest, contender, routine, question, result, goal });
    return [
      {
        target,
        when,
        rivals,
        rest,
        status,
        ahead,
        onGrid,
        level,
        tieGoesTo,
        tieBy,
        mark,
        reach,
        got,
      },
    ];
  });
}

interface Got {
  readonly contest: Contest;
  readonly contender: Contender;
  readonly routine: Routine;
  readonly question: Question;
  readonly result: Scored;
  readonly goal: Goal;
}

/** Her place on the board that the question assumes, with the D and the E that came. */
function gotIn(open: Meet, asked: Got): Needed['got'] {
  const { contest, contender, routine, question, result, goal } = asked;
  const scenario = buildScenario(open, contest, contender, routine.index, question);
  const { score, d, e } = result;
  const performances = scenario
    .performances(score)
    .with(routine.index, { score, d: d ?? 'unrecorded', e: e ?? 'unrecorded' });
  const { rows } = rank(contest, performances);
  const hers = rows.find((r) => r.entry.contender === contender);
  const place = hers?.place ?? null;
  if (hers === undefined || place === null) return 'short';
  const others = rows.filter((r) => r !== hers && r.place !== null && !r.entry.out);
  const isLevel = (r: Ranked) =>
    r.place === place ||
    (goal.ignoresTies && (r.place ?? 0) < place && r.entry.total === hers.entry.total);
  const contendersOf = (some: readonly Ranked[]) => some.map((r) => r.entry.contender);
  const ahead = contendersOf(others.filter((r) => (r.place ?? 0) < place && !isLevel(r)));
  if (!goal.isMet(contender, ahead)) return 'short';
  const orLevel = [...ahead, ...contendersOf(others.filter(isLevel))];
  return goal.isMet(contender, orLevel) ? 'ahead' : 'level';
}
