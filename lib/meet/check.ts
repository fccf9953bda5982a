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

/**
 * Whether a meet as it was read is sound, and who performs where in it, sound or not.
 * @example
 * const text = 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: ann }]';
 * const checked = check(readMeet({ meet: { file: 'meet.yaml', text } }));
 * [checked.sound, checked.problems[0]?.code, checked.rotations?.length] // → [false, 'gymnast-twice', 4]
 */
export function check({ plan, problems }: Pick<ReadMeet, 'plan' | 'problems'>): Check {
  return { sound: isSound(problems), problems, rotations: plan?.rotations ?? null };
}
