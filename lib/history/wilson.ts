/** How sure a rate is. */

/** The 97.5th percentile of the normal distribution. */
const Z = 1.959963984540054;

/**
 * Wilson's 95% interval for a rate: the score method without continuity correction, as in Newcombe,
 * Statistics in Medicine 17 (1998), 857-872.
 */
export function wilson(successes: number, cases: number): readonly [low: number, high: number] {
  if (cases === 0) return [0, 1];
  const rate = successes / cases;
  const spread = Z * Math.sqrt((rate * (1 - rate)) / cases + (Z * Z) / (4 * cases * cases));
  const scale = 1 + (Z * Z) / cases;
  const middle = rate + (Z * Z) / (2 * cases);
  return [
    successes === 0 ? 0 : (middle - spread) / scale,
    successes === cases ? 1 : (middle + spread) / scale,
  ];
}
