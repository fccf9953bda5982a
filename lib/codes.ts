/** The codes of errors and of problems: short, stable, for programs. The compiler knows no others. */

/**
 * What may be wrong with, or worth knowing of, the files of a meet and the other files that are read.
 * @example
 * PROBLEM_CODES.includes('gymnast-twice') // → true
 */
export const PROBLEM_CODES = [
  'apparatus-twice',
  'column-twice',
  'comma-in-score',
  'contest-twice',
  'empty-file',
  'file-missing',
  'groups-and-rotations',
  'gymnast-in-no-group',
  'gymnast-in-two-groups',
  'gymnast-twice',
  'half-written',
  'lone-brace',
  'missing-column',
  'missing-key',
  'missing-name',
  'missing-range',
  'no-end-of-line',
  'no-gymnasts',
  'no-teams',
  'not-counted',
  'not-her-apparatus',
  'not-in-rotations',
  'not-utf-8',
  'nothing-to-void',
  'odd-score',
  'open-quote',
  'routine-twice',
  'row-twice',
  'second-vault-alone',
  'set-aside',
  'start-twice',
  'station-missing',
  'syntax',
  'team-twice',
  'too-many-columns',
  'too-many-rows',
  'too-many-up',
  'too-many-values',
  'unknown-apparatus',
  'unknown-column',
  'unknown-group',
  'unknown-field',
  'unknown-gymnast',
  'unknown-key',
  'unknown-team',
  'wrong-range',
  'wrong-score',
  'wrong-value',
] as const;

/** `gymnast-twice`, `wrong-score`, …: the code of a problem. */
export type ProblemCode = (typeof PROBLEM_CODES)[number];

/**
 * What else an error may say. A file that cannot be used is an error with the code of its first problem.
 * @example
 * ERROR_CODES.includes('unknown-gymnast') // → true
 */
export const ERROR_CODES = [
  ...PROBLEM_CODES,
  'ambiguous-gymnast',
  'bad-usage',
  'both-disciplines',
  'empty',
  'file-exists',
  'file-too-large',
  'file-unreadable',
  'line-too-long',
  'log-gone',
  'log-shrunk',
  'missing-limit',
  'no-contender',
  'no-gymnast',
  'no-place',
  'no-results',
  'no-rounds',
  'no-rows',
  'not-written',
  'nothing-to-accept',
  'nothing-to-come',
  'now-is-as-is',
  'out',
  'own-source',
  'supposed-twice',
  'too-many-routines',
  'unknown-contest',
  'unknown-discipline',
  'unknown-kind',
  'unknown-phrase',
  'unknown-rotation',
  'unknown-scale',
  'unknown-scoring',
  'unsound-meet',
  'win-is-end',
  'wrong-apparatus',
  'wrong-chance',
  'wrong-date',
  'wrong-day-form',
  'wrong-json',
  'wrong-line',
  'wrong-number',
  'wrong-option',
  'wrong-precision',
  'wrong-sample',
  'wrong-seed',
  'wrong-target',
] as const;

/** `unknown-gymnast`, `wrong-score`, …: the code of an error. */
export type ErrorCode = (typeof ERROR_CODES)[number];
