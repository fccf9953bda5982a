/** What is to be drawn in a sample of a contest: the routines to come, and how totals follow from them. */
import { type AdvanceRules, routineAt } from '../../meet/meet.js';
import { cumulative } from '../../range/distribution.js';
import { countsAll } from '../../rules/contender.js';
import type { Score, Units } from '../../score.js';
import type { ContestModel, Entrant } from '../model.js';
import { hasSum, type OpenPart, routineDistribution } from '../open-part.js';
import { endsOf } from '../stakes.js';
import { teamsByNumber } from '../sweep/team-counts.js';

/** Options that were checked, with nothing left open. */
export interface Sampling {
  /** The most meets that are drawn. */
  readonly sample: number;
  readonly seed: number;
  readonly dayForm: number;
  readonly precision: number | null;
  readonly onProgress: ((done: number, of: number | null) => void) | null;
  readonly onDraw: ((meet: readonly DrawnEnd[]) => void) | null;
}

/** How one contender ended in one of the meets that were drawn. */
export interface DrawnEnd {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** At the end, in units, with what was carried in. */
  readonly total: Score;
  /** Counted from 1; those who share it have the same. */
  readonly place: number;
}

/** What is counted besides places and medals. */
export interface SampleWishes {
  /** What is at stake in every routine to come. */
  readonly stakes?: boolean;
  /** A routine to come, by whose score its entrant's places are wanted. */
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
  readonly entrant: number;
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
  readonly known: readonly Units[];
  readonly slots: readonly number[];
}

export interface EntrantPlan {
  /** What does not depend on chance: points carried in, and all known scores of plain parts. */
  readonly base: Units;
  readonly parts: readonly PartPlan[];
  readonly decided: readonly Units[];
  readonly slots: readonly number[];
  /** By how much one routine at its better end can raise the total. */
  readonly most: Units;
  /** The lowest total there is, and how many from there up to the highest. */
  readonly lowest: Units;
  readonly width: number;
}

/** Who goes on from the contest. */
export interface Advancing {
  readonly rules: AdvanceRules;
  /** By entrant: its team by number; who is of no team is one alone. */
  readonly teams: readonly number[];
}

export interface Plan {
  readonly model: ContestModel;
  readonly sampling: Sampling;
  readonly size: number;
  readonly slots: readonly Slot[];
  readonly entrants: readonly EntrantPlan[];
  /** How many gymnasts have a quantile to share. */
  readonly forms: number;
  /** Whether totals are counted: they are not those of the ranges, or cannot be worked out. */
  readonly drawsTotals: boolean;
  readonly stakes: boolean;
  /** The slot of the routine asked for. */
  readonly asked: number | null;
  /** Null where nobody advances from the contest. */
  readonly advancing: Advancing | null;
  /** Of so many meets the medals are kept. */
  readonly podiumMeets: number;
  /** By entrant: where its totals begin in the counts of totals; and where they all end. */
  readonly offsets: readonly number[];
}

export function planOf(model: ContestModel, sampling: Sampling, wishes: SampleWishes): Plan {
  const { entrants, contest } = model;
  const { slots, forms } = slotsOf(model, sampling);
  const slotOf = new Map(slots.map(({ routine }, s) => [routine, s]));
  const plans = entrants.map((entrant) => entrantPlan(entrant, slots, slotOf));
  const drawsTotals = forms > 0 || !entrants.every(({ open }) => hasSum(open));
  const offsets = [0];
  for (const { width } of plans) offsets.push((offsets.at(-1) ?? 0) + (drawsTotals ? width : 0));
  const few = (2 * entrants.length) ** contest.medals <= MANY_PODIUMS;
  return {
    model,
    sampling,
    size: entrants.length,
    slots,
    entrants: plans,
    forms,
    drawsTotals,
    stakes: wishes.stakes ?? false,
    asked: slotOf.get(wishes.routine ?? -1) ?? null,
    advancing:
      contest.advance === null
        ? null
        : {
            rules: contest.advance,
            teams: teamsByNumber(entrants.map((e) => e.contender.team)).teamOf,
          },
    podiumMeets: few ? MOST_SAMPLES : Math.ceil(MANY_PODIUMS / contest.medals),
    offsets,
  };
}

/** The routines to come, and how many gymnasts have several of them that share a quantile. */
function slotsOf({ meet, entrants }: ContestModel, { dayForm }: Sampling) {
  const open = entrants.flatMap((e, entrant) => e.toCome.map((routine) => ({ routine, entrant })));
  const gymnasts = open.map(({ routine }) => routineAt(meet, routine).gymnast);
  const sharing = [...new Set(gymnasts)].filter(
    (id) => dayForm > 0 && gymnasts.indexOf(id) !== gymnasts.lastIndexOf(id),
  );
  const plain = new Set(
    entrants.flatMap((e) => e.open.filter(({ part }) => countsAll(part)).flatMap((o) => o.toCome)),
  );
  const slots = open.map(({ routine, entrant }, s): Slot => {
    const distribution = routineDistribution(meet, routine);
    const scores = Int32Array.from(distribution.scores);
    const limits = Float64Array.from(cumulative(distribution), (c) => Math.round(c * WHOLE));
    const form = sharing.indexOf(gymnasts[s] ?? '');
    const mates = [...gymnasts.keys()].filter(
      (t) => form >= 0 && gymnasts[t] === gymnasts[s] && t !== s,
    );
    return {
      routine,
      entrant,
      plain: [routine, ...mates.map((t) => open[t]?.routine ?? -1)].every((i) => plain.has(i)),
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
  return { slots, forms: sharing.length };
}

function entrantPlan(
  { open, toCome, fixed, decided }: Entrant,
  slots: readonly Slot[],
  slotOf: ReadonlyMap<number, number>,
): EntrantPlan {
  const parts = open.map((o) => partPlan(o, slotOf));
  const hers = toCome.flatMap((i) => slotOf.get(i) ?? []);
  const totalAt = (end: number) =>
    parts.reduce((sum, part) => {
      const scores = part.slots.map((s) => slots[s]?.scores.at(end) ?? 0);
      return sum + valueWith(part, [...part.known, ...scores]);
    }, fixed);
  const plain = parts.filter((p) => p.kind === 'sum').flatMap((p) => p.known);
  return {
    base: plain.reduce((a, b) => a + b, fixed),
    parts,
    decided,
    slots: hers,
    most: Math.max(0, ...hers.map((s) => gainOf(slots[s]))),
    lowest: totalAt(0),
    width: totalAt(-1) - totalAt(0) + 1,
  };
}

/** The better end above the lowest score. */
function gainOf(slot: Slot | undefined): Units {
  return (slot?.scores[slot.ends.at(-1) ?? 0] ?? 0) - (slot?.scores[0] ?? 0);
}

function partPlan(
  { part, toCome, known }: OpenPart,
  slotOf: ReadonlyMap<number, number>,
): PartPlan {
  return {
    kind: countsAll(part) ? 'sum' : part.rule.kind,
    count: part.rule.kind === 'best' ? part.rule.count : 0,
    known: known.map(({ score }) => score),
    slots: toCome.flatMap((i) => slotOf.get(i) ?? []),
  };
}

/** The value of a part with these scores. */
function valueWith({ kind, count }: PartPlan, scores: readonly Units[]): Units {
  const best = kind === 'best' ? [...scores].sort((a, b) => b - a).slice(0, count) : scores;
  const sum = best.reduce((a, b) => a + b, 0);
  return kind === 'mean' ? Math.floor(sum / 2) : sum;
}

/** The index of the score that a random number means. */
export function pick({ limits, guide }: Slot, u: number): number {
  let k = guide[u >>> 24] ?? 0;
  while (u >= (limits[k] ?? WHOLE)) k++;
  return k;
}
