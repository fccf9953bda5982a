/** Texts → a meet, with every problem of its files. */
import { withFollowUps } from '../apparatus.js';
import { badUsage } from '../error.js';
import { formatScore } from '../score.js';
import { SCORING_SYSTEMS, usualCeiling } from '../scoring.js';
import { type Checking, complain } from './checking.js';
import {
  checkFields,
  disciplineApparatus,
  disciplineWords,
  medalsOf,
  meetApparatus,
  readContests,
} from './contest-rules.js';
import { standingRows } from './course.js';
import { readDocument, readRangesDocument } from './document.js';
import type { KnownRules } from './known-rules.js';
import { withLineUps } from './lineups.js';
import { isWrittenByTool, type LogDialect, type LogRow, parseLog } from './log.js';
import type { Meet } from './meet.js';
import { noteWhatIsOpen } from './now.js';
import { isSound, type Problem, type ProblemList, report } from './problems.js';
import { givenIn, noteMissingRanges, noteStrangeApparatus, readRanges } from './ranges.js';
import { withTold } from './recording.js';
import { readGymnasts, readTeams } from './roster.js';
import { type ReadRow, readRow } from './rows.js';
import { readSchedule } from './schedule.js';
import { fallCost, type MeetDocument } from './schema.js';
import { asSound, requireSound } from './sound.js';

/** A text and the name it goes by in messages. */
export interface Source {
  /** What messages call it: a path, or any name. */
  readonly file: string;
  /** All that is in it. */
  readonly text: string;
}

/** The texts of a meet. Only the meet file itself is required. */
export interface MeetSources {
  /** The meet file, YAML (docs/files.md). */
  readonly meet: Source;
  /** The score log, CSV; nothing is scored yet where there is none. */
  readonly log?: Source | null;
  /** Brings the file that `ranges:` names; null when there is none. */
  readonly ranges?: (name: string) => Source | null;
  /** Brings the meet of an earlier day that `carried:` of a contest names; null when there is none. */
  readonly earlier?: (name: string) => MeetSources | null;
}

/** Who performs where in each rotation, as far as a meet file could be read. */
export type Plan = Pick<Meet, 'apparatus' | 'gymnasts' | 'teams' | 'rotations' | 'contests'>;

/** What came of reading a meet: the meet where it is sound, and what is wrong with it. */
export interface ReadMeet {
  /** Null when one of the problems is an error: of such a meet no answer could be trusted. */
  readonly meet: Meet | null;
  /** There even when the meet is not sound; null when the meet file cannot be read at all. */
  readonly plan: Plan | null;
  /** In the order of the files: meet, ranges, log. */
  readonly problems: readonly Problem[];
  /** How the score log is written; null when its first line cannot be understood. */
  readonly dialect: LogDialect | null;
}

/**
 * Reads and checks a meet by the rules there are. All problems of all its files are found in one go;
 * where one of them is an error there is no meet.
 */
export function readMeetBy(rules: KnownRules, sources: MeetSources): ReadMeet {
  const problems: Problem[] = [];
  const list: ProblemList = { file: sources.meet.file, problems };
  const { document, decimals, guessed, lineOf } = readDocument(sources.meet.text, rules, list);
  if (document === null) return { meet: null, plan: null, problems, dialect: null };

  const { panel } = SCORING_SYSTEMS[document.scoring];
  const checking: Checking = {
    document,
    rules,
    lineOf,
    list,
    earlier: (file) => {
      const found = sources.earlier?.(file) ?? null;
      return found === null ? null : readMeetBy(rules, found);
    },
    scoring: {
      system: document.scoring,
      decimals,
      grid: {
        counting: document.panel?.counting ?? panel.counting,
        stepMillionths: document.panel?.step ?? panel.stepMillionths,
        decimals,
      },
      fall: document.fall ?? fallCost(document.scoring, decimals),
      ceiling: document.ceiling ?? usualCeiling(document.scoring, decimals),
    },
  };
  checkCeiling(checking);
  const meet = buildMeet(checking, rangesSource(checking, sources));
  if (guessed) return { meet: null, plan: null, problems, dialect: null };
  return withLog(meet, sources.log ?? null, problems);
}

/** The same meet with the results of a log instead of its own. */
export function readLog(meet: Meet, source: Source | null): ReadMeet {
  requireSound(meet);
  return withLog(meet, source, []);
}

/** `before` are the problems of the files that were read before the log. */
function withLog(meet: Meet, source: Source | null, before: readonly Problem[]): ReadMeet {
  const problems = [...before];
  const list: ProblemList = { file: source?.file ?? '', problems };
  const log = parseLog(source?.text ?? '', list);
  const read = played(meet, log.rows, list);
  noteWhatIsOpen(read, list);
  const { apparatus, gymnasts, teams, rotations, contests } = read;
  return {
    meet: isSound(problems) ? asSound(read) : null,
    plan: { apparatus, gymnasts, teams, rotations, contests },
    problems,
    dialect: log.dialect,
  };
}

/** The meet with the rows of a log instead of its own; what is wrong or odd with them goes to `list`. */
function played(meet: Meet, rows: readonly LogRow[], list: ProblemList): Meet {
  const readRows: (ReadRow & { line: number })[] = [];
  for (const { line, values } of rows) {
    const row = readRow(meet, values);
    if (!('wrong' in row)) {
      readRows.push({ ...row, line });
      for (const note of row.notes) {
        report(
          list,
          'note',
          'odd-score',
          line,
          note,
          'nothing to do, if that is what was announced',
        );
      }
      continue;
    }
    // What is no longer in the meet file was there when the tool took the score.
    const isUnknown = row.code === 'unknown-gymnast' || row.code === 'unknown-apparatus';
    const isGone = isUnknown && isWrittenByTool(values);
    report(list, isGone ? 'warning' : 'error', row.code, line, row.wrong, row.mend);
  }
  const { told, nothingToVoid } = standingRows([], readRows);
  for (const i of nothingToVoid) {
    const message = 'there is nothing here to take back';
    const mend = 'check the gymnast and the apparatus';
    report(list, 'warning', 'nothing-to-void', readRows[i]?.line ?? null, message, mend);
  }
  const { meet: next, remarks } = withTold(meet, told);
  for (const { told, severity, code, wrong, mend } of remarks) {
    report(list, severity, code, told.line ?? null, wrong, mend);
  }
  return next;
}

/**
 * The meet before the last entry of its log: without the last row, or without all the rows of one withdrawal,
 * which are written at the same time.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param source - The text of its score log; null while there is none.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,FX,14.1' };
 * standings(beforeLastEntry(meet, log)).rows[0]?.total // → 0
 */
export function beforeLastEntry(meet: Meet, source: Source | null): Meet {
  return atRow(meet, source).before;
}

/** A meet as a log has brought it so far. */
export interface LogPoint {
  /** With exactly those rows. */
  readonly meet: Meet;
  /** The same before the last entry. */
  readonly before: Meet;
  /** How many rows were read, whatever became of them. */
  readonly rows: number;
  /** When the last of them was written; null where it does not say. */
  readonly at: string | null;
}

/**
 * A meet as it stood after so many rows of its log; without a number the meet itself, which has them all.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param source - The text of its score log; null while there is none.
 * @param count - How many rows are read, 0 or more; null for all.
 * @throws `wrong-number`: `count` is no number of rows of the log
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,FX,14.1\nbrondt,VT,13.9' };
 * const { meet: first, rows } = atRow(meet, log, 1);
 * [standings(first, { contest: 'VT' }).rows[0]?.total, rows] // → [0, 1]
 * atRow(meet, log, 3) // → throws wrong-number
 */
export function atRow(meet: Meet, source: Source | null, count: number | null = null): LogPoint {
  requireSound(meet);
  const list: ProblemList = { file: source?.file ?? '', problems: [] };
  const all = parseLog(source?.text ?? '', list).rows;
  const rows = count ?? all.length;
  if (!(Number.isInteger(rows) && rows >= 0 && rows <= all.length)) {
    const mend = `a whole number from 0 to ${all.length}, as many as the log has`;
    throw badUsage('wrong-number', `${rows} is no number of rows of the log`, mend);
  }
  const read = all.slice(0, rows);
  return {
    meet: count === null ? meet : asSound(played(meet, read, list)),
    before: asSound(played(meet, withoutLastEntry(read), list)),
    rows,
    at: read.at(-1)?.values.at || null,
  };
}

function withoutLastEntry(rows: readonly LogRow[]): readonly LogRow[] {
  const last = rows.at(-1)?.values;
  const isApart = ({ at, gymnast, apparatus }: LogRow['values']) =>
    at === '' || at !== last?.at || gymnast !== last.gymnast || apparatus === last.apparatus;
  const together = rows.findLastIndex(({ values }, i) => i < rows.length - 1 && isApart(values));
  return rows.slice(0, last?.at === '' ? -1 : together + 1);
}

function rangesSource(checking: Checking, { ranges }: MeetSources): Source | null {
  const name = checking.document.ranges;
  if (name === undefined) return null;
  const source = ranges?.(name) ?? null;
  if (source === null) {
    complain(
      checking,
      'error',
      'file-missing',
      ['ranges'],
      `the ranges file ${name} is not there`,
      'put it beside the meet file, or take `ranges` away',
    );
  }
  return source;
}

function buildMeet(checking: Checking, rangesSource: Source | null): Meet {
  const { document, scoring, list } = checking;
  const contests = readContests(checking);
  const apparatus = meetApparatus(checking, contests);
  const discipline = disciplineApparatus(checking);
  const codes = discipline.map((a) => a.code);
  const listed = readGymnasts(checking, apparatus, codes);
  const teams = withLineUps(checking, readTeams(checking, listed), listed, apparatus, codes);
  const planned = readSchedule(checking, listed, teams, contests, apparatus);
  const { gymnasts, routines } = planned;
  checkFields(checking, contests, { gymnasts, teams, apparatus });

  const rangesList: ProblemList = { file: rangesSource?.file ?? '', problems: list.problems };
  const entries =
    rangesSource === null
      ? []
      : readRangesDocument(
          rangesSource.text,
          scoring.decimals,
          withFollowUps(discipline),
          rangesList,
        );
  noteStrangeApparatus(checking, entries, rangesList, discipline);
  const rangesGiven = readRanges(checking, entries, rangesList, planned, apparatus);
  const given = givenIn({ planned, rangesGiven, apparatus }, routines);
  noteMissingRanges(checking, gymnasts, routines, given);
  return {
    title: titleOf(document),
    discipline: typeof document.discipline === 'string' ? document.discipline : null,
    apparatus,
    words: disciplineWords(checking),
    scoring,
    contests,
    medals: medalsOf(checking),
    ...planned,
    teams,
    planned,
    rangesGiven,
    given,
    ranges: given,
    told: [],
    results: routines.map(() => null),
    up: routines.map(() => false),
    replaced: routines.map(() => false),
  };
}

/** Where the system has a highest score there is no other. */
function checkCeiling(checking: Checking): void {
  const { document, scoring } = checking;
  if (document.ceiling === undefined || SCORING_SYSTEMS[scoring.system].takesCeiling) return;
  const most = formatScore(usualCeiling(scoring.system, scoring.decimals), scoring.decimals);
  complain(
    checking,
    'error',
    'wrong-value',
    ['ceiling'],
    `\`ceiling\` is for scoring: open; in ${scoring.system} no score is above ${most}`,
    'take `ceiling` away',
  );
}

function titleOf(document: MeetDocument): string | null {
  return document.title ?? null;
}
