/** Every answer as a report: its titles, tables and sentences, for a terminal or a page to show. */
import type { Chances } from '../chances/chances.js';
import type { Meet } from '../meet/meet.js';
import type { FinishedSheet } from '../needs/finished.js';
import type { NeedsSheet } from '../needs/sheet.js';
import { fieldReport } from './chances.js';
import { curveReport } from './curve.js';
import { finishedReport } from './finished.js';
import type { Report } from './report.js';
import { safeReport } from './safe.js';
import { needsReport, type SheetOptions } from './sheet.js';

export { advancingReport as advancing, edgeReport as edge } from './advancing.js';
export { backtestReport as backtest } from './backtest.js';
export { standingsReport as standings } from './board.js';
export { briefReport as brief } from './brief.js';
export { contentionReport as contention } from './chances.js';
export { checkReport as check } from './check.js';
export { claimOfTwoReport as claimOfTwo, claimReport as claim, type TwoAsked } from './claim.js';
export { inPlaceLines } from './in-place.js';
export { needsOfAllReport as needsOfAll } from './needs-of-all.js';
export { nextUpReport as nextUp } from './next.js';
export { outcomesReport as outcomes } from './outcomes.js';
export { rangesReport as ranges } from './ranges.js';
export { recordedReport as recorded } from './recorded.js';
export type {
  Block,
  Cell,
  Column,
  Comparison,
  FoundProblem,
  Note,
  Report,
  Row,
  Section,
  Sentence,
  Table,
  Title,
  Tone,
  Verbatim,
} from './report.js';
export { newsReport as news, saidReport as said, type WhoseRoutine } from './said.js';
export type { SheetOptions } from './sheet.js';
export { type StoryReportOptions, storyReport as story } from './story.js';
export { type SaidChances, type SaidIf, supposeReport as suppose } from './supposed.js';
export { notesUnder } from './table.js';

/**
 * Everyone's chances; or, where her curve was asked for, hers by her next score.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `chances` gave it.
 * @param who - Whose curve is told, the `who` it was asked with; null for the whole field.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const report = reports.chances(meet, chances(meet));
 * report.flat().flatMap((b) => (b.kind === 'title' ? [b.text] : []))[1] // → 'Medals in order'
 */
export function chances(meet: Meet, answer: Chances, who: string | null = null): Report {
  const { curve } = answer;
  if (curve === undefined || who === null) return fieldReport(meet, answer);
  return curveReport(meet, answer, curve, who);
}

/**
 * What somebody needs; from which score on nobody can pass her, where that was asked; or how she finished.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param sheet - As `needs` gave it.
 * @param options - How often each need is enough, and the chance that was asked for, where that is said
 *   besides.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const report = reports.needs(meet, needs(meet, 'brondt', { for: 'win' }));
 * report.flat().flatMap((b) => (b.kind === 'title' ? [b.text] : [])) // → ['Ida Brondt on beam, rotation 3 (all-around)']
 */
export function needs(
  meet: Meet,
  sheet: NeedsSheet | FinishedSheet,
  options: SheetOptions = {},
): Report {
  if (sheet.finished !== null) return finishedReport(meet, sheet);
  return sheet.safe === null ? needsReport(meet, sheet, options) : safeReport(meet, sheet);
}
