/** What was unlikely about an evening. */
import type { Chance, Measure } from '../chance.js';
import type { History } from '../history/history.js';
import { type PastBest, pastBest } from '../history/past-best.js';
import type { Meet } from '../meet/meet.js';
import type { Score } from '../score.js';
import type { ChancesThen } from './moment.js';
import type { StoryPoint } from './point.js';

/** A score that few of her routines reach. */
export interface RareScore {
  /** Of the log, counted from 1. */
  readonly row: number;
  /** Who got it, by id. */
  readonly gymnast: string;
  /** Where, by code. */
  readonly apparatus: string;
  /** What it was. */
  readonly score: Score;
  /** How many of a hundred such routines it beats. */
  readonly percentile: Measure;
  /** Beside her past scores there; null without a history, and where it has none of hers. */
  readonly past: PastBest | null;
}

/** What hardly anybody would have expected of the evening. */
export interface Unlikely {
  /** Of whoever won: the lowest chance of the title; null before, and where it never was as low as one in four. */
  readonly lowest: {
    /** Of whoever won. */
    readonly id: string;
    /** The row after which that was; 0 before the first score. */
    readonly row: number;
    /** Of the title, then. */
    readonly chance: Chance;
  } | null;
  /** Scores that beat 95 of a hundred such routines, in order of time. */
  readonly scores: readonly RareScore[];
}

/** From this percentile on a score is rare. */
const RARE = 95;

/** A winner who always had more than this surprised nobody. */
const LONG_SHOT = 0.25;

/** Null where nothing was unlikely. `winner`: who has won the title; null before, where several have, and where there is none. */
export function unlikelyIn(
  meet: Meet,
  history: History | null,
  story: {
    readonly winner: string | null;
    readonly start: readonly ChancesThen[];
    readonly points: readonly StoryPoint[];
  },
): Unlikely | null {
  const lowest = lowestOf(story);
  const scores = story.points.flatMap((point): RareScore[] => {
    const { row, gymnast, apparatus, score, percentile } = point;
    if (apparatus === null || score === null || percentile === null) return [];
    // A usual range says little about her.
    if (percentile < RARE || point.rangeFrom === 'usual') return [];
    if (isReplaced(point, story.points)) return [];
    const past = history && pastBest(meet, history, { gymnast, apparatus, score });
    return [{ row, gymnast, apparatus, score, percentile, past }];
  });
  return lowest === null && scores.length === 0 ? null : { lowest, scores };
}

/** Whether a score was changed or taken back later. */
function isReplaced({ row, ...point }: StoryPoint, points: readonly StoryPoint[]): boolean {
  return points.some(
    (p) => p.row > row && p.gymnast === point.gymnast && p.apparatus === point.apparatus,
  );
}

function lowestOf({ winner, start, points }: Parameters<typeof unlikelyIn>[2]): Unlikely['lowest'] {
  if (winner === null) return null;
  const chanceIn = (all: readonly ChancesThen[]) => all.find((c) => c.id === winner)?.win ?? 0;
  let lowest = { row: 0, chance: chanceIn(start) };
  for (const { row, chances } of points) {
    const chance = chanceIn(chances);
    if (chance < lowest.chance) lowest = { row, chance };
  }
  return lowest.chance > LONG_SHOT ? null : { id: winner, ...lowest };
}
