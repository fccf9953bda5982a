/** Boards before and after in one table, and what the next up would need. */
import type { Meet, StandingsRow, Supposed } from '../../lib/index.js';
import { colour, writeLine, writeWords } from '../terminal.js';
import { apparatusName, nameOf, shower } from '../words.js';
import { placeText, printSkipped } from './board.js';
import { cellFor } from './sheet.js';
import { renderTable } from './table.js';

export function printSupposed(meet: Meet, { supposed, before, after, needs }: Supposed): void {
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
