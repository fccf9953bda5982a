/** Meets that were drawn as a file, for whoever wants sums of their own. */
import Papa from 'papaparse';
import type { DrawnEnd } from './chances/sampled/options.js';
import { type Decimals, formatScore } from './score.js';

/**
 * How a file of draws begins.
 * @example
 * DRAWS_COLUMNS.split(',').at(-1) // → 'place'
 */
export const DRAWS_COLUMNS = 'draw,id,total,place';

/** Meets are added as they are drawn; the text has all of them. */
export interface Draws {
  /** To be given to `chances` as `onDraw`. */
  readonly add: (meet: readonly DrawnEnd[]) => void;
  /** The file: a header, then a row for every meet and contender. */
  readonly text: () => string;
}

/**
 * Collects the meets of a sample as CSV, from the best to the worst of each: `draw`, counted from 1; `id`;
 * `total` at the end; `place`, the same for all who share it. The share of draws with place 1 is `win`.
 * @param decimals - Those of the meet: `meet.scoring.decimals`.
 * @example
 * const draws = drawsAsCsv(3);
 * chances(meet, null, { sample: 2, onDraw: draws.add });
 * draws.text().split('\n')[0] // → 'draw,id,total,place'
 */
export function drawsAsCsv(decimals: Decimals): Draws {
  const meets: string[] = [];
  const ids = new Map<string, string>();
  const quoted = (id: string) => {
    const known = ids.get(id) ?? Papa.unparse([[id]]);
    ids.set(id, known);
    return known;
  };
  return {
    add: (meet) => {
      const draw = meets.length + 1;
      const rows = meet.map(
        ({ id, total, place }) =>
          `${draw},${quoted(id)},${formatScore(total, decimals)},${place}\n`,
      );
      meets.push(rows.join(''));
    },
    text: () => `${DRAWS_COLUMNS}\n${meets.join('')}`,
  };
}
