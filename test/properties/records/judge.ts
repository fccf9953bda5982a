/**
 * A judge of any contest, who knows of it only whom it ranks and the parts of their totals: totals,
 * tie keys and places worked out from single scores, apart from the library.
 */

import type { Contender, Part } from '../../../lib/rules/contender.js';
import {
  entryOf,
  type Performance,
  type Performances,
  type Performed,
} from '../../../lib/rules/entry.js';
import { recordedPerformances } from '../../../lib/rules/recorded.js';
import type { TieKey, TieRule } from '../../../lib/rules/ties/tie-rule.js';
import type { SmallMeet, ToCome, Weighed } from './small-meet.js';

type Amount = Performed['d'];

function doneIn({ routines }: Part, performances: Performances): Performed[] {
  return routines
    .map((i) => performances[i] ?? null)
    .filter((p): p is Performed => p !== null && p !== 'out');
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** Of equal scores the one with more of an amount counts; what nobody knows yet may be the higher. */
function counting(part: Part, performances: Performances, amountOf: (p: Performed) => Amount) {
  const done = doneIn(part, performances);
  if (part.rule.kind === 'mean') return done;
  const weight = (amount: Amount) =>
    amount === 'unknown' ? 1e9 : amount === 'unrecorded' ? -1e9 : amount;
  const inOrder = [...done].sort(
    (a, b) => b.score - a.score || weight(amountOf(b)) - weight(amountOf(a)),
  );
  return inOrder.slice(0, part.rule.count);
}

function worthOf(part: Part, performances: Performances): number | null {
  const scores = counting(part, performances, () => 0).map((p) => p.score);
  if (scores.length === 0) return null;
  return part.rule.kind === 'mean' ? Math.floor(sum(scores) / 2) : sum(scores);
}

function totalOf(contender: Contender, performances: Performances): number {
  return contender.carried + sum(contender.parts.map((part) => worthOf(part, performances) ?? 0));
}

const isCounted = ({ routines }: Contender, performances: Performances) =>
  routines.some((i) => typeof performances[i] === 'object' && performances[i] !== null);

function sumOfCounting(contender: Contender, performances: Performances, which: 'd' | 'e'): TieKey {
  if (contender.carried > 0 && !isCounted(contender, performances)) return 'unrecorded';
  const amounts = contender.parts.flatMap((part) =>
    counting(part, performances, (p) => p[which]).map((p) => p[which]),
  );
  if (amounts.includes('unrecorded')) return 'unrecorded';
  return amounts.includes('unknown') ? 'unknown' : [sum(amounts.map(Number))];
}

type KeyOf = (contender: Contender, performances: Performances) => TieKey;

/** What rules compare, written down a second time from the design. */
const KEYS: Readonly<Record<string, KeyOf>> = {
  'best-scores': (contender, performances) => {
    if (contender.carried > 0) return 'unrecorded';
    const values = contender.parts
      .map((part) => worthOf(part, performances))
      .filter((value) => value !== null)
      .sort((a, b) => b - a);
    return values.slice(1).map((_, dropped) => sum(values.slice(0, values.length - 1 - dropped)));
  },
  execution: (contender, performances) => sumOfCounting(contender, performances, 'e'),
  difficulty: (contender, performances) => sumOfCounting(contender, performances, 'd'),
  'best-vault': ({ parts }, performances) => {
    const pairs = parts.filter((part) => part.rule.kind === 'mean');
    if (pairs.length === 0) return 'unrecorded';
    return pairs.map((part) => Math.max(...doneIn(part, performances).map((p) => p.score)));
  },
  'highest-score': ({ carried, parts }, performances) => {
    if (carried > 0) return 'unrecorded';
    return [Math.max(0, ...parts.flatMap((p) => doneIn(p, performances)).map((p) => p.score))];
  },
};

/** A rule nobody has written down a second time is taken at its word. */
function keyOf(rule: TieRule, contender: Contender, performances: Performances): TieKey {
  const judged = KEYS[rule.name];
  return judged === undefined
    ? rule.key(entryOf(contender, performances))
    : judged(contender, performances);
}

/** One contender when all is done. */
export interface Finish {
  readonly contender: Contender;
  readonly total: number;
  /** By rule of the contest. */
  readonly keys: readonly TieKey[];
}

/** Whoever can have a place: not those whom a withdrawal puts out. */
export function ableIn({ meet, contest }: SmallMeet): Contender[] {
  const recorded = recordedPerformances(meet);
  return contest.contenders.filter(
    ({ outByDns, routines }) => !(outByDns && routines.some((i) => recorded[i] === 'out')),
  );
}

export function finishesIn(small: SmallMeet, performances: Performances): Finish[] {
  return ableIn(small).map((contender) => finishOf(small, contender, performances));
}

function finishOf(
  { contest }: SmallMeet,
  contender: Contender,
  performances: Performances,
): Finish {
  return {
    contender,
    total: totalOf(contender, performances),
    keys: contest.ties.map((rule) => keyOf(rule, contender, performances)),
  };
}

/** A score nobody has given yet: where D is known, E is what is left of it. */
export function scored(score: number, { d }: ToCome): Performance {
  return d === null ? { score, d: 'unknown', e: 'unknown' } : { score, d, e: score - d };
}

/** What was recorded, and these scores of routines to come. */
export function worldOf(small: SmallMeet, scores: ReadonlyMap<number, number>): Performances {
  const performances = [...recordedPerformances(small.meet)];
  for (const [i, score] of scores) {
    const toCome = small.toCome.get(i);
    if (toCome !== undefined) performances[i] = scored(score, toCome);
  }
  return performances;
}

/** One way in which everything to come can go. */
export interface World {
  readonly chance: number;
  readonly finishes: readonly Finish[];
}

/** Every combination of scores of the routines to come. */
export function worldsOf(
  small: SmallMeet,
  scoresOf: (toCome: ToCome, routine: number) => readonly Weighed[],
): World[] {
  let worlds: World[] = [{ chance: 1, finishes: [] }];
  // Everyone's routines are her own, or her team's: each contender finishes by itself.
  for (const contender of ableIn(small)) {
    let ways: { scores: ReadonlyMap<number, number>; chance: number }[] = [
      { scores: new Map(), chance: 1 },
    ];
    for (const i of contender.routines) {
      const toCome = small.toCome.get(i);
      if (toCome === undefined) continue;
      ways = ways.flatMap(({ scores, chance }) =>
        scoresOf(toCome, i).map((one) => ({
          scores: new Map(scores).set(i, one.score),
          chance: chance * one.chance,
        })),
      );
    }
    const ends = ways.map(({ scores, chance }) => ({
      chance,
      finish: finishOf(small, contender, worldOf(small, scores)),
    }));
    worlds = worlds.flatMap(({ chance, finishes }) =>
      ends.map((end) => ({ chance: chance * end.chance, finishes: [...finishes, end.finish] })),
    );
  }
  return worlds;
}

/** How two compare by some rules; `open` where nobody can know. */
export type Order = 'ahead' | 'behind' | 'equal' | 'open';

export function compare(a: Finish, b: Finish, isUsed: (rule: number) => boolean): Order {
  if (a.total !== b.total) return a.total > b.total ? 'ahead' : 'behind';
  for (const [r, key] of a.keys.entries()) {
    const other = b.keys[r];
    if (!isUsed(r)) continue;
    if (typeof key === 'string' || typeof other !== 'object') return 'open';
    for (const [k, value] of key.entries()) {
      const theirs = other[k] ?? 0;
      if (value !== theirs) return value > theirs ? 'ahead' : 'behind';
    }
  }
  return 'equal';
}

/** Rules that all of these have the data for: one tie is resolved as a whole. */
export function rulesFor(finishes: readonly Finish[]): (rule: number) => boolean {
  return (rule) => {
    const keys = finishes.map((f) => f.keys[rule] ?? 'unrecorded');
    const sizes = new Set(keys.filter((key) => key !== 'unknown').map((key) => key.length));
    return !keys.includes('unrecorded') && sizes.size < 2;
  };
}

/** How many of the others compare so with her; all on her total are in one tie. */
export function countIn(
  finishes: readonly Finish[],
  her: Finish,
  orders: readonly Order[],
): number {
  const isUsed = rulesFor(finishes.filter((f) => f.total === her.total));
  return finishes.filter((f) => f !== her && orders.includes(compare(f, her, isUsed))).length;
}
