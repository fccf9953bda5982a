/**
 * Everyone's chance of first place if one entrant were another: whoever has a result wins with it where
 * none of the others is ahead, a product of the chances that each is not, with one factor exchanged.
 */
import { addScaled } from '../../range/vector.js';
import type { TieGroups } from '../tie-groups.js';
import { evaluations } from './boundaries.js';

export interface TitleSweep {
  /** By entrant and conditioned member: the chance that the entrant wins if that is the case. */
  readonly titles: Float64Array;
  /** Of each of them: half of what it loses when ties of unknown order go against the entrant. */
  readonly halves: Float64Array;
}

/** When the product is below this nobody's chances change any more. */
const NOTHING = 1e-18;

/** `of`: by conditioned member, which entrant it is; `asked`: whether who wins then is. */
export function sweepTitles(
  groups: TieGroups,
  of: readonly number[],
  asked: readonly boolean[],
): TitleSweep {
  const { size, starts, who, ahead, isShared } = groups;
  const cases = of.length;
  const titles = new Float64Array(size * cases);
  const halves = new Float64Array(size * cases);
  if (!asked.includes(true)) return { titles, halves };
  // The conditioned as they win themselves.
  const own = new Float64Array(cases);
  const ownHalves = new Float64Array(cases);
  // The chances that somebody is not ahead: of entrants, and of conditioned members beside that of theirs.
  const behind = new Float64Array(size + cases).fill(1);
  const ratios = Float64Array.from(asked, Number);
  const casesOf = Array.from({ length: size }, (_, i) =>
    [...of.keys()].filter((h) => of[h] === i && asked[h]),
  );
  const evaluatedAt = evaluations(groups);
  for (let group = 0; group <= isShared.length; group++) {
    const product = survival(behind, size);
    if (product.most < NOTHING) break;
    const at = evaluatedAt(group);
    for (let k = 0; k < at.count; k++) {
      const member = at.who[k] ?? 0;
      const h = member - size;
      if (h >= 0 && asked[h] !== true) continue;
      const others = product.without(h < 0 ? member : (of[h] ?? 0));
      if (others === 0) continue;
      const weight = (at.weights[k] ?? 0) * others;
      const bound = (at.bounds[k] ?? 0) * others;
      if (h >= 0) {
        own[h] = (own[h] ?? 0) + weight;
        ownHalves[h] = (ownHalves[h] ?? 0) + bound;
        continue;
      }
      addScaled(titles, member * cases, ratios, 0, cases, weight);
      if (bound !== 0) addScaled(halves, member * cases, ratios, 0, cases, bound);
    }
    for (let k = starts[group] ?? 0; k < (starts[group + 1] ?? 0); k++) {
      const member = who[k] ?? 0;
      behind[member] = Math.max(1 - (ahead[k] ?? 0), 0);
      const mine = member < size ? casesOf[member] : [member - size];
      for (const h of mine ?? []) {
        const whole = behind[of[h] ?? 0] ?? 0;
        // Of one that has nothing left nothing is left in any case of it.
        if (asked[h]) ratios[h] = whole === 0 ? 0 : (behind[size + h] ?? 0) / whole;
      }
    }
  }
  for (const [h, i] of of.entries()) {
    titles[i * cases + h] = own[h] ?? 0;
    halves[i * cases + h] = ownHalves[h] ?? 0;
  }
  return { titles, halves };
}

/** The product of the first few of some chances, with and without one of them. */
function survival(chances: Float64Array, count: number) {
  let [product, zeros, at] = [1, 0, -1];
  let [least, second] = [1, 1];
  for (let i = 0; i < count; i++) {
    const p = chances[i] ?? 0;
    if (p === 0) {
      zeros++;
      at = i;
      continue;
    }
    product *= p;
    if (p < least) [least, second] = [p, least];
    else if (p < second) second = p;
  }
  return {
    /** No product without two of them is larger. */
    most: zeros > 1 ? 0 : product / (least * second),
    without: (who: number): number => {
      if (zeros === 0) return product / (chances[who] ?? 1);
      return zeros === 1 && at === who ? product : 0;
    },
  };
}
