/** Products of factors 1 - p + p x, one a rival, and what is left without one of them. */
import { at, greater } from './memory';

/** Which of some factors is 0: none is; more than one is. */
export const NONE: i32 = -1;
export const MANY: i32 = -2;

/**
 * The product of the factors 1 - p + p x but for one, those of p = 1 left out; gives its degree, and
 * in the upper half how many were left out.
 */
export function multiply(product: usize, chances: usize, size: i32, except: i32): i32 {
  let degree = 0;
  let sure = 0;
  let waiting: f64 = 0;
  store<f64>(product, 1);
  for (let j = 0; j < size; j++) {
    const p = load<f64>(at(chances, j));
    if (p === 0 || j === except) continue;
    if (p === 1) {
      sure++;
      continue;
    }
    if (waiting === 0) {
      waiting = p;
      continue;
    }
    multiplyByTwo(product, degree, waiting, p);
    degree += 2;
    waiting = 0;
  }
  if (waiting > 0) multiplyByOne(product, degree++, waiting);
  return degree | (sure << 16);
}

/** Multiplies a product by one factor more. */
export function multiplyByOne(product: usize, degree: i32, p: f64): void {
  const c = 1 - p;
  store<f64>(at(product, degree + 1), load<f64>(at(product, degree)) * p);
  for (let k = degree; k > 0; k--) {
    const a = at(product, k);
    store<f64>(a, load<f64>(a) * c + load<f64>(a - 8) * p);
  }
  store<f64>(product, load<f64>(product) * c);
}

function multiplyByTwo(product: usize, degree: i32, p: f64, q: f64): void {
  const none = (1 - p) * (1 - q);
  const one = p * (1 - q) + q * (1 - p);
  const two = p * q;
  const byNone = f64x2.splat(none);
  const byOne = f64x2.splat(one);
  const byTwo = f64x2.splat(two);
  store<f64>(at(product, degree + 1), 0);
  store<f64>(at(product, degree + 2), 0);
  // From the top down, so that what is needed has not been written over; two numbers at a time.
  let k = degree + 2;
  for (; k > 2; k -= 2) {
    const a = at(product, k - 1);
    const higher = f64x2.mul(v128.load(a), byNone);
    const lower = f64x2.add(
      f64x2.mul(v128.load(a - 8), byOne),
      f64x2.mul(v128.load(a - 16), byTwo),
    );
    v128.store(a, f64x2.add(higher, lower));
  }
  if (k === 2) {
    const a = at(product, 2);
    store<f64>(a, load<f64>(a) * none + load<f64>(a - 8) * one + load<f64>(a - 16) * two);
  }
  const a = at(product, 1);
  store<f64>(a, load<f64>(a) * none + load<f64>(product) * one);
  store<f64>(product, load<f64>(product) * none);
}

/** The quotient of a product of such factors and one of them, 0 < p < 1. */
function divide(quotient: usize, product: usize, degree: i32, p: f64): void {
  let last: f64 = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    const ratio = p * inverse;
    for (let k = 0; k < degree; k++) {
      last = load<f64>(at(product, k)) * inverse - ratio * last;
      store<f64>(at(quotient, k), last);
    }
  } else {
    const inverse = 1 / p;
    const ratio = (1 - p) * inverse;
    for (let k = degree; k > 0; k--) {
      last = load<f64>(at(product, k)) * inverse - ratio * last;
      store<f64>(at(quotient, k - 1), last);
    }
  }
}

/**
 * By coefficient: the most that it can change when one more factor becomes x or 1, whichever of the
 * factors it is, besides `sure` that are x. Gives the same for the sum of those before `edge`.
 */
export function findChanges(
  changes: usize,
  quotient: usize,
  product: usize,
  chances: usize,
  size: i32,
  except: i32,
  degree: i32,
  sure: i32,
  edge: i32,
): f64 {
  let most: f64 = 0;
  for (let j = 0; j < size; j++) {
    const p = load<f64>(at(chances, j));
    if (j === except || p === 1) continue;
    let rest = product;
    let count = degree + 1;
    if (p > 0) {
      divide(quotient, product, degree, p);
      rest = quotient;
      count = degree;
    }
    let last: f64 = 0;
    for (let k = 0; k <= count && sure + k < size; k++) {
      const here = k < count ? load<f64>(at(rest, k)) : 0;
      const change = at(changes, sure + k);
      store<f64>(change, greater(load<f64>(change), abs(here - last)));
      last = here;
    }
    const before = edge - 1 - sure;
    if (before >= 0 && before < count) most = greater(most, load<f64>(at(rest, before)));
  }
  return most;
}
