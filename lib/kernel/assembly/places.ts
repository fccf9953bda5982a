/** Places from the chances of being ahead, one result after another: see lib/chances/places.ts. */

import { addWeighted } from './lists';
import { at, greater, less, whole } from './memory';
import { multiply, multiplyByOne } from './products';

/** How many factors are exchanged one by one before the product is made anew. */
const EXCHANGES: i32 = 64;

/** Up to so many who share a place are taken out of the product one by one. */
const FEW: i32 = 4;

const BELOW_ONE: f64 = 1 - f64.EPSILON / 2;

/** A count of places, as it lies in memory. */
@unmanaged
export class Count {
  size: i32;
  /** Of the product, and how many are ahead for certain. */
  degree: i32;
  sure: i32;
  exchanges: i32;
  /** By runner, then by variant, and place: the chance. */
  places: usize;
  /** By runner: the chance that it is ahead of the result at hand; and how many results it has left. */
  ahead: usize;
  left: usize;
  product: usize;
  /** By variant: the runner it does not compete with; -1 where its places are not asked. */
  of: usize;
}

/**
 * Adds a chance times the count of those ahead, each with its own chance of that, but for one of them
 * to a row of places. Gives the degree of their product, and in the upper half how many are sure.
 */
export function place(
  row: usize,
  product: usize,
  ahead: usize,
  size: i32,
  except: i32,
  chance: f64,
): i32 {
  const made = multiply(product, ahead, size, except);
  addWeighted(at(row, made >> 16), product, (made & 0xffff) + 1, chance);
  return made;
}

/**
 * Before that: the chances of being ahead of those who have a result here, but for one of them. To
 * what each has ahead of all that is here comes, weighted, what it has ahead of her.
 */
export function raise(
  ahead: usize,
  before: usize,
  who: usize,
  length: i32,
  except: i32,
  besides: usize,
  weight: f64,
): void {
  for (let k = 0; k < length; k++) {
    if (k === except) continue;
    const runner = load<i32>(whole(who, k));
    const more = greater(load<f64>(at(besides, k)), 0) * weight;
    store<f64>(at(ahead, runner), less(load<f64>(at(before, runner)) + more, 1));
  }
}

/** Results of those who are stale, by runner 1, become nobody's. */
export function leaveOut(who: usize, length: i32, stale: usize, nobody: i32): void {
  for (let k = 0; k < length; k++) {
    const whose = whole(who, k);
    if (load<u8>(stale + load<i32>(whose)) === 1) store<i32>(whose, nobody);
  }
}

/**
 * Results from the best to the worst: whose (variants count on from `size`), how likely, and whether
 * one equals the one before it. Those that are equal are put in another order.
 */
export function countResults(
  count: Count,
  who: usize,
  chances: usize,
  equals: usize,
  length: i32,
): void {
  for (let from = 0; from < length; ) {
    let to = from + 1;
    while (to < length && load<u8>(equals + to) === 1) to++;
    // The variants are counted before those of runners that equal them.
    let runners = from;
    for (let k = from; k < to; k++) {
      const i = load<i32>(whole(who, k));
      const chance = load<f64>(at(chances, k));
      if (i >= count.size) {
        const without = load<i32>(whole(count.of, i - count.size));
        if (without >= 0) addOthers(count, at(count.places, i * count.size), without, chance);
        continue;
      }
      store<i32>(whole(who, runners), i);
      store<f64>(at(chances, runners), chance);
      runners++;
    }
    if (runners - from > 1) countShared(count, whole(who, from), at(chances, from), runners - from);
    else if (runners > from) {
      const chance = load<f64>(at(chances, from));
      exchange(count, load<i32>(whole(who, from)), chance, chance);
    }
    from = to;
  }
}

/** Results that are equal: who is on them shares a place. */
function countShared(count: Count, who: usize, chances: usize, length: i32): void {
  // Two whose factors are divided out from the same end are, at one time: each step waits for the last.
  let low = -1;
  let high = -1;
  for (let k = 0; k < length; k++) {
    const a = load<f64>(at(count.ahead, load<i32>(whole(who, k))));
    if (a === 0 || a === 1) addOthersOf(count, who, chances, k);
    else if (a <= 0.5) {
      if (low < 0) low = k;
      else {
        addOthersOfTwo(count, who, chances, low, k, true);
        low = -1;
      }
    } else if (high < 0) high = k;
    else {
      addOthersOfTwo(count, who, chances, high, k, false);
      high = -1;
    }
  }
  if (low >= 0) addOthersOf(count, who, chances, low);
  if (high >= 0) addOthersOf(count, who, chances, high);
  if (length <= FEW) {
    for (let k = 0; k < length; k++) {
      exchange(count, load<i32>(whole(who, k)), load<f64>(at(chances, k)), 0);
    }
    return;
  }
  for (let k = 0; k < length; k++) {
    const runner = load<i32>(whole(who, k));
    store<f64>(at(count.ahead, runner), advanced(count, runner, load<f64>(at(chances, k))));
  }
  remake(count);
}

/** Adds the others' count to the places of the one with result k. */
function addOthersOf(count: Count, who: usize, chances: usize, k: i32): void {
  const runner = load<i32>(whole(who, k));
  const row = at(count.places, runner * count.size);
  addOthers(count, row, runner, load<f64>(at(chances, k)));
}

/** The same of two, both at most 1/2 likely to be ahead, or both more. */
function addOthersOfTwo(
  count: Count,
  who: usize,
  chances: usize,
  k: i32,
  l: i32,
  forward: bool,
): void {
  const i = load<i32>(whole(who, k));
  const j = load<i32>(whole(who, l));
  const a = load<f64>(at(count.ahead, i));
  const b = load<f64>(at(count.ahead, j));
  const kept = f64x2.replace_lane(f64x2.splat(forward ? 1 - a : a), 1, forward ? 1 - b : b);
  const inverse = f64x2.div(f64x2.splat(1), kept);
  const ratio = f64x2.mul(f64x2.sub(f64x2.splat(1), kept), inverse);
  const p = load<f64>(at(chances, k));
  const q = load<f64>(at(chances, l));
  const degree = count.degree;
  let product = forward ? count.product : at(count.product, degree);
  const start = count.sure + (forward ? 0 : degree - 1);
  let one = at(count.places, i * count.size + start);
  let two = at(count.places, j * count.size + start);
  const step: usize = forward ? 8 : -8;
  let last = f64x2.splat(0);
  for (let n = degree; n > 0; n--) {
    last = f64x2.sub(f64x2.mul(v128.load64_splat(product), inverse), f64x2.mul(ratio, last));
    store<f64>(one, load<f64>(one) + p * f64x2.extract_lane(last, 0));
    store<f64>(two, load<f64>(two) + q * f64x2.extract_lane(last, 1));
    product += step;
    one += step;
    two += step;
  }
}

/** The chance of being ahead once a result has been passed; exactly 1 after the last. */
function advanced(count: Count, runner: i32, chance: f64): f64 {
  const left = load<i32>(whole(count.left, runner)) - 1;
  store<i32>(whole(count.left, runner), left);
  return left === 0 ? 1 : less(load<f64>(at(count.ahead, runner)) + chance, BELOW_ONE);
}

/** Adds a chance times the count of those ahead but for one runner to a row of places. */
function addOthers(count: Count, row: usize, without: i32, chance: f64): void {
  const degree = count.degree;
  const product = count.product;
  const a = load<f64>(at(count.ahead, without));
  let to = at(row, count.sure);
  if (a === 0 || a === 1) {
    if (a === 1) to -= 8;
    for (let k = 0; k <= degree; k++) {
      store<f64>(at(to, k), load<f64>(at(to, k)) + chance * load<f64>(at(product, k)));
    }
    return;
  }
  let last: f64 = 0;
  if (a <= 0.5) {
    const inverse = 1 / (1 - a);
    const ratio = a * inverse;
    for (let k = 0; k < degree; k++) {
      last = load<f64>(at(product, k)) * inverse - ratio * last;
      store<f64>(at(to, k), load<f64>(at(to, k)) + chance * last);
    }
  } else {
    const inverse = 1 / a;
    const ratio = (1 - a) * inverse;
    for (let k = degree - 1; k >= 0; k--) {
      last = load<f64>(at(product, k + 1)) * inverse - ratio * last;
      store<f64>(at(to, k), load<f64>(at(to, k)) + chance * last);
    }
  }
}

/**
 * Adds `counted` times the others' count to the runner's places, and puts its new factor in the place
 * of the old one. Dividing forward is stable up to 1/2, backward from there.
 */
function exchange(count: Count, runner: i32, chance: f64, counted: f64): void {
  const degree = count.degree;
  const product = count.product;
  const to = at(count.places, runner * count.size + count.sure);
  const a = load<f64>(at(count.ahead, runner));
  const b = advanced(count, runner, chance);
  store<f64>(at(count.ahead, runner), b);
  if (a === 0) {
    for (let k = 0; k <= degree; k++) {
      store<f64>(at(to, k), load<f64>(at(to, k)) + counted * load<f64>(at(product, k)));
    }
    if (b === 1) {
      count.sure++;
      return;
    }
    multiplyByOne(product, degree, b);
    count.degree = degree + 1;
  } else if (a <= 0.5) exchangeForward(product, to, degree, a, b, counted);
  else exchangeBackward(product, to, degree, a, b, counted);
  if (b === 1 && a !== 0) {
    // The factor is x now: what was taken up is moved down again, and counted as sure.
    memory.copy(product, at(product, 1), (<usize>degree) << 3);
    count.degree--;
    count.sure++;
  }
  if (++count.exchanges >= EXCHANGES) remake(count);
}

/**
 * The factor of chance a is divided out from the low end, the quotient counted, and the factor of
 * chance b put in. With q[k] = product[k] / (1 - a) - r q[k-1], two steps at a time are
 * q[k] = (product[k] - r product[k-1]) / (1 - a) + r² q[k-2], so that they need not wait for each other.
 */
function exchangeForward(
  product: usize,
  to: usize,
  degree: i32,
  a: f64,
  b: f64,
  counted: f64,
): void {
  const inverse = 1 / (1 - a);
  const ratio = a * inverse;
  const c = 1 - b;
  const kept = f64x2.splat(c);
  const raised = f64x2.splat(b);
  const weight = f64x2.splat(counted);
  const here = f64x2.splat(inverse);
  const below = f64x2.splat(inverse * ratio);
  const twoBelow = f64x2.splat(ratio * ratio);
  let factors = f64x2.splat(0);
  let quotient = f64x2.splat(0);
  const even = degree & ~1;
  for (let k = 0; k < even; k += 2) {
    const next = v128.load(product);
    const fewer = f64x2.mul(v128.shuffle<i64>(factors, next, 1, 2), below);
    const q = f64x2.add(f64x2.sub(f64x2.mul(next, here), fewer), f64x2.mul(quotient, twoBelow));
    const last = v128.shuffle<i64>(quotient, q, 1, 2);
    v128.store(to, f64x2.add(v128.load(to), f64x2.mul(weight, q)));
    v128.store(product, f64x2.add(f64x2.mul(q, kept), f64x2.mul(last, raised)));
    factors = next;
    quotient = q;
    product += 16;
    to += 16;
  }
  let last = f64x2.extract_lane(quotient, 1);
  if (degree & 1) {
    const q = load<f64>(product) * inverse - ratio * last;
    store<f64>(to, load<f64>(to) + counted * q);
    store<f64>(product, q * c + last * b);
    last = q;
    product += 8;
  }
  store<f64>(product, last * b);
}

/** The same from the high end: q[k-1] = product[k] / a - r q[k]. */
function exchangeBackward(
  product: usize,
  to: usize,
  degree: i32,
  a: f64,
  b: f64,
  counted: f64,
): void {
  const inverse = 1 / a;
  const ratio = (1 - a) * inverse;
  const c = 1 - b;
  const kept = f64x2.splat(c);
  const raised = f64x2.splat(b);
  const weight = f64x2.splat(counted);
  const here = f64x2.splat(inverse);
  const above = f64x2.splat(inverse * ratio);
  const twoAbove = f64x2.splat(ratio * ratio);
  let factors = f64x2.splat(0);
  let quotient = f64x2.splat(0);
  let k = degree;
  for (; k > 1; k -= 2) {
    const there = at(product, k - 1);
    const target = at(to, k - 2);
    const next = v128.load(there);
    const more = f64x2.mul(v128.shuffle<i64>(next, factors, 1, 2), above);
    const q = f64x2.add(f64x2.sub(f64x2.mul(next, here), more), f64x2.mul(quotient, twoAbove));
    const last = v128.shuffle<i64>(q, quotient, 1, 2);
    v128.store(target, f64x2.add(v128.load(target), f64x2.mul(weight, q)));
    v128.store(there, f64x2.add(f64x2.mul(last, kept), f64x2.mul(q, raised)));
    factors = next;
    quotient = q;
  }
  let last = f64x2.extract_lane(quotient, 0);
  if (k === 1) {
    const q = load<f64>(at(product, 1)) * inverse - ratio * last;
    store<f64>(to, load<f64>(to) + counted * q);
    store<f64>(at(product, 1), last * c + q * b);
    last = q;
  }
  store<f64>(product, last * c);
}

function remake(count: Count): void {
  count.exchanges = 0;
  const made = multiply(count.product, count.ahead, count.size, -1);
  count.degree = made & 0xffff;
  count.sure = made >> 16;
}
