/**
 * Everyone's chance of first place if one runner were another: the product of the chances that each
 * of the others is not ahead, with one factor exchanged.
 */
import type { Variant, Visitor } from './order.js';

/** Below this a chance of first place is not followed. */
const NEGLIGIBLE = 1e-17;

export class TitleCount implements Visitor {
  /** By variant and runner: the chance that the runner wins if the variant is the case. */
  readonly titles: Float64Array;
  /** By runner, and by variant: the chance of not being ahead of the result at hand. */
  private readonly behind: Float64Array;
  private readonly variantBehind: Float64Array;
  private readonly of: Int32Array;
  private readonly results: Int32Array;
  /** Variants' results that equal the result at hand, until it has been told. */
  private pending: number[] = [];
  private pendingChances: number[] = [];
  /** Nobody can win with any of the results to come. */
  isOver = false;

  /** `results`: how many each runner has, then each variant, all of which must be told. */
  constructor(
    private readonly size: number,
    results: ArrayLike<number>,
    variants: readonly Variant[],
  ) {
    this.results = Int32Array.from(results);
    this.of = Int32Array.from(variants, (v) => v.of);
    this.titles = new Float64Array(variants.length * size);
    this.behind = new Float64Array(size).fill(1);
    this.variantBehind = new Float64Array(variants.length).fill(1);
  }

  variant(variant: number, chance: number): void {
    const of = this.of[variant]!;
    this.titles[variant * this.size + of]! += chance * this.productWithout(of);
    this.pending.push(variant);
    this.pendingChances.push(chance);
  }

  single(runner: number, chance: number): void {
    this.land(runner, chance);
    this.advance(runner, chance);
    this.settle();
  }

  shared(runners: readonly number[], chances: readonly number[]): void {
    for (const [k, runner] of runners.entries()) this.land(runner, chances[k]!);
    for (const [k, runner] of runners.entries()) this.advance(runner, chances[k]!);
    this.settle();
  }

  private productWithout(runner: number): number {
    let product = 1;
    for (let j = 0; j < this.size; j++) if (j !== runner) product *= this.behind[j]!;
    return product;
  }

  private land(runner: number, chance: number): void {
    const { size, titles, behind, variantBehind, of } = this;
    const { product, zero } = productOf(behind, runner);
    if (zero === MANY) {
      this.isOver = true;
      return;
    }
    const all = chance * product;
    for (let h = 0; h < of.length; h++) {
      const g = of[h]!;
      if (g === runner || (zero !== NONE && zero !== g)) continue;
      const others = zero === g ? all : all / behind[g]!;
      titles[h * size + runner]! += others * variantBehind[h]!;
    }
    let least = 1;
    for (let j = 0; j < size; j++) {
      if (j !== runner && behind[j] !== 0) least = Math.min(least, behind[j]!);
    }
    if (product < NEGLIGIBLE * least) this.isOver = true;
  }

  private advance(runner: number, chance: number): void {
    const left = --this.results[runner]!;
    this.behind[runner] = left === 0 ? 0 : Math.max(this.behind[runner]! - chance, LEAST);
  }

  /** What was pending is ahead of all results to come. */
  private settle(): void {
    for (const [k, variant] of this.pending.entries()) {
      const left = --this.results[this.size + variant]!;
      const behind = this.variantBehind[variant]! - this.pendingChances[k]!;
      this.variantBehind[variant] = left === 0 ? 0 : Math.max(behind, LEAST);
    }
    this.pending = [];
    this.pendingChances = [];
  }
}

/** What rounding leaves of a chance. */
const LEAST = Number.EPSILON / 2;

/** No factor is 0; more than one is. */
export const NONE = -1;
export const MANY = -2;

/** The product of all factors but one and those that are 0, and which one is. */
export function productOf(
  factors: Float64Array,
  except: number,
): { product: number; zero: number } {
  let product = 1;
  let zero = NONE;
  for (let j = 0; j < factors.length; j++) {
    if (j === except) continue;
    if (factors[j] !== 0) product *= factors[j]!;
    else zero = zero === NONE ? j : MANY;
  }
  return { product, zero };
}

/** What a result adds to a title by less than this is only counted as an error. */
const SLIGHT = 1e-10;

/** The same where results are gone through by total, and what is ahead of one is known by a bound. */
export class TitleBound {
  readonly titles: Float64Array;
  /** By variant: the chance that it is ahead of all that is level at hand. */
  private readonly ahead: Float64Array;
  /** By variant with results on the level at hand: the chance that it is ahead of one; or -1. */
  private readonly met: Float64Array;
  /** What can be wrong with the titles of a runner, whichever variant is the case. */
  private readonly errors: Float64Array;
  /** And with one if one variant is, by variant and runner. */
  private readonly variantErrors: Float64Array;
  /** By variant: the same, whoever the runner. */
  private readonly evenErrors: Float64Array;
  private readonly asked: readonly number[];
  /** By runner: the chance of not being ahead of the result at hand. */
  private readonly behind: Float64Array;
  private who = 0;
  private chance = 0;
  private all = { product: 0, zero: NONE };

  constructor(
    private readonly size: number,
    private readonly variants: readonly (Variant & { readonly title: boolean })[],
  ) {
    this.titles = new Float64Array(variants.length * size);
    this.ahead = new Float64Array(variants.length);
    this.met = new Float64Array(variants.length).fill(-1);
    this.errors = new Float64Array(size);
    this.variantErrors = new Float64Array(variants.length * size);
    this.evenErrors = new Float64Array(variants.length);
    this.asked = variants.flatMap((v, h) => (v.title ? [h] : []));
    this.behind = new Float64Array(size);
  }

  error(): number {
    const { size, errors, variantErrors } = this;
    let error = 0;
    for (const h of this.asked) {
      for (let i = 0; i < size; i++) {
        const always = i === this.variants[h]!.of ? 0 : errors[i]!;
        error = Math.max(error, always + variantErrors[h * size + i]! + this.evenErrors[h]!);
      }
    }
    return Math.min(error, 1);
  }

  /** How much it matters for a title who is ahead, at most, where others are with chances p. */
  weight(p: Float64Array): number {
    if (this.asked.length === 0) return 0;
    this.face(p);
    return this.highestWithout(-1).two;
  }

  /** Others are ahead with chances p of those on the level at hand, all of whom are taken to be level. */
  meetEvenly(p: Float64Array): void {
    this.face(p);
    this.all = productOf(this.behind, -1);
  }

  /**
   * A variant among them, ahead of half of what is level: the half until it is passed. `wrong`: what
   * its being level with others there can change of a title.
   */
  landEvenly(h: number, chance: number, wrong: number): void {
    const { of } = this.variants[h]!;
    const { product, zero } = this.all;
    const others = zero === NONE ? product / this.behind[of]! : zero === of ? product : 0;
    this.titles[h * this.size + of]! += chance * others;
    this.evenErrors[h]! += chance * wrong;
    this.pass(h, chance / 2);
  }

  /** A variant's result is ahead of all to come. */
  pass(variant: number, chance: number): void {
    this.ahead[variant] = Math.min(this.ahead[variant]! + chance, 1);
  }

  /**
   * A result of a variant itself, against others that are ahead with chances p; `wrong` and
   * `dependent` as in ErrorBound.
   */
  ofVariant(h: number, p: Float64Array, chance: number, wrong: number, dependent: number): void {
    const { of, title } = this.variants[h]!;
    if (!title) return;
    this.face(p);
    const { product, zero } = productOf(this.behind, of);
    if (zero === NONE) this.titles[h * this.size + of]! += chance * product;
    const { one, two } = this.highestWithout(of);
    this.variantErrors[h * this.size + of]! += chance * Math.min(wrong * one + dependent * two, 1);
  }

  /** A result of a runner; false when it adds next to nothing to any title. */
  begin(who: number, p: Float64Array, chance: number, wrong: number, dependent: number): boolean {
    if (this.asked.length === 0) return false;
    this.face(p);
    const { one, two, three } = this.highestWithout(who);
    this.errors[who]! += chance * Math.min(wrong * two + dependent * three, 1);
    if (chance * one < SLIGHT) {
      this.errors[who]! += chance * one;
      return false;
    }
    this.who = who;
    this.chance = chance;
    this.all = productOf(this.behind, who);
    return true;
  }

  /** A variant with results level with it: its chance of being ahead there, and how wrong that is. */
  meet(h: number, ahead: number, wrong: number): void {
    this.met[h] = Math.min(this.ahead[h]! + ahead, 1);
    this.variantErrors[h * this.size + this.who]! += wrong * this.othersThan(this.variants[h]!.of);
  }

  end(): void {
    const { size, titles, variants, who } = this;
    for (const h of this.asked) {
      const { of } = variants[h]!;
      const ahead = this.met[h]! < 0 ? this.ahead[h]! : this.met[h]!;
      this.met[h] = -1;
      if (of !== who) titles[h * size + who]! += this.othersThan(of) * (1 - ahead);
    }
  }

  private face(p: Float64Array): void {
    for (let j = 0; j < p.length; j++) this.behind[j] = 1 - p[j]!;
  }

  /** What the result adds if one runner more is not there. */
  private othersThan(runner: number): number {
    const { product, zero } = this.all;
    if (zero === NONE) return (this.chance * product) / this.behind[runner]!;
    return zero === runner ? this.chance * product : 0;
  }

  /** The product of the factors of all but one runner, and of the lowest one, two or three of them. */
  private highestWithout(runner: number): { one: number; two: number; three: number } {
    let product = 1;
    let a = 1;
    let b = 1;
    let c = 1;
    for (let j = 0; j < this.size; j++) {
      if (j === runner) continue;
      const factor = this.behind[j]!;
      if (factor >= c) product *= factor;
      else {
        product *= c;
        if (factor < a) {
          c = b;
          b = a;
          a = factor;
        } else if (factor < b) {
          c = b;
          b = factor;
        } else c = factor;
      }
    }
    return { one: product * b * c, two: product * c, three: product };
  }
}
