/** All that a page says of one contest, worked out once: its sections only lay it out. */
import { type Chances, type ChancesByScores, chancesByScores } from '../chances/chances.js';
import { type Contest, contestUnderWay, findContest, routinesCounted } from '../contest/contest.js';
import { type Standings, standings } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import { ifRangesAre } from '../needs/likely.js';
import { type DeskCard, deskCards } from '../report/desk.js';
import { type PaperSheet, paperSheets } from '../report/paper.js';

export interface PageFacts {
  readonly meet: Meet;
  readonly contest: Contest;
  readonly standings: Standings;
  readonly cards: readonly DeskCard[];
  /** Null where a range is missing. */
  readonly chances: Chances | null;
  /** By index of the routine, of those on the desk. */
  readonly curves: ChancesByScores['curves'];
  readonly paper: readonly PaperSheet[];
}

/** Without an id, of the first contest in which something is to come. */
export function pageFacts(meet: Meet, contestId: string | null | undefined): PageFacts {
  const contest = findContest(meet, contestId ?? contestUnderWay(meet));
  const { id } = contest;
  const cards = deskCards(meet, id);
  const counted = routinesCounted(contest);
  const routines = cards.map((c) => c.routine).filter((i) => counted.has(i));
  const found = ifRangesAre(() => chancesByScores(meet, contest, routines));
  return {
    meet,
    contest,
    standings: standings(meet, { contest: id }),
    cards,
    chances: found?.chances ?? null,
    curves: found?.curves ?? new Map(),
    paper: paperSheets(meet, id),
  };
}
