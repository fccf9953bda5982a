/**
 * What the properties found, each case worked out by hand: team contests that drop scores and have
 * D or E among their tie rules, where the score that comes to count brings its own D and E; where it
 * does not matter; and a team with nobody in it. What the properties found elsewhere is under test where it belongs.
 */

import { describe, expect, it } from 'vitest';
import { findContest } from '../../lib/contest/contest.js';
import { placeGoal } from '../../lib/contest/goal.js';
import { bothSenses, settledIn } from '../../lib/contest/settled.js';
import { chances, type Meet, needs, outcomes, standings } from '../../lib/index.js';
import { logFrom, meetFrom, spoken } from '../support/meet.js';

const board = (meet: Meet) =>
  standings(meet).rows.map((r) => `${r.place}${r.tied ? '=' : ''} ${r.id}`);

const winOf = (meet: Meet, who: string) =>
  spoken(meet, needs(meet, who, { for: 'win', rivals: 'likely' }).needs[0]);

/** What is certain of first place. */
function certainly(meet: Meet, who: string): string | undefined {
  const contest = findContest(meet, null);
  const contender = contest.contenders.find((c) => c.id === who);
  if (contender === undefined) throw new RangeError(who);
  return settledIn(bothSenses(meet, contest), contest, contender, [
    { target: 'win', goal: placeGoal(1) },
  ])[0]?.status;
}

describe('two score the same and one counts: the D of the second is not known yet', () => {
  const yaml = `
discipline: wag
scoring: open
contests: [{ kind: team, up: 2, count: 1, ties: [difficulty] }]
gymnasts:
  - { id: ida, team: HBR, on: [FX] }
  - { id: lua, team: HBR, on: [FX], ranges: { FX: { likely: 13.000 } } }
  - { id: suzu, team: NQY, on: [FX], ranges: { FX: { d: 5.200 } } }
`;
  const done = 'ida,FX,13.000,5.000,,,';
  const meet = meetFrom(yaml, logFrom(done));

  it('the rule takes the higher D of the two', () => {
    const rows = [done, 'lua,FX,13.000,5.600,,,', 'suzu,FX,13.000,5.200,,,'];
    expect(board(meetFrom(yaml, logFrom(...rows)))).toEqual(['1 HBR', '2 NQY']);
  });

  it('so a D of 5.2 does not yet beat the 5.0: the tie is open', () => {
    expect(winOf(meet, 'NQY')).toMatchObject({
      level: '13.000',
      ahead: '13.001',
      tieGoesTo: 'open',
      tieBy: 'difficulty',
    });
  });

  it('in outcomes too', () => {
    const { bands } = outcomes(meet, 'NQY', { rivals: 'likely' });
    expect(bands.map(({ from, place, tied, open }) => [from, place, tied, open])).toEqual([
      [13001, 1, false, false],
      [13000, 1, true, true],
      [0, 2, false, false],
    ]);
  });

  it('and first place is not certain for whom that D would beat', () => {
    const ten = `
discipline: wag
scoring: ten
contests: [{ kind: team, up: 2, count: 1, ties: [difficulty] }]
gymnasts:
  - { id: suzu, team: NQY, on: [FX] }
  - { id: nkem, team: NQY, on: [FX] }
  - { id: lua, team: HBR, on: [FX] }
`;
    const rows = ['suzu,FX,10.000,4.000,,,', 'lua,FX,10.000,4.000,,,'];
    const higher = meetFrom(ten, logFrom(...rows, 'nkem,FX,10.000,4.500,,,'));
    expect(board(higher)).toEqual(['1 NQY', '2 HBR']);
    expect(certainly(meetFrom(ten, logFrom(...rows)), 'HBR')).toBeUndefined();
  });
});

describe('a score that comes to count instead of one without E brings in the rule', () => {
  const contest = (rest: string) => `
discipline: wag
scoring: ten
contests: [{ kind: team, ${rest} }]
`;

  it('level with less, behind with 9.000: first place is not certain', () => {
    const yaml = `${contest('up: 3, count: 2, ties: [execution]')}
usual: { FX: { d: 1.000 } }
gymnasts:
  - { id: wren, team: NQY, on: [FX] }
  - { id: suzu, team: NQY, on: [FX] }
  - { id: nkem, team: NQY, on: [FX] }
  - { id: ida, team: HBR, on: [FX] }
  - { id: lua, team: HBR, on: [FX] }
`;
    const rows = [
      'wren,FX,9.000,,,,', // no E: while she counts the rule is skipped
      'suzu,FX,9.000,1.000,8.000,,',
      'ida,FX,9.000,0.500,8.500,,',
      'lua,FX,9.000,0.500,8.500,,', // E 17.000
    ];
    const less = meetFrom(yaml, logFrom(...rows, 'nkem,FX,8.950,1.000,7.950,,'));
    const same = meetFrom(yaml, logFrom(...rows, 'nkem,FX,9.000,1.000,8.000,,')); // E 16.000
    expect([board(less), board(same)]).toEqual([
      ['1= NQY', '1= HBR'],
      ['1 HBR', '2 NQY'],
    ]);
    expect(certainly(meetFrom(yaml, logFrom(...rows)), 'NQY')).toBeUndefined();
  });

  it('ahead with less, behind with 9.500: ahead is what no higher score loses', () => {
    const yaml = `${contest('up: 2, count: 1, ties: [execution, difficulty]')}
usual: { FX: { d: 9.200 } }
gymnasts:
  - { id: saga, team: LTH, on: [FX] }
  - { id: suzu, team: LTH, on: [FX] }
  - { id: ida, team: HBR, on: [FX] }
`;
    // A start value of 10.000 leaves no E to work out; by D she beats 9.000.
    const rows = ['saga,FX,9.500,10.000,,,', 'ida,FX,9.500,9.000,0.500,,'];
    const less = meetFrom(yaml, logFrom(...rows, 'suzu,FX,9.450,9.200,0.250,,'));
    const same = meetFrom(yaml, logFrom(...rows, 'suzu,FX,9.500,9.200,0.300,,'));
    expect([board(less), board(same)]).toEqual([
      ['1 LTH', '2 HBR'],
      ['1 HBR', '2 LTH'],
    ]);
    const meet = meetFrom(yaml, logFrom(...rows));
    expect(winOf(meet, 'LTH')).toMatchObject({ ahead: '9.501', status: 'needs' });
    expect(certainly(meet, 'LTH')).toBeUndefined();
  });
});

describe('13.000 and 11.000 beat 12.000 twice, whichever score of a third team counts', () => {
  // LTH drops a score: which one is open, but not what its best 24.000 is made of.
  const meet = (ties: string) =>
    meetFrom(
      `
discipline: wag
scoring: open
contests: [{ kind: team, up: 2, count: 1, medals: 1, ties: [${ties}] }]
gymnasts:
  - { id: ida, team: HBR, on: [VT, UB] }
  - { id: lua, team: NQY, on: [VT, UB], ranges: { UB: { low: 11, likely: 12, high: 12, falls: 0 } } }
  - { id: saga, team: LTH, on: [VT, UB] }
  - { id: suzu, team: LTH, on: [UB], ranges: { UB: { low: 11, likely: 11, high: 12, falls: 0 } } }
`,
      logFrom(
        'ida,VT,13.000,5.000,8.000,,',
        'ida,UB,11.000,5.000,6.000,,',
        'lua,VT,12.000,5.000,7.000,,',
        'saga,VT,12.000,5.000,7.000,,',
        'saga,UB,11.000,5.000,6.000,,',
      ),
    );

  for (const ties of ['best-scores', 'best-scores, execution']) {
    it(`so first place is certain, and has chance 1, by ${ties}`, () => {
      const { contenders } = chances(meet(ties));
      expect(contenders.map(({ id, win, settled }) => [id, win, settled[0]?.status])).toEqual([
        ['HBR', 1, 'secured'],
        ['NQY', 0, 'out-of-reach'],
        ['LTH', 0, 'out-of-reach'],
      ]);
    });
  }
});

it('a team with nobody in it is nobody to lose to: first place is certain for the only other', () => {
  const meet = meetFrom(`
discipline: wag
scoring: open
contests: [{ kind: team, up: 1, count: 1, ties: [execution] }]
teams: [{ id: NQY }, { id: HBR }]
usual: { VT: { d: 5.000 }, UB: { d: 5.000 }, BB: { d: 5.000 }, FX: { d: 5.000 } }
gymnasts: [{ id: ida, team: HBR }]
`);
  expect(certainly(meet, 'HBR')).toBe('secured');
});

describe('she can be level with the leader at the very best, and somebody else has no E on record', () => {
  const meet = meetFrom(
    `
discipline: [{ code: HP, limit: 17.6 }]
scoring: open
panel: { counting: 6, step: 0.1 }
gymnasts:
  - { id: lua, ranges: { HP: { low: 13.000, likely: 13.000, high: 14.500, falls: 0, d: 4.6 } } }
  - { id: ida }
  - { id: suzu }
contests: [{ kind: apparatus, on: HP }]
`,
    logFrom('ida,HP,14.500,4.600,10.000,0.100,', 'suzu,HP,13.000,,,,'),
  );

  // A Beta(1, 5) is above x in (1 - x)^5 of all cases; 14.500 reaches down to the middle of 14.483 and 14.500.
  it('the rule is skipped for all, and a chance as small as 6 in 10^12 is not lost', () => {
    const lua = chances(meet).contenders.find((c) => c.id === 'lua');
    const share = (14500 - (14483 + 14500) / 2) / 1500;
    expect(lua?.win).toBeCloseTo(share ** 5, 15);
    expect(lua?.places.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 13);
  });
});

it('whoever cannot win if a routine goes badly has no chance left by rounding then', () => {
  const gymnasts = [
    '{ id: suzu, team: NQY, on: [BL], carried: 0.001, ranges: { BL: { falls: 0.05 } } }',
    '{ id: saga, team: NQY, carried: 0.001, ranges: { HP: { low: 0, likely: 0.003, high: 0.003, falls: 0 }, BL: { low: 0, likely: 0.001, high: 0.001, falls: 0 } } }',
    '{ id: livia, team: NQY, carried: 0.001, ranges: { BL: { falls: 0.125 } } }',
  ];
  for (const order of [gymnasts, gymnasts.toReversed()]) {
    const meet = meetFrom(
      `
discipline: [{ code: HP, limit: 0.003 }, { code: BL, limit: 0.003 }]
scoring: open
panel: { counting: 1, step: 0.001 }
fall: 0.001
contests: [{ kind: team, up: 3, count: 3, ties: [] }]
teams: [{ id: HBR, carried: 0.001 }, { id: NQY, carried: 0.001 }]
usual:
  HP: { low: 0.000, likely: 0.000, high: 0.000, falls: 0 }
  BL: { low: 0.000, likely: 0.000, high: 0.003, falls: 0 }
gymnasts:
${order.map((g) => `  - ${g}`).join('\n')}
`,
      logFrom('livia,HP,DNS,,,,'),
    );
    // Her 10th percentile there is more than nothing, and NQY ahead of HBR whatever the others score.
    const { title } = chances(meet).atStake.find(
      (s) => s.gymnast === 'saga' && s.apparatus === 'HP',
    )!;
    expect(title.map(({ id }) => id)).toEqual(['NQY']);
  }
});

it('a fall in ten is the 10th percentile, computed or sampled: rounding does not decide', () => {
  const meet = meetFrom(`
discipline: wag
scoring: open
panel: { counting: 1, step: 0.1 }
contests: [{ kind: all-around, ties: [] }]
usual:
  VT: { low: 13.000, likely: 13.000, high: 13.000, falls: 0 }
  UB: { low: 13.000, likely: 13.000, high: 13.000, falls: 0 }
  BB: { low: 13.500, likely: 13.500, high: 13.600, falls: 0.1 }
  FX: { low: 13.000, likely: 13.000, high: 13.000, falls: 0 }
gymnasts: [{ id: wren }, { id: ida }]
`);
  // With a fall she wins only where the other falls too: one time in ten.
  for (const options of [{}, { sample: 20_000, seed: 1 }]) {
    const { atStake } = chances(meet, null, options);
    const beam = atStake.find((s) => s.gymnast === 'wren' && s.apparatus === 'BB');
    expect(beam?.title.find(({ id }) => id === 'wren')?.low).toBeCloseTo(0.1, 1);
  }
});
