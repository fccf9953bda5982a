/** What facts are made from: the meet now and before, the contest, and whose lines are prepared. */
import { type Contest, routinesCounted } from '../contest/contest.js';
import { afterRotations, isToCome, type Meet, type Routine, rotationsBegun } from '../meet/meet.js';
import { awaited, isUnderInquiry, nextUp, secondUp } from '../meet/now.js';
import type { When } from '../needs/target.js';
import { nextAmong } from '../needs/turn.js';
import { boardNow, type SaidBoard } from '../report/standing.js';
import { type Names, namesOf } from './words.js';

export interface Context {
  readonly meet: Meet;
  /** The meet before what just happened. */
  readonly before: Meet;
  readonly contest: Contest;
  readonly board: SaidBoard;
  /** Whose lines are prepared: the next two up, or the next routines of those who are asked for. */
  readonly routines: readonly Routine[];
  /** Of which board the places of outcomes are. */
  readonly when: When;
  /** Nothing is to come, and nothing may change. */
  readonly isOver: boolean;
  readonly names: Names;
  readonly words: { readonly she: string; readonly her: string };
}

export function contextOf(
  meet: Meet,
  before: Meet | null,
  contest: Contest,
  asked: { readonly ids: readonly string[]; readonly when: When },
  words: Context['words'] | null,
): Context {
  return {
    meet,
    before: before ?? afterRotations(meet, rotationsBegun(meet) - 1),
    contest,
    board: boardNow(meet, contest.id),
    routines: asked.ids.length === 0 ? expected(meet) : nextOf(meet, contest, asked.ids),
    when: asked.when,
    isOver: contest.contenders.every((c) =>
      c.routines.every((i) => !isToCome(meet, i) && !isUnderInquiry(meet, i)),
    ),
    names: namesOf(meet),
    words: words ?? meet.words,
  };
}

/** Whose scores are awaited, and who is up next and after that, in the order they go up. */
function expected(meet: Meet): Routine[] {
  return [...awaited(meet), ...nextUp(meet), ...secondUp(meet)].sort((a, b) => a.index - b.index);
}

/** The next routine of each of these, gymnasts or teams, in the order they go up. */
function nextOf(meet: Meet, contest: Contest, ids: readonly string[]): Routine[] {
  const counted = routinesCounted(contest);
  const teams = new Map(meet.gymnasts.map((g) => [g.id, g.team]));
  const isOf = (id: string) => (r: Routine) =>
    isToCome(meet, r.index) &&
    counted.has(r.index) &&
    (r.gymnast === id || (contest.kind.ranks === 'teams' && teams.get(r.gymnast) === id));
  const next = ids.flatMap((id) => nextAmong(meet, isOf(id)) ?? []);
  return [...new Set(next)].sort((a, b) => a.index - b.index);
}

/** Whether what is to come is one rotation: then the medals in order are told unasked. */
export function isLastRotation({ meet, contest }: Context): boolean {
  const rotations = contest.contenders.flatMap((c) =>
    c.routines.filter((i) => isToCome(meet, i)).map((i) => meet.routines[i]?.at),
  );
  return new Set(rotations).size === 1;
}
