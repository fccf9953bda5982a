/**
 * What some parts add up to, together with the lowest value among them: values are handed out from
 * the highest down, and who has had one is kept as a set.
 */

/** Of some parts: the chance of every sum with every lowest value. */
export interface Lows {
  /** By sum, from the first that is told, and within it by value. */
  readonly chances: Float64Array;
  readonly first: number;
  /** How many sums are told. */
  readonly sums: number;
}

export interface PartSums {
  /** Of all the parts, and of the sets of them that were wanted, by set. */
  readonly lows: ReadonlyMap<number, Lows>;
  /** By set: the chance of every sum, as far as it can become a sum that is told. */
  readonly totals: readonly Float64Array[];
}

/** What is filled anew whenever it is used: by value, and within it by sum. */
let columns = new Float64Array(0);

/**
 * `chances`: by part and value. `steps`: by value, the index it adds to a sum. Sums of all parts that
 * are less likely than `least`, at either end, are not told.
 */
export function partSums(
  chances: readonly Float64Array[],
  steps: Int32Array,
  least: number,
  wanted: readonly number[],
): PartSums {
  const n = chances.length;
  const width = steps.length;
  const all = (1 << n) - 1;
  const reach = reachesOf(chances, steps);
  const { first, end } = likelySums(chances, steps, reach[all]! + 1, least);
  // The sums of a set that have a chance lie from one of these to the other; lower ones than the
  // lowest cannot become a sum that is told.
  const sums = reach.slice(0, all).map((most) => new Float64Array(most + 1));
  const lowest = sums.map((_, set) => Math.max(first - reach[all & ~set]!, 0));
  const from: number[] = sums.map(({ length }, set) => (set === 0 ? 0 : length));
  const to: number[] = sums.map((_, set) => (set === 0 ? 1 : 0));
  sums[0]![0] = 1;
  const span = end - first;
  // After the whole, what the wanted sets add up to without a lower value than the one at hand.
  const starts: number[] = [];
  let room = width * span;
  for (const set of wanted) {
    starts.push(room);
    room += width * (sums[set]!.length - lowest[set]!);
  }
  if (columns.length < room) columns = new Float64Array(room);
  columns.fill(0, 0, width * span);
  for (let v = width - 1; v >= 0; v--) {
    const by = steps[v]!;
    for (let who = 0; who < n; who++) {
      const p = chances[who]![v]!;
      if (p === 0) continue;
      const bit = 1 << who;
      for (let set = 0; set < all; set++) {
        if (set & bit || from[set]! >= to[set]!) continue;
        const next = set | bit;
        if (next === all) {
          const start = Math.max(from[set]!, first - by);
          addTo(columns, v * span + by - first, sums[set]!, start, Math.min(to[set]!, end - by), p);
          continue;
        }
        const start = Math.max(from[set]!, lowest[next]! - by);
        const stop = to[set]!;
        if (start >= stop) continue;
        addTo(sums[next]!, by, sums[set]!, start, stop, p);
        from[next] = Math.min(from[next]!, start + by);
        to[next] = Math.max(to[next]!, stop + by);
      }
    }
    for (const [k, set] of wanted.entries()) {
      const told = sums[set]!.subarray(lowest[set]!);
      columns.set(told, starts[k]! + v * told.length);
    }
  }
  const lows = new Map<number, Lows>([
    [all, { chances: rowsOf(columns, 0, width, span), first, sums: span }],
  ]);
  for (const [k, set] of wanted.entries()) {
    const told = sums[set]!.length - lowest[set]!;
    const rows = differencesOf(columns, starts[k]!, width, told);
    lows.set(set, { chances: rows, first: lowest[set]!, sums: told });
  }
  return { lows, totals: sums };
}

/** Adds some of one list to another, shifted and weighted. */
function addTo(
  target: Float64Array,
  by: number,
  source: Float64Array,
  from: number,
  to: number,
  weight: number,
): void {
  for (let i = from; i < to; i++) target[i + by] = target[i + by]! + weight * source[i]!;
}

/** By set: the highest sum. */
function reachesOf(chances: readonly Float64Array[], steps: Int32Array): number[] {
  const highest = chances.map((p) =>
    p.reduce((most, c, v) => (c > 0 ? Math.max(most, steps[v]!) : most), 0),
  );
  return Array.from({ length: 1 << chances.length }, (_, set) =>
    highest.reduce((sum, h, i) => ((set >> i) & 1 ? sum + h : sum), 0),
  );
}

/** The sums of all parts that are likely enough to be told: the first, and the one after the last. */
function likelySums(
  chances: readonly Float64Array[],
  steps: Int32Array,
  length: number,
  least: number,
): { first: number; end: number } {
  if (least === 0) return { first: 0, end: length };
  let sums = new Float64Array(length);
  sums[0] = 1;
  let end = 1;
  for (const p of chances) {
    const next = new Float64Array(length);
    let reached = 0;
    for (let v = 0; v < steps.length; v++) {
      if (p[v] === 0) continue;
      addTo(next, steps[v]!, sums, 0, end, p[v]!);
      reached = Math.max(reached, steps[v]!);
    }
    sums = next;
    end += reached;
  }
  let first = 0;
  while (first < end && sums[first]! < least) first++;
  while (end > first && sums[end - 1]! < least) end--;
  return { first, end };
}

/** So many of each are taken together, since they lie near each other. */
const BLOCK = 16;

/** Columns of so many sums, one a value, as rows of values, one a sum. */
function rowsOf(table: Float64Array, at: number, width: number, sums: number): Float64Array {
  const rows = new Float64Array(width * sums);
  for (let start = 0; start < sums; start += BLOCK) {
    const stop = Math.min(start + BLOCK, sums);
    for (let v = 0; v < width; v++) {
      for (let s = start; s < stop; s++) rows[s * width + v] = table[at + v * sums + s]!;
    }
  }
  return rows;
}

/** The same of chances of having no lower value, as chances of having that value. */
function differencesOf(table: Float64Array, at: number, width: number, sums: number): Float64Array {
  const rows = new Float64Array(width * sums);
  for (let start = 0; start < sums; start += BLOCK) {
    const stop = Math.min(start + BLOCK, sums);
    for (let v = 0; v < width; v++) {
      const here = at + v * sums;
      const above = v + 1 < width ? here + sums : -1;
      for (let s = start; s < stop; s++) {
        const higher = above < 0 ? 0 : table[above + s]!;
        rows[s * width + v] = Math.max(table[here + s]! - higher, 0);
      }
    }
  }
  return rows;
}
