/** `check`: is the meet sound, and who performs where in each rotation. */
import type { AdvanceRules, Rotation } from './meet.js';
import { isSound, type Problem } from './problems.js';
import type { ReadMeet } from './read.js';

/** Whether a meet is fit to answer from, what is wrong with its files, and who goes where. */
export interface Check {
  /** No problem is an error: there is a meet, and answers can be given. */
  readonly sound: boolean;
  /** All that was found, in the order of the files: meet, ranges, log. */
  readonly problems: readonly Problem[];
  /** Null when the file cannot be read. */
  readonly rotations: readonly Rotation[] | null;
  /** Of every contest from which somebody advances; null when the file cannot be read. */
  readonly advance: readonly AdvanceFrom[] | null;
}

/** Who goes on from a contest. */
export interface AdvanceFrom extends AdvanceRules {
  /** The id of the contest they go on from. */
  readonly contest: string;
}

/**
 * Whether a meet as it was read is sound, and who performs where in it, sound or not.
 * @param read - What `readMeet` gave, sound or not.
 * @example
 * const text = 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: ann }]';
 * const checked = check(readMeet({ meet: { file: 'meet.yaml', text } }));
 * [checked.sound, checked.problems[0]?.code, checked.rotations?.length] // → [false, 'gymnast-twice', 4]
 */
export function check({ plan, problems }: Pick<ReadMeet, 'plan' | 'problems'>): Check {
  return {
    sound: isSound(problems),
    problems,
    rotations: plan?.rotations ?? null,
    advance:
      plan?.contests.flatMap(({ id, advance }) =>
        advance === null ? [] : [{ contest: id, ...advance }],
      ) ?? null,
  };
}
