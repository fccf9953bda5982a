/** How often it has been done before. */
import type { PrecedentCase, Precedents } from '../history/precedents.js';
import { type Decimals, formatScore } from '../score.js';
import { type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { ordinal } from './words.js';

/** So many cases are shown, the successes first. */
const CASES = 8;

/** How many were as far behind, how many of them did it, and some of them by name. */
export function precedentsSection(of: Precedents, decimals: Decimals): Section {
  const { cases, successes, interval, order, from, to, list } = of;
  const show = (s: number) => formatScore(s, decimals);
  const [low, high] = interval.map((p) => `${(p * 100).toFixed(1)}%`);
  const finals = new Set(list.map((c) => `${c.competition}\n${c.date}\n${c.round}`)).size;
  // Of one final at most a few can do it, so that its cases tell less than so many apart.
  const meets =
    finals < cases
      ? `; too narrow, since they come from ${finals === 1 ? 'one final' : `${finals} finals`} and those of one final go together`
      : '';
  const shown = [...list].sort((a, b) => Number(b.success) - Number(a.success)).slice(0, CASES);
  const columns: ColumnOf<PrecedentCase>[] = [
    { head: '', cell: (c) => (c.success ? 'did it' : '') },
    { head: 'behind', cell: (c) => show(c.behind), align: 'right' },
    { head: 'finished', cell: (c) => ordinal(c.place), align: 'right' },
    { head: 'gymnast', cell: (c) => c.gymnast },
    { head: 'date', cell: (c) => c.date },
    { head: 'competition', cell: (c) => c.competition, isFlexible: true },
  ];
  return [
    title('Has it been done before?'),
    sentence(
      `${cases} ${cases === 1 ? 'was' : 'were'} ${show(Math.max(from, 1))} to ${show(to)} behind with as many routines left; ${successes} did it. That fits a chance from ${low} to ${high} (95% interval${meets}).`,
    ),
    tableOf(columns, shown),
    ...(list.length > CASES
      ? [sentence(`${list.length - CASES} more are not shown; --json has them all.`, 'quiet')]
      : []),
    ...(order === 'assumed'
      ? [
          sentence(
            'In which order they went up is not recorded everywhere, and had to be guessed.',
            'quiet',
          ),
        ]
      : []),
  ];
}
