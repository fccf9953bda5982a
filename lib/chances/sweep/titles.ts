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

/**
 * When the product without any one factor is below this nobody's chances change any more: with one factor
 * exchanged, another's results that are left are together no likelier than its own factor.
 */
const NOTHING = 1e-13;

/**
 * `of`: by conditioned member, which entrant it is; `asked`: those members of whom it is asked who wins
 * then, by their number among the conditioned.
 */
export function sweepTitles(
  groups: TieGroups,
  of: readonly number[],
  asked: readonly number[],
): TitleSweep {
  const { size, members, starts, who, ahead, isShared } = groups;
  const cases = asked.length;
  const titles = new Float64Array(size * cases);
  const halves = new Float64Array(size * cases);
  if (cases === 0) return { titles, halves };
  // By member: its case; -1 for entrants, and where nothing is asked.
  const caseOf = new Int32Array(members).fill(-1);
  for (const [h, member] of asked.entries()) caseOf[size + member] = h;
  // By case: whose it is, and how it wins itself.
  const whose = Int32Array.from(asked, (member) => of[member] ?? 0);
  const own = new Float64Array(cases);
  const ownHalves = new Float64Array(cases);
  const casesOf: number[][] = Array.from({ length: size }, () => []);
  for (const [h, i] of whose.entries()) casesOf[i]?.push(h);
  // The chances that somebody is not ahead: of entrants, of cases, and of cases over that of their entrant.
  const behind = new Float64Array(size).fill(1);
  const behindCase = new Float64Array(cases).fill(1);
  const ratios = new Float64Array(cases).fill(1);
  const setRatio = (h: number): void => {
    const whole = behind[whose[h] ?? 0] ?? 0;
    // Of one that has nothing left only a case beyond its results has, which is added by itself.
    ratios[h] = whole === 0 ? 0 : (behindCase[h] ?? 0) / whole;
  };
  const evaluatedAt = evaluations(groups);
  for (let group = 0; group <= isShared.length; group++) {
    const product = survival(behind);
    if (product.most < NOTHING) break;
    const at = evaluatedAt(group);
    for (let k = 0; k < at.count; k++) {
      const member = at.who[k] ?? 0;
      const h = caseOf[member] ?? -1;
      if (member >= size && h < 0) continue;
      const others = product.without(h < 0 ? member : (whose[h] ?? 0));
      if (others === 0 && h < 0) {
        const left = product.withoutZero(member);
        for (const one of casesOf[product.zero] ?? []) {
          const chance = left * (behindCase[one] ?? 0);
          const cell = member * cases + one;
          titles[cell] = (titles[cell] ?? 0) + (at.weights[k] ?? 0) * chance;
          halves[cell] = (halves[cell] ?? 0) + (at.bounds[k] ?? 0) * chance;
        }
      }
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
      const left = Math.max(1 - (ahead[k] ?? 0), 0);
      const h = caseOf[member] ?? -1;
      if (member < size) {
        behind[member] = left;
        for (const one of casesOf[member] ?? []) setRatio(one);
      } else if (h >= 0) {
        behindCase[h] = left;
        setRatio(h);
      }
    }
  }
  for (const [h, i] of whose.entries()) {
    titles[i * cases + h] = own[h] ?? 0;
    halves[i * cases + h] = ownHalves[h] ?? 0;
  }
  return { titles, halves };
}

/** The product of some chances, with and without one of them. */
function survival(chances: Float64Array) {
  let [product, zeros, at] = [1, 0, -1];
  let least = 1;
  for (let i = 0; i < chances.length; i++) {
    const p = chances[i] ?? 0;
    if (p === 0) {
      zeros++;
      at = i;
      continue;
    }
    product *= p;
    if (p < least) least = p;
  }
  return {
    /** No product without one of them is larger. */
    most: zeros > 1 ? 0 : zeros === 1 ? product : product / least,
    /** Whose factor alone is 0; -1 where none is, or more are. */
    zero: zeros === 1 ? at : -1,
    without: (who: number): number => {
      if (zeros === 0) return product / (chances[who] ?? 1);
      return zeros === 1 && at === who ? product : 0;
    },
    /** Without that one either; 0 where there is none. */
    withoutZero: (who: number): number => (zeros === 1 ? product / (chances[who] ?? 1) : 0),
  };
}
