/** Finals of a small competition, row by row, as a results history has them. */
import { readHistory } from '../../lib/index.js';

export const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,d,e,noc';
export const CODES = ['VT', 'UB', 'BB', 'FX'];
export const history = (...rows: readonly string[]) =>
  readHistory({ file: 'h.csv', text: [HEADER, ...rows].join('\n') });

/** One row: score and D in tenths of a point above 0. */
export const row = (
  who: string,
  round: string,
  on: string,
  score: number,
  noc = '',
  date = '2026-06-01',
) =>
  `${who},wag,${date},June Cup,${round},${on},${score.toFixed(3)},5.000,${(score - 5).toFixed(3)},${noc}`;

/** Four teams with so many up on each apparatus; the k-th team is a point a routine behind the one before. */
export const teamFinal = (up: number) =>
  ['AAA', 'BBB', 'CCC', 'DDD'].flatMap((noc, t) =>
    CODES.flatMap((on) =>
      Array.from({ length: up }, (_, i) =>
        row(`${noc}${i}`, 'team final', on, 14 - t - i / 10, noc),
      ),
    ),
  );

export const apparatusFinal = (count: number, on = 'UB') =>
  Array.from({ length: count }, (_, i) => row(`g${i}`, 'apparatus final', on, 14 - i / 10));
