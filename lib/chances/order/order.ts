/**
 * The results everyone can have, from the best to the worst, under the tie rules: where there are
 * not too many to go through one by one, the count of those ahead is exact.
 */
import type { Runner } from '../runner.js';
import { keep, keptFor, mended } from './kept.js';
import { levelKeys } from './level-keys.js';
import { placed } from './placed.js';
import { rowsOf } from './rows.js';

/** How a runner stands at equal totals, apart from the best scores: a lower number is ahead. */
export interface StaticOrder {
  /** By the rules before the best scores. */
  readonly first: Int32Array;
  /** By the rules after them. */
  readonly last: Int32Array;
}

/**
 * Results that only some runners can have if something happens: they take no place away from
 * anybody, but are ranked in the same order.
 */
export interface Variant {
  /** The runner it is of, which it does not compete with. */
  readonly of: number;
  readonly runner: Runner;
}

/** Told, now and then, which share of what there is to go through has been. */
export type OnProgress = (share: number) => void;

/** Some results from the best to the worst. */
export interface Piece {
  /** Whose: variants count on from the runners, and nobody from all of them. */
  readonly who: Int32Array;
  readonly chance: Float64Array;
  /** Whether one equals the one before it. */
  readonly equals: Uint8Array;
  /** Where it begins and ends in these lists. */
  readonly from: number;
  readonly to: number;
  /** By whoever the results are of: 1 where they are left out. */
  readonly stale: Uint8Array | null;
}

/** Results from the best to the worst, piece after piece. */
export interface InOrder {
  /** How many runners there are, and with their variants. */
  readonly size: number;
  readonly members: number;
  readonly pieces: readonly Piece[];
  /** By member: how many results it has. */
  readonly left: Int32Array;
}

/** Puts every result in order. `byValues`: equal totals go to the best scores. */
export function inOrder(
  runners: readonly Runner[],
  variants: readonly Variant[],
  { first, last }: StaticOrder,
  byValues: boolean,
): InOrder {
  const size = runners.length;
  const all = [...runners, ...variants.map((v) => v.runner)];
  const members = all.length;
  const like = (ranks: Int32Array) =>
    Int32Array.from(all, (_, i) => ranks[i < size ? i : variants[i - size]!.of]!);
  const keys = levelKeys(all, like(first), like(last), byValues);
  const place = (some: readonly number[]) => placed(rowsOf(all, some, keys, byValues), members);
  const layout = `${keys.layout} ${first.join()} ${last.join()}`;
  const kept = variants.length === 0 ? keptFor(runners, layout) : null;
  if (kept !== null) return { size, members, ...mended(kept, place) };
  const found = place([...all.keys()]);
  if (variants.length === 0) keep({ runners, layout, placed: found });
  return { size, members, pieces: [wholeOf(found)], left: found.left };
}

/** All of some results as one piece. */
export function wholeOf(results: Pick<Piece, 'who' | 'chance' | 'equals'>): Piece {
  const { who, chance, equals } = results;
  return { who, chance, equals, from: 0, to: who.length, stale: null };
}

/** All pieces as one. */
export function joined({ pieces, members }: InOrder): Piece {
  const [only] = pieces;
  if (only !== undefined && pieces.length === 1 && only.stale === null) return only;
  const count = pieces.reduce((sum, { from, to }) => sum + to - from, 0);
  const who = new Int32Array(count);
  const chance = new Float64Array(count);
  const equals = new Uint8Array(count);
  let at = 0;
  for (const piece of pieces) {
    for (let k = piece.from; k < piece.to; k++, at++) {
      const i = piece.who[k]!;
      who[at] = piece.stale?.[i] === 1 ? members : i;
      chance[at] = piece.chance[k]!;
      equals[at] = piece.equals[k]!;
    }
  }
  return wholeOf({ who, chance, equals });
}

/** The places of so many in the order of a comparison, from 0; equal ones share theirs. */
export function ranksBy(count: number, compare: (i: number, j: number) => number): Int32Array {
  const order = Array.from({ length: count }, (_, i) => i).sort(compare);
  const ranks = new Int32Array(count);
  for (const [k, i] of order.entries()) {
    const before = order[k - 1];
    ranks[i] = before !== undefined && compare(before, i) === 0 ? ranks[before]! : k;
  }
  return ranks;
}
