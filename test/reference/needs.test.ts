/**
 * What somebody needed: published cases, recomputed, since the press mixes level, ahead and what
 * can be scored; and what happened then. Where only totals are given they are carried in: then
 * nobody can know whose a tie by best scores would be, and the answer must say so.
 */
import { describe, expect, it } from 'vitest';
import { type Meet, needs, outcomes, type Supposition, suppose } from '../../lib/index.js';
import { logFrom, meetFrom, show, spoken } from '../support/meet.js';
import { board, gaps, needOf, rowsOf, rowsOn, WOMEN } from './published.js';

/** One gymnast with a routine to come against a total that is complete. */
function lastUp(
  rules: string,
  { total, on, mark }: { total: string; on: string; mark: string },
  log = '',
): Meet {
  return meetFrom(
    `
${rules}
gymnasts:
  - { id: rival, carried: ${mark}, on: [] }
  - { id: last, carried: ${total}, on: [${on}] }
`,
    log,
  );
}

function boardIf(meet: Meet, ...scores: Supposition[]) {
  return suppose(meet, scores).after.rows.map(
    (r) => `${r.place}${r.tied ? '=' : ''} ${r.id} ${show(meet, r.total)}`,
  );
}

// 2016 Games, men's all-around, last up on high bar; reports gave
// 14.899, 14.9 and 14.900 [press, unnamed].
describe('2016 Games, men’s all-around: 77.466 against 92.365, high bar to come', () => {
  const rules = 'discipline: mag\nscoring: open';
  const figures = { total: '77.466', on: 'HB', mark: '92.365' };
  const meet = lastUp(rules, figures);

  it('14.899 draws level, 14.900 wins', () => {
    const need = needOf(meet, 'last', 'win');
    expect(need.mark).toEqual({ id: 'rival', total: 92365 });
    expect(spoken(meet, need)).toMatchObject({
      level: '14.899',
      ahead: '14.900',
      onGrid: '14.900',
      status: 'needs',
    });
  });

  it('the apparatus scores are not given: whose the tie would be is not known, and said so', () => {
    const need = needOf(meet, 'last', 'win');
    expect(['open', 'shared']).toContain(need.tieGoesTo);
    expect(need.skipped).toContain('best-scores');
  });

  it('nor does a known D score tell: the points carried in have no E to compare with', () => {
    const need = needOf(meet, 'last', 'win', { d: '6.600' });
    expect(['open', 'shared']).toContain(need.tieGoesTo);
    expect(show(meet, need.ahead)).toBe('14.900');
  });

  it('a board of 92.365 twice is shared, whatever E the last routine had', () => {
    const tied = lastUp(rules, figures, logFrom('last,HB,14.899,6.600,8.299,0'));
    expect(board(tied).sort()).toEqual(['1= last 92.365', '1= rival 92.365']);
  });

  it('14.800: lost by 0.099', () => {
    const scored = lastUp(rules, figures, logFrom('last,HB,14.800'));
    expect(board(scored)).toEqual(['1 rival 92.365', '2 last 92.266']);
    expect(gaps(scored)).toEqual({ rival: '0.000', last: '0.099' });
  });
});

// 2004 Games, men's all-around, last up on high bar; "needed a 9.825 to tie" (Washington Times,
// 19 August 2004). Four judges count, marks in steps of 0.05.
describe('2004 Games, men’s all-around: 47.986 against 57.811, high bar to come', () => {
  const rules = 'discipline: mag\nscoring: ten\npanel: { counting: 4, step: 0.05 }';
  const figures = { total: '47.986', on: 'HB', mark: '57.811' };

  it('9.825 ties, the next score there is, 9.837, wins', () => {
    const meet = lastUp(rules, figures);
    expect(spoken(meet, needOf(meet, 'last', 'win'))).toEqual({
      level: '9.825',
      ahead: '9.826',
      onGrid: '9.837',
      tieGoesTo: 'shared',
      tieBy: null,
      status: 'needs',
    });
  });

  it('9.837: won by 0.012', () => {
    const meet = lastUp(rules, figures, logFrom('last,HB,9.837'));
    expect(board(meet)).toEqual(['1 last 57.823', '2 rival 57.811']);
    expect(gaps(meet)).toEqual({ last: '0.000', rival: '0.012' });
  });
});

// 1992 Games, women's all-around, last on vault: from memory, nobody looked it up; it was said
// that 9.938 would take the lead.
describe('1992 Games, women’s all-around: 29.787 against 39.725, vault to come', () => {
  const rules = 'discipline: wag\nscoring: ten\npanel: { counting: 4, step: 0.05 }';
  const figures = { total: '29.787', on: 'VT', mark: '39.725' };

  it('9.938 would only have tied; the next score there is was 9.950', () => {
    const meet = lastUp(rules, figures);
    for (const target of ['win', 'lead'] as const) {
      expect(spoken(meet, needOf(meet, 'last', target))).toEqual({
        level: '9.938',
        ahead: '9.939',
        onGrid: '9.950',
        tieGoesTo: 'shared',
        tieBy: null,
        status: 'needs',
      });
    }
  });

  it('9.950: won by 0.012', () => {
    const meet = lastUp(rules, figures, logFrom('last,VT,9.950'));
    expect(board(meet)).toEqual(['1 last 39.737', '2 rival 39.725']);
    expect(gaps(meet).rival).toBe('0.012');
  });
});

// 1984 Games, women's all-around, last on vault; hers 9.850 (implied), 9.800, 10.000 and 0.150 more
// carried in from the team rounds; the rival's 10.000 9.950 9.900 9.900. "10 would give the gold;
// 9.95 and she would share it; 9.90 or lower" loses (St. Petersburg Times, 4 November 1999). That
// day's scores were a twentieth apart: the grid of two marks in tenths.
describe('1984 Games, women’s all-around: 0.150 carried in, vault to come', () => {
  const meet = meetFrom(
    `
discipline: wag
scoring: ten
panel: { counting: 2, step: 0.1 }
gymnasts: [{ id: last, carried: 0.150 }, { id: rival }]
groups:
  - { start: UB, order: [last] }
  - { start: BB, order: [rival] }
`,
    logFrom(
      ...rowsOf('rival', ['BB', 'FX', 'VT', 'UB'], '9.950 9.900 9.900 10.000'),
      ...rowsOf('last', ['UB', 'BB', 'FX'], '9.850 9.800 10.000'),
    ),
  );

  it('nothing but her vault is to come', () => {
    const { apparatus, rotation, toCome, total } = needs(meet, 'last', { for: 'win' });
    expect({ apparatus, rotation, toCome, total }).toEqual({
      apparatus: 'VT',
      rotation: 4,
      toCome: ['VT'],
      total: 29800,
    });
    expect(board(meet)).toEqual(['1 rival 39.750', '2 last 29.800']);
  });

  it('9.950 draws level and ties stand; the next score there is, 10.000, wins', () => {
    const need = needOf(meet, 'last', 'win');
    expect(need.mark).toEqual({ id: 'rival', total: 39750 });
    expect(spoken(meet, need)).toEqual({
      level: '9.950',
      ahead: '9.951',
      onGrid: '10.000',
      tieGoesTo: 'shared',
      tieBy: null,
      status: 'needs',
    });
  });

  it.each([
    ['10.000', ['1 last 39.800', '2 rival 39.750']],
    ['9.950', ['1= last 39.750', '1= rival 39.750']],
    ['9.900', ['1 rival 39.750', '2 last 39.700']],
  ])('%s', (score, places) => {
    const rows = boardIf(meet, { gymnast: 'last', apparatus: 'VT', score });
    expect(rows.sort()).toEqual(places);
  });

  it('the same in bands: alone from 9.951, shared on 9.950, second below', () => {
    const { bands } = outcomes(meet, 'last', { when: 'end' });
    expect(bands.map(({ from, to, place, tied }) => ({ from, to, place, tied }))).toEqual([
      { from: 9951, to: 10000, place: 1, tied: false },
      { from: 9950, to: 9950, place: 1, tied: true },
      { from: 0, to: 9949, place: 2, tied: false },
    ]);
  });
});

// 2024 Games, women's all-around, scores as in boards.test.ts. Reports gave 13.868 [press,
// unnamed, 1 August 2024], and for bronze 13.5 [press, unnamed]. The order on floor and the ranges are ours: the one
// who is asked goes last, and in the second case the first is taken to score at least 13.000.
describe('2024 Games, women’s all-around, floor to come', () => {
  const final = (order: string, ties = '') => `
discipline: wag
scoring: open
${ties}
gymnasts: [{ id: first }, { id: second }, { id: third }, { id: fourth }]
usual: { FX: { low: 13.000, likely: 14.000, high: 15.100, falls: 0.05 } }
rotations:
  - { VT: [first, second, third, fourth] }
  - { UB: [first, second, third, fourth] }
  - { BB: [first, second, third, fourth] }
  - { FX: [${order}] }
`;
  const THREE = [
    ...rowsOf('first', WOMEN, '15.766 13.733 14.566'),
    ...rowsOf('second', WOMEN, '15.100 14.666 14.133'),
    ...rowsOf('third', WOMEN, '13.933 14.866 14.000'),
    ...rowsOf('fourth', WOMEN, '14.000 14.800 14.033'),
  ];
  const GOLD = final('fourth, third, second, first');
  const GOLD_LOG = [
    ...THREE,
    ...rowsOn('FX', { fourth: '13.500', third: '13.666', second: '14.033' }),
  ];
  const BRONZE = final('fourth, second, first, third');

  it('gold, 44.065 against 57.932: 13.867, because the tie would be hers by the best three', () => {
    const meet = meetFrom(GOLD, logFrom(...GOLD_LOG));
    const need = needOf(meet, 'first', 'win');
    expect(need.mark).toEqual({ id: 'second', total: 57932 });
    expect(spoken(meet, need)).toEqual({
      level: '13.867',
      ahead: '13.867',
      onGrid: '13.900',
      tieGoesTo: 'her',
      tieBy: 'best-scores',
      status: 'needs',
    });
    expect(need.skipped).toEqual([]);
  });

  it('gold where ties are shared: 13.868', () => {
    const meet = meetFrom(final('fourth, third, second, first', 'ties: []'), logFrom(...GOLD_LOG));
    expect(spoken(meet, needOf(meet, 'first', 'win'))).toMatchObject({
      level: '13.867',
      ahead: '13.868',
      onGrid: '13.900',
      tieGoesTo: 'shared',
      tieBy: null,
    });
  });

  it('gold, proven: ahead on 13.867, not on 13.866', () => {
    const meet = meetFrom(GOLD, logFrom(...GOLD_LOG));
    const floor = (score: string) =>
      boardIf(meet, { gymnast: 'first', apparatus: 'FX', score }).slice(0, 2);
    expect(floor('13.867')).toEqual(['1 first 57.932', '2 second 57.932']);
    expect(floor('13.866')).toEqual(['1 second 57.932', '2 first 57.931']);
  });

  it('15.066: won by 1.199', () => {
    const meet = meetFrom(GOLD, logFrom(...GOLD_LOG, 'first,FX,15.066'));
    expect(board(meet)[0]).toBe('1 first 59.131');
    expect(gaps(meet).second).toBe('1.199');
  });

  it.each(['low', 'likely', 'high'] as const)(
    'bronze, 42.799 against 56.333, rivals at their %s: the tie is lost, so 13.535, in practice 13.566',
    (rivals) => {
      const log = logFrom(...THREE, ...rowsOn('FX', { fourth: '13.500', second: '14.033' }));
      const meet = meetFrom(BRONZE, log);
      const need = needOf(meet, 'third', 'medal', { rivals });
      expect(need.mark).toEqual({ id: 'fourth', total: 56333 });
      expect(spoken(meet, need)).toEqual({
        level: '13.534',
        ahead: '13.535',
        onGrid: '13.566',
        tieGoesTo: 'rival',
        tieBy: 'best-scores',
        status: 'needs',
      });
    },
  );

  it('bronze: a 13.5 would not have done, 13.666 did', () => {
    const log = logFrom(
      ...THREE,
      ...rowsOn('FX', { fourth: '13.500', second: '14.033', first: '15.066' }),
    );
    const meet = meetFrom(BRONZE, log);
    const floor = (score: string) =>
      boardIf(meet, { gymnast: 'third', apparatus: 'FX', score }).slice(2);
    expect(floor('13.500')).toEqual(['3 fourth 56.333', '4 third 56.299']);
    expect(floor('13.534')).toEqual(['3 fourth 56.333', '4 third 56.333']);
    expect(floor('13.535')).toEqual(['3 third 56.334', '4 fourth 56.333']);
    expect(floor('13.666')).toEqual(['3 third 56.465', '4 fourth 56.333']);
  });
});

// 2020 Games, women's all-around, official sheet [text]; scores as in boards.test.ts.
describe('2020 Games, women’s all-around: 43.632 against 57.433, floor to come', () => {
  const FINAL = `
discipline: wag
scoring: open
gymnasts: [{ id: first }, { id: second }]
rotations:
  - { VT: [first, second] }
  - { UB: [first, second] }
  - { BB: [first, second] }
  - { FX: [first, second] }
`;
  const LOG = [
    ...rowsOf('first', WOMEN, '14.600 15.300 13.833 13.700'),
    ...rowsOf('second', WOMEN, '15.300 14.666 13.666'),
  ];

  it('13.801, with the tie hers (43.767 against 43.733), in practice 13.833', () => {
    const meet = meetFrom(FINAL, logFrom(...LOG));
    const need = needOf(meet, 'second', 'win');
    expect(need.mark).toEqual({ id: 'first', total: 57433 });
    expect(spoken(meet, need)).toEqual({
      level: '13.801',
      ahead: '13.801',
      onGrid: '13.833',
      tieGoesTo: 'her',
      tieBy: 'best-scores',
      status: 'needs',
    });
  });

  it('13.666: second', () => {
    const meet = meetFrom(FINAL, logFrom(...LOG, 'second,FX,13.666'));
    expect(board(meet)).toEqual(['1 first 57.433', '2 second 57.298']);
  });
});

// 2018 college women's final, beam, six up, five count, four decimals; reports gave at least
// 9.975 [press, unnamed].
// What came before beam is carried in; the rival's total is complete.
describe('2018 college final: 148.325 before beam against 198.0375', () => {
  const FINAL = `
discipline: wag
scoring: ten
panel: { counting: 4, step: 0.05 }
decimals: 4
contests: [{ kind: team, up: 6, count: 5 }]
teams:
  - { id: LAST, carried: 148.3250 }
  - { id: RIVALS, carried: 198.0375 }
gymnasts:
${[1, 2, 3, 4, 5, 6].map((i) => `  - { id: up${i}, team: LAST, on: [BB] }`).join('\n')}
`;
  const FIVE = [
    'up1,BB,9.9375',
    'up2,BB,9.2750',
    'up3,BB,9.8750',
    'up4,BB,9.9500',
    'up5,BB,9.9875',
  ];

  it('the sixth, with 9.2750 to drop: 9.9625 draws level, the next score there is 9.9750', () => {
    const meet = meetFrom(FINAL, logFrom(...FIVE));
    const need = needOf(meet, 'LAST', 'win');
    expect(need.mark).toEqual({ id: 'RIVALS', total: 1980375 });
    expect(spoken(meet, need)).toEqual({
      level: '9.9625',
      ahead: '9.9626',
      onGrid: '9.9750',
      tieGoesTo: 'shared',
      tieBy: null,
      status: 'needs',
    });
  });

  it('naming the gymnast asks the same of her team', () => {
    const meet = meetFrom(FINAL, logFrom(...FIVE));
    expect(needOf(meet, 'up6', 'win')).toEqual(needOf(meet, 'LAST', 'win'));
  });

  it('the lowest of five counts until a sixth is in: 197.3500 so far', () => {
    expect(board(meetFrom(FINAL, logFrom(...FIVE)))).toEqual([
      '1 RIVALS 198.0375',
      '2 LAST 197.3500',
    ]);
  });

  it('10.000: won with 198.0750', () => {
    const meet = meetFrom(FINAL, logFrom(...FIVE, 'up6,BB,10.0000'));
    expect(board(meet)).toEqual(['1 LAST 198.0750', '2 RIVALS 198.0375']);
  });
});
