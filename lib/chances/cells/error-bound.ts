/** A bound on how wrong chances of places can be, added up as they are. */
import { FLOAT, type Kernel } from '../../kernel/kernel.js';
import { type Influence, influenceOf } from './influence.js';

/** The others' chances of being ahead, and the product of their factors, in the kernel. */
interface Others {
  readonly p: Float64Array;
  readonly product: Float64Array;
  readonly degree: number;
  readonly sure: number;
}

/** The influence of one rival is looked at anew when the others have moved so far. */
const FAR = 0.15;

/** What could be wrong by less than this is bounded the short way, and by less than that not at all closely. */
const SLIGHT = 1e-9;
const NOTHING = 1e-10;

export class ErrorBound {
  private readonly influence: Influence;
  /** By member: what can be wrong with any of its chances; with that of one place; of a medal. */
  private readonly errors: Float64Array;
  private readonly placeErrors: Float64Array;
  private readonly medalErrors: Float64Array;
  /** By member: what one of the others can change, and at which chances of being ahead that was. */
  private readonly changes: Float64Array;
  private readonly medalChanges: Float64Array;
  private readonly looked: Float64Array;
  private readonly quotient: Float64Array;

  /**
   * For so many runners, and members of which chances are counted. `closely`: what one rival can
   * change is worked out, not only bounded by the variance. `kernel`: where the others' chances are.
   */
  constructor(
    private readonly kernel: Kernel,
    private readonly size: number,
    private readonly members: number,
    private readonly medals: number,
    private readonly closely: boolean,
  ) {
    this.influence = influenceOf(medals);
    this.errors = new Float64Array(members);
    this.placeErrors = kernel.floats(members * size);
    this.medalErrors = new Float64Array(members);
    this.changes = kernel.floats(members * size);
    this.medalChanges = new Float64Array(members);
    this.looked = kernel.floats(members * size).fill(-1);
    this.quotient = kernel.floats(size);
  }

  /** The bound on every chance of a place, of winning and of a medal. */
  error(): number {
    let error = 0;
    for (let i = 0; i < this.members; i++) error = Math.max(error, this.errorOf(i));
    return error;
  }

  /** The bound on those of one member. */
  errorOf(member: number): number {
    const { size, placeErrors, medalErrors, errors } = this;
    let most = medalErrors[member]!;
    for (let k = 0; k < size; k++) most = Math.max(most, placeErrors[member * size + k]!);
    return Math.min(errors[member]! + most, 1);
  }

  /** How much chance on one level can be taken together, for its dependence to be worth so little. */
  mostTogether(p: Float64Array, worth: number): number {
    return Math.sqrt((8 * worth) / this.influence.ofPair(this.varianceOf(p, -1)));
  }

  /**
   * A member's places, `of` the runner it is, were taken to be as the product of the others says, times a chance. `wrong`:
   * by how much their chances of being ahead can differ from p, summed up. `dependent`: how much of
   * two or more of them can differ together.
   */
  add(
    who: number,
    of: number,
    chance: number,
    wrong: number,
    dependent: number,
    others: Others,
  ): void {
    if (wrong <= 0 && dependent <= 0) return;
    const { size, influence, changes, placeErrors } = this;
    const { p } = others;
    if (chance * (wrong + dependent) < NOTHING) {
      // Whatever the variance, one can change no chance by more than 1, and two by no more than 2.
      this.errors[who]! += chance * (wrong + 2 * dependent + wrong * wrong);
      return;
    }
    const variance = this.varianceOf(p, of);
    let off = (dependent + (wrong * wrong) / 2) * influence.ofPair(variance);
    if (!this.closely || chance * wrong < SLIGHT) off += wrong * influence.ofOne(variance);
    else {
      const { loops } = this.kernel;
      const at = FLOAT * who * size;
      let moved = loops.sumDistances(p.byteOffset, this.looked.byteOffset + at, size, of);
      if (moved > FAR) {
        this.look(who, of, others);
        moved = 0;
      }
      off += wrong * moved * influence.ofPair(variance);
      const source = changes.byteOffset + at;
      loops.addRows(placeErrors.byteOffset + at, size, source, size, 1, size, chance * wrong);
      this.medalErrors[who]! += chance * wrong * this.medalChanges[who]!;
    }
    this.errors[who]! += chance * Math.min(1, off);
  }

  /** What any one of the others can change, as they are now. */
  private look(who: number, of: number, { p, product, degree, sure }: Others): void {
    const { size, changes, medals, quotient } = this;
    const at = who * size;
    this.looked.set(p, at);
    changes.fill(0, at, at + size);
    this.medalChanges[who] = this.kernel.loops.findChanges(
      changes.byteOffset + FLOAT * at,
      quotient.byteOffset,
      product.byteOffset,
      p.byteOffset,
      size,
      of,
      degree,
      sure,
      medals,
    );
  }

  /** The least variance of how many are ahead, whichever two are taken out besides one. */
  private varianceOf(p: Float64Array, except: number): number {
    return this.kernel.loops.leastVariance(p.byteOffset, this.size, except);
  }
}

/** How many bytes it takes up in its kernel. */
export function roomForBound(size: number, members: number): number {
  return FLOAT * (3 * members + 1) * size;
}
