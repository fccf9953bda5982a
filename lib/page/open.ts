/** The routines that a contest counts and that are still to come, in the order they go up. */
import type { Contest } from '../contest/contest.js';
import type { Meet, Routine } from '../meet/meet.js';

export function openRoutines(meet: Meet, { contenders }: Contest): Routine[] {
  const counted = new Set(contenders.flatMap((c) => c.routines));
  return meet.routines.filter((r) => counted.has(r.index) && meet.results[r.index] === null);
}
