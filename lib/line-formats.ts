/** Graphics as a file that a graphics machine or a teleprompter reads. */
import Papa from 'papaparse';
import type { Graphics } from './graphics/graphics.js';
import { type Decimals, formatScore } from './score.js';
import { written } from './written.js';

/**
 * The forms in which lines are written.
 * @example
 * LINE_FORMATS.join(' ') // → 'text csv json'
 */
export const LINE_FORMATS = ['text', 'csv', 'json'] as const;
export type LineFormat = (typeof LINE_FORMATS)[number];

const COLUMNS = [
  'kind',
  'about',
  'apparatus',
  'from',
  'to',
  'text',
  'length',
  'limit',
  'chance',
  'awaited',
  'underInquiry',
  'stale',
] as const;

/**
 * `text`: one a line, an empty line between kinds; while they are stale, a line before them says since
 * when. `csv`: a header and a row a line, ids with blanks between them. `json`: the answer, on
 * one line.
 * @example
 * const answer = graphics(meet, { kinds: ['medals'], who: ['brandt'] });
 * graphicsAs(answer, 'csv', 3).split('\n')[0] // → 'kind,about,apparatus,from,to,text,length,limit,chance,awaited,underInquiry,stale'
 * graphicsAs({ ...answer, stale: '2026-05-16T14:02:52.280Z' }, 'text', 3).split('\n')[0] // → 'NOT UPDATED SINCE 2026-05-16T14:02:52.280Z'
 */
export function graphicsAs(answer: Graphics, format: LineFormat, decimals: Decimals): string {
  if (format === 'json') return `${JSON.stringify(written('graphics', answer, decimals))}\n`;
  if (format === 'csv') return csvOf(answer, decimals);
  const lines = answer.lines
    .filter((c) => c.text !== null)
    .map(({ kind, text }, i, all) => {
      const before = all[i - 1];
      return `${before !== undefined && before.kind !== kind ? '\n' : ''}${text}\n`;
    });
  const head = answer.stale === null ? '' : `NOT UPDATED SINCE ${answer.stale}\n\n`;
  return `${head}${lines.join('')}`;
}

function csvOf({ lines, stale }: Graphics, decimals: Decimals): string {
  const rows = lines.map((line) =>
    COLUMNS.map((column) => {
      if (column === 'stale') return stale ?? '';
      const value = line[column];
      if (Array.isArray(value)) return value.join(' ');
      const isScore = column === 'from' || column === 'to';
      return isScore && typeof value === 'number' ? formatScore(value, decimals) : (value ?? '');
    }),
  );
  return `${Papa.unparse([[...COLUMNS], ...rows], { newline: '\n' })}\n`;
}
