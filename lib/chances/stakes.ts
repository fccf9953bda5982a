/** What is at stake in a routine to come: the chances of first place if it goes badly, or well. */
import type { Chance } from '../chance.js';
import { routineAt } from '../meet/meet.js';
import { type Distribution, percentile } from '../range/distribution.js';
import type { Units } from '../score.js';
import type { ContestModel } from './model.js';
import { routineDistribution } from './open-part.js';
import type { Case } from './place-chances.js';

/** What hangs on one routine. */
export interface Stake {
  /** Whose it is, by id. */
  readonly gymnast: string;
  /** Where it is, by code. */
  readonly apparatus: string;
  /** Chances of first place if this routine scores the 10th, and the 90th, percentile. */
  readonly title: readonly {
    /** Of whoever's title chance is moved by it. */
    readonly id: string;
    /** Their chance if the routine goes badly. */
    readonly low: Chance;
    /** Their chance if it goes well. */
    readonly high: Chance;
  }[];
}

/** A title is looked at if a routine goes badly, and if it goes well. */
export const ENDS = [0.1, 0.9] as const;

/** What a routine scores then: the percentiles of it. */
export function endsOf(distribution: Distribution): Units[] {
  return ENDS.map((q) => percentile(distribution, q));
}

/** Two cases for every routine to come, in the order they go up. */
export function stakeCases({ meet, entrants }: ContestModel): Case[] {
  return entrants
    .flatMap(({ toCome }, who) => toCome.map((routine) => ({ who, routine })))
    .sort((a, b) => a.routine - b.routine)
    .flatMap(({ who, routine }) =>
      endsOf(routineDistribution(meet, routine)).map((score) => ({
        who,
        routine,
        score,
        title: true,
      })),
    );
}

/** What those cases do. `titleOf`: the chance, in a case, that an entrant has the title. */
export function stakesOf(
  { meet, entrants }: ContestModel,
  cases: readonly Case[],
  titleOf: (h: number, entrant: number) => number,
): Stake[] {
  return cases.flatMap(({ routine }, h): Stake[] => {
    if (h % ENDS.length > 0) return [];
    const { gymnast, apparatus } = routineAt(meet, routine);
    const title = entrants.map(({ contender }, i) => ({
      id: contender.id,
      low: titleOf(h, i),
      high: titleOf(h + 1, i),
    }));
    return [{ gymnast, apparatus, title: title.filter((t) => t.low > 0 || t.high > 0) }];
  });
}
