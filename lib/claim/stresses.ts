/** How ranges change under a stress: the same meet as someone less sure of them might see it. */
import { limitAt, type Meet, type Range } from '../meet/meet.js';
import { derived } from '../meet/sound.js';
import { asScore, formatScore, type Score, type Units, unitsPerPoint } from '../score.js';

/** One thing that may be otherwise than the ranges say. */
export interface Stress {
  /** Said after "if". */
  readonly what: string;
  readonly change: (range: Range, routine: number) => Range;
}

/** How much narrower and wider spreads are. */
const THIRD = 1 / 3;

/** Falls are doubled to no more than this. */
const MOST_FALLS = 0.95;

/** How far likely moves where nobody says how far off it may be, in points. */
const TENTH = 0.1;

/**
 * The stresses by pairs that go opposite ways. `who` is the one the claim is about, as a sentence
 * begins with it ("she"), and `isHers` says which routines are hers.
 */
export function stressPairs(
  meet: Meet,
  who: string,
  isHers: (routine: number) => boolean,
): (readonly [Stress, Stress])[] {
  const off = (range: Range) => range.within ?? TENTH * unitsPerPoint(meet.scoring.decimals);
  const by = offInWords(meet, isHers);
  const score = who === 'they' ? 'score' : 'scores';
  return [
    [
      { what: 'everyone is a third steadier', change: spread(1 - THIRD) },
      { what: 'everyone is a third less steady', change: spread(1 + THIRD) },
    ],
    [
      { what: 'there are half as many falls', change: falls(0.5) },
      { what: 'there are twice as many falls', change: falls(2) },
    ],
    [
      { what: `${who} ${score} ${by} lower`, change: moved((r) => -off(r), isHers) },
      { what: `${who} ${score} ${by} higher`, change: moved(off, isHers) },
    ],
  ];
}

/** The meet with all these changes to the ranges of what is to come, one after the other. */
export function stressed(meet: Meet, stresses: readonly Stress[]): Meet {
  return derived(meet, {
    ranges: meet.ranges.map((range, i) => {
      if (meet.results[i] !== null) return range;
      const changed = stresses.reduce((r, { change }) => change(r, i), range);
      return withinLimit(changed, limitAt(meet, i));
    }),
  });
}

function spread(factor: number): Stress['change'] {
  return (range) => {
    const { low, likely, high } = range;
    if (low === null || likely === null || high === null) return range;
    return {
      ...range,
      low: asScore(Math.round(likely - (likely - low) * factor)),
      high: asScore(Math.round(likely + (high - likely) * factor)),
    };
  };
}

function falls(factor: number): Stress['change'] {
  return (range) => {
    if (range.falls === null) return range;
    return {
      ...range,
      falls: Math.min(range.falls * factor, Math.max(MOST_FALLS, range.falls)),
    };
  };
}

/** "a tenth", "0.150", "0.100 to 0.200 a routine": how far her ranges to come may be off. */
function offInWords(meet: Meet, isHers: (routine: number) => boolean): string {
  const { decimals } = meet.scoring;
  const open = meet.ranges.filter((_, i) => isHers(i) && meet.results[i] === null);
  const said = open.map((r) => r.within ?? asScore(TENTH * unitsPerPoint(decimals)));
  if (open.every((r) => r.within === null)) return 'a tenth';
  const [least, most] = [Math.min(...said), Math.max(...said)].map((s) => formatScore(s, decimals));
  return least === most ? `${least}` : `${least} to ${most} a routine`;
}

/** The whole range moves with likely. */
function moved(
  off: (range: Range) => number,
  isHers: (routine: number) => boolean,
): Stress['change'] {
  return (range, routine) => {
    if (!isHers(routine)) return range;
    const by = off(range);
    const plus = (s: Score | null) => (s === null ? null : asScore(s + by));
    const { low, likely, high } = range;
    return { ...range, low: plus(low), likely: plus(likely), high: plus(high) };
  };
}

function withinLimit(range: Range, limit: Units): Range {
  const within = (s: Score | null) =>
    s === null ? null : asScore(Math.max(Math.min(s, limit), 0));
  const { low, likely, high } = range;
  return { ...range, low: within(low), likely: within(likely), high: within(high) };
}
