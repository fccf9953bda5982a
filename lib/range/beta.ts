/**
 * The Beta distribution with a + b = 6 that modified PERT needs (Vose, "Risk Analysis", 2008; the
 * incomplete beta function by the continued fraction of Abramowitz and Stegun 26.5.8). Checked
 * against @stdlib in test/reference.
 */

/** log Γ(x) for x > 0, by Lanczos' approximation (g = 7, nine terms). */
function logGamma(x: number): number {
  const coefficients = [
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313,
    -176.61502916214059, 12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6,
    1.5056327351493116e-7,
  ];
  const base = x + 6.5;
  let sum = coefficients[0] ?? 0;
  for (let i = 1; i < coefficients.length; i++) sum += (coefficients[i] ?? 0) / (x + i - 1);
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

/**
 * P(X <= x) for a Beta(a, b), a and b > 0; x is cut to [0, 1]. The smaller of the two tails is the
 * one computed, so that it keeps its digits.
 */
export function betaTails(x: number, a: number, b: number): { below: number; above: number } {
  if (x <= 0) return { below: 0, above: 1 };
  if (x >= 1) return { below: 1, above: 0 };
  const scale = Math.exp(
    logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x),
  );
  if (x < (a + 1) / (a + b + 2)) {
    const below = (scale * betaFraction(x, a, b)) / a;
    return { below, above: 1 - below };
  }
  const above = (scale * betaFraction(1 - x, b, a)) / b;
  return { below: 1 - above, above };
}
