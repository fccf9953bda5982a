/**
 * Who goes on, over every kind of contest and every tie rule: boards, needs, what is settled, chances
 * and samples, under quotas of a team, with reserves, and with ties that are broken or let through.
 */
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { CONTEST_KINDS } from '../../lib/rules/contests/index.js';
import { TIE_RULES } from '../../lib/rules/ties/index.js';
import '../support/best-three.js';
import { times } from '../support/times.js';
import {
  advancingIsExact,
  boardsSayWhoAdvances,
  curvesAddUp,
  needsToAdvanceAreMinimal,
  settledToAdvance,
} from './records/advancing.js';
import {
  type ContestText,
  type Small,
  type SmallMeet,
  smallArb,
  smallMeet,
} from './records/small-meet.js';

const TEAMS = { a: 'p', b: 'p', c: 'p', d: 'q', e: 'q', f: null } as const;

const ADVANCE = [
  '{ places: 2, perTeam: 1, reserves: 1 }',
  '{ places: 3, perTeam: 2, reserves: 2, ties: all }',
  '{ places: 2 }',
];

/** As each kind says it is written, with who goes on from it. */
const CONTESTS: readonly ContestText[] = CONTEST_KINDS.flatMap(({ example, ranks }) => {
  const text = example.startsWith('{') ? example : `{ kind: ${example} }`;
  const rules = ranks === 'teams' ? ['{ places: 1, reserves: 1 }'] : ADVANCE;
  return rules.map((advance) => ({
    text: text.replace(/\s*\}$/, `, advance: ${advance} }`),
    ranks,
    teams: TEAMS,
  }));
});

const RULES = TIE_RULES.map((rule) => rule.name);

const SEED = 20_251;

describe.each(CONTESTS)('$text', (contest) => {
  // Half of the rules each: every rule meets every kind of contest, and every way to advance.
  const rules = RULES.filter((_, k) => (k + CONTESTS.indexOf(contest)) % 2 === 0);
  const holds = (law: (small: SmallMeet) => void, numRuns: number, isOver = false) => {
    for (const rule of rules) {
      fc.assert(
        fc.property(smallArb, (drawn: Small) => {
          law(smallMeet(contest, [rule], isOver ? { ...drawn, toCome: [] } : drawn));
        }),
        { numRuns: times(numRuns), seed: SEED },
      );
    }
  };
  it('has chances and samples as every way it can go', () => holds(advancingIsExact, 1));
  it('has curves that add up', () => holds(curvesAddUp, 1));
  it('has needs that are the lowest and lose nothing', () => holds(needsToAdvanceAreMinimal, 3));
  it('has settled what is certain', () => holds(settledToAdvance, 3));
  it('has a board that says who is in, who waits and who is kept out', () =>
    holds(boardsSayWhoAdvances, 12, true));
});
