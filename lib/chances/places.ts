/**
 * Places from the chances of being ahead. How many of the others end ahead of a result is a
 * Poisson-binomial count (Hong, Computational Statistics & Data Analysis 59, 2013): its chances are
 * the coefficients of the product of (1 - p + p x), one factor a rival. Results are gone through
 * from the best to the worst, and the product is kept up to date.
 */

/** How many factors are exchanged one by one before the product is made anew. */
const EXCHANGES = 64;

/** Up to so many who share a place are taken out of the product one by one. */
const FEW = 4;

export class PlaceCount {
  /** By runner and place: the chance. */
  readonly places: Float64Array;
  /** By runner: the chance that it is ahead of the result at hand. */
  private readonly ahead: Float64Array;
  private readonly results: Int32Array;
  private readonly product: Float64Array;
  private degree = 0;
  /** How many are ahead for certain. */
  private sure = 0;
  private exchanges = 0;
  /** By variant and place. */
  readonly variantPlaces: Float64Array;

  /**
   * `results`: how many each runner has, all of which must be told. `variantOf`: by variant, the
   * runner it does not compete with.
   */
  constructor(
    private readonly size: number,
    results: ArrayLike<number>,
    private readonly variantOf: readonly number[] = [],
  ) {
    this.variantPlaces = new Float64Array(variantOf.length * size);
    this.places = new Float64Array(size * size);
    this.ahead = new Float64Array(size);
    this.results = Int32Array.from(results);
    this.product = new Float64Array(size + 1);
    this.product[0] = 1;
  }

  /** The next best result, which nobody else can have. */
  single(runner: number, chance: number): void {
    this.exchange(runner, chance, chance);
  }

  /** What a variant could have, before the results of runners that equal it are told. */
  variant(variant: number, chance: number): void {
    this.addOthers(this.variantPlaces, variant, this.variantOf[variant]!, chance);
  }

  /** The next best results, all equal: who is on them shares a place. */
  shared(runners: readonly number[], chances: readonly number[]): void {
    const count = runners.length;
    for (let k = 0; k < count; k++) {
      this.addOthers(this.places, runners[k]!, runners[k]!, chances[k]!);
    }
    if (count <= FEW) {
      for (let k = 0; k < count; k++) this.exchange(runners[k]!, chances[k]!, 0);
      return;
    }
    for (let k = 0; k < count; k++) {
      const runner = runners[k]!;
      this.ahead[runner] = this.advanced(runner, chances[k]!);
    }
    this.remake();
  }

  /** The chance of being ahead once a result has been passed; exactly 1 after the last. */
  private advanced(runner: number, chance: number): number {
    const left = --this.results[runner]!;
    return left === 0 ? 1 : Math.min(this.ahead[runner]! + chance, BELOW_ONE);
  }

  /** Adds a chance times the count of those ahead but for one runner to a row of places. */
  private addOthers(places: Float64Array, row: number, without: number, chance: number): void {
    const { product, degree, sure } = this;
    const a = this.ahead[without]!;
    const at = row * this.size + sure;
    if (a === 0) {
      for (let k = 0; k <= degree; k++) places[at + k] = places[at + k]! + chance * product[k]!;
    } else if (a === 1) {
      for (let k = 0; k <= degree; k++) {
        places[at - 1 + k] = places[at - 1 + k]! + chance * product[k]!;
      }
    } else if (a <= 0.5) {
      const inverse = 1 / (1 - a);
      const ratio = a * inverse;
      let last = 0;
      for (let k = 0; k < degree; k++) {
        last = product[k]! * inverse - ratio * last;
        places[at + k] = places[at + k]! + chance * last;
      }
    } else {
      const inverse = 1 / a;
      const ratio = (1 - a) * inverse;
      let last = 0;
      for (let k = degree; k > 0; k--) {
        last = product[k]! * inverse - ratio * last;
        places[at + k - 1] = places[at + k - 1]! + chance * last;
      }
    }
  }

  /**
   * Adds `counted` times the others' count to the runner's places, and puts its new factor in the
   * place of the old one. Dividing forward is stable up to 1/2, backward from there.
   */
  private exchange(runner: number, chance: number, counted: number): void {
    const { places, product, degree } = this;
    const at = runner * this.size + this.sure;
    const a = this.ahead[runner]!;
    const b = this.advanced(runner, chance);
    const c = 1 - b;
    this.ahead[runner] = b;
    if (a === 0) {
      for (let k = 0; k <= degree; k++) places[at + k]! += counted * product[k]!;
      if (b === 1) {
        this.sure++;
        return;
      }
      putIn(product, degree, b);
      this.degree++;
    } else if (a <= 0.5) {
      const inverse = 1 / (1 - a);
      const ratio = a * inverse;
      let last = 0;
      for (let k = 0; k < degree; k++) {
        const q = product[k]! * inverse - ratio * last;
        places[at + k]! += counted * q;
        product[k] = q * c + last * b;
        last = q;
      }
      product[degree] = last * b;
    } else {
      const inverse = 1 / a;
      const ratio = (1 - a) * inverse;
      let last = 0;
      for (let k = degree; k > 0; k--) {
        const q = product[k]! * inverse - ratio * last;
        places[at + k - 1]! += counted * q;
        product[k] = last * c + q * b;
        last = q;
      }
      product[0] = last * c;
    }
    if (b === 1 && a !== 0) {
      // The factor is x now: what was taken up is moved down again, and counted as sure.
      for (let k = 0; k < degree; k++) product[k] = product[k + 1]!;
      this.degree--;
      this.sure++;
    }
    if (++this.exchanges >= EXCHANGES) this.remake();
  }

  private remake(): void {
    const { product, ahead } = this;
    this.exchanges = 0;
    const made = multiply(ahead, this.size, product);
    this.degree = made.degree;
    this.sure = made.sure;
  }
}

const BELOW_ONE = 1 - Number.EPSILON / 2;

/** The product of the factors; those of chance 1 are counted as sure and left out. */
export function multiply(
  ahead: Float64Array,
  size: number,
  product: Float64Array,
): { degree: number; sure: number } {
  let degree = 0;
  let sure = 0;
  /** A factor that waits for another; 0 while there is none. */
  let waiting = 0;
  product[0] = 1;
  for (let j = 0; j < size; j++) {
    const p = ahead[j]!;
    if (p === 0) continue;
    if (p === 1) {
      sure++;
      continue;
    }
    if (waiting === 0) {
      waiting = p;
      continue;
    }
    putInTwo(product, degree, waiting, p);
    degree += 2;
    waiting = 0;
  }
  if (waiting > 0) putIn(product, degree++, waiting);
  return { degree, sure };
}

/** Multiplies a product by two factors more. */
function putInTwo(product: Float64Array, degree: number, p: number, q: number): void {
  const none = (1 - p) * (1 - q);
  const one = p * (1 - q) + q * (1 - p);
  const two = p * q;
  let here = product[degree]!;
  let below = degree > 0 ? product[degree - 1]! : 0;
  product[degree + 2] = here * two;
  product[degree + 1] = here * one + below * two;
  for (let k = degree; k > 1; k--) {
    const next = product[k - 2]!;
    product[k] = here * none + below * one + next * two;
    here = below;
    below = next;
  }
  if (degree > 0) {
    product[1] = here * none + below * one;
    here = below;
  }
  product[0] = here * none;
}

/** Multiplies a product by one factor more. */
function putIn(product: Float64Array, degree: number, p: number): void {
  const c = 1 - p;
  product[degree + 1] = product[degree]! * p;
  for (let k = degree; k > 0; k--) product[k] = product[k]! * c + product[k - 1]! * p;
  product[0]! *= c;
}

/** Takes one factor of chance p, 0 < p < 1, out of a product. */
export function divide(
  product: Float64Array,
  degree: number,
  p: number,
  quotient: Float64Array,
): void {
  let last = 0;
  if (p <= 0.5) {
    const inverse = 1 / (1 - p);
    const ratio = p * inverse;
    for (let k = 0; k < degree; k++) {
      last = product[k]! * inverse - ratio * last;
      quotient[k] = last;
    }
  } else {
    const inverse = 1 / p;
    const ratio = (1 - p) * inverse;
    for (let k = degree; k > 0; k--) {
      last = product[k]! * inverse - ratio * last;
      quotient[k - 1] = last;
    }
  }
}

/** The chance of one of the first few places; rounding does not take it past 1. */
export function sumOfFirst(places: readonly number[], count: number): number {
  return Math.min(
    places.slice(0, count).reduce((a, b) => a + b, 0),
    1,
  );
}
