/**
 * How much a chance of a place, or of a medal, can change with the chances of others being ahead,
 * when the number of the rest that are ahead has at least some variance V. By the Fourier integral
 * of that count, with |1 - p + p e^it|² = 1 - 2p(1-p)(1 - cos t) <= exp(-2p(1-p)(1 - cos t)).
 */
export interface Influence {
  /** Of one rival: the difference of two neighbours of the count, or the count itself for medals. */
  readonly ofOne: (variance: number) => number;
  /** Of two at once: the second difference, or the first for medals. */
  readonly ofPair: (variance: number) => number;
}

/** How finely, and how far, the variance of a count is told apart. */
const STEPS = 8;
const FURTHEST = 16;

const made = new Map<number, Influence>();

export function influenceOf(medals: number): Influence {
  const found = made.get(medals);
  if (found !== undefined) return found;
  const rows = Array.from({ length: STEPS * FURTHEST + 1 }, (_, i) => {
    const v = i / STEPS;
    const integral = (power: (t: number) => number) =>
      simpson((t) => power(t) * Math.exp(-v * (1 - Math.cos(t))), Math.PI) / Math.PI;
    const most = integral(() => 1);
    const slope = integral((t) => 2 * Math.sin(t / 2));
    const bend = integral((t) => 4 * Math.sin(t / 2) ** 2);
    return {
      one: Math.min(1, medals * slope, most) + QUADRATURE,
      pair: Math.min(2, Math.max(slope, bend)) + QUADRATURE,
    };
  });
  // All fall as the variance rises, so the next lower entry is a bound.
  const at = (variance: number) =>
    rows[Math.min(Math.max(Math.floor(variance * STEPS), 0), STEPS * FURTHEST)]!;
  const influence = {
    ofOne: (variance: number) => at(variance).one,
    ofPair: (variance: number) => at(variance).pair,
  };
  made.set(medals, influence);
  return influence;
}

/** More than the integrals below can be wrong by. */
const QUADRATURE = 1e-6;

/** An integral from 0 to `end`, by Simpson's rule. */
function simpson(f: (x: number) => number, end: number): number {
  const n = 128;
  const h = end / n;
  let sum = f(0) + f(end);
  for (let k = 1; k < n; k++) sum += (k % 2 === 1 ? 4 : 2) * f(k * h);
  return (sum * h) / 3;
}
