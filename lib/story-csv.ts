/** A story as a file for a spreadsheet or a picture: a row a moment and contender. */
import Papa from 'papaparse';
import type { Decimals } from './score.js';
import { inContention } from './story/contention.js';
import type { Story } from './story/story.js';
import { written } from './written.js';

const COLUMNS = [
  ...['contest', 'row', 'kind', 'gymnast', 'apparatus', 'session', 'rotation'],
  ...['score', 'was', 'expected', 'percentile', 'id', 'win', 'medal', 'advance', 'error'],
] as const;

/**
 * A header, then for every moment, the one before the first score as row 0, a row for each contender that was
 * ever in contention: who has had one chance in a hundred of anything there is to be had. Scores with the
 * meet's decimals, or DNS, DNF; chances from 0 to 1; what there is not stays empty.
 * @param answer - As `story` gave it.
 * @param decimals - Those of the meet: `meet.scoring.decimals`.
 * @example
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,VT,14.6' };
 * const lines = storyAsCsv(story(meet, log), 3).split('\n');
 * lines[0]?.split(',').slice(0, 4) // → ['contest', 'row', 'kind', 'gymnast']
 * lines.find((line) => line.includes(',14.600,'))?.split(',').slice(0, 5) // → ['all-around', '1', 'score', 'brondt', 'VT']
 */
export function storyAsCsv(answer: Story, decimals: Decimals): string {
  const { contest, start, points } = written('story', answer, decimals);
  const ids = inContention(answer, ['win', 'medal', 'advance']);
  const none = new Array<string>(9).fill('');
  const moments = [
    { head: ['0', ...none], ...start },
    ...points.map(({ chances, error, ...p }) => ({
      head: [
        ...[p.row, p.kind, p.gymnast, p.apparatus, p.session, p.rotation],
        ...[p.now, p.was, p.expected, p.percentile],
      ],
      chances,
      error,
    })),
  ];
  const rows = moments.flatMap(({ head, chances, error }) =>
    chances
      .filter(({ id }) => ids.has(id))
      .map(({ id, win, medal, advance }) => [contest, ...head, id, win, medal, advance, error]),
  );
  return `${Papa.unparse([[...COLUMNS], ...rows], { newline: '\n' })}\n`;
}
