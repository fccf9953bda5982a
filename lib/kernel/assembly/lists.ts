/** Lists of numbers, two at a time. */
import { at, greater, less } from './memory';

/** target[k] += weight · source[k] */
export function addWeighted(target: usize, source: usize, length: i32, weight: f64): void {
  const by = f64x2.splat(weight);
  const two = at(target, length & ~1);
  while (target < two) {
    v128.store(target, f64x2.add(v128.load(target), f64x2.mul(by, v128.load(source))));
    target += 16;
    source += 16;
  }
  if (length & 1) store<f64>(target, load<f64>(target) + weight * load<f64>(source));
}

/** The same for several rows, each so far from the one before. */
export function addRows(
  target: usize,
  targetStep: i32,
  source: usize,
  sourceStep: i32,
  rows: i32,
  length: i32,
  weight: f64,
): void {
  for (let row = 0; row < rows; row++) {
    addWeighted(at(target, row * targetStep), at(source, row * sourceStep), length, weight);
  }
}

/** target[i + k] += list[i] · weights[k], for all of both. */
export function convolve(
  target: usize,
  list: usize,
  length: i32,
  weights: usize,
  count: i32,
): void {
  for (let k = 0; k < count; k++) {
    const weight = load<f64>(at(weights, k));
    if (weight !== 0) addWeighted(at(target, k), list, length, weight);
  }
}

/** sums[r] = Σ list[k] · table[r · step + k] */
export function sumProducts(
  sums: usize,
  list: usize,
  table: usize,
  step: i32,
  rows: i32,
  length: i32,
): void {
  for (let row = 0; row < rows; row++) {
    let sum = f64x2.splat(0);
    let more = f64x2.splat(0);
    let a = list;
    let b = at(table, row * step);
    const four = at(list, length & ~3);
    while (a < four) {
      sum = f64x2.add(sum, f64x2.mul(v128.load(a), v128.load(b)));
      more = f64x2.add(more, f64x2.mul(v128.load(a, 16), v128.load(b, 16)));
      a += 32;
      b += 32;
    }
    sum = f64x2.add(sum, more);
    let all = f64x2.extract_lane(sum, 0) + f64x2.extract_lane(sum, 1);
    const end = at(list, length);
    while (a < end) {
      all += load<f64>(a) * load<f64>(b);
      a += 8;
      b += 8;
    }
    store<f64>(at(sums, row), all);
  }
}

/**
 * What of a list is before each of its numbers, these counted half, on top of an offset; the list and
 * its squares are added to two others if `added`. Gives the offset and the whole list.
 */
export function addUp(
  before: usize,
  list: usize,
  together: usize,
  squares: usize,
  length: i32,
  offset: f64,
  added: i32,
): f64 {
  let sum = offset;
  for (let k = 0; k < length; k++) {
    const here = load<f64>(at(list, k));
    store<f64>(at(before, k), sum + here / 2);
    sum += here;
  }
  if (added) {
    addWeighted(together, list, length, 1);
    for (let k = 0; k < length; k++) {
      const here = load<f64>(at(list, k));
      store<f64>(at(squares, k), load<f64>(at(squares, k)) + here * here);
    }
  }
  return sum;
}

/** Σ list[k] · (all[k] - own[k]) */
export function sumShared(list: usize, all: usize, own: usize, length: i32): f64 {
  let sum: f64 = 0;
  for (let k = 0; k < length; k++) {
    sum += load<f64>(at(list, k)) * (load<f64>(at(all, k)) - load<f64>(at(own, k)));
  }
  return sum;
}

/** Σ |list[k] - other[k]|, but for one k. */
export function sumDistances(list: usize, other: usize, length: i32, except: i32): f64 {
  let sum: f64 = 0;
  for (let k = 0; k < length; k++) {
    if (k !== except) sum += abs(load<f64>(at(list, k)) - load<f64>(at(other, k)));
  }
  return sum;
}

/** Σ p (1 - p) of a list of chances p, but for one of them and the two for which it is most. */
export function leastVariance(list: usize, length: i32, except: i32): f64 {
  let sum: f64 = 0;
  let widest: f64 = 0;
  let wide: f64 = 0;
  for (let k = 0; k < length; k++) {
    if (k === except) continue;
    const p = load<f64>(at(list, k));
    const v = p * (1 - p);
    sum += v;
    wide = greater(wide, less(v, widest));
    widest = greater(widest, v);
  }
  return greater(sum - widest - wide, 0);
}
