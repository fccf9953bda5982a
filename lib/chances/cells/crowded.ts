/** How likely two must be level for it to be worth while to tell them apart further. */
import type { ErrorBound } from './error-bound.js';
import type { TitleBound } from './title-bound.js';

/** In fields of more than so many nothing is told apart further, and errors are bounded the short way. */
const WIDE = 32;

/** In fields of fewer than these there is time for a smaller error. */
const FULL = 24;

const ERROR_AIMED_AT = 4e-4;

/**
 * Two are told apart further when that they are level is likelier than this, by its weight: for places
 * with the error aimed at in prospect, and much less or more as it comes to more or less; likewise where
 * titles are decided; for variants ever less the nearer the error comes to it.
 */
const CROWDED = 2e-5;
const CROWDED_AT_TOP = 2.5e-6;
const CROWDED_VARIANT = 2e-6;

/** How many times as crowded it has to be for a variant: for its title, and at first for its places. */
const TITLE = 18;
const PLACE = 60;

/** At first it is as if so much had been passed with an error that comes to such a share of what is aimed at. */
const PASSED = 0.5;
const EXPECTED = 0.75;

/** The error is looked at when so much of everyone's chances has been passed since. */
const LOOK = 0.005;

export class Crowded {
  /** On the level at hand: how likely two runners must share a key. */
  least = 0;
  readonly isWide: boolean;
  /** The share of a full field that there is. */
  readonly share: number;
  private leastForPlace = 0;
  private leastForTitle = 0;
  private here = CROWDED;
  private atTop = CROWDED_AT_TOP;
  private withVariant = CROWDED_VARIANT;
  private readonly aimedAt: number;
  private readonly forTitle: number;
  /** By variant: how many times as crowded as among runners it has to be. */
  private readonly patience: Float64Array;
  private unlooked: number;

  constructor(
    private readonly size: number,
    private readonly variants: readonly { readonly title: boolean }[],
  ) {
    this.isWide = size > WIDE;
    this.share = Math.min(size / FULL, 1);
    this.aimedAt = ERROR_AIMED_AT * this.share;
    this.forTitle = Math.max(TITLE * this.share, 1);
    this.patience = new Float64Array(variants.length);
    this.unlooked = size;
  }

  /** So much is on the next level. `ahead`: by runner, the chance of being ahead of it. */
  pass(all: number, bound: ErrorBound, titles: TitleBound, ahead: Float64Array): void {
    this.unlooked += all;
    if (this.unlooked <= this.size * LOOK) return;
    this.unlooked = 0;
    const { aimedAt } = this;
    // What an error comes to if it goes on like this.
    const prospect = (error: number, passed: number) =>
      (error + PASSED * EXPECTED * aimedAt) / (passed + PASSED);
    const leftFrom = (error: number) => Math.max(1 - error / ERROR_AIMED_AT, 0.1);
    const titleError = titles.error();
    let most = titleError;
    let expected = 0;
    for (let i = 0; i < this.size; i++) {
      const error = bound.errorOf(i);
      most = Math.max(most, error);
      expected = Math.max(expected, prospect(error, ahead[i]!));
    }
    this.here = CROWDED * Math.max((aimedAt / expected) ** 8, 0.01);
    const atTop = prospect(titleError, 1 - titles.weight(ahead));
    this.atTop = CROWDED_AT_TOP * Math.max((aimedAt / atTop) ** 4, 0.02);
    this.withVariant = CROWDED_VARIANT * leftFrom(most);
    for (let h = 0; h < this.variants.length; h++) {
      const isTitle = this.variants[h]!.title;
      const error = isTitle ? 0 : bound.errorOf(this.size + h);
      this.patience[h] = isTitle ? this.forTitle : PLACE * leftFrom(2.2 * error);
    }
  }

  /** How much it matters on the level at hand who is ahead, for places, and for titles. */
  weigh(places: number, titles: number): void {
    const never = Number.POSITIVE_INFINITY;
    this.least = this.isWide ? never : Math.min(this.here / places, this.atTop / titles);
    this.leastForPlace = this.isWide ? never : this.withVariant / Math.max(places, titles / 1.5);
    this.leastForTitle = this.isWide ? never : this.withVariant / titles;
  }

  /** How likely a variant must share a key with one of the others. */
  leastOf(variant: number): number {
    const least = this.variants[variant]!.title ? this.leastForTitle : this.leastForPlace;
    return this.patience[variant]! * least;
  }

  /** The same of any variant, or less. */
  leastOfAny(): number {
    return this.forTitle * Math.min(this.leastForPlace, this.leastForTitle);
  }
}
