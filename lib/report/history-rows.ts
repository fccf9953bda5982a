/** What became of the rows of a history: how many were used, which were not, and what was understood. */
import type { LeftOut } from '../history/routine.js';
import { detail, type Section, sentence } from './report.js';

/** More rows than this are counted only. */
const MOST_ROWS = 8;

/** The rows of a history that are worth a word. */
export interface RowRemarks {
  readonly leftOut: readonly LeftOut[];
  readonly notes: readonly LeftOut[];
}

/**
 * How many rows were used, those that were not with their reason, and the notes on others. `where`: what has
 * those that are not listed.
 */
export function historyRows(
  used: number,
  { leftOut, notes }: RowRemarks,
  where = '--json',
): Section {
  const said = `${used} ${used === 1 ? 'row was' : 'rows were'} used`;
  return [
    sentence(leftOut.length === 0 ? `${said}.` : `${said}, ${leftOut.length} left out:`),
    ...leftOut.slice(0, MOST_ROWS).map(({ line, why }) => detail(`line ${line}: ${why}`)),
    ...more(leftOut, `more are not listed; ${where} has them all`),
    ...notes
      .slice(0, MOST_ROWS)
      .map(({ line, why }) => sentence(`Note, line ${line}: ${why}`, 'quiet')),
    ...more(notes, 'more notes of that kind'),
  ];
}

/** The same where rows were left out or noted; nothing where all is well. */
export function historyTrouble(used: number, remarks: RowRemarks, where = '--json'): Section {
  const isWell = remarks.leftOut.length === 0 && remarks.notes.length === 0;
  return isWell ? [] : historyRows(used, remarks, where);
}

function more(rows: readonly LeftOut[], words: string): Section {
  return rows.length > MOST_ROWS ? [detail(`${rows.length - MOST_ROWS} ${words}`)] : [];
}
