/** Lines as a file that a graphics machine or a teleprompter reads. */
import Papa from 'papaparse';
import type { Graphics } from './graphics/graphics.js';
import type { Decimals } from './score.js';
import { written } from './written.js';

/**
 * The forms in which lines are written.
 * @example
 * LINE_FORMATS.join(' ') // → 'text csv json'
 */
export const LINE_FORMATS = ['text', 'csv', 'json'] as const;
/** How lines are written: `text` to be read, `csv` for a spreadsheet, `json` for a program. */
export type LineFormat = (typeof LINE_FORMATS)[number];

type WrittenLines = ReturnType<typeof written<'graphics'>>;
type WrittenLine = WrittenLines['lines'][number];

const COLUMNS: readonly (keyof WrittenLine)[] = [
  ...([
    'id',
    'kind',
    'target',
    'status',
    'by',
    'apparatus',
    'session',
    'rotation',
    'done',
  ] as const),
  ...(['from', 'to', 'place', 'wasPlace', 'worst', 'tied', 'tieBy', 'levelWith'] as const),
  ...(['score', 'was', 'total', 'gap', 'chance', 'text', 'length', 'limit'] as const),
  ...(['awaited', 'underInquiry', 'upBefore'] as const),
];

/** Of whoever a line is about: ids of all, the rest of the first. */
const WHO = ['about', 'name', 'short', 'team', 'country'] as const;

/**
 * Answers, one for each contest. `text`: a line each, an empty line between kinds, and before several
 * contests each its id; while they are stale, a line before them says since when. `csv`: a header and a row a
 * line, ids with blanks between them. `json`: an answer a line.
 * @param answers - As `graphics` gave them, one a contest.
 * @param format - One of `LINE_FORMATS`.
 * @param decimals - Those of the meet: `meet.scoring.decimals`.
 * @example
 * const answer = graphics(meet, { kinds: ['medals'], who: ['brondt'] });
 * graphicsAs([answer], 'csv', 3).split(',').slice(0, 4) // → ['contest', 'about', 'name', 'short']
 * graphicsAs([{ ...answer, stale: '2026-05-16T14:02:52.280Z' }], 'text', 3).split('\n')[0] // → 'NOT UPDATED SINCE 2026-05-16T14:02:52.280Z'
 */
export function graphicsAs(
  answers: readonly Graphics[],
  format: LineFormat,
  decimals: Decimals,
): string {
  if (format === 'json') {
    return answers.map((a) => `${JSON.stringify(written('graphics', a, decimals))}\n`).join('');
  }
  if (format === 'csv') return csvOf(answers.map((a) => written('graphics', a, decimals)));
  const stale = answers.find((a) => a.stale !== null)?.stale ?? null;
  const head = stale === null ? '' : `NOT UPDATED SINCE ${stale}\n\n`;
  const parts = answers.map((answer) => textOf(answer));
  const isOne = answers.length === 1;
  return `${head}${isOne ? parts.join('') : parts.map((text, i) => `${answers[i]?.contest}\n\n${text}`).join('\n')}`;
}

function textOf(answer: Graphics): string {
  return answer.lines
    .filter((c) => c.text !== null)
    .map(({ kind, text }, i, all) => {
      const before = all[i - 1];
      return `${before !== undefined && before.kind !== kind ? '\n' : ''}${text}\n`;
    })
    .join('');
}

function csvOf(answers: readonly WrittenLines[]): string {
  const rows = answers.flatMap(({ contest, lines, stale }) =>
    lines.map((line) => {
      const [first] = line.about;
      const who = WHO.map((column) =>
        column === 'about' ? line.about.map((a) => a.id) : first?.[column],
      );
      return [contest, ...who, ...COLUMNS.map((column) => line[column]), stale].map(cellOf);
    }),
  );
  return `${Papa.unparse([['contest', ...WHO, ...COLUMNS, 'stale'], ...rows], { newline: '\n' })}\n`;
}

function cellOf(value: unknown): unknown {
  return Array.isArray(value) ? value.join(' ') : (value ?? '');
}
