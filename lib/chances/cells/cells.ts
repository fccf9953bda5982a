/**
 * Places under `best-scores` with many parts open, when there are too many results to go through
 * one by one. Results are gone through by total. How likely a rival is to be ahead of a result with
 * that total is worked out for each pair, by the lowest values their totals are made of; rivals are
 * then taken to be ahead independently of each other, though all depend on her values. Both what is
 * not told apart and what that dependence can do is bounded, so that the error is known.
 */

import { FLOAT, INT } from '../../kernel/kernel.js';
import type { OnProgress, StaticOrder, Variant } from '../order/order.js';
import { multiply } from '../places.js';
import type { Runner } from '../runner.js';
import {
  isUnfinished,
  type KernelTable,
  type LastSharer,
  sumUp,
  withNextTable,
  withTable,
} from './apart.js';
import { Crowded } from './crowded.js';
import { ErrorBound, roomForBound } from './error-bound.js';
import { type LevelVisitor, showLevel } from './level-walk.js';
import { Levels } from './levels.js';
import type { Lowest } from './lowest.js';
import { ROUNDED } from './lows.js';
import { type FieldValues, GAP_COUNT } from './open-parts.js';
import { type Everyone, tellApart } from './tell-apart.js';
import { roomForTitles, TitleBound } from './title-bound.js';

export interface CellCount {
  readonly places: Float64Array;
  /** By variant and place. */
  readonly variantPlaces: Float64Array;
  /** By variant and runner: the chance that the runner wins if the variant is the case. */
  readonly titles: Float64Array;
  /** Bounds every chance of a place, of winning and of a medal. */
  readonly error: number;
}

/** A variant, and how its results are told apart; `title`: it is asked who wins then. */
export interface CellVariant extends Variant {
  readonly lowest: Lowest | null;
  readonly title: boolean;
}

/** Two of them on a total that is less likely than this are not told apart. */
const LONELY = 1e-8;

/**
 * Who is level with all others less likely than this is not told apart from them: in a full field,
 * and of a variant.
 */
const FAINT = 2e-6;
const FAINT_VARIANT = 2e-7;

/** How far it is is told after so many results. */
const PAUSE = 512;

/** What is not told of a result is counted with what is, when it is no larger a share than this. */
const SLIGHT_REST = 0.01;

/** A title that is less likely than this to be still open is taken to be decided. */
const DECIDED = 1e-6;

/** Results of one total are taken together while the dependence between rivals is worth less. */
const DEPENDENCE = 1e-4;

/** Some keys of a table, and how much of a member's chance is on them. */
interface Group {
  readonly table: KernelTable;
  readonly from: number;
  readonly to: number;
  readonly chance: number;
}

/** What is wanted, unless all chances of places are. */
export interface CellsAsked {
  /** Sees the results instead of their places being counted. */
  readonly visit?: LevelVisitor | null | undefined;
  /** Besides the variants only the places of these runners; no titles may be asked for then. */
  readonly only?: readonly number[] | null | undefined;
  readonly onProgress?: OnProgress | undefined;
}

export function countInCells(
  runners: readonly Runner[],
  ofRunners: readonly (Lowest | null)[],
  variants: readonly CellVariant[],
  statics: StaticOrder,
  medals: number,
  { visit = null, only = null, onProgress }: CellsAsked = {},
): CellCount {
  const size = runners.length;
  // Variants come after the runners, and are told apart from them but take no place.
  const everyone = [...runners, ...variants.map((v) => v.runner)];
  const lowest = [...ofRunners, ...variants.map((v) => v.lowest)];
  const ofWhom = Int32Array.from(everyone, (_, i) => (i < size ? i : variants[i - size]!.of));
  const field = fieldOf(lowest);
  /** By member: what of its chance is in the group at hand, and, of a runner, ahead of all of it. */
  const inGroup = new Float64Array(everyone.length);
  const beforeOf = new Float64Array(size);
  /** By runner of a level: how likely it is there with what is not told apart. */
  const level = new Float64Array(size);
  const untold = new Float64Array(everyone.length);
  const halves = new Float64Array(everyone.length);
  /** By member of a level: what of its chance is told by key, and what is not counted yet. */
  const told = new Float64Array(everyone.length);
  const trim = new Float64Array(everyone.length);
  const uncounted = new Float64Array(everyone.length);
  /** By a member and a runner of a level: how likely the first is in the group at hand, the second ahead. */
  let aheadOf: Float64Array = new Float64Array(0);
  /** On the level at hand: runners, then variants. */
  let members: number[] = [];
  /** How many of them are runners. */
  let count = 0;
  /** By member: the member it does not compete with, itself or the runner it is a variant of. */
  let own: number[] = [];
  let total = 0;
  /** How many together their dependence on each other can be left out for. */
  let most = 0;
  const crowded = new Crowded(size, variants);
  const faint = FAINT * crowded.share ** 2;
  const levels = new Levels(everyone.map((r) => r.total));
  const { chanceOf } = levels;
  /** Everyone on the level at hand, by key. */
  let whole: KernelTable;
  const sharersAt = (key: number): LastSharer[] => {
    const sharers: LastSharer[] = [];
    for (let k = 0; k < members.length; k++) {
      const chance = whole.rows[k * whole.length + key]!;
      if (chance > 0) sharers.push({ k, chance, rest: lowest[members[k]!]!.begin(total, key) });
    }
    return sharers;
  };
  const keys = GAP_COUNT * field.scores.length;
  /** By runner and variant, and place. */
  let places: Float64Array;
  let bound: ErrorBound;
  let titles: TitleBound;
  let everywhere: Everyone;
  /** By runner: how likely it is to be ahead of the level at hand, and of one result on it. */
  let ahead: Float64Array;
  let p: Float64Array;
  let product: Float64Array;
  /** The members, where loops find them. */
  let who: Int32Array;
  const of = { members: everyone.length, count: size, length: keys };
  const more =
    FLOAT * (of.members * size + 3 * size + 2) +
    INT * (of.members + 1) +
    roomForBound(size, of.members) +
    roomForTitles(size, variants.length);
  const counted = withTable({ ...of, more }, sharersAt, (table) => {
    whole = table;
    places = table.kernel.floats(of.members * size);
    ahead = table.kernel.floats(size);
    p = table.kernel.floats(size);
    product = table.kernel.floats(size + 2);
    who = table.kernel.ints(of.members);
    bound = new ErrorBound(table.kernel, size, of.members, medals, !crowded.isWide);
    titles = new TitleBound(table.kernel, size, variants);
    everywhere = {
      size,
      variants: variants.length,
      lowest,
      field,
      last: Int32Array.from(ofWhom, (i) => statics.last[i]!),
      crowded,
      titles,
      variantsOnly: only?.length === 0,
    };
    countAll();
    // What one of the others has ahead is a sum of products of two rounded chances.
    const rounded = 2 * ROUNDED * size;
    const error = Math.max(bound.error(), titles.error() + DECIDED) + rounded;
    return { places: places.slice(), titles: titles.titles.slice(), error };
  });
  return {
    places: counted.places.subarray(0, size * size),
    variantPlaces: counted.places.subarray(size * size),
    titles: counted.titles,
    error: counted.error,
  };

  /** Level after level, from the best to the worst. */
  function countAll(): void {
    const placeOf = new Int32Array(size);
    /** Who is ahead at equal totals, whatever the best scores. */
    const classOf = (i: number) => statics.first[ofWhom[i]!]!;
    const hasClasses = statics.first.some((rank) => rank !== statics.first[0]);
    let pause = 0;
    while (!visit?.isOver && levels.descend()) {
      total = levels.total;
      if (levels.above >= pause) {
        onProgress?.(levels.share);
        pause += PAUSE;
      }
      // Where nobody can win any more, it makes no difference who would.
      const weight = titles.weight(ahead);
      const here: number[] = [];
      const faint: number[] = [];
      let all = 0;
      for (let n = 0; n < levels.count; n++) {
        const i = levels.who[n]!;
        if (i < size) all += chanceOf[i]!;
        else if (variants[i - size]!.title) {
          if (weight < DECIDED) continue;
          const others = all - chanceOf[ofWhom[i]!]!;
          if (chanceOf[i]! * others * weight < FAINT_VARIANT) {
            faint.push(i);
            continue;
          }
        }
        here.push(i);
      }
      if (faint.length > 0) {
        for (let i = 0; i < size; i++) p[i] = ahead[i]! + chanceOf[i]! / 2;
        titles.meetEvenly(p);
        for (const i of faint) {
          const others = all - chanceOf[ofWhom[i]!]!;
          titles.landEvenly(i - size, chanceOf[i]!, (others * weight) / 2);
        }
      }
      if (hasClasses) here.sort((a, b) => classOf(a) - classOf(b) || a - b);
      for (let from = 0; from < here.length; ) {
        let to = from + 1;
        while (to < here.length && classOf(here[to]!) === classOf(here[from]!)) to++;
        members = from === 0 && to === here.length ? here : here.slice(from, to);
        count = 0;
        for (; count < members.length && members[count]! < size; count++) {
          placeOf[members[count]!] = count;
        }
        own = [];
        const chances: number[] = [];
        for (let k = 0; k < members.length; k++) {
          own.push(placeOf[ofWhom[members[k]!]!]!);
          chances.push(chanceOf[members[k]!]!);
        }
        if (only === null || members.some((_, k) => isCounted(k))) countLevel(chances);
        for (let k = 0; k < members.length; k++) {
          const i = members[k]!;
          if (i >= size) titles.pass(i - size, chances[k]!);
          else if (levels.isLastOf(i)) ahead[i] = 1;
          else ahead[i] = Math.min(ahead[i]! + chances[k]!, 1 - Number.EPSILON / 2);
        }
        from = to;
      }
      for (const i of faint) titles.pass(i - size, chanceOf[i]! / 2);
    }
  }

  function isCounted(k: number): boolean {
    return k >= count || only === null || only.includes(members[k]!);
  }

  /** Everyone on one total, whom only the best scores and what follows them tell apart. */
  function countLevel(chances: readonly number[]): void {
    p.set(ahead);
    titles.meet(members, count, chances);
    const { rests } = titles;
    let all = 0;
    for (let k = 0; k < count; k++) all += chances[k]!;
    const othersOf = (k: number) => all - chances[own[k]!]!;
    // Two of them, or a variant and one of them, on this total together.
    let isLonely = true;
    for (let k = 0; k < members.length && isLonely; k++) {
      const enough = (k < count ? 2 / count : 1) * LONELY;
      isLonely = chances[k]! * othersOf(k) < enough || !isCounted(k);
    }
    if (isLonely) {
      if (visit === null) countEvenly(chances, chances);
      else visit.split(members, chances);
      return;
    }
    const { length, rows, firsts, ends, together, squares } = whole;
    let low = length;
    let high = 0;
    for (let k = 0; k < members.length; k++) {
      const who = members[k]!;
      const row = k * length;
      rows.fill(0, row + firsts[k]!, row + Math.max(firsts[k]!, ends[k]!));
      const isFaint =
        visit === null && chances[k]! * othersOf(k) < (k < count ? faint : FAINT_VARIANT);
      const keys = isFaint ? null : (lowest[who]?.lowestAt(total, field, rows, row) ?? null);
      firsts[k] = keys?.first ?? length;
      ends[k] = keys?.end ?? 0;
      low = Math.min(low, firsts[k]!);
      high = Math.max(high, ends[k]!);
      told[k] = keys?.chance ?? 0;
      rests[k] = Math.max(chances[k]! - told[k]!, 0);
      // What is told is rounded, and must not be more than there is.
      trim[k] = Math.min(chances[k]! / told[k]!, 1);
      halves[k] = rests[k]! / 2;
      if (k < count) p[who] = ahead[who]! + chances[k]! / 2;
    }
    together.fill(0, low, high);
    squares.fill(0, low, high);
    sumUp(whole, halves.subarray(0, members.length), count, low, high);
    if (visit !== null) {
      showLevel(
        visit,
        { medals, lowest, values: field, last: statics.last },
        { members, table: whole, from: low, to: high, rests, ahead, all },
      );
      return;
    }
    crowded.pass(all, bound, titles, ahead);
    const weight = titles.weight(p);
    most = Math.min(bound.mostTogether(p, DEPENDENCE), Math.sqrt((8 * DEPENDENCE) / weight));
    crowded.weigh(weightHere(), weight);
    uncounted.set(rests.subarray(0, members.length));
    // What is on a level with little on it is one group.
    if (all <= most && low < high) countGroup(whole, low, high, { equal: false, isAll: true });
    else countTable(whole, low, high);
    countEvenly(chances, uncounted);
  }

  /** Those on one level, by what comes next in their results, from one key to another. */
  function countTable(table: KernelTable, low: number, high: number): void {
    const { length, rows, before, together } = table;
    for (let from = low; from < high; ) {
      let sum = together[from]!;
      let to = from + 1;
      while (to < high && sum + together[to]! <= most) sum += together[to++]!;
      const sharers = sum > most && !crowded.isWide ? table.sharersAt(from) : [];
      if (sharers.length > 1 && sharers.every(isUnfinished)) {
        const offsets = members.map((_, k) => {
          const at = k * length + from;
          return before[at]! - rows[at]! / 2;
        });
        withNextTable(lowest, members, count, field, sharers, offsets, (next) =>
          countTable(next, 0, next.length),
        );
      } else {
        const isAll = table === whole && from === low && to === high;
        countGroup(table, from, to, { equal: sharers.length > 1, isAll });
      }
      from = to;
    }
  }

  /**
   * Those from one key to another together. `equal`: there is one key, and nothing after it; `isAll`:
   * there are no other keys on the level.
   */
  function countGroup(
    table: KernelTable,
    from: number,
    to: number,
    { equal, isAll }: { readonly equal: boolean; readonly isAll: boolean },
  ): void {
    const { kernel, length, rows, before, firsts, ends, together } = table;
    const { rests } = titles;
    const n = members.length;
    aheadOf = table.ahead;
    // Looked up here once, since it is most often.
    const runners = count;
    const toAhead = aheadOf;
    let rest = 0;
    for (let k = 0; k < n; k++) {
      if (k < count) {
        const at = k * length + from;
        rest += rests[k]!;
        beforeOf[k] = before[at]! - rows[at]! / 2;
      }
      let sum = isAll ? told[k]! : 0;
      const end = isAll ? 0 : Math.min(to, ends[k]!);
      for (let v = Math.max(from, firsts[k]!); v < end; v++) sum += rows[k * length + v]!;
      inGroup[k] = sum;
    }
    for (let k = 0; k < n; k++) {
      untold[k] = 0;
      if (!isCounted(k) || (inGroup[k] === 0 && k >= count)) continue;
      const row = k * length;
      const start = Math.max(from, firsts[k]!);
      const end = Math.min(to, ends[k]!);
      const mine = own[k]!;
      const others = rest - rests[mine]!;
      const at = rows.byteOffset + FLOAT * (row + start);
      const width = Math.max(end - start, 0);
      untold[k] =
        others * inGroup[k]! +
        kernel.loops.sumShared(
          at,
          together.byteOffset + FLOAT * start,
          rows.byteOffset + FLOAT * (mine * length + start),
          width,
        );
      // Of two runners, what one is not ahead the other is, but for what is ahead of the group.
      const isOneOfTwo = only === null && k < count;
      const first = isOneOfTwo ? k + 1 : 0;
      kernel.loops.sumProducts(
        aheadOf.byteOffset + FLOAT * (k * count + first),
        at,
        before.byteOffset + FLOAT * (first * length + start),
        length,
        Math.max(count - first, 0),
        width,
      );
      if (!isOneOfTwo) continue;
      const mineHere = inGroup[k]!;
      const mineUpTo = beforeOf[k]! + mineHere;
      for (let l = k + 1; l < runners; l++) {
        toAhead[l * runners + k] =
          mineUpTo * inGroup[l]! + beforeOf[l]! * mineHere - toAhead[k * runners + l]!;
      }
    }
    titles.turned.fill(0);
    titles.toldApart.fill(0);
    tellApart(
      everywhere,
      { members, count, own, isCounted, aheadOf, untold },
      table,
      from,
      to,
      equal,
    );
    let all = 0;
    let squares = 0;
    for (let l = 0; l < count; l++) {
      const c = (equal ? 0 : inGroup[l]!) + rests[l]!;
      who[l] = members[l]!;
      level[l] = c;
      all += c;
      squares += c * c;
    }
    for (let k = 0; k < n; k++) {
      const chance = inGroup[k]!;
      if (chance === 0 || !isCounted(k)) continue;
      const mine = own[k]!;
      if (table !== whole) whole.ahead.set(aheadOf.subarray(k * count, (k + 1) * count), k * count);
      whole.kernel.loops.raise(
        p.byteOffset,
        ahead.byteOffset,
        who.byteOffset,
        count,
        mine,
        whole.ahead.byteOffset + FLOAT * k * count,
        1 / chance,
      );
      const sum = Math.max(all - level[mine]!, 0);
      const square = Math.max(squares - level[mine]! ** 2, 0);
      let counted = chance * trim[k]!;
      let wrong = Math.max(untold[k]!, 0) / (2 * chance);
      let dependent = dependence(sum, square);
      const rest = rests[k]!;
      if (isAll && rest < SLIGHT_REST * chance) {
        // As if all were told: the others can be wrong by all they have here, not by half.
        counted += rest;
        wrong += (rest / counted) * sum;
        dependent += (rest / counted) * dependence(2 * sum, 4 * square);
        uncounted[k] = 0;
      }
      place(members[k]!, counted, wrong, dependent);
      countTitles(k, counted, wrong, dependent, { table, from, to, chance });
    }
  }

  /**
   * Who wins with a result, if each of the variants is the case. `group`: which keys it is on, and how
   * much of its chance is known to be.
   */
  function countTitles(
    k: number,
    chance: number,
    wrong: number,
    dependent: number,
    group: Group | null,
  ): void {
    const who = members[k]!;
    if (who >= size) {
      titles.ofVariant(who - size, p, chance, wrong, dependent);
      return;
    }
    if (!titles.begin(who, p, chance, wrong, dependent)) return;
    if (group !== null) meetVariants(k, group);
    titles.add(k, who, chance, group?.chance ?? 0);
  }

  /** What of the variants is ahead of one member of a group, and on the same keys. */
  function meetVariants(k: number, { table, from, to }: Group): void {
    const { kernel, length, rows, before, firsts, ends, sums, levels } = table;
    const start = Math.max(from, firsts[k]!);
    const of = [
      length,
      members.length - count,
      Math.max(Math.min(to, ends[k]!) - start, 0),
    ] as const;
    const list = rows.byteOffset + FLOAT * (k * length + start);
    const move = FLOAT * (count * length + start);
    const target = FLOAT * count;
    kernel.loops.sumProducts(sums.byteOffset + target, list, before.byteOffset + move, ...of);
    kernel.loops.sumProducts(levels.byteOffset + target, list, rows.byteOffset + move, ...of);
    titles.sums.set(sums);
    titles.levels.set(levels);
  }

  /** How much it matters here who is ahead: for the last medal, or for the place it matters most. */
  function weightHere(): number {
    const { degree, sure } = multiply(p, size, product);
    let most = 0;
    for (let k = 0; k <= degree; k++) {
      const before = k === 0 ? 0 : product[k - 1]!;
      most = Math.max(most, Math.abs(product[k]! - before));
    }
    const edge = medals - 1 - sure;
    return Math.max(most, edge >= 0 && edge <= degree ? product[edge]! : 0);
  }

  /** Level as far as is known: each is as often ahead as behind. */
  function countEvenly(chances: ArrayLike<number>, counted: ArrayLike<number>): void {
    let sum = 0;
    let square = 0;
    for (let k = 0; k < count; k++) {
      const c = chances[k]!;
      const j = members[k]!;
      p[j] = Math.min(ahead[j]! + c / 2, 1);
      sum += c;
      square += c * c;
    }
    for (let k = 0; k < members.length; k++) {
      const i = members[k]!;
      if (counted[k]! <= 0 || !isCounted(k)) continue;
      const c = chances[own[k]!]!;
      const wrong = (sum - c) / 2;
      const dependent = dependence(sum - c, square - c * c);
      place(i, counted[k]!, wrong, dependent);
      countTitles(k, counted[k]!, wrong, dependent, null);
    }
  }

  /**
   * Adds the chances of the places of a runner or a variant. `wrong`: by how much the others'
   * chances of being ahead can differ from p, summed up. `dependent`: how much of two or more of
   * them can differ together.
   */
  function place(member: number, chance: number, wrong: number, dependent: number): void {
    // Of a variant whose title is asked, the places are not.
    if (member >= size && variants[member - size]!.title) return;
    const of = ofWhom[member]!;
    const made = whole.kernel.loops.place(
      places.byteOffset + FLOAT * member * size,
      product.byteOffset,
      p.byteOffset,
      size,
      of,
      chance,
    );
    const others = { p, product, degree: made & 0xffff, sure: made >> 16 };
    bound.add(member, of, chance, wrong, dependent, others);
  }
}

/**
 * How much rivals can be ahead or behind together, when each has a chance c of a result that is
 * level as yet: Σ |E(ε ε')| over pairs, each at most c c'/4, and for three and more what is left of
 * the series of exp(2 Σ c), half of it for the second difference that is taken as its measure.
 */
function dependence(sum: number, square: number): number {
  const more = (Math.exp(2 * sum) - 1 - 2 * sum - 2 * sum * sum) / 4;
  return Math.max(sum * sum - square, 0) / 8 + more;
}

function fieldOf(lowest: readonly (Lowest | null)[]): FieldValues {
  const scores = [...new Set(lowest.flatMap((l) => l?.values() ?? []))].sort((a, b) => a - b);
  return { scores, indexOf: new Map(scores.map((s, i) => [s, i])) };
}
