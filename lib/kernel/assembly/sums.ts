/** What some parts add up to, with the lowest value among them: see lib/chances/cells/lows.ts. */
import { addWeighted } from './lists';
import { at, whole } from './memory';

/** What is handed out, as it lies in memory. */
@unmanaged
export class Parts {
  /** How many parts there are, and values. */
  count: i32;
  values: i32;
  /** How many gaps are told apart besides the first. */
  gaps: i32;
  /** By part and value: the chance. */
  chances: usize;
  /** By value: the A and the B that it adds to a sum. */
  by: usize;
  up: usize;
  /** By gap but the first, and value: the first of the values that leave no smaller gap. */
  beyond: usize;
  /** By gap but the first: the highest value that has not been gone through for it. */
  waiting: usize;
  /** By set of parts: how many B its sums have, their first A and how many there are, and where they are. */
  planes: usize;
  lowest: usize;
  height: usize;
  sums: usize;
  /** By set: the A of its sums that have a chance. */
  from: usize;
  to: usize;
  /** By layer, value and sum of all parts; layers as in `fillRows`. */
  columns: usize;
  /** By value: the A of the sums in its columns, from the first that is told. */
  columnFrom: usize;
  columnTo: usize;
}

/** Hands values out from the highest down; who has had one is kept as a set. */
export function handOut(parts: Parts): void {
  const all = (1 << parts.count) - 1;
  const values = parts.values;
  for (let v = values; v >= 0; v--) {
    for (let part = 0; v < values && part < parts.count; part++) {
      const chance = load<f64>(at(parts.chances, part * values + v));
      if (chance === 0) continue;
      for (let set = 0; set < all; set++) {
        if ((set >> part) & 1) continue;
        addPart(parts, set, set | (1 << part), chance, v, v);
      }
    }
    // The values to which those handed out so far leave no smaller gap.
    for (let gap = 0; gap < parts.gaps; gap++) {
      const beyond = whole(parts.beyond, gap * values);
      let low = load<i32>(whole(parts.waiting, gap));
      for (; low >= 0 && load<i32>(whole(beyond, low)) === v; low--) {
        for (let part = 0; part < parts.count; part++) {
          const chance = load<f64>(at(parts.chances, part * values + low));
          if (chance === 0) continue;
          addPart(parts, all & ~(1 << part), all, chance, low, (gap + 1) * values + low);
        }
      }
      store<i32>(whole(parts.waiting, gap), low);
    }
  }
}

/** Adds the sums of a set with one part more, which has value v, to those of the next set. */
function addPart(parts: Parts, set: i32, next: i32, chance: f64, v: i32, column: i32): void {
  const all = (1 << parts.count) - 1;
  const a = load<i32>(whole(parts.by, v));
  const lowest = load<i32>(whole(parts.lowest, set));
  const under = load<i32>(whole(parts.lowest, next));
  const height = load<i32>(whole(parts.height, set));
  const tall = load<i32>(whole(parts.height, next));
  const start = max(load<i32>(whole(parts.from, set)), under - a);
  const stop = min(
    load<i32>(whole(parts.to, set)),
    next === all ? under + tall - a : i32.MAX_VALUE,
  );
  if (start >= stop) return;
  let target = load<usize>(whole(parts.sums, next));
  let least = whole(parts.from, next);
  let most = whole(parts.to, next);
  let move = a;
  if (next === all) {
    target = at(parts.columns, column * load<i32>(whole(parts.planes, all)) * tall);
    least = whole(parts.columnFrom, v);
    most = whole(parts.columnTo, v);
    move = a - under;
  }
  target = at(target, load<i32>(whole(parts.up, v)) * tall + start + a - under);
  let source = at(load<usize>(whole(parts.sums, set)), start - lowest);
  for (let b = load<i32>(whole(parts.planes, set)); b > 0; b--) {
    addWeighted(target, source, stop - start, chance);
    target = at(target, tall);
    source = at(source, height);
  }
  store<i32>(least, min(load<i32>(least), start + move));
  store<i32>(most, max(load<i32>(most), stop + move));
}
