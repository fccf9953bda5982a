/** Where the evening turned. */
import type { Contest } from '../contest/contest.js';
import type { ChancesThen } from './moment.js';
import type { StoryPoint } from './point.js';

/** What an evening can be about. */
export type Goal = 'win' | 'medal' | 'advance';

/** So much of a title has to change hands at once, and so many such points are told. */
const LEAST = 0.1;
const MOST = 5;

/** Nothing is open whose chances are nearer to 0 or 1 for everybody. */
const OPEN = 0.01;

/**
 * What the evening was about: the title, or who goes through where a contest gives no medals; if that was
 * never open, the next thing that was.
 */
export function goalOf(
  { givesMedals, advance }: Contest,
  moments: readonly (readonly ChancesThen[])[],
): Goal {
  const through = advance === null ? [] : (['advance'] as const);
  const goals = givesMedals
    ? (['win', 'medal', ...through] as const)
    : ([...through, 'win'] as const);
  const isOpen = (goal: Goal) =>
    moments.some((all) => all.some((c) => (c[goal] ?? 0) > OPEN && (c[goal] ?? 0) < 1 - OPEN));
  return goals.find(isOpen) ?? goals[0] ?? 'win';
}

/**
 * How much of a goal changed hands: half of all that chances went up and down. Where the title goes from
 * a chance of 30% to one of 50% that is a fifth of it, whoever had it before.
 */
export function changedHands(
  goal: Goal,
  was: readonly ChancesThen[],
  is: readonly ChancesThen[],
): number {
  const before = new Map(was.map((c) => [c.id, c[goal] ?? 0]));
  const after = new Map(is.map((c) => [c.id, c[goal] ?? 0]));
  const ids = new Set([...before.keys(), ...after.keys()]);
  let sum = 0;
  for (const id of ids) sum += Math.abs((after.get(id) ?? 0) - (before.get(id) ?? 0));
  return sum / 2;
}

/** The rows after which the most of a goal had changed hands, in order of time. */
export function turningPointsOf(
  goal: Goal,
  start: readonly ChancesThen[],
  points: readonly StoryPoint[],
): number[] {
  return points
    .map(({ row, chances }, i) => ({
      row,
      moved: changedHands(goal, points[i - 1]?.chances ?? start, chances),
    }))
    .filter(({ moved }) => moved >= LEAST)
    .sort((a, b) => b.moved - a.moved || a.row - b.row)
    .slice(0, MOST)
    .map(({ row }) => row)
    .sort((a, b) => a - b);
}
