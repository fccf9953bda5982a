/**
 * Everyone's chance of first place if one runner were another: the product of the chances that each
 * of the others is not ahead, with one factor exchanged.
 */
import { FLOAT, INT, withKernel } from '../kernel/kernel.js';
import type { InOrder, Variant } from './order.js';
import { countLeft, roomForResults, throughResults } from './through.js';

/** A count in memory: its size, how many variants, whether it is over; then where its lists are. */
const HEAD = 3;
const LISTS = 5;

/**
 * By variant and runner: the chance that the runner wins if the variant is the case. `variantOf`: by
 * variant, the runner it does not compete with; -1 where its titles are not asked.
 */
export function countTitles(ordered: InOrder, variantOf: readonly number[]): Float64Array {
  const { size } = ordered;
  const variants = variantOf.length;
  const members = size + variants;
  const floats = members + size + variants * size;
  const ints = HEAD + LISTS + members + variants;
  const room = FLOAT * (floats + LISTS) + INT * ints + roomForResults(members);
  return withKernel(room, (kernel) => {
    // As it lies in memory: see lib/kernel/assembly/titles.ts.
    const count = kernel.ints(HEAD + LISTS);
    const behind = kernel.floats(members).fill(1);
    const left = kernel.ints(members);
    const inverse = kernel.floats(size).fill(1);
    const of = kernel.ints(variants);
    const titles = kernel.floats(variants * size);
    countLeft(ordered, left);
    of.set(variantOf);
    count.set([size, variants]);
    const lists = [behind, left, inverse, of, titles];
    for (let k = 0; k < lists.length; k++) count[HEAD + k] = lists[k]!.byteOffset;
    throughResults(kernel, ordered, members, (who, chances, equals, length) => {
      kernel.loops.countTitles(count.byteOffset, who, chances, equals, length);
      return count[HEAD - 1] === 1;
    });
    return titles.slice();
  });
}

/** No factor is 0; more than one is. */
const NONE = -1;
const MANY = -2;

/** The product of all factors but one and those that are 0, and which one is. */
function productOf(factors: Float64Array, except: number): { product: number; zero: number } {
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
