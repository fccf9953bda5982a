/** What is at stake in a routine to come: the chances of first place if it goes badly, or well. */
import { type Meet, routineAt } from '../meet/meet.js';
import { quantile } from '../range/distribution.js';
import { placeChances } from './exact.js';
import { ifScored, type Race, routineDistribution } from './runner.js';

export interface Stake {
  readonly gymnast: string;
  readonly apparatus: string;
  /** Chances of first place if this routine scores the 10th, and the 90th, percentile. */
  readonly title: readonly { readonly id: string; readonly low: number; readonly high: number }[];
}

/** In the order the routines go up. */
export function stakesOf(meet: Meet, race: Race): Stake[] {
  const { runners } = race;
  const routines = runners
    .flatMap(({ toCome }, who) => toCome.map((routine) => ({ who, routine })))
    .sort((a, b) => a.routine - b.routine);
  return routines.map(({ who, routine }): Stake => {
    const { gymnast, apparatus } = routineAt(meet, routine);
    const titles = [0.1, 0.9].map((q) => {
      const score = quantile(routineDistribution(meet, routine), q);
      return placeChances(meet, ifScored(meet, race, who, routine, score)).places;
    });
    const title = runners.map(({ contender }, i) => ({
      id: contender.id,
      low: titles[0]![i]![0] ?? 0,
      high: titles[1]![i]![0] ?? 0,
    }));
    return { gymnast, apparatus, title: title.filter((t) => t.low > 0 || t.high > 0) };
  });
}
