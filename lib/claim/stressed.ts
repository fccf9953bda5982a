/** The chance of a claim when something is otherwise than the ranges say. */
import type { Chance } from '../chance.js';
import type { Meet } from '../meet/meet.js';
import { type Asked, chanceIn, chanceWithDayForm, hasDays, type WithinBounds } from './asked.js';
import { type Stress, stressed, stressPairs } from './stresses.js';

/** The chance when something is otherwise than the ranges say. */
export interface Stressed {
  /** What is otherwise, said after "if". */
  readonly what: string;
  /** Of the same target then. */
  readonly chance: Chance;
  /** How low and how high it can be: by its bound of error or, where it was drawn, by Wilson's 95% interval. */
  readonly low: Chance;
  /** The other end of that. */
  readonly high: Chance;
}

/** Something that was not tried, and why not. */
export interface NotTried {
  /** What would have been otherwise. */
  readonly what: string;
  /** As a reason people can read. */
  readonly why: string;
}

export interface Stresses {
  readonly stresses: readonly Stressed[];
  readonly notTried: readonly NotTried[];
}

export interface AboutStress {
  /** Whom the claim is about, as a sentence begins with it. */
  readonly who: string;
  readonly isHers: (routine: number) => boolean;
  /** The chance that is stressed. */
  readonly chance: WithinBounds;
}

const DAYS = 'good and bad days count';

/** What of each pair of stresses hurts, and what helps, at once. */
export const TOGETHER: readonly [string, string] = [
  'all that hurts comes together',
  'all that helps comes together',
];

/** One at a time, all that help and all that hurt together, and with day form. */
export function stressesOf(
  meet: Meet,
  asked: Asked,
  { who, isHers, chance: plain }: AboutStress,
  onProgress?: (done: number, of: number) => void,
): Stresses {
  if (meet.results.every((r) => r !== null)) return { stresses: [], notTried: [] };
  const pairs = stressPairs(meet, who, isHers);
  const noDays = whyNoDays(meet, asked);
  const of = pairs.length * 2 + 2 + (noDays === null ? 1 : 0);
  let done = 0;
  const ask = (stresses: readonly Stress[]): WithinBounds => {
    const found = chanceIn(stressed(meet, stresses), asked);
    onProgress?.(++done, of);
    return found;
  };
  const found = pairs.map((pair) =>
    pair.map((stress) => ({ stress, what: stress.what, ...ask([stress]) })),
  );
  const better = (sign: number) =>
    found.map((pair) => pair.reduce((a, b) => (sign * b.chance > sign * a.chance ? b : a)).stress);
  const all: Stressed[] = found.flat().map(({ stress: _, ...one }) => one);
  const [hurts, helps] = TOGETHER;
  all.push({ what: hurts, ...ask(better(-1)) });
  all.push({ what: helps, ...ask(better(1)) });
  if (noDays === null) {
    // What is certain with independent routines is certain however they go together.
    const isCertain = plain.high === 0 || plain.low === 1;
    all.push({ what: DAYS, ...(isCertain ? plain : chanceWithDayForm(meet, asked)) });
  }
  onProgress?.(of, of);
  return { stresses: all, notTried: noDays === null ? [] : [{ what: DAYS, why: noDays }] };
}

/** Why good and bad days are not counted; null where they are. */
function whyNoDays(meet: Meet, { contest, target }: Asked): string | null {
  if (target.kind === 'beat') return 'against one rival alone they are not worked out';
  return hasDays(meet, contest) ? null : 'nobody has more than one routine to come';
}
