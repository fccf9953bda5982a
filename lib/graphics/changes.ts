/** What changed from one set of lines to the next. */
import type { OpenScores } from '../meet/now.js';
import type { Graphics, GraphicsHeader, GraphicsLine } from './graphics.js';

/** What is new in the lines of a contest, against lines that were there before. */
export interface GraphicsChanges extends GraphicsHeader, OpenScores {
  /** How many rows of the log had been read for the lines it is compared with; 0 where there were none. */
  readonly since: number;
  /** Lines that were not there. */
  readonly added: readonly GraphicsLine[];
  /** Lines that say something else than before under the same id, or rest on other scores. */
  readonly changed: readonly GraphicsLine[];
  /** Ids of lines that are there no more. */
  readonly withdrawn: readonly string[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/**
 * What was added, changed and withdrawn; all of it added where there was nothing before.
 * @param before - The lines that were there; null where there were none.
 * @param after - The lines that are there now, of the same contest.
 * @example
 * const { meet: after } = record(meet, { gymnast: 'silvane', apparatus: 'VT', score: '13.9' });
 * const kinds = ['standing'];
 * const changes = changesBetween(graphics(meet, { kinds }), graphics(after, { kinds }));
 * changes.changed.map((line) => line.id).includes('all-around/standing/silvane') // → true
 */
export function changesBetween(before: Graphics | null, after: Graphics): GraphicsChanges {
  const { schema, contest, sequence, rows, at, stale, lines, awaited, underInquiry, caution } =
    after;
  const were = new Map((before?.lines ?? []).map((line) => [line.id, JSON.stringify(line)]));
  const are = new Set(lines.map((line) => line.id));
  return {
    schema,
    contest,
    sequence,
    rows,
    at,
    stale,
    since: before?.rows ?? 0,
    added: lines.filter(({ id }) => !were.has(id)),
    changed: lines.filter((line) => {
      const was = were.get(line.id);
      return was !== undefined && was !== JSON.stringify(line);
    }),
    withdrawn: [...were.keys()].filter((id) => !are.has(id)),
    awaited,
    underInquiry,
    caution,
  };
}
