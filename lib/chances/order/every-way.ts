/** Every way the routines of a runner can go, compared by the rules of the board. */

import type { Contest } from '../../contest/contest.js';
import { type Meet, rangeAt } from '../../meet/meet.js';
import { assumed, entryOf } from '../../rules/entry.js';
import type { Score } from '../../score.js';

type TieRule = Contest['ties'][number];

import { routineDistribution } from '../part.js';
import type { Race, Runner } from '../runner.js';
import { type InOrder, type Variant, wholeOf } from './order.js';

/** How many ways there are. */
export function waysOf(meet: Meet, runner: Runner): number {
  return runner.toCome.reduce((n, i) => n * routineDistribution(meet, i).scores.length, 1);
}

export function everyWayInOrder(
  meet: Meet,
  { runners, rules }: Race,
  variants: readonly Variant[],
): InOrder {
  const everyone = [...runners, ...variants.map((v) => v.runner)];
  const results = everyone.flatMap((runner, who) =>
    everyWay(meet, runner, rules).map((way) => ({ ...way, who })),
  );
  results.sort((a, b) => compareKeys(b.key, a.key));
  const isEqual = (k: number) => k > 0 && compareKeys(results[k - 1]!.key, results[k]!.key) === 0;
  const left = new Int32Array(everyone.length);
  for (const { who } of results) left[who]!++;
  const whole = wholeOf({
    who: Int32Array.from(results, (r) => r.who),
    chance: Float64Array.from(results, (r) => r.chance),
    equals: Uint8Array.from(results, (_, k) => (isEqual(k) ? 1 : 0)),
  });
  return { size: runners.length, members: everyone.length, pieces: [whole], left };
}

function everyWay(
  meet: Meet,
  { contender, toCome, assumed: entry }: Runner,
  rules: readonly TieRule[],
): { key: readonly number[]; chance: number }[] {
  const ways = new Map<string, { key: readonly number[]; chance: number }>();
  const performances = [...entry.performances];
  const go = (k: number, chance: number): void => {
    const routine = toCome[k];
    if (routine === undefined) {
      const done = entryOf(contender, performances);
      const key = [done.total, ...rules.flatMap((rule) => numbersOf(rule.key(done)))];
      const name = key.join();
      const same = ways.get(name);
      ways.set(name, { key, chance: (same?.chance ?? 0) + chance });
      return;
    }
    const { d } = rangeAt(meet, routine);
    const { scores, chances } = routineDistribution(meet, routine);
    for (const [n, score] of scores.entries()) {
      performances[routine] = assumed(score, d);
      go(k + 1, chance * chances[n]!);
    }
  };
  go(0, 1);
  return [...ways.values()].filter((w) => w.chance > 0);
}

function numbersOf(key: ReturnType<TieRule['key']>): readonly Score[] {
  return typeof key === 'string' ? [] : key;
}

/** Above 0: the first is ahead. */
export function compareKeys(a: readonly number[], b: readonly number[]): number {
  for (const [k, value] of a.entries()) {
    const other = b[k] ?? 0;
    if (value !== other) return value - other;
  }
  return 0;
}
