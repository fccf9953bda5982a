/** What is to be drawn in a sample of a contest: the routines to come, and how totals follow from them. */
import { type AdvanceRules, routineAt } from '../../meet/meet.js';
import { cumulative } from '../../range/distribution.js';
import { countsAll } from '../../rules/contender.js';
import type { Units } from '../../score.js';
import type { ContestModel, Entrant } from '../model.js';
import { hasSum, type OpenPart, routineDistribution } from '../open-part.js';
import { endsOf } from '../stakes.js';
import { teamsByNumber } from '../sweep/team-counts.js';
import { MOST_SAMPLES, type SampleWishes, type Sampling } from './options.js';

/** Random numbers are whole ones below this. */
export const WHOLE = 2 ** 32;

/** Medal outcomes are kept of every meet where there can be no more than so many. */
const MANY_PODIUMS = 2_000_000;

/** A routine to come. */
export interface Slot {
  readonly routine: number;
  readonly entrant: number;
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

/** What an open part is worth, by the scores of all slots. */
export type Worth = (scores: Int32Array) => Units;

export interface EntrantPlan {
  /** What is decided of the total, and by part, the lowest first. */
  readonly fixed: Units;
  readonly decided: readonly Units[];
  readonly worths: readonly Worth[];
  readonly slots: readonly number[];
  /** By how much one routine at its better end, and what goes with it, can raise the total. */
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
  const isFew = (2 * entrants.length) ** contest.medals <= MANY_PODIUMS;
  const { advance } = contest;
  const teams = () => teamsByNumber(entrants.map((e) => e.contender.team)).teamOf;
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
    advancing: advance === null ? null : { rules: advance, teams: teams() },
    podiumMeets: isFew ? MOST_SAMPLES : Math.ceil(MANY_PODIUMS / contest.medals),
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
  const slots = open.map(({ routine, entrant }, s): Slot => {
    const distribution = routineDistribution(meet, routine);
    const scores = Int32Array.from(distribution.scores);
    const limits = Float64Array.from(cumulative(distribution), (c) => Math.round(c * WHOLE));
    const form = sharing.indexOf(gymnasts[s] ?? '');
    const mates = [...gymnasts.keys()].filter((t) => gymnasts[t] === gymnasts[s] && t !== s);
    return {
      routine,
      entrant,
      scores,
      limits,
      guide: Int32Array.from({ length: 256 }, (_, top) =>
        limits.findIndex((l) => l > (top << 24) >>> 0),
      ),
      form: form < 0 ? null : form,
      mates: form < 0 ? [] : mates,
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
  const hers = toCome.flatMap((i) => slotOf.get(i) ?? []);
  const worths = open.map((one) => worthOf(one, slotOf));
  const totalAt = (end: number) => {
    const scores = Int32Array.from(slots, (slot) => slot.scores.at(end) ?? 0);
    return worths.reduce((sum, worth) => sum + worth(scores), fixed);
  };
  const [lowest, highest] = [totalAt(0), totalAt(-1)];
  const gains = hers.map((s) => gainOf(slots, s));
  return {
    fixed,
    decided,
    worths,
    slots: hers,
    most: Math.max(0, ...gains),
    lowest,
    width: highest - lowest + 1,
  };
}

/** A routine's better end above its lowest score, and the best of what goes with it above theirs. */
function gainOf(slots: readonly Slot[], s: number): Units {
  const { scores = [], ends = [], mates = [] } = slots[s] ?? {};
  const spans = mates.map((t) => (slots[t]?.scores.at(-1) ?? 0) - (slots[t]?.scores[0] ?? 0));
  const gain = (scores[ends.at(-1) ?? 0] ?? 0) - (scores[0] ?? 0);
  return spans.reduce((a, b) => a + b, gain);
}

function worthOf({ part, toCome, known }: OpenPart, slotOf: ReadonlyMap<number, number>): Worth {
  const slots = toCome.flatMap((i) => slotOf.get(i) ?? []);
  const sure = known.map(({ score }) => score);
  const count = part.rule.kind === 'best' && !countsAll(part) ? part.rule.count : null;
  if (count !== null) return (scores) => sumOfBest(slots, sure, count, scores);
  const base = sure.reduce((a, b) => a + b, 0);
  const sum: Worth = (scores) => {
    let all = base;
    for (const s of slots) all += scores[s] ?? 0;
    return all;
  };
  return part.rule.kind === 'mean' ? (scores) => Math.floor(sum(scores) / 2) : sum;
}

/** The best few of some scores that are known and those of some slots, added up. */
function sumOfBest(
  slots: readonly number[],
  known: readonly Units[],
  count: number,
  scores: Int32Array,
): Units {
  const best: number[] = [];
  for (let k = 0; k < known.length + slots.length; k++) {
    const score = known[k] ?? scores[slots[k - known.length] ?? 0] ?? 0;
    let at = Math.min(best.length, count - 1);
    if (best.length === count && (best[at] ?? 0) >= score) continue;
    for (; at > 0 && (best[at - 1] ?? 0) < score; at--) best[at] = best[at - 1] ?? 0;
    best[at] = score;
  }
  let sum = 0;
  for (const score of best) sum += score;
  return sum;
}

/** The index of the score that a random number means. */
export function pick({ limits, guide }: Slot, u: number): number {
  let k = guide[u >>> 24] ?? 0;
  while (u >= (limits[k] ?? WHOLE)) k++;
  return k;
}
