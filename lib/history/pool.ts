/** What is usual on each apparatus, from all routines of a history. */
import type { DisciplineCode } from '../apparatus.js';
import { type Decimals, unitsPerPoint } from '../score.js';
import { executionsOf, fallsAmong } from './fall.js';
import type { PastRoutine } from './routine.js';

/** Everyone's routines on one apparatus. Amounts in units, not rounded. */
export interface Pool {
  readonly routines: number;
  /** The mean score, and the mean of score - D of those of whom a D is known (of nobody: the level), without a fall. */
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
  /** By routine: score - D where a D of hers is known, else the score. */
  readonly executions: readonly number[];
  readonly hasD: boolean;
  readonly fell: readonly boolean[];
}

export function poolKey(discipline: DisciplineCode, apparatus: string): string {
  return `${discipline} ${apparatus}`;
}

/** What is usual among some routines, so that a few gymnasts can be set against all of them. */
export interface Usual {
  /** By terms: the mean of all executions, falls and all. */
  readonly means: ReadonlyMap<string, number>;
  /** By discipline and apparatus. */
  readonly pools: ReadonlyMap<string, Pool>;
}

export function usualOf(routines: readonly PastRoutine[], decimals: Decimals): Usual {
  const groups = grouped(routines);
  const means = meansOf(groups);
  return { means, pools: poolsOf(withFalls(groups, means, decimals), decimals) };
}

/**
 * Routines by gymnast and apparatus, in the order in which they come first. `means`: of all, where these
 * routines are only some.
 */
export function ownRoutines(
  routines: readonly PastRoutine[],
  decimals: Decimals,
  means: Usual['means'] | null = null,
): Own[] {
  const groups = grouped(routines);
  return withFalls(groups, means ?? meansOf(groups), decimals);
}

function withFalls(
  groups: readonly Omit<Own, 'fell'>[],
  means: Usual['means'],
  decimals: Decimals,
): Own[] {
  return groups.map((own) => ({
    ...own,
    fell: fallsAmong(own.executions, means.get(termsOf(own)) ?? 0, decimals),
  }));
}

function grouped(routines: readonly PastRoutine[]): Omit<Own, 'fell'>[] {
  const groups = new Map<string, PastRoutine[]>();
  for (const r of routines) {
    const key = `${poolKey(r.discipline, r.apparatus)} ${r.gymnast}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [r]);
    else group.push(r);
  }
  return [...groups.values()].flatMap((own) => {
    const [first] = own;
    if (first === undefined) return [];
    const { gymnast, discipline, apparatus } = first;
    const hasD = own.some((r) => r.d !== null);
    const executions = executionsOf(own);
    return [{ gymnast, discipline, apparatus, routines: own, executions, hasD }];
  });
}

/** On which apparatus she is followed, and in which terms: by scores, or by scores less D. */
function termsOf({ discipline, apparatus, hasD }: Omit<Own, 'fell'>): string {
  return `${poolKey(discipline, apparatus)} ${hasD}`;
}

function meansOf(owns: readonly Omit<Own, 'fell'>[]): Map<string, number> {
  const sums = new Map<string, { sum: number; count: number }>();
  for (const own of owns) {
    const key = termsOf(own);
    const { sum, count } = sums.get(key) ?? { sum: 0, count: 0 };
    sums.set(key, {
      sum: own.executions.reduce((a, b) => a + b, sum),
      count: count + own.executions.length,
    });
  }
  return new Map([...sums].map(([key, { sum, count }]) => [key, sum / count]));
}

/** By discipline and apparatus. */
export function poolsOf(all: readonly Own[], decimals: Decimals): Map<string, Pool> {
  const groups = new Map<string, Own[]>();
  for (const own of all) {
    const key = poolKey(own.discipline, own.apparatus);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [own]);
    else group.push(own);
  }
  return new Map([...groups].map(([key, owns]) => [key, poolOf(owns, decimals)]));
}

function poolOf(owns: readonly Own[], decimals: Decimals): Pool {
  let [routines, falls] = [0, 0];
  let [score, hits] = [0, 0];
  let [execution, known] = [0, 0];
  let [within, free] = [0, 0];
  const means: { mean: number; count: number }[] = [];
  for (const { routines: own, executions, hasD, fell } of owns) {
    routines += own.length;
    const clean = own.filter((_, i) => !fell[i]);
    falls += own.length - clean.length;
    if (clean.length === 0) continue;
    const mean = clean.reduce((sum, r) => sum + r.score, 0) / clean.length;
    for (const r of clean) {
      score += r.score;
      within += (r.score - mean) ** 2;
    }
    hits += clean.length;
    if (hasD) {
      execution += executions.reduce((sum, e, i) => (fell[i] ? sum : sum + e), 0);
      known += clean.length;
    }
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
    execution: known === 0 ? level : execution / known,
    spread,
    between: Math.sqrt(Math.max(apart - chance, 0)),
    falls: falls / routines,
  };
}
