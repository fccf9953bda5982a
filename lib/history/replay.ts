/** Finals of a history replayed, board by board. */
import { type Board, boardsOf } from './final-boards.js';
import type { History } from './history.js';
import { type Known, type RangesFrom, rangesFor } from './known.js';
import { normalForecast } from './normal-forecast.js';
import { ownMeans } from './own-means.js';
import { type FinalFacts, type FoundFinal, withoutMeet } from './rounds.js';

/** A final with the boards it was judged on, and those of the other ranges. */
export interface Replayed {
  readonly final: FinalFacts;
  readonly boards: readonly Board[];
  readonly against: readonly Board[];
  readonly unknown: number;
}

export interface Setting {
  readonly ranges: RangesFrom;
  readonly against: RangesFrom | null;
  readonly known: Known;
  readonly seed: number;
}

export function replay(
  history: History,
  finals: readonly FoundFinal[],
  { ranges, against, known, seed }: Setting,
  onDone: (done: number) => void,
): Replayed[] {
  const rangesOf = rangesFor(history, known, ranges);
  const others = against === null ? null : rangesFor(history, known, against);
  const routines = [...history.routines].sort((a, b) =>
    a.date < b.date ? -1 : a.date > b.date ? 1 : 0,
  );
  const means = ownMeans();
  let next = 0;
  return finals.map(({ replayed }, k) => {
    const final = replayed();
    for (let r = routines[next]; r !== undefined && r.date < final.date; r = routines[++next]) {
      if (r.score > 0) means.add(r);
    }
    const of = rangesOf(final);
    const also = ranges === 'days' ? [] : known.earlierRounds(final);
    const boards = boardsOf(final, of, normalForecast(final, means, also, seed));
    const other = others?.(final);
    onDone(k + 1);
    return {
      final: withoutMeet(final),
      boards,
      against: other === undefined ? [] : boardsOf(final, other),
      unknown: final.gymnasts.filter((g) => of(g) === undefined).length,
    };
  });
}
