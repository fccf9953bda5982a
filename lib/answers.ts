/** What there is to be answered: the answers by their names. */
import type { Chances } from './chances/chances.js';
import type { Claim } from './claim/claim.js';
import type { Standings } from './contest/standings.js';
import type { GraphicsChanges } from './graphics/changes.js';
import type { Graphics } from './graphics/graphics.js';
import type { Backtest } from './history/backtest-answer.js';
import type { PastBest } from './history/past-best.js';
import type { Ranges } from './history/ranges.js';
import type { AdvanceChances } from './needs/advancing.js';
import type { FinishedSheet } from './needs/finished.js';
import type { InPlace } from './needs/in-place.js';
import type { Outcomes } from './needs/outcomes.js';
import type { Recorded } from './needs/recorded.js';
import type { NeedsOfAll, NeedsSheet } from './needs/sheet.js';
import type { Supposed } from './needs/suppose.js';
import type { Story } from './story/story.js';

/** Each answer by the name of what it answers; a new one is one entry here, and its shape in `written.ts`. */
export interface Answers {
  /** The board of a contest: `standings`. */
  readonly standings: Standings;
  /** What one gymnast or team needs, or how she finished: `needs`. */
  readonly needs: NeedsSheet | FinishedSheet;
  /** What everyone with a routine to come needs: `needsOfAll`. */
  readonly needsOfAll: NeedsOfAll;
  /** The bands of one next score: `outcomes`. */
  readonly outcomes: Outcomes;
  /** Everyone's chances of every place: `chances`. */
  readonly chances: Chances;
  /** Chances of going through: `advancing`. */
  readonly advancing: AdvanceChances;
  /** What would be if some scores happened: `suppose`. */
  readonly suppose: Supposed;
  /**
   * What a recorded row changed, with the score in its place: `record`, `scoreInPlace` and
   * `pastBest`.
   */
  readonly record: Recorded & {
    /**
     * The score beside what was needed and what was usual; null for a row that brought no score.
     */
    readonly inPlace?: InPlace | null;
    /** Where a history is named. */
    readonly pastBest?: PastBest | null;
  };
  /** Lines for graphics and for the voice: `graphics`. */
  readonly graphics: Graphics;
  /** What is new in those lines: `changesBetween`. */
  readonly graphicsChanges: GraphicsChanges;
  /** The evening in retrospect: `story`. */
  readonly story: Story;
  /** A statement put to the test: `claim`, `claimOfTwo`. */
  readonly claim: Claim;
  /** How honest the chances were: `backtest`. */
  readonly backtest: Backtest;
  /** Ranges made from results of the past: `ranges`. */
  readonly ranges: Ranges;
}

/**
 * The name of an answer, as `written` takes it and as its schema is called: `standings`, `needs`, …
 */
export type AnswerName = keyof Answers;
