/** Chances of first place if one runner were another: see lib/chances/titles.ts. */
import { at, greater, less, whole } from './memory';
import { MANY, NONE } from './products';

/** Below this a chance of first place is not followed. */
const NEGLIGIBLE: f64 = 1e-17;

/** What rounding leaves of a chance. */
const LEAST: f64 = f64.EPSILON / 2;

/** A count of titles, as it lies in memory. */
@unmanaged
export class Titles {
  size: i32;
  variants: i32;
  /** 1 when nobody can win with any of the results to come. */
  over: i32;
  /** By runner, then by variant: the chance of not being ahead of the result at hand, and how many it has left. */
  behind: usize;
  left: usize;
  /** By runner: the inverse of that chance. */
  inverse: usize;
  /** By variant: the runner it does not compete with; -1 where its titles are not asked. */
  of: usize;
  /** By variant and runner: the chance that the runner wins if the variant is the case. */
  titles: usize;
}

/** The product of all runners' factors but for one and those that are 0; which one is, and the least that is not. */
let zero: i32 = NONE;
let least: f64 = 1;

function productWithout(t: Titles, except: i32): f64 {
  let product: f64 = 1;
  zero = NONE;
  least = 1;
  for (let j = 0; j < t.size; j++) {
    if (j === except) continue;
    const factor = load<f64>(at(t.behind, j));
    if (factor === 0) zero = zero === NONE ? j : MANY;
    else {
      product *= factor;
      least = less(least, factor);
    }
  }
  return product;
}

/**
 * Results from the best to the worst: whose (variants count on from `size`), how likely, and whether
 * one equals the one before it.
 */
export function countTitles(
  t: Titles,
  who: usize,
  chances: usize,
  equals: usize,
  length: i32,
): void {
  for (let from = 0; from < length && t.over === 0; ) {
    let to = from + 1;
    while (to < length && load<u8>(equals + to) === 1) to++;
    for (let k = from; k < to; k++) {
      const i = load<i32>(whole(who, k));
      const chance = load<f64>(at(chances, k));
      if (i < t.size) land(t, i, chance);
      else landVariant(t, i - t.size, chance);
    }
    // Who shares a result is not ahead of it.
    for (let k = from; k < to; k++) {
      advance(t, load<i32>(whole(who, k)), load<f64>(at(chances, k)));
    }
    from = to;
  }
}

function landVariant(t: Titles, variant: i32, chance: f64): void {
  const own = load<i32>(whole(t.of, variant));
  if (own < 0) return;
  const product = productWithout(t, own);
  if (zero !== NONE) return;
  const title = at(t.titles, variant * t.size + own);
  store<f64>(title, load<f64>(title) + chance * product);
}

function land(t: Titles, runner: i32, chance: f64): void {
  const product = productWithout(t, runner);
  if (zero === MANY) {
    t.over = 1;
    return;
  }
  const all = chance * product;
  let title = at(t.titles, runner);
  for (let h = 0; h < t.variants; h++, title += (<usize>t.size) << 3) {
    const g = load<i32>(whole(t.of, h));
    if (g < 0 || g === runner || (zero !== NONE && zero !== g)) continue;
    const others = zero === g ? all : all * load<f64>(at(t.inverse, g));
    store<f64>(title, load<f64>(title) + others * load<f64>(at(t.behind, t.size + h)));
  }
  if (product < NEGLIGIBLE * least) t.over = 1;
}

function advance(t: Titles, i: i32, chance: f64): void {
  const left = load<i32>(whole(t.left, i)) - 1;
  store<i32>(whole(t.left, i), left);
  const behind = left === 0 ? 0 : greater(load<f64>(at(t.behind, i)) - chance, LEAST);
  store<f64>(at(t.behind, i), behind);
  if (i < t.size && behind > 0) store<f64>(at(t.inverse, i), 1 / behind);
}
