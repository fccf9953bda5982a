/**
 * One set of laws over every kind of contest and every tie rule there is. A new record comes under
 * them by being registered; so does a contest that only this test knows.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { standings } from '../../lib/index.js';
import { CONTEST_KINDS } from '../../lib/rules/contests/index.js';
import { TIE_RULES } from '../../lib/rules/ties/index.js';
import '../support/best-three.js';
import { logFrom, meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';
import {
  boardsAreTrue,
  chancesAreExact,
  needsAreMinimalAndSafe,
  samplesAreNear,
  settledIsCertain,
} from './records/laws.js';
import {
  type ContestText,
  type Small,
  type SmallMeet,
  smallArb,
  smallMeet,
} from './records/small-meet.js';

/** As each kind says it is written, and what else it can be. */
const CONTESTS: readonly ContestText[] = [
  ...CONTEST_KINDS.map(({ example, ranks }) => ({
    text: example.startsWith('{') ? example : `{ kind: ${example} }`,
    ranks,
  })),
  { text: '{ kind: apparatus, on: VT, vaults: 2 }', ranks: 'gymnasts' },
];

const RULES = TIE_RULES.map((rule) => rule.name);

/** The rule in question, and every second time others behind it. */
function tiesWith(rule: string, { others }: Small): string[] {
  const rest = RULES.filter((name) => name !== rule);
  const first = rest[others % rest.length];
  return others % 2 === 0 || first === undefined ? [rule] : [rule, first];
}

/** Each law is tried on so many meets for each pair of a contest and a rule. */
const RUNS = { chances: 5, samples: 2, needs: 6, settled: 12, boards: 12 };
const SEED = 20_250;

describe.each(CONTESTS)('$text', (contest) => {
  const holds = (law: (small: SmallMeet, drawn: Small) => void, rule: string, numRuns: number) =>
    fc.assert(
      fc.property(smallArb, (drawn) => {
        law(smallMeet(contest, tiesWith(rule, drawn), drawn), drawn);
      }),
      { numRuns: times(numRuns), seed: SEED },
    );

  describe.each(RULES)('with ties by %s', (rule) => {
    it('has chances as every way it can go', () => holds(chancesAreExact, rule, RUNS.chances));
    it('has samples within four standard errors of them', () =>
      holds((small, { start }) => samplesAreNear(small, start), rule, RUNS.samples));
    it('has needs that are the lowest and lose nothing', () =>
      holds(needsAreMinimalAndSafe, rule, RUNS.needs));
    it('has settled what is certain', () => holds(settledIsCertain, rule, RUNS.settled));
    it('has the places of its board', () => holds(boardsAreTrue, rule, RUNS.boards));
  });
});

describe('the best three of four', () => {
  // By hand: ada drops 11.000 and has 37.500; bea drops 12.000 and has 37.500 too, with the higher
  // single score 13.500; cleo withdrew from one, keeps three, and has 36.000.
  it('drops the lowest, and the higher single score breaks the tie', () => {
    const meet = meetFrom(
      `discipline: wag
scoring: open
contests: [best-three]
gymnasts: [{ id: ada }, { id: bea }, { id: cleo }]
`,
      logFrom(
        ...['ada,VT,12.500', 'ada,UB,12.500', 'ada,BB,11.000', 'ada,FX,12.500'],
        ...['bea,VT,12.000', 'bea,UB,12.000', 'bea,BB,12.000', 'bea,FX,13.500'],
        ...['cleo,VT,12.000', 'cleo,UB,DNS', 'cleo,BB,12.000', 'cleo,FX,12.000'],
      ),
    );
    expect(standings(meet).rows.map((r) => [r.place, r.id, r.total])).toEqual([
      [1, 'bea', 37_500],
      [2, 'ada', 37_500],
      [3, 'cleo', 36_000],
    ]);
  });
});
