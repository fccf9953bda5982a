/** Ranges from a history: to paste, and what was left out. */
import type { History } from '../history/history.js';
import { type Ranges, rangesFile } from '../history/ranges.js';
import { historyRows } from './history-rows.js';
import { type Report, reportOf, type Section, sentence } from './report.js';

/**
 * Ranges made from a history. `into`: the file they were written to; null for ranges to paste.
 * @param history - The results they were made from.
 * @param made - As `ranges` gave them.
 * @param into - The file they were written to; null for ranges to paste.
 * @throws `both-disciplines`: somebody stands in both disciplines, and a file is for one
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quillmore,wag,2024-05-01,Quay Cup,final,FX,13.4`;
 * const history = readHistory({ file: 'results.csv', text });
 * const report = reports.ranges(history, ranges(history), 'quay.yaml');
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[0] // → 'Wrote quay.yaml, with the ranges of 1 gymnast.'
 */
export function rangesReport(history: History, made: Ranges, into: string | null): Report {
  const used = history.routines.length + history.leftOut.length - made.leftOut.length;
  const about: Section = [
    ...historyRows(used, made),
    sentence(
      'These ranges are opinions, made from results; which routines had a fall is a guess from the scores.',
      'quiet',
    ),
  ];
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
