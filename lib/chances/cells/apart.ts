/** How results that are level as yet are told apart: by what comes next in each of them. */
import { FLOAT, type Kernel, withKernel } from '../../kernel/kernel.js';
import type { Lowest, Rest, Steps } from './lowest.js';
import type { FieldValues } from './open-parts.js';

/** One of those who are level as far as they have been compared; k is its place on the level. */
export interface LastSharer {
  readonly k: number;
  readonly chance: number;
  /** Null when all its values have been compared. */
  readonly rest: Rest | null;
}

export interface Sharer extends LastSharer {
  readonly rest: Rest;
}

export function isUnfinished(sharer: LastSharer): sharer is Sharer {
  return sharer.rest !== null;
}

/**
 * What may come next, the best first, for everyone on one level: by member and key the chance, and
 * by member and key how much of it is ahead of that key, those on it themselves counted half.
 */
export interface Table {
  readonly length: number;
  /** By member: which row is its own; one of nothing for who is not compared. */
  readonly rowOf: Int32Array;
  readonly rows: Float64Array;
  readonly before: Float64Array;
  /** By member: its first key, and the one after its last. */
  readonly firsts: Int32Array;
  readonly ends: Int32Array;
  /** By key: what all of them have, and the sum of its squares. */
  readonly together: Float64Array;
  readonly squares: Float64Array;
  /** Who has a key. */
  readonly sharersAt: (key: number) => LastSharer[];
}

/** A table in a memory with loops over it. */
export interface KernelTable extends Table {
  readonly kernel: Kernel;
  /** By member and runner: how likely the first is where it is, and the second ahead. */
  readonly ahead: Float64Array;
  /** Two lists, by member, for whoever works on it. */
  readonly sums: Float64Array;
  readonly levels: Float64Array;
}

/** Works on a table of so many members, runners and keys, with nothing in it, and room for more bytes. */
export function withTable<T>(
  {
    members,
    count,
    length,
    more = 0,
  }: {
    readonly members: number;
    readonly count: number;
    readonly length: number;
    readonly more?: number;
  },
  sharersAt: Table['sharersAt'],
  work: (table: KernelTable) => T,
): T {
  const room = FLOAT * (2 * members * (length + 1) + members * count + 2 * length) + more;
  return withKernel(room, (kernel) =>
    work({
      kernel,
      length,
      rowOf: Int32Array.from({ length: members }, (_, k) => k),
      rows: kernel.floats(members * length),
      before: kernel.floats(members * length),
      ahead: kernel.floats(members * count),
      sums: kernel.floats(members),
      levels: kernel.floats(members),
      firsts: new Int32Array(members).fill(length),
      ends: new Int32Array(members),
      together: kernel.floats(length),
      squares: kernel.floats(length),
      sharersAt,
    }),
  );
}

/**
 * Adds up a table whose rows are filled. `offsets`: what of each is ahead of all of it; `count`: how
 * many of the members take a place.
 */
export function sumUp(
  { kernel, length, rows, before, firsts, ends, together, squares }: KernelTable,
  offsets: ArrayLike<number>,
  count: number,
  from = 0,
  to = length,
): void {
  for (let k = 0; k < offsets.length; k++) {
    const row = k * length;
    const start = Math.max(Math.min(firsts[k]!, to), from);
    const stop = Math.max(Math.min(ends[k]!, to), start);
    before.fill(offsets[k]!, row + from, row + start);
    const all = kernel.loops.addUp(
      before.byteOffset + FLOAT * (row + start),
      rows.byteOffset + FLOAT * (row + start),
      together.byteOffset + FLOAT * start,
      squares.byteOffset + FLOAT * start,
      stop - start,
      offsets[k]!,
      k < count ? 1 : 0,
    );
    before.fill(all, row + stop, row + to);
  }
}

/** Works on the table of what comes next for those who share what came before. */
export function withNextTable(
  lowest: readonly (Lowest | null)[],
  members: readonly number[],
  count: number,
  field: FieldValues,
  sharers: readonly Sharer[],
  offsets: ArrayLike<number>,
  work: (table: KernelTable) => void,
): void {
  const steps = sharers.map(({ k, rest }) => lowest[members[k]!]!.stepsOf(rest, field));
  const keys = keysOf(steps);
  const sharersAt = (x: number) => sharersOf(sharers, steps, keys[x]!);
  withTable({ members: members.length, count, length: keys.length }, sharersAt, (table) => {
    for (const [a, { keys: own, chances }] of steps.entries()) {
      const { k } = sharers[a]!;
      for (let x = 0, y = 0; y < own.length; x++) {
        if (keys[x] !== own[y]) continue;
        if (y === 0) table.firsts[k] = x;
        table.rows[k * keys.length + x] = chances[y++]!;
        table.ends[k] = x + 1;
      }
    }
    sumUp(table, offsets, count);
    work(table);
  });
}

/** The same for those alone who share it, as far as it need be told. */
export function shortTable(
  lowest: readonly (Lowest | null)[],
  members: readonly number[],
  count: number,
  field: FieldValues,
  sharers: readonly Sharer[],
): Table {
  const steps = sharers.map(({ k, chance, rest }) => {
    return lowest[members[k]!]!.stepsOf(rest, field, UNTOLD * chance);
  });
  const keys = keysOf(steps);
  const length = keys.length;
  const rowOf = new Int32Array(members.length).fill(sharers.length);
  const rows = new Float64Array((sharers.length + 1) * length);
  const before = new Float64Array((sharers.length + 1) * length);
  const together = new Float64Array(length);
  const squares = new Float64Array(length);
  for (let a = 0; a < sharers.length; a++) {
    const { k } = sharers[a]!;
    rowOf[k] = a;
    const { keys: own, chances } = steps[a]!;
    const row = a * length;
    let sum = 0;
    for (let x = 0, y = 0; x < length; x++) {
      if (keys[x] !== own[y]) {
        before[row + x] = sum;
        continue;
      }
      const c = chances[y++]!;
      rows[row + x] = c;
      before[row + x] = sum + c / 2;
      sum += c;
      if (k >= count) continue;
      together[x] = together[x]! + c;
      squares[x] = squares[x]! + c * c;
    }
  }
  const sharersAt = (x: number) => sharersOf(sharers, steps, keys[x]!);
  const none = new Int32Array(0);
  return { length, rowOf, rows, before, firsts: none, ends: none, together, squares, sharersAt };
}

/** So much of what those share who are told apart need not be told. */
const UNTOLD = 0.02;

function sharersOf(sharers: readonly Sharer[], steps: readonly Steps[], key: number): LastSharer[] {
  const found: LastSharer[] = [];
  for (let a = 0; a < sharers.length; a++) {
    const own = steps[a]!;
    const y = own.keys.indexOf(key);
    if (y >= 0) found.push({ k: sharers[a]!.k, chance: own.chances[y]!, rest: own.restAt(y) });
  }
  return found;
}

/** All keys of some steps, in order. */
function keysOf(steps: readonly Steps[]): Float64Array {
  let least = Number.POSITIVE_INFINITY;
  let most = -1;
  for (const { keys } of steps) {
    if (keys.length === 0) continue;
    least = Math.min(least, keys[0]!);
    most = Math.max(most, keys[keys.length - 1]!);
  }
  const there = new Uint8Array(Math.max(most - least + 1, 0));
  let count = 0;
  for (const { keys } of steps) {
    for (const key of keys) {
      if (there[key - least] === 0) count++;
      there[key - least] = 1;
    }
  }
  const all = new Float64Array(count);
  for (let at = 0, x = 0; at < count; x++) if (there[x] === 1) all[at++] = least + x;
  return all;
}
