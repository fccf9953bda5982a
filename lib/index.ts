/**
 * lastrotation: what does she need? The public face, with no Node module behind it; files are read
 * and written by `lastrotation/files`. One function a command, plain values in and out. A score is a
 * whole number of units (thousandths as a rule), a chance a probability. Where a score is taken, a text
 * such as `'13.566'` does as well. In the examples `meet` is docs/examples/harbour.yaml with its log.
 * @module lastrotation
 */

// Scores: made from a text, and written out again.

export type { AnswerName, Answers } from './answers.js';
export type { Chance, ChanceChange, Measure, MeasureChange } from './chance.js';
export type {
  ErrorSaid,
  EventChanges,
  EventSaid,
  LineRefused,
  MeetMade,
  NoteSaid,
  PageMade,
  Printed,
  Wrong,
} from './printed.js';
export {
  type Decimals,
  formatScore,
  type Parsed,
  parseScore,
  type Score,
  score,
  type Units,
} from './score.js';
export type { Grid, Scoring, ScoringSystemName } from './scoring.js';
export { type Written, written } from './written.js';

// What goes wrong.

export { ERROR_CODES, type ErrorCode, PROBLEM_CODES, type ProblemCode } from './codes.js';
export {
  type ErrorDetails,
  type ErrorKind,
  LastRotationError,
  type OtherProblem,
  shortened,
} from './error.js';
export type { Problem, Severity } from './meet/problems.js';

// The meet: from texts, checked as a whole, and with one more score.

export type { Apparatus, DisciplineCode } from './apparatus.js';
export { type AdvanceFrom, type Check, check } from './meet/check.js';
export type { LogColumn, LogDialect, LogValues } from './meet/log.js';
export {
  type Act,
  type AdvanceRules,
  type ContestRules,
  type ContestSettings,
  type Gymnast,
  isToCome,
  type Meet,
  type Range,
  type Result,
  type Rotation,
  type Routine,
  type Schedule,
  type Scored,
  type Station,
  type Team,
  type Told,
} from './meet/meet.js';
export { awaited, nextUp, type OpenScores, secondUp, underInquiry } from './meet/now.js';
export {
  atRow,
  beforeLastEntry,
  type LogPoint,
  type MeetSources,
  type Plan,
  type ReadMeet,
  type Source,
} from './meet/read.js';
export { MEET_KINDS, type MeetKind } from './meet/start-kinds.js';
export type { NewMeet, NewMeetOptions } from './meet/startlist.js';
export {
  type AgainstRange,
  type Change,
  type Changes,
  type InPlace,
  scoreInPlace,
  type Tonight,
} from './needs/in-place.js';
export type { Needed } from './needs/needed.js';
export {
  type Recorded,
  type RecordedKind,
  type RecordedMeet,
  type RecordOptions,
  record,
  type WrittenRow,
} from './needs/recorded.js';
export type { ToRecord } from './needs/to-record.js';
export { newMeet, readMeet } from './rules/reading.js';
export type { TieRuleName } from './rules/ties/index.js';

// Where everyone stands, and what each needs.

export type { Advances } from './contest/advance.js';
export { contestUnderWay } from './contest/contest.js';
export type { CountedScore } from './contest/counting.js';
export type { Settled, SettledBy } from './contest/settled.js';
export {
  type Onward,
  type Standings,
  type StandingsOptions,
  type StandingsRow,
  standings,
} from './contest/standings.js';
export {
  type AdvanceChances,
  type Advancing,
  advancing,
  isAboutAdvancing,
} from './needs/advancing.js';
export { type Brief, type BriefGoal, brief } from './needs/brief.js';
export type { Counting, CountsFrom, FallCost, ScoreOf } from './needs/counting.js';
export type { Catcher, Finished, FinishedSheet, LastScore } from './needs/finished.js';
export type { Hold } from './needs/hold.js';
export type { TieGoesTo } from './needs/mark.js';
export type {
  Mark,
  Need,
  NeedCommon,
  NeedStatus,
  OpenNeed,
  OutOfReachNeed,
  SecuredNeed,
  UnansweredNeed,
} from './needs/need.js';
export { type NeedChances, needChances } from './needs/need-chances.js';
export { type Band, type Outcomes, type OutcomesOptions, outcomes } from './needs/outcomes.js';
export type { Safe, Threat } from './needs/safe.js';
export type { MissingRange } from './needs/scenario.js';
export {
  type NeedsOfAll,
  type NeedsOptions,
  type NeedsSheet,
  needs,
  needsOfAll,
} from './needs/sheet.js';
export type { Split } from './needs/split.js';
export type { Neighbour, Stands } from './needs/stands.js';
export { type Supposed, type SupposeOptions, type Supposition, suppose } from './needs/suppose.js';
export type {
  AskedTarget,
  Assumption,
  QuestionOptions,
  Rivals,
  Target,
  TargetWord,
  When,
} from './needs/target.js';

// How likely it is.

export { CAUTION } from './caution.js';
export {
  type Chances,
  type ChancesOptions,
  type CurvePoint,
  chances,
} from './chances/chances.js';
export type { ContenderChances } from './chances/contender-chances.js';
export type { Podium } from './chances/medals/podiums.js';
export type { DrawnEnd, SampleOptions } from './chances/sampled/options.js';
export type { Stake } from './chances/stakes.js';
export {
  chanceOfAtLeast,
  type Distribution,
  quantile,
} from './range/distribution.js';
export { distributionOf } from './range/given.js';

// Lines for graphics and for the voice.

export type { About } from './graphics/about.js';
export { changesBetween, type GraphicsChanges } from './graphics/changes.js';
export type { LineValues } from './graphics/fact.js';
export {
  GRAPHICS_SCHEMA,
  type Graphics,
  type GraphicsHeader,
  type GraphicsLine,
  type GraphicsOptions,
  graphics,
} from './graphics/graphics.js';
export { LINE_KINDS, type LineKind } from './graphics/kinds/index.js';
export {
  type ReadTemplates,
  readTemplates,
  SHIPPED_TEMPLATES,
  shippedTemplates,
  type Template,
  type Templates,
} from './graphics/templates.js';
export { graphicsAs, LINE_FORMATS, type LineFormat } from './line-formats.js';

// Something to look at.

export {
  type OnRows,
  type PageAsked,
  type PageMaker,
  type PageSources,
  pageMaker,
} from './page/maker.js';
export { type PageAssets, type PageOptions, page, pagePolicy } from './page/page.js';
export type { Follows } from './page/state.js';
export { chancesPicture, routinePicture, storyPicture } from './page/svg.js';

// Claims put to the test.

export { type Claim, type ClaimOptions, claim } from './claim/claim.js';
export { bandInWords, type Claimed } from './claim/phrases.js';
export { type ChanceBand, SCALES, type Scale, type ScaleName, type Term } from './claim/scales.js';
export type { NotTried, Stressed } from './claim/stressed.js';
export { claimOfTwo, type TwoEquals } from './claim/two-equals.js';
export type { Verdict } from './claim/verdict.js';

// Results of the past: ranges, precedents, how honest the chances were.

export { DRAWS_COLUMNS, type Draws, drawsAsCsv } from './draws-csv.js';
export { forecastsAsCsv } from './forecasts-csv.js';
export { backtest, backtestPart } from './history/backtest.js';
export type {
  Backtest,
  BacktestOptions,
  BacktestPart,
  ContestScores,
  FinalScores,
  RotationScores,
} from './history/backtest-answer.js';
export type { Bin } from './history/calibration.js';
export type { Compared, Comparison } from './history/comparison.js';
export type { FinalName } from './history/final-kinds.js';
export type { Fitted, FittedRange } from './history/fit.js';
export type { ForecastRow } from './history/forecast-rows.js';
export type {
  Behind,
  ByForecaster,
  Forecaster,
  ForecastScores,
  Smoothing,
  Smoothings,
} from './history/forecasters.js';
export { type History, readHistory } from './history/history.js';
export type { RangesFrom } from './history/known.js';
export { type PastBest, pastBest } from './history/past-best.js';
export type { PrecedentCase, Precedents } from './history/precedents.js';
export { type Ranges, type RangesOptions, ranges, rangesFile } from './history/ranges.js';
export type { Round } from './history/round.js';
export type { LeftOut, PastRoutine } from './history/routine.js';
export type { ApparatusFigures, RoutineFigures, RoutineScore } from './history/routine-scores.js';
export { STAMPED, type Stamp, stampedReport } from './stamped-report.js';

// The evening in retrospect.

export type { Closeness, LastWord } from './story/closeness.js';
export type { ChancesThen } from './story/moment.js';
export type { StoryPoint, Worth } from './story/point.js';
export { type AtTheTop, type Story, type StoryOptions, story } from './story/story.js';
export type { Goal } from './story/turning-points.js';
export type { RareScore, Unlikely } from './story/unlikely.js';
export { storyAsCsv } from './story-csv.js';

// What comes in at a prompt or from a pipe, and what is read on a screen.

export { type NamingOptions, namedContender, namedGymnast } from './contest/who.js';
export {
  type AskedNeed,
  namedTarget,
  readAsked,
  readSupposed,
  type SaidTarget,
} from './needs/asked.js';
export {
  type FedRow,
  type FeedOrder,
  feedOrderOf,
  hasOpenQuote,
  readFed,
  withApparatus,
} from './needs/fed.js';
export { isPlainLine, readPlain } from './needs/fed-plain.js';
export { readMove } from './needs/moves.js';
export { looksLikeScore, readTyped, type Typed, typedAgain } from './needs/typed.js';
/** Every answer as what is read of it: titles, sentences and tables, as plain data for a screen of your own. */
export * as reports from './report/index.js';
export type { Report } from './report/report.js';
