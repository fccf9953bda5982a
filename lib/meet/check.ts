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

export function check({ meet, problems }: Pick<ReadMeet, 'meet' | 'problems'>): Check {
  return { sound: isSound(problems), problems, rotations: meet?.rotations ?? null };
}
