/** `check`: is the meet sound, and who performs where in each rotation. */
import type { Rotation } from './meet.js';
import { isSound, type Problem } from './problems.js';
import type { ReadMeet } from './read.js';

export interface Check {
  readonly sound: boolean;
  readonly problems: readonly Problem[];
  /** Null when the file cannot be read. */
  readonly rotations: readonly Rotation[] | null;
}

export function check({ plan, problems }: Pick<ReadMeet, 'plan' | 'problems'>): Check {
  return { sound: isSound(problems), problems, rotations: plan?.rotations ?? null };
}
