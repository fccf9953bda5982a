/** Those who share a key are told apart further, where that is likely enough. */
import { isUnfinished, type LastSharer, shortTable, type Table } from './apart.js';
import type { Crowded } from './crowded.js';
import type { Lowest } from './lowest.js';
import type { FieldValues } from './open-parts.js';
import type { TitleBound } from './title-bound.js';

/** Of those who share a key, who has less of it than this is not told apart from the others. */
const FEW = 0.03;

/** What is the same on every level. */
export interface Everyone {
  readonly size: number;
  /** How many variants there are, after the runners. */
  readonly variants: number;
  readonly lowest: readonly (Lowest | null)[];
  readonly field: FieldValues;
  /** By runner or variant: its rank by the rules after the best scores. */
  readonly last: ArrayLike<number>;
  readonly crowded: Crowded;
  readonly titles: TitleBound;
  /** No places of runners are asked for. */
  readonly variantsOnly: boolean;
}

/** Those on one level: runners, then variants. */
export interface Members {
  readonly members: readonly number[];
  /** How many of them are runners. */
  readonly count: number;
  /** By member: the member it does not compete with, itself or the runner it is a variant of. */
  readonly own: readonly number[];
  /** Whether the places, or titles, of a member are asked for. */
  readonly isCounted: (k: number) => boolean;
  /** By a member and a runner: how likely the first is on the keys at hand, and the second ahead. */
  readonly aheadOf: Float64Array;
  /** By member: how likely it is level with others as far as is told. */
  readonly untold: Float64Array;
}

/** Corrects what is ahead, and what is not told, by those who share keys of a table. */
export function tellApart(
  { size, variants, lowest, field, last, crowded, titles, variantsOnly }: Everyone,
  { members, count, own, isCounted, aheadOf, untold }: Members,
  table: Table,
  from: number,
  to: number,
  equal: boolean,
): void {
  tell(table, from, to, equal);

  /** Those who share a key, where that is likely enough or nothing comes after it. */
  function tell(table: Table, from: number, to: number, equal: boolean): void {
    const { together, squares } = table;
    const enough = variantsOnly ? Number.POSITIVE_INFINITY : crowded.least;
    const isSure = equal || count < members.length;
    for (let x = from; x < to; x++) {
      const pairs = (together[x]! * together[x]! - squares[x]!) / 2;
      if (isSure || pairs > enough) tellKeyApart(table, x, pairs, equal);
    }
  }

  /** Those who share one key; `pairs`: how likely two of the runners do. */
  function tellKeyApart(table: Table, x: number, pairs: number, equal: boolean): void {
    const { length, rowOf, rows, together } = table;
    let any = equal || (pairs > crowded.least && !variantsOnly);
    const enough = crowded.leastOfAny() / (count * together[x]!);
    for (let k = count; k < members.length && !any; k++) {
      const chance = rows[rowOf[k]! * length + x]!;
      any = chance > enough && isToldApart(k, chance);
    }
    if (!any) return;
    const sharers = table.sharersAt(x);
    const told = sharers.filter(({ k, chance }) => isToldApart(k, chance));
    if (told.length === 0) return;
    // What they share is equal, so all of them have something left to compare or none has.
    if (!sharers.every(isUnfinished)) {
      compareLast(
        told,
        sharers.filter(({ k }) => k < count),
      );
      return;
    }
    const compared = sharers.filter(
      (s) => (s.k < count && s.chance > FEW * together[x]!) || told.includes(s),
    );
    const next = shortTable(lowest, members, count, field, compared);
    compareNext(next, told, compared);
    tell(next, 0, next.length, false);

    function isToldApart(k: number, chance: number): boolean {
      if (!isCounted(k)) return false;
      if (k < count) return equal || (pairs > crowded.least && chance > FEW * together[x]!);
      const others = together[x]! - rows[rowOf[own[k]!]! * length + x]!;
      return equal || chance * others * count > crowded.leastOf(members[k]! - size);
    }
  }

  /** Those who share a key, by what comes next in their results. */
  function compareNext(
    next: Table,
    told: readonly LastSharer[],
    compared: readonly LastSharer[],
  ): void {
    const { length, rowOf, rows, before, together } = next;
    const rivals = compared.filter(({ k }) => k < count);
    const wholes = rivals.map(({ k }) => sumOfRow(next, k));
    for (const one of told) {
      const row = rowOf[one.k]! * length;
      const mine = rowOf[own[one.k]!]! * length;
      const whole = sumOfRow(next, one.k);
      const isVariant = one.k >= count;
      let level = 0;
      for (let y = 0; y < length; y++) {
        level += rows[row + y]! * (together[y]! - rows[mine + y]!);
      }
      untold[one.k]! += level;
      for (let r = 0; r < rivals.length; r++) {
        const two = rivals[r]!;
        if (own[one.k] === two.k) continue;
        const both = whole * wholes[r]!;
        const other = rowOf[two.k]! * length;
        let sum = 0;
        for (let y = 0; y < length; y++) sum += rows[row + y]! * before[other + y]!;
        aheadOf[one.k * count + two.k]! += sum - both / 2;
        untold[one.k]! -= both;
        if (!isVariant) continue;
        let equal = 0;
        for (let y = 0; y < length; y++) equal += rows[row + y]! * rows[other + y]!;
        const pair = two.k * variants + members[one.k]! - size;
        titles.turned[pair]! += both / 2 - sum;
        titles.toldApart[pair]! += both - equal;
      }
    }
  }

  /** What of a member is told in a table. */
  function sumOfRow({ length, rowOf, rows }: Table, k: number): number {
    const row = rowOf[k]! * length;
    let sum = 0;
    for (let y = 0; y < length; y++) sum += rows[row + y]!;
    return sum;
  }

  /** Between sets that are equal to the last, the rules that follow decide. */
  function compareLast(told: readonly LastSharer[], rivals: readonly LastSharer[]): void {
    for (const one of told) {
      for (const two of rivals) {
        if (own[one.k] === two.k) continue;
        const order = last[members[one.k]!]! - last[members[two.k]!]!;
        const both = one.chance * two.chance;
        aheadOf[one.k * count + two.k]! += order > 0 ? both / 2 : -both / 2;
        untold[one.k]! -= both;
        if (one.k < count) continue;
        const pair = two.k * variants + members[one.k]! - size;
        titles.turned[pair]! += order < 0 ? both / 2 : -both / 2;
        titles.toldApart[pair]! += both;
      }
    }
  }
}
