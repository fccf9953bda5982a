/**
 * How many of some are ahead, each independently with a chance of its own: a Poisson-binomial count
 * (Hong, Computational Statistics & Data Analysis 59, 2013). Its chances are the coefficients of
 * Π (1 - p + p x). How many of the others are ahead is what is left of it without one factor. Dividing
 * by a factor is stable from the low end for p ≤ 1/2 and from the high end for p > 1/2.
 */
import { addScaled } from '../../range/vector.js';

/** Counts those ahead, and adds up what follows from it. */
export interface AheadCount {
  /** The chance that somebody is ahead is p from now on. */
  readonly set: (who: number, p: number) => void;
  /** Adds the chance that k of the others are ahead, so weighted, to `sums` from `at + k`, and so bounded to `bounds`. */
  readonly addOthers: (who: number, at: number, weight: number, bound: number) => void;
  /** Both in one: adds the weighted chances, then sets. */
  readonly addAndSet: (who: number, at: number, weight: number, p: number) => void;
}

/** Where counts are added up. */
interface CountSums {
  readonly sums: Float64Array;
  readonly bounds: Float64Array;
}

/** The product is made anew after so many changes one by one, so that rounding cannot add up. */
const MOST_CHANGES = 64;

/** Everybody counts; at the beginning nobody is ahead. */
export function aheadCount(size: number, { sums, bounds }: CountSums): AheadCount {
  // By who: the chance that was set; and that which is in the product, which is changed when it is needed.
  const chances = new Float64Array(size);
  const counted = new Float64Array(size);
  const pending = new Int32Array(size);
  let waiting = 0;
  let changes = 0;
  // The product of the factors with 0 < p < 1, how many they are, and how many have p = 1.
  const product = new Float64Array(size + 2);
  let degree = 0;
  let sure = 0;
  product[0] = 1;

  const include = (p: number): void => {
    if (p >= 1) sure++;
    else if (p > 0) multiply(product, degree++, p);
  };
  const renew = (): void => {
    product.fill(0);
    product[0] = 1;
    degree = 0;
    sure = 0;
    changes = 0;
    for (let i = 0; i < size; i++) {
      counted[i] = chances[i] ?? 0;
      include(chances[i] ?? 0);
    }
  };
  const exclude = (p: number): void => {
    if (p >= 1) sure--;
    else if (p > 0) divide(product, degree--, p);
  };
  const flush = (): void => {
    // Many are sooner multiplied anew than exchanged.
    if (4 * waiting > degree || changes + waiting > MOST_CHANGES) renew();
    else {
      for (let k = 0; k < waiting; k++) {
        const who = pending[k] ?? 0;
        exclude(counted[who] ?? 0);
        counted[who] = chances[who] ?? 0;
        include(chances[who] ?? 0);
      }
      changes += waiting;
    }
    waiting = 0;
  };
  const set = (who: number, p: number): void => {
    if (chances[who] === counted[who]) pending[waiting++] = who;
    chances[who] = p;
  };
  const addOthers = (who: number, at: number, weight: number, bound: number): void => {
    if (waiting > 0) flush();
    const p = counted[who] ?? 0;
    if (p > 0 && p < 1) {
      if (bound === 0) addQuotient(product, degree, p, sums, at + sure, weight);
      else addTwice(product, degree, p, sums, bounds, at + sure, weight, bound);
      return;
    }
    const from = at + (p >= 1 ? sure - 1 : sure);
    addScaled(sums, from, product, 0, degree + 1, weight);
    if (bound !== 0) addScaled(bounds, from, product, 0, degree + 1, bound);
  };
  return {
    set,
    addOthers,
    addAndSet: (who, at, weight, p) => {
      if (waiting > 0) flush();
      const old = counted[who] ?? 0;
      if (old <= 0 || p >= 1 || ++changes > MOST_CHANGES) {
        addOthers(who, at, weight, 0);
        set(who, p);
        return;
      }
      exchange(product, degree, old, p, sums, at + sure, weight);
      chances[who] = p;
      counted[who] = p;
    },
  };
}

/** Multiplies a product of that degree by (1 - p + p x). */
function multiply(product: Float64Array, degree: number, p: number): void {
  const rest = 1 - p;
  let before = 0;
  for (let k = 0; k <= degree; k++) {
    const here = product[k] ?? 0;
    product[k] = here * rest + before * p;
    before = here;
  }
  product[degree + 1] = before * p;
}

/** Divides a product of that degree by its factor (1 - p + p x). */
function divide(product: Float64Array, degree: number, p: number): void {
  let quotient = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    for (let k = 0; k < degree; k++) {
      quotient = (product[k] ?? 0) * inverse - p * inverse * quotient;
      product[k] = quotient;
    }
    product[degree] = 0;
    return;
  }
  const inverse = 1 / p;
  let here = product[degree] ?? 0;
  product[degree] = 0;
  for (let k = degree - 1; k >= 0; k--) {
    quotient = here * inverse - (1 - p) * inverse * quotient;
    here = product[k] ?? 0;
    product[k] = quotient;
  }
}

/** Adds the quotient of a product and its factor (1 - p + p x), so weighted, to a list from `at`. */
function addQuotient(
  product: Float64Array,
  degree: number,
  p: number,
  to: Float64Array,
  at: number,
  weight: number,
): void {
  let quotient = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    const ratio = p * inverse;
    for (let k = 0; k < degree; k++) {
      quotient = (product[k] ?? 0) * inverse - ratio * quotient;
      to[at + k] = (to[at + k] ?? 0) + weight * quotient;
    }
    return;
  }
  const inverse = 1 / p;
  const ratio = (1 - p) * inverse;
  for (let k = degree; k > 0; k--) {
    quotient = (product[k] ?? 0) * inverse - ratio * quotient;
    to[at + k - 1] = (to[at + k - 1] ?? 0) + weight * quotient;
  }
}

/** The same to two lists. */
function addTwice(
  product: Float64Array,
  degree: number,
  p: number,
  one: Float64Array,
  other: Float64Array,
  at: number,
  weight: number,
  bound: number,
): void {
  let quotient = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    const ratio = p * inverse;
    for (let k = 0; k < degree; k++) {
      quotient = (product[k] ?? 0) * inverse - ratio * quotient;
      one[at + k] = (one[at + k] ?? 0) + weight * quotient;
      other[at + k] = (other[at + k] ?? 0) + bound * quotient;
    }
    return;
  }
  const inverse = 1 / p;
  const ratio = (1 - p) * inverse;
  for (let k = degree; k > 0; k--) {
    quotient = (product[k] ?? 0) * inverse - ratio * quotient;
    one[at + k - 1] = (one[at + k - 1] ?? 0) + weight * quotient;
    other[at + k - 1] = (other[at + k - 1] ?? 0) + bound * quotient;
  }
}

/** Adds that quotient, and puts another factor in the place of the one divided by. */
function exchange(
  product: Float64Array,
  degree: number,
  p: number,
  next: number,
  to: Float64Array,
  at: number,
  weight: number,
): void {
  const rest = 1 - next;
  let quotient = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    const ratio = p * inverse;
    for (let k = 0; k < degree; k++) {
      const before = quotient;
      quotient = (product[k] ?? 0) * inverse - ratio * quotient;
      to[at + k] = (to[at + k] ?? 0) + weight * quotient;
      product[k] = quotient * rest + before * next;
    }
    product[degree] = quotient * next;
    return;
  }
  const inverse = 1 / p;
  const ratio = (1 - p) * inverse;
  for (let k = degree; k > 0; k--) {
    const after = quotient;
    quotient = (product[k] ?? 0) * inverse - ratio * quotient;
    to[at + k - 1] = (to[at + k - 1] ?? 0) + weight * quotient;
    product[k] = after * rest + quotient * next;
  }
  product[0] = quotient * rest;
}
