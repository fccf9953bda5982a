/** Boards before and after in one table, and what the next up would need. */
import type { ContenderChances, Meet, StandingsRow, Supposed } from '../../lib/index.js';
import { colour, writeLine, writeWords } from '../terminal.js';
import {
  apparatusName,
  nameOf,
  percentWithin,
  shower,
  skippedInChances,
  unsettled,
} from '../words.js';
import { placeText, printSkipped } from './board.js';
import { exactness } from './chances.js';
import { cellFor } from './sheet.js';
import { renderTable } from './table.js';
import { printUsual } from './usual.js';

/** Whose chances change by less than this is not told. */
const WORTH_SAYING = 0.001;

interface Change {
  readonly was: ContenderChances;
  readonly is: ContenderChances;
}

/** Who wins or has a medal more, or less, often. */
function printChanges(meet: Meet, { before, after }: Supposed['chances']): void {
  if (before === null || after === null) return;
  const error = Math.max(before.error, after.error);
  const wasOf = new Map(before.contenders.map((c) => [c.id, c]));
  const moved = ({ was, is }: Change) =>
    Math.max(Math.abs(is.win - was.win), Math.abs(is.medal - was.medal));
  const changes = after.contenders
    .flatMap((is): Change[] => {
      const was = wasOf.get(is.id);
      return was === undefined ? [] : [{ was, is }];
    })
    .filter((c) => moved(c) >= WORTH_SAYING)
    .sort((a, b) => b.is.win - a.is.win || b.is.medal - a.is.medal);
  writeLine();
  if (changes.length === 0) {
    writeWords('Nobody’s chances to win or of a medal change by 0.1% or more.');
    return;
  }
  writeWords('How chances change', colour.bold);
  const said = (chances: ContenderChances, which: 'win' | 'medal') => {
    const settled = chances.settled.some((s) => s.target === which);
    return settled ? percentWithin(chances[which], 0) : unsettled(chances[which], error);
  };
  const change =
    (which: 'win' | 'medal') =>
    ({ was, is }: Change) =>
      Math.abs(is[which] - was[which]) < WORTH_SAYING
        ? said(is, which)
        : `${said(was, which)} → ${said(is, which)}`;
  const { text } = renderTable(
    [
      { head: 'name', cell: (c: Change) => nameOf(meet, c.is.id) },
      { head: 'to win', cell: change('win'), align: 'right' },
      { head: 'medal', cell: change('medal'), align: 'right' },
    ],
    changes,
  );
  writeLine(text);
  writeWords(
    `${exactness(after)} ${after.skipped.length > 0 ? skippedInChances(after.skipped) : ''}`.trim(),
    colour.dim,
  );
}

export function printSupposed(meet: Meet, answer: Supposed): void {
  const { supposed, before, after, needs } = answer;
  const show = shower(meet);
  const said = supposed.map(
    (s) =>
      `${nameOf(meet, s.gymnast)} ${apparatusName(meet, s.apparatus)} ${typeof s.score === 'number' ? show(s.score) : s.score}`,
  );
  writeWords(`Suppose ${said.join(', ')} (${after.contest}); nothing is written`, colour.bold);
  const was = new Map(before.rows.map((r) => [r.id, r]));
  const moved = (row: StandingsRow) => {
    const then = was.get(row.id);
    return then !== undefined && (then.place !== row.place || then.total !== row.total);
  };
  const { text } = renderTable(
    [
      { head: '', cell: placeText, align: 'right' },
      {
        head: 'was',
        cell: (r: StandingsRow) => {
          const then = was.get(r.id);
          return then === undefined || !moved(r) ? '' : placeText(then);
        },
        align: 'right',
      },
      { head: 'name', cell: (r) => r.name, style: (r) => (moved(r) ? colour.bold : String) },
      { head: 'total', cell: (r) => show(r.total), align: 'right' },
      {
        head: 'behind',
        cell: (r) => (r.behind === null || r.place === 1 ? '' : show(r.behind)),
        align: 'right',
      },
      { head: 'to come', cell: (r) => r.toCome.join(' ') },
    ],
    after.rows,
  );
  writeLine(text);
  printSkipped(after.skipped);
  printChanges(meet, answer.chances);
  printUsual(meet);
  if (needs.length === 0) return;
  writeLine();
  writeWords('What the next up would need', colour.bold);
  const need = (target: string, when: string, rivals: string) => (sheet: (typeof needs)[number]) =>
    cellFor(
      meet,
      sheet.needs.find((n) => n.target === target && n.when === when && n.rivals === rivals),
    );
  const next = renderTable(
    [
      { head: 'on', cell: (s: (typeof needs)[number]) => s.apparatus },
      { head: 'name', cell: (s) => nameOf(meet, s.gymnast) },
      { head: 'lead now', cell: need('lead', 'now', 'as-is'), align: 'right' },
      { head: 'medal', cell: need('medal', 'end', 'likely'), align: 'right' },
      { head: 'win', cell: need('win', 'end', 'likely'), align: 'right' },
      { head: 'hold', cell: need('hold', 'end', 'likely'), align: 'right' },
    ],
    needs,
  );
  writeLine(next.text);
  writeWords(
    '+ beyond her realistic best · = only a tie is left · ✓ secured on that assumption',
    colour.dim,
  );
}
