/**
 * What has been put in order is kept: after one more score only the results of that runner have to be put
 * between those of the others.
 */
import type { Runner } from '../runner.js';
import type { InOrder, Piece } from './order.js';
import { compareKeys, type Placed } from './placed.js';

/** Everyone's results in order; `layout` names how their keys are made. */
interface Kept {
  readonly runners: readonly Runner[];
  readonly layout: string;
  readonly placed: Placed;
}

/** The same, and whose results are not theirs any more; by runner, 1 where it is so. */
interface Stale extends Kept {
  readonly stale: Uint8Array;
}

/** Where more than every third runner has changed everything is put in order anew. */
const MOST_CHANGED = 1 / 3;

/** So many results are kept at most. */
const MOST_RESULTS = 300_000;

/** By two of the runners, of whom one is left where only the other has changed. */
const known = new WeakMap<Runner, Kept>();

export function keep(kept: Kept): void {
  if (kept.placed.who.length > MOST_RESULTS) return;
  for (const runner of kept.runners.slice(0, 2)) known.set(runner, kept);
}

/** Results of nearly the same runners; null where there are none that help. */
export function keptFor(runners: readonly Runner[], layout: string): Stale | null {
  const [first, second] = runners;
  const kept = (first && known.get(first)) ?? (second && known.get(second));
  if (kept === undefined || kept.layout !== layout) return null;
  if (kept.runners.length !== runners.length) return null;
  const stale = Uint8Array.from(runners, (runner, i) => (runner === kept.runners[i] ? 0 : 1));
  const changed = stale.reduce((sum, is) => sum + is, 0);
  return changed > MOST_CHANGED * runners.length ? null : { ...kept, stale };
}

/** What was kept, with the results that whoever has changed has now. `place` puts those of some in order. */
export function mended(
  { placed, stale }: Stale,
  place: (some: readonly number[]) => Placed,
): Pick<InOrder, 'pieces' | 'left'> {
  const changed = [...stale.keys()].filter((i) => stale[i] === 1);
  const added = place(changed);
  const left = placed.left.slice();
  for (const i of changed) left[i] = added.left[i]!;
  const { who, chance } = added;
  const equals = added.equals.slice();
  const pieces: Piece[] = [];
  let passed = 0;
  let from = 0;
  for (let behind = 0; behind + 1 < added.starts.length; behind++) {
    for (let k = added.starts[behind]!; k < added.ends[behind]!; k++) {
      const { at, isEqual } = placeIn(placed, added, k, added.best - behind);
      if (isEqual) equals[k] = 1;
      if (at === passed) continue;
      if (k > from) pieces.push({ who, chance, equals, from, to: k, stale: null });
      pieces.push(keptFrom(passed, at));
      passed = at;
      from = k;
    }
  }
  const count = who.length;
  if (count > from) pieces.push({ who, chance, equals, from, to: count, stale: null });
  if (placed.who.length > passed) pieces.push(keptFrom(passed, placed.who.length));
  return { pieces, left };

  function keptFrom(from: number, to: number): Piece {
    const { who, chance, equals } = placed;
    return { who, chance, equals, from, to, stale };
  }
}

/** Where another result belongs: before the first that is behind it, or after the first that it equals. */
function placeIn(
  { keys, best, starts, ends }: Placed,
  added: Placed,
  k: number,
  total: number,
): { at: number; isEqual: boolean } {
  const behind = Math.min(Math.max(best - total, 0), starts.length - 1);
  if (best < total) return { at: 0, isEqual: false };
  let low = starts[behind]!;
  const end = ends[behind]!;
  for (let high = end; low < high; ) {
    const middle = (low + high) >> 1;
    if (compareKeys(keys, middle, k, added.keys) < 0) low = middle + 1;
    else high = middle;
  }
  const isEqual = low < end && compareKeys(keys, low, k, added.keys) === 0;
  return { at: isEqual ? low + 1 : low, isEqual };
}
