/** What is to be drawn in a sample of a race: its routines to come, and how totals follow from them. */

import { type Meet, routineAt } from '../../meet/meet.js';
import { cumulative } from '../../range/distribution.js';
import type { Performance } from '../../rules/entry.js';
import type { Score } from '../../score.js';
import { type OpenPart, routineDistribution } from '../part.js';
import { hasTotal, type Race } from '../runner.js';
import { endsOf } from '../stakes.js';

/** Options that were checked, with nothing left open. */
export interface Sampling {
  /** The most meets that are drawn. */
  readonly sample: number;
  readonly seed: number;
  readonly dayForm: number;
  readonly precision: number | null;
  readonly onProgress: ((done: number, of: number | null) => void) | null;
}

/** What is counted besides places and medals. */
export interface SampleWishes {
  /** What is at stake in every routine to come. */
  readonly stakes?: boolean;
  /** A routine to come, by whose score its runner's places are wanted. */
  readonly routine?: number | null;
}

/** Random numbers are whole ones below this. */
export const WHOLE = 2 ** 32;

/** No sample is larger. */
export const MOST_SAMPLES = 1_000_000_000;

/** Medal outcomes are kept of every meet where there can be no more than so many. */
const MANY_PODIUMS = 2_000_000;

/** A routine to come. */
export interface Slot {
  readonly routine: number;
  readonly runner: number;
  /** Its score is added to the total as it is, and so are those of its mates. */
  readonly plain: boolean;
  /** What it can score, rising. */
  readonly scores: Int32Array;
  /** By score: random numbers below this, and not below that of the score before, mean it. */
  readonly limits: Float64Array;
  /** By the first eight bits of a random number: the lowest score it can mean. */
  readonly guide: Int32Array;
  /** Whose quantile it may share, by number; null where there is nobody to share it with. */
  readonly form: number | null;
  /** The other slots that may share the same. */
  readonly mates: readonly number[];
  /** Indices of the scores at the two ends. */
  readonly ends: readonly number[];
}

/** A part of a total with routines to come. */
export interface PartPlan {
  readonly kind: 'sum' | 'best' | 'mean';
  /** How many scores count, for `best`. */
  readonly count: number;
  /** The scores that are known. */
  readonly known: readonly Score[];
  readonly slots: readonly number[];
}

export interface RunnerPlan {
  /** What does not depend on chance: points carried in, and all known scores of plain parts. */
  readonly base: Score;
  readonly parts: readonly PartPlan[];
  readonly decided: readonly Score[];
  readonly slots: readonly number[];
  /** By how much one routine at its better end can raise the total. */
  readonly most: Score;
  /** The lowest total there is, and how many from there up to the highest. */
  readonly lowest: Score;
  readonly width: number;
}

export interface Plan {
  readonly meet: Meet;
  readonly race: Race;
  readonly sampling: Sampling;
  readonly size: number;
  readonly slots: readonly Slot[];
  readonly runners: readonly RunnerPlan[];
  /** How many gymnasts have a quantile to share. */
  readonly forms: number;
  /** Whether totals are counted: they are not those of the ranges, or cannot be worked out. */
  readonly drawsTotals: boolean;
  readonly stakes: boolean;
  /** The slot of the routine asked for. */
  readonly asked: number | null;
  /** Of so many meets the medals are kept. */
  readonly podiumMeets: number;
  /** By runner: where its totals begin in `SampleCounts.totals`; and where they all end. */
  readonly offsets: readonly number[];
}

export function planOf(meet: Meet, race: Race, sampling: Sampling, wishes: SampleWishes): Plan {
  const { runners, contest } = race;
  const size = runners.length;
  const open = runners.flatMap((r, runner) => r.toCome.map((routine) => ({ routine, runner })));
  const gymnasts = open.map(({ routine }) => routineAt(meet, routine).gymnast);
  const sharing = [...new Set(gymnasts)].filter(
    (id) => sampling.dayForm > 0 && gymnasts.indexOf(id) !== gymnasts.lastIndexOf(id),
  );
  const plainOnes = new Set(
    runners.flatMap((r) => r.open.filter(isPlain).flatMap((o) => o.toCome)),
  );
  const slots = open.map(({ routine, runner }, s): Slot => {
    const distribution = routineDistribution(meet, routine);
    const scores = Int32Array.from(distribution.scores);
    const limits = Float64Array.from(cumulative(distribution), (c) => Math.round(c * WHOLE));
    const form = sharing.indexOf(gymnasts[s]!);
    const mates = gymnasts.flatMap((id, t) =>
      form >= 0 && id === gymnasts[s] && t !== s ? [t] : [],
    );
    return {
      routine,
      runner,
      plain: [s, ...mates].every((t) => plainOnes.has(open[t]!.routine)),
      scores,
      limits,
      guide: Int32Array.from({ length: 256 }, (_, top) =>
        limits.findIndex((l) => l > (top << 24) >>> 0),
      ),
      form: form < 0 ? null : form,
      mates,
      ends: endsOf(distribution).map((score) => scores.indexOf(score)),
    };
  });
  const slotOf = new Map(slots.map(({ routine }, s) => [routine, s]));
  const plans = runners.map((runner): RunnerPlan => {
    const parts = runner.open.map((o) => partPlan(o, runner.assumed.performances, slotOf));
    const hers = runner.toCome.map((i) => slotOf.get(i)!);
    const totalAt = (end: number) =>
      parts.reduce((sum, part) => {
        const scores = part.slots.map((s) => slots[s]!.scores.at(end)!);
        return sum + valueWith(part, [...part.known, ...scores]);
      }, runner.fixed);
    const gains = hers.map((s) => slots[s]!.scores[slots[s]!.ends[1]!]! - slots[s]!.scores[0]!);
    const plain = parts.filter((p) => p.kind === 'sum').flatMap((p) => p.known);
    return {
      base: plain.reduce((a, b) => a + b, runner.fixed),
      parts,
      decided: runner.decided,
      slots: hers,
      most: Math.max(0, ...gains),
      lowest: totalAt(0),
      width: totalAt(-1) - totalAt(0) + 1,
    };
  });
  const offsets = [0];
  const drawsTotals = sharing.length > 0 || !race.runners.every(hasTotal);
  for (const { width } of plans) offsets.push(offsets.at(-1)! + (drawsTotals ? width : 0));
  const few = (2 * size) ** contest.medals <= MANY_PODIUMS;
  return {
    meet,
    race,
    sampling,
    size,
    slots,
    runners: plans,
    forms: sharing.length,
    drawsTotals,
    stakes: wishes.stakes ?? false,
    asked: slotOf.get(wishes.routine ?? -1) ?? null,
    podiumMeets: few ? MOST_SAMPLES : Math.ceil(MANY_PODIUMS / contest.medals),
    offsets,
  };
}

/** Whether all its scores count, as they are. */
function isPlain({ part }: OpenPart): boolean {
  return part.rule.kind === 'best' && part.routines.length <= part.rule.count;
}

function partPlan(
  open: OpenPart,
  performances: readonly Performance[],
  slotOf: ReadonlyMap<number, number>,
): PartPlan {
  const { part, toCome } = open;
  const known = part.routines.flatMap((i) => {
    const p = performances[i];
    return toCome.includes(i) || typeof p !== 'object' || p === null ? [] : [p.score];
  });
  return {
    kind: isPlain(open) ? 'sum' : part.rule.kind,
    count: part.rule.kind === 'best' ? part.rule.count : 0,
    known,
    slots: toCome.map((i) => slotOf.get(i)!),
  };
}

/** The value of a part with these scores. */
function valueWith({ kind, count }: PartPlan, scores: readonly Score[]): Score {
  const best = kind === 'best' ? [...scores].sort((a, b) => b - a).slice(0, count) : scores;
  const sum = best.reduce((a, b) => a + b, 0);
  return kind === 'mean' ? Math.floor(sum / 2) : sum;
}

/** The index of the score that a random number means. */
export function pick({ limits, guide }: Slot, u: number): number {
  let k = guide[u >>> 24]!;
  while (u >= limits[k]!) k++;
  return k;
}
