/** One level, of everyone with one total, shown from the best to the worst, for medals in order. */

import { multiply } from '../places.js';
import { isUnfinished, type LastSharer, type Table, withNextTable } from './apart.js';
import type { Lowest } from './lowest.js';
import { ROUNDED } from './lows.js';
import type { FieldValues } from './open-parts.js';

/** Sees everyone's results from the best to the worst, as far as they are told apart. */
export interface LevelVisitor {
  /** Those who are level as far as they were compared. */
  readonly split: (runners: readonly number[], chances: readonly number[]) => void;
  /** Those who are level to the last, and share a place. */
  readonly shared: (runners: readonly number[], chances: readonly number[]) => void;
  /** How likely a runner is level with others among whom its place is not known. */
  readonly loosely: (runner: number, chance: number) => void;
  /** No level to come makes a difference. */
  readonly isOver: boolean;
}

/** A level is shown in layers, each with so much chance in all. */
const LAYER = 0.004;

/** In fields of fewer than these medal outcomes are followed more finely. */
const MANY = 24;

/** Two with one key, when that is likelier, are told apart further. */
const CROWDED = 1e-5;

/** What is left of a sum by rounding, of all of it. */
const LEFT = 4 * ROUNDED;

/** Everyone on one level. */
export interface Level {
  /** Who they are, by place on the level. */
  readonly members: readonly number[];
  /** The keys at hand, from one to another. */
  readonly table: Table;
  readonly from: number;
  readonly to: number;
  /** By place on the level: the chance of what is not in the table. */
  readonly rests: ArrayLike<number>;
  /** By runner: the chance of being ahead of the level. */
  readonly ahead: Float64Array;
  /** How likely all of them are on it, added up. */
  readonly all: number;
}

/** What is the same for all levels. `last`: by runner, the rank by the rules after the best scores. */
export interface Field {
  readonly medals: number;
  readonly lowest: readonly (Lowest | null)[];
  readonly values: FieldValues;
  readonly last: Int32Array;
}

export function showLevel(visit: LevelVisitor, field: Field, level: Level): void {
  const { medals, lowest, values, last } = field;
  const { members, rests, all, ahead } = level;
  // Of fewer outcomes each is likelier, and so is what can be wrong with it.
  const share = Math.min(ahead.length / MANY, 1);
  const crowded = (CROWDED * share) / medalsLeft();
  const { length, rows } = level.table;
  const whole = members.map((_, k) => {
    let chance = rests[k]!;
    for (let v = level.from; v < level.to; v++) chance += rows[k * length + v]!;
    return chance;
  });
  showLoosely(rests, whole, all);
  showTable(level.table, level.from, level.to);

  /** The chance that there is a medal still to be had here. */
  function medalsLeft(): number {
    const product = new Float64Array(ahead.length + 1);
    const { degree, sure } = multiply(ahead, ahead.length, product);
    let sum = 0;
    for (let k = 0; k <= degree && k + sure < medals; k++) sum += product[k]!;
    return sum;
  }

  /** What cannot be told apart from what the same and others have: of `whole`, of `all` together. */
  function showLoosely(parts: ArrayLike<number>, whole: readonly number[], all: number): void {
    let loose = 0;
    for (let k = 0; k < members.length; k++) loose += parts[k]!;
    if (loose <= 0) return;
    visit.split(
      members,
      members.map((_, k) => parts[k]!),
    );
    for (const [k, i] of members.entries()) {
      // Told and not told on one level; those not told are level with each other where they are seen.
      const others = loose - parts[k]!;
      const mine = whole[k]!;
      visit.loosely(i, parts[k]! * (all - mine - others) + (mine - parts[k]!) * others);
    }
  }

  /** A table in layers of about the same chance, and what is crowded in layers of its own. */
  function showTable(table: Table, low: number, high: number): void {
    const { length, rows, together, squares } = table;
    for (let from = low; from < high; ) {
      let sum = together[from]!;
      let to = from + 1;
      if (sum * sum - squares[from]! > crowded) {
        showSharers(table.sharersAt(from));
        from = to;
        continue;
      }
      while (to < high && sum + together[to]! <= LAYER * share) sum += together[to++]!;
      const layer = members.map((_, k) => {
        let chance = 0;
        for (let v = from; v < to; v++) chance += rows[k * length + v]!;
        return chance;
      });
      if (sum > 0) visit.split(members, layer);
      from = to;
    }
  }

  /** Those who share a key: by what comes next, or else by the rules that follow. */
  function showSharers(sharers: readonly LastSharer[]): void {
    if (sharers.every(isUnfinished)) {
      const count = members.length;
      const none = new Float64Array(count);
      withNextTable(lowest, members, count, values, sharers, none, (next) => {
        const before = new Array<number>(count).fill(0);
        const lost = new Array<number>(count).fill(0);
        for (const { k, chance } of sharers) {
          before[k] = chance;
          let rest = chance;
          for (let x = 0; x < next.length; x++) rest -= next.rows[k * next.length + x]!;
          lost[k] = rest > LEFT * chance ? rest : 0;
        }
        showLoosely(
          lost,
          before,
          before.reduce((a, b) => a + b, 0),
        );
        showTable(next, 0, next.length);
      });
      return;
    }
    const orders = [...new Set(sharers.map(({ k }) => last[members[k]!]!))];
    for (const order of orders.sort((a, b) => a - b)) {
      const level = sharers.filter(({ k }) => last[members[k]!] === order);
      visit.shared(
        level.map(({ k }) => members[k]!),
        level.map(({ chance }) => chance),
      );
    }
  }
}
