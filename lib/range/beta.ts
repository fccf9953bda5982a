/**
 * The Beta distribution with a + b = 6 that modified PERT needs (Vose, "Risk Analysis", 2008; the
 * incomplete beta function by the continued fraction of Abramowitz and Stegun 26.5.8). Checked
 * against @stdlib in test/reference.
 */

/** Of Lanczos' approximation. */
const COEFFICIENTS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313,
  -176.61502916214059, 12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6,
  1.5056327351493116e-7,
];

/** log Γ(x) for x > 0, by Lanczos' approximation (g = 7, nine terms). */
function logGamma(x: number): number {
  const base = x + 6.5;
  let sum = COEFFICIENTS[0]!;
  for (let i = 1; i < COEFFICIENTS.length; i++) sum += COEFFICIENTS[i]! / (x + i - 1);
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(base) - base + Math.log(sum);
}

/** The continued fraction of the incomplete beta function, by Lentz' method. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || tiny);
  let fraction = d;
  for (let m = 1; m <= 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || tiny);
    c = 1 + even / c || tiny;
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || tiny);
    c = 1 + odd / c || tiny;
    const change = d * c;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return fraction;
}

/** P(X <= x) and P(X >= x). */
interface Tails {
  readonly below: number;
  readonly above: number;
}

/**
 * The tails of a Beta(a, b), a and b > 0, by x, which is cut to [0, 1]. The smaller of the two tails
 * is the one computed, so that it keeps its digits.
 */
function betaTails(a: number, b: number): (x: number) => Tails {
  const logBeta = logGamma(a) + logGamma(b) - logGamma(a + b);
  return (x) => {
    if (x <= 0) return { below: 0, above: 1 };
    if (x >= 1) return { below: 1, above: 0 };
    const scale = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta);
    if (x < (a + 1) / (a + b + 2)) {
      const below = (scale * betaFraction(x, a, b)) / a;
      return { below, above: 1 - below };
    }
    const above = (scale * betaFraction(1 - x, b, a)) / b;
    return { below: 1 - above, above };
  };
}

/** So many cells at either end, where the density may rise like a root, go by the tails. */
const ENDS = 2;

/**
 * The chance that a Beta(a, b), a and b from 1 to 5, lies between neighbouring edges. These rise from
 * 0 to 1, about evenly but for the first and the last cell, which are at least half as wide as others.
 */
export function betaCells(edges: readonly number[], a: number, b: number): number[] {
  const n = edges.length - 1;
  const chances = new Array<number>(n).fill(0);
  const tailsAt = betaTails(a, b);
  const byTails = (from: number, to: number): Tails => {
    let lower = tailsAt(edges[from]!);
    for (let i = from; i < to; i++) {
      const upper = tailsAt(edges[i + 1]!);
      chances[i] = between(lower, upper);
      lower = upper;
    }
    return lower;
  };
  if (n <= 2 * ENDS) {
    byTails(0, n);
    return chances;
  }
  let inside = 0;
  for (let i = ENDS; i < n - ENDS; i++) {
    const mass = densityBetween(edges[i]!, edges[i + 1]!, a - 1, b - 1);
    chances[i] = mass;
    inside += mass;
  }
  // The ends come from the tails, and all adds up to 1.
  const first = byTails(0, ENDS);
  byTails(n - ENDS, n);
  const scale = between(first, tailsAt(edges[n - ENDS]!)) / inside;
  for (let i = ENDS; i < n - ENDS; i++) chances[i]! *= scale;
  return chances;
}

/** By the smaller tail: the difference of two numbers near 1 would lose the last cells. */
function between(lower: Tails, upper: Tails): number {
  const chance = lower.below < 0.5 ? upper.below - lower.below : lower.above - upper.above;
  return Math.max(chance, 0);
}

/** No power of the series is needed beyond this: half a cell is at most a quarter of the way to either end. */
const MOST_POWERS = 40;

const INVERSES = Float64Array.from({ length: MOST_POWERS + 2 }, (_, n) => 1 / n);

/**
 * The integral of f = x^p (1 - x)^q, by its power series about the middle, whose terms follow from
 * x (1 - x) f' = (p - (p + q) x) f.
 */
function densityBetween(from: number, to: number, p: number, q: number): number {
  const half = (to - from) / 2;
  const c = (from + to) / 2;
  const scale = half / (c * (1 - c));
  // The terms f_n half^n, of which the odd ones cancel.
  let before = 0;
  let term = 1;
  let sum = 1;
  for (let n = 0; n < MOST_POWERS; n++) {
    const slope = (p - (p + q) * c - n * (1 - 2 * c)) * term;
    const next = (slope + (n - 1 - p - q) * half * before) * scale * INVERSES[n + 1]!;
    before = term;
    term = next;
    if (n % 2 === 1) sum += term * INVERSES[n + 2]!;
    if (Math.abs(term) + Math.abs(before) < 1e-18) break;
  }
  return 2 * half * sum * Math.exp(p * Math.log(c) + q * Math.log(1 - c));
}
