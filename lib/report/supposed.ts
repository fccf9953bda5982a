/** Boards before and after in one table, how chances change, and what the next up would need. */
import type { Chances } from '../chances/chances.js';
import type { ContenderChances } from '../chances/contender-chances.js';
import type { StandingsRow } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import type { NeedsSheet } from '../needs/sheet.js';
import type { Supposed } from '../needs/suppose.js';
import { placeText, skippedOnBoard } from './board.js';
import {
  caution,
  chanceInWords,
  skippedInChances,
  unsettled,
  WORTH_SAYING,
  whereFrom,
} from './chance-words.js';
import { byHopeOf } from './chances.js';
import { type GoalName, goalsAsked } from './goals.js';
import { nameColumn } from './name-columns.js';
import { needInFew, SIGNS } from './needs-of-all.js';
import { openSection } from './open.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { isShared, saidBoard, someHaveDone } from './standing.js';
import { tableOf } from './table.js';
import { restsOnUsual } from './usual.js';
import {
  apparatusName,
  capital,
  contestInWords,
  listed,
  nameOf,
  shower,
  toComeInWords,
} from './words.js';

/** What would be, with as much of the chances as is said. */
export interface SaidIf extends Pick<Supposed, 'supposed' | 'before' | 'after' | 'needs'> {
  /** As much of both as is said of them. */
  readonly chances: {
    /** As things are; null where they are not known. */
    readonly before: SaidChances | null;
    /** As they would be; null where they are not known. */
    readonly after: SaidChances | null;
  };
}

/** What of chances is said when something is supposed. */
export type SaidChances = Pick<Chances, 'method' | 'contenders' | 'error' | 'skipped'>;

/**
 * What would be if these scores happened.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `suppose` gave it, or with as much of the chances as is to be said.
 * @param options - `chancesFirst`: true says the chances before the boards.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const answer = suppose(meet, [{ gymnast: 'brondt', apparatus: 'BB', score: '14.9' }]);
 * reports.suppose(meet, answer).flat().flatMap((b) => (b.kind === 'title' ? [b.text] : [])) // → ['If Ida Brondt gets 14.900 on beam (all-around); nothing is recorded', 'How chances change', 'What the next up would need']
 */
export function supposeReport(
  meet: Meet,
  answer: SaidIf,
  { chancesFirst = false }: { readonly chancesFirst?: boolean } = {},
): Report {
  const [heading, ...board] = boardAfter(meet, answer);
  const changes = changesSection(meet, answer.after.contest, answer.chances);
  const usual = [...openSection(meet, answer.after), ...restsOnUsual(meet)];
  const head = heading === undefined ? [] : [heading];
  const needs = needsSection(meet, answer.after.contest, answer.needs);
  if (changes.length > 0 && chancesFirst) {
    return reportOf([...head, ...changes, ...usual, caution()], board, needs);
  }
  return changes.length === 0
    ? reportOf([...head, ...board, ...usual], needs)
    : reportOf([...head, ...board], [...changes, ...usual, caution()], needs);
}

function boardAfter(meet: Meet, { supposed, before, after }: SaidIf): Section {
  const show = shower(meet);
  const scores = supposed.map((s) => supposedInWords(meet, s));
  const was = new Map(before.rows.map((r) => [r.id, r]));
  const said = saidBoard(meet, after);
  const { progress } = said;
  // In the middle of a rotation a place is one by projection, if it can be had.
  const isProjected =
    progress.footing !== 'even' && after.rows.some((r) => r.projectedPlace !== null);
  const place = (row: StandingsRow) => (isProjected ? row.projectedPlace : row.place);
  const shown = (row: StandingsRow, all: readonly StandingsRow[]) =>
    placeText({
      place: place(row),
      tied: isProjected ? isShared(all, row, 'projectedPlace') : row.tied,
    });
  const moved = (row: StandingsRow) => {
    const then = was.get(row.id);
    return then !== undefined && (place(then) !== place(row) || then.total !== row.total);
  };
  const rows = [...after.rows].sort(
    (a, b) => (place(a) ?? Number.MAX_VALUE) - (place(b) ?? Number.MAX_VALUE),
  );
  return [
    title(`If ${listed(scores)} (${contestInWords(meet, after.contest)}); nothing is recorded`),
    ...(isProjected
      ? [
          sentence(
            `${capital(someHaveDone(progress))}, so these are the places if all that is to come scores as expected.`,
          ),
        ]
      : []),
    tableOf(
      [
        {
          head: 'place',
          cell: (r: StandingsRow) => shown(r, after.rows),
          align: 'right',
        },
        {
          head: 'was',
          cell: (r: StandingsRow) => {
            const then = was.get(r.id);
            return then === undefined || !moved(r) ? '' : shown(then, before.rows);
          },
          align: 'right',
        },
        {
          ...nameColumn(meet, (r: StandingsRow) => r.id),
          tone: (r) => (moved(r) ? 'strong' : null),
        },
        { head: 'total', cell: (r) => show(r.total), align: 'right' },
        {
          head: 'projected finish',
          cell: (r) => (isProjected && r.projected !== null ? show(r.projected) : ''),
          align: 'right',
        },
        {
          head: 'behind',
          cell: (r) => (isProjected || r.behind === null || r.place === 1 ? '' : show(r.behind)),
          align: 'right',
        },
        { head: 'done', cell: (r) => (isProjected ? String(r.done) : ''), align: 'right' },
        {
          head: 'to come',
          cell: (r) => (said.of.get(r.id)?.isOut ? 'out' : toComeInWords(r.toCome)),
        },
      ],
      rows,
    ),
    ...skippedOnBoard(after.skipped),
  ];
}

/** "Ida Brondt gets 14.800 on beam"; "Tuva Larsholt withdraws from beam" */
function supposedInWords(meet: Meet, s: Supposed['supposed'][number]): string {
  const [name, where] = [nameOf(meet, s.gymnast), apparatusName(meet, s.apparatus)];
  if (typeof s.score !== 'number') return `${name} does not compete on ${where}`;
  return `${name} gets ${shower(meet)(s.score)} on ${where}`;
}

interface Change {
  readonly was: ContenderChances;
  readonly is: ContenderChances;
}

/** Who wins or has a medal more, or less, often. */
function changesSection(
  meet: Meet,
  contest: string,
  { before, after }: SaidIf['chances'],
): Section {
  if (before === null || after === null) return [];
  const error = Math.max(before.error, after.error);
  const wasOf = new Map(before.contenders.map((c) => [c.id, c]));
  const goals = goalsAsked(meet, contest);
  const moved = ({ was, is }: Change) =>
    Math.max(...goals.map(({ target }) => Math.abs((is[target] ?? 0) - (was[target] ?? 0))));
  const changes = after.contenders
    .flatMap((is): Change[] => {
      const was = wasOf.get(is.id);
      return was === undefined ? [] : [{ was, is }];
    })
    .filter((c) => moved(c) >= WORTH_SAYING)
    .sort((a, b) => byHopeOf(goals)(a.is, b.is));
  if (changes.length === 0) {
    return [
      sentence(
        `That changes nobody’s chances ${goals.map((g) => g.to).join(' or ')} by as much as one in a thousand.`,
      ),
    ];
  }
  const said = (chances: ContenderChances, which: GoalName) => {
    const settled = chances.settled.some((s) => s.target === which);
    const chance = chances[which] ?? 0;
    return settled ? chanceInWords(chance, 0) : unsettled(chance, error);
  };
  const change =
    (which: GoalName) =>
    ({ was, is }: Change) =>
      Math.abs((is[which] ?? 0) - (was[which] ?? 0)) < WORTH_SAYING
        ? said(is, which)
        : `${said(was, which)} → ${said(is, which)}`;
  const without = after.skipped.length > 0 ? skippedInChances(after.skipped) : '';
  return [
    title('How chances change'),
    tableOf(
      [
        nameColumn(meet, (c: Change) => c.is.id),
        ...goals.map(({ target, to }) => ({
          head: to,
          cell: change(target),
          align: 'right' as const,
        })),
      ],
      changes,
    ),
    sentence(`${whereFrom(after)} ${without}`.trim(), 'quiet'),
  ];
}

function needsSection(meet: Meet, contest: string, sheets: readonly NeedsSheet[]): Section {
  if (sheets.length === 0) return [];
  const need = (target: string, when: string, rivals: string) => (sheet: NeedsSheet) =>
    needInFew(
      meet,
      sheet.needs.find((n) => n.target === target && n.when === when && n.rivals === rivals),
      sheet.range,
    );
  return [
    title('What the next up would need'),
    tableOf(
      [
        { head: 'on', cell: (s: NeedsSheet) => s.apparatus },
        nameColumn(meet, (s: NeedsSheet) => s.gymnast),
        { head: 'to lead now', cell: need('lead', 'now', 'as-is'), align: 'right' },
        ...[...goalsAsked(meet, contest)].reverse().map(({ target, to }) => ({
          head: to,
          cell: need(target, 'end', 'likely'),
          align: 'right' as const,
        })),
        { head: 'to hold', cell: need('hold', 'end', 'likely'), align: 'right' },
      ],
      sheets,
    ),
    sentence(SIGNS, 'quiet'),
  ];
}
