/** Who was in contention, and how the chances of each went. */
import type { ChancesThen } from './moment.js';
import type { StoryPoint } from './point.js';
import type { Goal } from './turning-points.js';

/** Who never had more than this was never in contention. */
const LEAST = 0.01;

/** What it takes of a story. */
interface Moments {
  readonly start: { readonly chances: readonly ChancesThen[] };
  readonly points: readonly Pick<StoryPoint, 'chances'>[];
}

/** The chances of everyone at each moment: before the first score, and after every point. */
function momentsOf({ start, points }: Moments): (readonly ChancesThen[])[] {
  return [start.chances, ...points.map((p) => p.chances)];
}

/** One contender's chances of a goal over the evening. */
export interface Course {
  readonly id: string;
  /** Before the first score, and after every point. */
  readonly chances: readonly number[];
  readonly start: number;
  readonly lowest: number;
  readonly highest: number;
  readonly end: number;
}

/** Of everyone who was in contention for a goal at some moment: the best chance at the end first, then the best ever. */
export function coursesOf(told: Moments, goal: Goal): Course[] {
  const moments = momentsOf(told).map((all) => new Map(all.map((c) => [c.id, c[goal] ?? 0])));
  const ids = new Set(moments.flatMap((all) => [...all.keys()]));
  return [...ids]
    .map((id): Course => {
      const chances = moments.map((all) => all.get(id) ?? 0);
      return {
        id,
        chances,
        start: chances[0] ?? 0,
        lowest: Math.min(...chances),
        highest: Math.max(...chances),
        end: chances.at(-1) ?? 0,
      };
    })
    .filter((course) => course.highest >= LEAST)
    .sort((a, b) => b.end - a.end || b.highest - a.highest);
}

/** Everyone who was in contention for anything there is to be had. */
export function inContention(told: Moments, goals: readonly Goal[]): Set<string> {
  return new Set(goals.flatMap((goal) => coursesOf(told, goal).map((c) => c.id)));
}
