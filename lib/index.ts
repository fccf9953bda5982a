/**
 * lastrotation: what does she need? The public face, with no Node module behind it; files are read
 * and written by `lastrotation/files`. One function a command, plain values in and out; scores are
 * whole numbers of units (thousandths as a rule), chances probabilities.
 */
export type { Apparatus } from './apparatus.js';
export {
  type Standings,
  type StandingsOptions,
  type StandingsRow,
  standings,
} from './contest/standings.js';
export { type ErrorKind, LastRotationError } from './error.js';
export { type Check, check } from './meet/check.js';
export type {
  ContestRules,
  Gymnast,
  Meet,
  Range,
  Result,
  Rotation,
  Routine,
  Scored,
  Station,
  Team,
} from './meet/meet.js';
export { nextUp } from './meet/meet.js';
export type { Problem, Severity } from './meet/problems.js';
export { type MeetSources, type ReadMeet, readMeet, type Source } from './meet/read.js';
export { type NewMeet, type NewMeetOptions, newMeet } from './meet/startlist.js';
export type { Need, NeedStatus } from './needs/need.js';
export { type Band, type Outcomes, type OutcomesOptions, outcomes } from './needs/outcomes.js';
export { type Recorded, recorded, rowsToRecord, type ToRecord } from './needs/recorded.js';
export type { Settled } from './needs/settled.js';
export {
  type NeedsOfAll,
  type NeedsOptions,
  type NeedsSheet,
  needs,
  needsOfAll,
} from './needs/sheet.js';
export { type Supposed, type Supposition, suppose } from './needs/suppose.js';
export type { Assumption, Rivals, When } from './needs/target.js';
export {
  chanceOfAtLeast,
  type Distribution,
  distributionOf,
  quantile,
} from './range/distribution.js';
export { type Decimals, formatScore, parseScore, type Score } from './score.js';
export type { Scoring, TieRule } from './scoring.js';
export { type AnswerName, written } from './written.js';
