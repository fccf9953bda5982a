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
  let product = new Float64Array(size + 2);
  let degree = 0;
  let sure = 0;
  product[0] = 1;
  // What is left of it without the factor of one; -1 where it is of nobody.
  let quotient = new Float64Array(size + 2);
  let without = -1;

  const divideBy = (who: number, p: number): void => {
    if (without !== who) divide(product, degree, p, quotient);
    without = who;
  };
  const include = (p: number): void => {
    without = -1;
    if (p >= 1) sure++;
    else if (p > 0) multiply(product, degree++, p);
  };
  const exclude = (who: number): void => {
    const p = counted[who] ?? 0;
    if (p >= 1) sure--;
    else if (p > 0) {
      divideBy(who, p);
      [product, quotient] = [quotient, product];
      degree--;
    }
  };
  const renew = (): void => {
    product.fill(0).fill(1, 0, 1);
    degree = 0;
    sure = 0;
    changes = 0;
    counted.set(chances);
    for (const p of chances) include(p);
  };
  const flush = (): void => {
    changes += waiting;
    // Many are sooner multiplied anew than exchanged.
    if (4 * waiting > degree || changes > MOST_CHANGES) renew();
    else {
      for (let k = 0; k < waiting; k++) {
        const who = pending[k] ?? 0;
        exclude(who);
        counted[who] = chances[who] ?? 0;
        include(chances[who] ?? 0);
      }
    }
    waiting = 0;
  };
  return {
    set: (who, p) => {
      if (chances[who] === counted[who]) pending[waiting++] = who;
      chances[who] = p;
    },
    addOthers: (who, at, weight, bound) => {
      if (waiting > 0) flush();
      const p = counted[who] ?? 0;
      const isOpen = p > 0 && p < 1;
      if (isOpen) divideBy(who, p);
      const others = isOpen ? quotient : product;
      const count = isOpen ? degree : degree + 1;
      const from = p >= 1 ? at + sure - 1 : at + sure;
      addScaled(sums, from, others, 0, count, weight);
      if (bound !== 0) addScaled(bounds, from, others, 0, count, bound);
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

/** The quotient of a product of that degree and its factor (1 - p + p x). */
function divide(product: Float64Array, degree: number, p: number, quotient: Float64Array): void {
  let before = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    const ratio = p * inverse;
    for (let k = 0; k < degree; k++) {
      before = (product[k] ?? 0) * inverse - ratio * before;
      quotient[k] = before;
    }
    return;
  }
  const inverse = 1 / p;
  const ratio = (1 - p) * inverse;
  let here = product[degree] ?? 0;
  for (let k = degree - 1; k >= 0; k--) {
    before = here * inverse - ratio * before;
    here = product[k] ?? 0;
    quotient[k] = before;
  }
}
