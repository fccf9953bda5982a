/**
 * Everyone's chance of first place if one runner were another, where results are gone through by total
 * and what is ahead of one is known by a bound.
 */
import { FLOAT, INT, type Kernel, STRUCT } from '../../kernel/kernel.js';
import type { Variant } from '../order/order.js';

/** So many products are found. */
const FOUND = 4;

/** No factor is 0. */
const NONE = -1;

/** The bytes that this takes for so many runners and variants. */
export function roomForTitles(size: number, variants: number): number {
  const members = size + variants;
  const floats = FOUND + 2 * size + 2 * variants + 4 * size * variants + 4 * members;
  // Every list begins at a whole number of eight bytes.
  const ints = 2 * variants + members + 3;
  return 2 * STRUCT + FLOAT * floats + INT * ints;
}

export class TitleBound {
  readonly titles: Float64Array;
  /** By member of a level: its chance there, and how much of that is on no key. */
  readonly chances: Float64Array;
  readonly rests: Float64Array;
  /**
   * By runner of a level and variant: by how much the variant is ahead more than every second time where
   * both have one key, and how much of that has been told apart.
   */
  readonly turned: Float64Array;
  readonly toldApart: Float64Array;
  /** By member: how likely the runner at hand is where it is, and it ahead; and with it on one key. */
  readonly sums: Float64Array;
  readonly levels: Float64Array;
  private readonly address: number;
  private readonly found: Float64Array;
  private readonly behind: Float64Array;
  private readonly ahead: Float64Array;
  private readonly errors: Float64Array;
  private readonly variantErrors: Float64Array;
  /** By variant: what can be wrong with a title if it is the case, whoever the runner. */
  private readonly evenErrors: Float64Array;
  private readonly asked: readonly number[];
  private readonly level: Int32Array;
  private readonly variantsOf: Int32Array;
  private even = { product: 0, zero: NONE };

  constructor(
    private readonly kernel: Kernel,
    private readonly size: number,
    private readonly variants: readonly (Variant & { readonly title: boolean })[],
  ) {
    const count = variants.length;
    const of = kernel.ints(count);
    const asked = kernel.ints(count);
    this.behind = kernel.floats(size);
    this.found = kernel.floats(FOUND);
    this.titles = kernel.floats(count * size);
    this.ahead = kernel.floats(count);
    const met = kernel.floats(count).fill(-1);
    this.errors = kernel.floats(size);
    this.variantErrors = kernel.floats(count * size);
    of.set(variants.map((v) => v.of));
    asked.set(variants.map((v) => (v.title ? 1 : 0)));
    const lists = [of, asked, this.behind, this.found, this.titles, this.ahead, met];
    lists.push(this.errors, this.variantErrors);
    this.address = kernel.struct([size, count], lists).byteOffset;
    this.variantsOf = kernel.ints(size + count);
    const byMember = () => kernel.floats(size + count);
    const byPair = () => kernel.floats(size * count);
    this.chances = byMember();
    this.rests = byMember();
    this.sums = byMember();
    this.levels = byMember();
    this.turned = byPair();
    this.toldApart = byPair();
    const ofLevel = [this.variantsOf, this.chances, this.rests, this.turned, this.toldApart];
    ofLevel.push(this.sums, this.levels);
    this.level = kernel.struct([0, 0], ofLevel);
    this.evenErrors = new Float64Array(count);
    this.asked = variants.flatMap((v, h) => (v.title ? [h] : []));
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
    this.face(p, -1);
    return this.found[2]!;
  }

  /** Others are ahead with chances p of those on the level at hand, all of whom are taken to be level. */
  meetEvenly(p: Float64Array): void {
    const zero = this.face(p, -1);
    this.even = { product: this.found[0]!, zero };
  }

  /**
   * A variant among them, ahead of half of what is level: the half until it is passed. `wrong`: what
   * its being level with others there can change of a title.
   */
  landEvenly(h: number, chance: number, wrong: number): void {
    const { of } = this.variants[h]!;
    const { product, zero } = this.even;
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
    const zero = this.face(p, of);
    const [product, one, two] = [this.found[0]!, this.found[1]!, this.found[2]!];
    if (zero === NONE) this.titles[h * this.size + of]! += chance * product;
    this.variantErrors[h * this.size + of]! += chance * Math.min(wrong * one + dependent * two, 1);
  }

  /** The members of the level at hand, of whom so many are runners. */
  meet(members: readonly number[], runners: number, chances: readonly number[]): void {
    if (this.asked.length === 0) return;
    for (let k = 0; k < members.length; k++) {
      this.variantsOf[k] = members[k]! - this.size;
      this.chances[k] = chances[k]!;
    }
    this.level[0] = runners;
    this.level[1] = members.length;
  }

  /** A result of a runner, against others that are ahead with chances p; false when it adds next to nothing. */
  begin(who: number, p: Float64Array, chance: number, wrong: number, dependent: number): boolean {
    if (this.asked.length === 0) return false;
    const { loops } = this.kernel;
    return loops.beginTitles(this.address, who, p.byteOffset, chance, wrong, dependent) === 1;
  }

  /**
   * The same result, of the runner that is member k of the level. `told`: how much of its chance is
   * known by key, as `sums` and `levels` are; 0 where all there are taken to be level.
   */
  add(k: number, who: number, chance: number, told: number): void {
    const { loops } = this.kernel;
    loops.addTitles(this.address, this.level.byteOffset, k, who, chance, told);
  }

  private face(p: Float64Array, except: number): number {
    return this.kernel.loops.faceTitles(this.address, p.byteOffset, except);
  }
}
