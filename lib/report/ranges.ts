/** Ranges from a history: to paste, and what was left out. */
import type { History } from '../history/history.js';
import { type Ranges, rangesFile } from '../history/ranges.js';
import { detail, type Report, reportOf, type Section, sentence } from './report.js';

/** More rows than this are counted by reason only. */
const MOST_ROWS = 8;

/** Ranges made from a history. `into`: the file they were written to; null for ranges to paste. */
export function rangesReport(history: History, made: Ranges, into: string | null): Report {
  const about: Section = [...rowsUsed(history, made), ...notesOf(history)];
  if (into === null) {
    const text = rangesFile(made, history.decimals).trimEnd();
    return reportOf([{ kind: 'verbatim', text }], about);
  }
  const many = made.gymnasts.length;
  return reportOf([
    sentence(`Wrote ${into}, with the ranges of ${many} ${many === 1 ? 'gymnast' : 'gymnasts'}.`),
    sentence(`To use them, write in the meet file beside it: ranges: ${into}`),
    ...about,
  ]);
}

function rowsUsed(history: History, { leftOut }: Ranges): Section {
  const count = history.routines.length + history.leftOut.length - leftOut.length;
  const used = `${count} ${count === 1 ? 'row was' : 'rows were'} used`;
  return [
    sentence(leftOut.length === 0 ? `${used}.` : `${used}, ${leftOut.length} left out:`),
    ...leftOut.slice(0, MOST_ROWS).map(({ line, why }) => detail(`line ${line}: ${why}`)),
    ...(leftOut.length > MOST_ROWS
      ? [detail(`${leftOut.length - MOST_ROWS} more are not listed; --json has them all`)]
      : []),
  ];
}

function notesOf({ notes }: History): Section {
  return [
    ...notes
      .slice(0, MOST_ROWS)
      .map(({ line, why }) => sentence(`Note, line ${line}: ${why}`, 'quiet')),
    sentence(
      'These ranges are opinions, made from results; which routines had a fall is a guess from the scores.',
      'quiet',
    ),
  ];
}
