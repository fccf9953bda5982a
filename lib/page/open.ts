/** The routines that a contest counts and that are still to come, in the order they go up. */
import { type Contest, routinesCounted } from '../contest/contest.js';
import type { Meet, Routine } from '../meet/meet.js';

export function openRoutines(meet: Meet, contest: Contest): Routine[] {
  const counted = routinesCounted(contest);
  return meet.routines.filter((r) => counted.has(r.index) && meet.results[r.index] === null);
}

/** What a routine goes by in a page, over every new state of the meet. */
export function keyOf({ gymnast, apparatus }: Pick<Routine, 'gymnast' | 'apparatus'>): string {
  return `${gymnast} ${apparatus}`;
}
