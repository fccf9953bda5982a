/** Whether a phrase is deserved. */
import { type ChanceBand, isIn, type Scale } from './scales.js';

/**
 * What a phrase is worth: it `holds`, says too much (`overstated`) or too little (`understated`),
 * or that depends (`borderline`).
 */
export type Verdict = 'holds' | 'overstated' | 'understated' | 'borderline';

const EVEN = 0.5;

type Side = 'in' | 'above' | 'below';

function sideOf(scale: Scale, band: ChanceBand, chance: number): Side {
  if (isIn(scale, band, chance)) return 'in';
  return chance <= band.from ? 'below' : 'above';
}

/**
 * `holds` when every chance lies in the band. `overstated` when all lie outside it on the side of the
 * even chance, `understated` when all lie outside it on the far side; outside a band that holds the
 * even chance, above is understated and below overstated. Otherwise it is `borderline`.
 */
export function verdictOn(scale: Scale, band: ChanceBand, chances: readonly number[]): Verdict {
  const sides = new Set(chances.map((c) => sideOf(scale, band, c)));
  if (sides.size !== 1) return 'borderline';
  const [side] = sides;
  if (side === 'in') return 'holds';
  const holdsEven = isIn(scale, band, EVEN);
  const isStrong = holdsEven ? side === 'below' : band.to <= EVEN === (side === 'above');
  return isStrong ? 'overstated' : 'understated';
}

/** Which of some chances lie elsewhere than the first, as against the band. */
export function turning(
  scale: Scale,
  band: ChanceBand,
  chance: number,
  stressed: readonly number[],
): boolean[] {
  const side = sideOf(scale, band, chance);
  return stressed.map((c) => sideOf(scale, band, c) !== side);
}
