/** Every kind of contest there is: a new one is a file beside this, and a line here. */
import { allAround } from './all-around.js';
import { apparatus } from './apparatus.js';
import type { ContestKind } from './contest-kind.js';
import { team } from './team.js';

/** The first is the contest of a meet that names none. A kind can be added before a meet is read. */
export const CONTEST_KINDS: ContestKind[] = [allAround, apparatus, team];

/** The ranking on one apparatus, which every apparatus of a meet has whether it is declared or not. */
export const RANKING_ON_APPARATUS: ContestKind = apparatus;
