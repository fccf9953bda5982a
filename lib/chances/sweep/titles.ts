/**
 * Everyone's chance of first place if one entrant were another: whoever has a result wins with it where
 * none of the others is ahead, a product of the chances that each is not, with one factor exchanged.
 */
import type { Distribution } from '../../range/distribution.js';
import { addScaled } from '../../range/vector.js';
import type { Units } from '../../score.js';
import { type Entrant, totalOf } from '../model.js';
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

/** What is certain not to happen has this chance, so that it can be divided by. */
export const TINY = 1e-30;

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
    ratios[h] = (behindCase[h] ?? 0) / (behind[whose[h] ?? 0] ?? 1);
  };
  const evaluatedAt = evaluations(groups);
  for (let group = 0; group <= isShared.length; group++) {
    const { product, most } = survival(behind);
    if (most < NOTHING) break;
    const at = evaluatedAt(group);
    for (let k = 0; k < at.count; k++) {
      const member = at.who[k] ?? 0;
      const h = caseOf[member] ?? -1;
      if (member >= size && h < 0) continue;
      const others = product / (behind[h < 0 ? member : (whose[h] ?? 0)] ?? 1);
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
      const left = Math.max(1 - (ahead[k] ?? 0), TINY);
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

/** With lower totals nobody's chances change any more: by then too many are ahead. */
export function leastToWin(entrants: readonly Entrant[]): Units {
  const totals = entrants.map(totalOf);
  const isOpen = (total: Units) =>
    survival(Float64Array.from(totals, (one) => Math.max(chanceUpTo(one, total), TINY))).most >=
    NOTHING;
  const best = totals.map(({ scores }) => scores.at(-1) ?? 0);
  let [closed, open] = [-1, Math.max(0, ...best)];
  while (open - closed > 1) {
    const middle = (open + closed) >> 1;
    if (isOpen(middle)) open = middle;
    else closed = middle;
  }
  return open;
}

/** That the total is no higher. */
function chanceUpTo({ scores, chances }: Distribution, total: Units): number {
  let sum = 0;
  for (let k = 0; k < scores.length && (scores[k] ?? 0) <= total; k++) sum += chances[k] ?? 0;
  return sum;
}

/** The product of some chances, and the largest there is without one of them. */
function survival(chances: Float64Array): { readonly product: number; readonly most: number } {
  let [product, least] = [1, 1];
  for (let i = 0; i < chances.length; i++) {
    const p = chances[i] ?? 0;
    product *= p;
    if (p < least) least = p;
  }
  return { product, most: product / least };
}
