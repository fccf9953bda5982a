/** What is usual on each apparatus, from all routines of a history. */
import type { DisciplineCode } from '../apparatus.js';
import { type Decimals, unitsPerPoint } from '../score.js';
import { executionOf, fallsAmong } from './fall.js';
import type { PastRoutine } from './history.js';

/** Everyone's routines on one apparatus. Amounts in units, not rounded. */
export interface Pool {
  readonly routines: number;
  /** The mean score, and the mean of score - D, without a fall. */
  readonly level: number;
  readonly execution: number;
  /** The standard deviation of a routine without a fall around a gymnast's own mean. */
  readonly spread: number;
  /** The standard deviation of gymnasts' own means. */
  readonly between: number;
  /** The chance of a fall. */
  readonly falls: number;
}

/** One gymnast's routines on one apparatus, and which of them had a fall. */
export interface Own {
  readonly gymnast: string;
  readonly discipline: DisciplineCode;
  readonly apparatus: string;
  readonly routines: readonly PastRoutine[];
  readonly fell: readonly boolean[];
}

export function poolKey(discipline: DisciplineCode, apparatus: string): string {
  return `${discipline} ${apparatus}`;
}

/** Routines by gymnast and apparatus, in the order in which they come first. */
export function ownRoutines(routines: readonly PastRoutine[], decimals: Decimals): Own[] {
  const groups = new Map<string, PastRoutine[]>();
  for (const r of routines) {
    const key = `${poolKey(r.discipline, r.apparatus)} ${r.gymnast}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [r]);
    else group.push(r);
  }
  const usual = meansBy(routines);
  return [...groups.values()].map((own) => {
    const { gymnast, discipline, apparatus } = own[0]!;
    const mean = usual.get(poolKey(discipline, apparatus)) ?? 0;
    return {
      gymnast,
      discipline,
      apparatus,
      routines: own,
      fell: fallsAmong(own, mean, decimals),
    };
  });
}

function meansBy(routines: readonly PastRoutine[]): Map<string, number> {
  const sums = new Map<string, { sum: number; count: number }>();
  for (const r of routines) {
    const key = poolKey(r.discipline, r.apparatus);
    const { sum, count } = sums.get(key) ?? { sum: 0, count: 0 };
    sums.set(key, { sum: sum + executionOf(r), count: count + 1 });
  }
  return new Map([...sums].map(([key, { sum, count }]) => [key, sum / count]));
}

/** By discipline and apparatus. */
export function poolsOf(all: readonly Own[], decimals: Decimals): Map<string, Pool> {
  const pools = new Map<string, Pool>();
  for (const key of new Set(all.map((o) => poolKey(o.discipline, o.apparatus)))) {
    const owns = all.filter((o) => poolKey(o.discipline, o.apparatus) === key);
    pools.set(key, poolOf(owns, decimals));
  }
  return pools;
}

function poolOf(owns: readonly Own[], decimals: Decimals): Pool {
  let [routines, falls] = [0, 0];
  let [score, execution, hits] = [0, 0, 0];
  let [within, free] = [0, 0];
  const means: { mean: number; count: number }[] = [];
  for (const { routines: own, fell } of owns) {
    routines += own.length;
    const clean = own.filter((_, i) => !fell[i]);
    falls += own.length - clean.length;
    if (clean.length === 0) continue;
    const mean = clean.reduce((sum, r) => sum + r.score, 0) / clean.length;
    for (const r of clean) {
      score += r.score;
      execution += executionOf(r);
      within += (r.score - mean) ** 2;
    }
    hits += clean.length;
    free += clean.length - 1;
    means.push({ mean, count: clean.length });
  }
  const level = score / hits;
  const spread = free > 0 ? Math.sqrt(within / free) : 0.4 * unitsPerPoint(decimals);
  // Of what the means differ by, a part is only that each rests on few routines.
  const middle = means.reduce((sum, m) => sum + m.mean, 0) / means.length;
  const apart = means.reduce((sum, m) => sum + (m.mean - middle) ** 2, 0) / means.length;
  const chance = means.reduce((sum, m) => sum + spread ** 2 / m.count, 0) / means.length;
  return {
    routines,
    level,
    execution: execution / hits,
    spread,
    between: Math.sqrt(Math.max(apart - chance, 0)),
    falls: falls / routines,
  };
}
