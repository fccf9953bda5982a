/**
 * The chance of every place, for entrants and for conditioned ones: place k + 1 is that k others are
 * ahead. Who shares a place counts as having it.
 */
import { summedChance } from '../../chance.js';
import type { TieGroups } from '../tie-groups.js';
import { aheadCount } from './ahead.js';
import { evaluations } from './boundaries.js';

export interface PlaceSweep {
  /** By member and place. */
  readonly places: Float64Array;
  /**
   * By member and place: half of what that chance loses when all ties of unknown order go against the
   * member instead of her way. Summed over the first few places it bounds the error of their sum.
   */
  readonly halves: Float64Array;
}

export interface PlaceQuestion {
  /** By conditioned member: which entrant it is. */
  readonly of: readonly number[];
  /** By member: whether its places are asked. */
  readonly asked: readonly boolean[];
  /** Told how much is done, from 0 to 1. */
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** How often progress is told. */
const STEPS = 200;

export function sweepPlaces(
  groups: TieGroups,
  { of, asked, onProgress }: PlaceQuestion,
): PlaceSweep {
  const { size, starts, who, ahead, isShared } = groups;
  const places = new Float64Array((size + of.length) * size);
  const halves = new Float64Array((size + of.length) * size);
  const count = aheadCount(size, { sums: places, bounds: halves });
  const isAsked = Uint8Array.from(asked, Number);
  const step = Math.ceil(isShared.length / STEPS);
  const evaluatedAt = evaluations(groups);
  for (let group = 0; group <= isShared.length; group++) {
    if (group % step === step - 1) onProgress?.(group / isShared.length);
    const from = starts[group] ?? 0;
    const at = evaluatedAt(group);
    for (let k = 0; k < at.count; k++) {
      const member = at.who[k] ?? 0;
      if (isAsked[member] === 0) continue;
      const entrant = member < size ? member : (of[member - size] ?? 0);
      count.addOthers(entrant, member * size, at.weights[k] ?? 0, at.bounds[k] ?? 0);
    }
    for (let k = from; k < (starts[group + 1] ?? 0); k++) {
      const member = who[k] ?? 0;
      if (member < size) count.set(member, ahead[k] ?? 0);
    }
  }
  return { places, halves };
}

/** The chance of one of the first few places. */
export function sumOfFirst(places: readonly number[], count: number): number {
  return summedChance(places.slice(0, count).reduce((a, b) => a + b, 0));
}
