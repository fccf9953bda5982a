/** Inquiries: a later row supersedes an earlier one, and places move; published cases. */
import { describe, expect, it } from 'vitest';
import { record } from '../../lib/index.js';
import { logFrom, meetFrom, readAll, spoken } from '../support/meet.js';
import { board, needOf, rowsOf, rowsOn, WOMEN } from './published.js';

// 2024 Games, women's floor final [press, unnamed, August 2024]: 14.166, 14.133, two on 13.700 (E decides who
// is third), the last up on 13.666; D + 0.1 on inquiry: 13.766, third; then the first score was
// reinstated: fifth. The D and E scores are invented: they only say whose E was higher, and that
// the inquiry raised nothing but D.
describe('2024 Games, women’s floor final', () => {
  const FINAL = `
discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX }]
gymnasts: [{ id: first }, { id: second }, { id: fourth }, { id: third }, { id: last }]
`;
  const BEFORE = [
    ...rowsOn('FX', { first: '14.166', second: '14.133' }),
    'third,FX,13.700,5.700,8.000,0.000',
    'fourth,FX,13.700,5.800,7.900,0.000',
  ];
  const SCORED = 'last,FX,13.666,5.800,7.866,0.000';
  const RAISED = 'last,FX,13.766,5.900,7.866,0.000';
  const FIFTH = [
    '1 first 14.166',
    '2 second 14.133',
    '3 third 13.700',
    '4 fourth 13.700',
    '5 last 13.666',
  ];

  it('two on 13.700: the higher E is third while the last is still to come', () => {
    expect(board(meetFrom(FINAL, logFrom(...BEFORE)))).toEqual([
      ...FIFTH.slice(0, 4),
      '- last 0.000',
    ]);
  });

  it('before she went: for a medal more than 13.700, since the tie hung on an E nobody knew', () => {
    const need = needOf(meetFrom(FINAL, logFrom(...BEFORE)), 'last', 'medal');
    expect(need.mark).toEqual({ id: 'third', total: 13700 });
    expect(spoken(meetFrom(FINAL), need)).toEqual({
      level: '13.700',
      ahead: '13.701',
      onGrid: '13.733',
      tieGoesTo: 'open',
      tieBy: 'execution',
      status: 'needs',
    });
  });

  // On 13.700 her the E score would be 13.700 - D: 8.1 beats the third's 8.0, 7.9 and 7.8 do not.
  it.each([
    ['5.600', '13.700', '13.700', 'her'],
    ['5.800', '13.701', '13.733', 'rival'],
    ['5.900', '13.701', '13.733', 'rival'],
  ] as const)(
    'had her D been known to be %s: %s, in practice %s',
    (d, ahead, onGrid, tieGoesTo) => {
      const meet = meetFrom(FINAL, logFrom(...BEFORE));
      expect(spoken(meet, needOf(meet, 'last', 'medal', { d }))).toMatchObject({
        level: '13.700',
        ahead,
        onGrid,
        tieGoesTo,
        tieBy: 'execution',
      });
    },
  );

  it('13.666: fifth', () => {
    expect(board(meetFrom(FINAL, logFrom(...BEFORE, SCORED)))).toEqual(FIFTH);
  });

  it('inquiry, D + 0.1: 13.766, third; the two on 13.700 move down', () => {
    expect(board(meetFrom(FINAL, logFrom(...BEFORE, SCORED, RAISED)))).toEqual([
      '1 first 14.166',
      '2 second 14.133',
      '3 last 13.766',
      '4 third 13.700',
      '5 fourth 13.700',
    ]);
  });

  it.each([
    ['the row of the inquiry taken back', 'last,FX,void'],
    ['the first score written once more', SCORED],
  ])('the first score reinstated, %s: fifth again', (_, row) => {
    const { meet, problems } = readAll(FINAL, logFrom(...BEFORE, SCORED, RAISED, row));
    expect(problems.filter((p) => p.severity !== 'note')).toEqual([]);
    expect(meet === null ? [] : board(meet)).toEqual(FIFTH);
  });

  it('recording the inquiry tells whose place changed', () => {
    const scored = meetFrom(FINAL, logFrom(...BEFORE, SCORED));
    const raised = meetFrom(FINAL, logFrom(...BEFORE, SCORED, RAISED));
    const { recorded, meet } = record(scored, {
      gymnast: 'last',
      apparatus: 'FX',
      score: '13.766',
      d: '5.9',
      e: '7.866',
    });
    expect(meet).toEqual(raised);
    const { changes, warnings, place } = recorded;
    expect(place).toBe(3);
    expect(changes).toEqual(
      expect.arrayContaining([
        { id: 'last', from: 5, to: 3 },
        { id: 'third', from: 3, to: 4 },
        { id: 'fourth', from: 4, to: 5 },
      ]),
    );
    expect(changes).toHaveLength(3);
    expect(warnings.join('\n')).toContain('supersedes 13.666');
  });

  // An inquiry may also lower D. Invented score.
  it('an inquiry can cost a place: the fourth, lowered by 0.1, falls behind the last', () => {
    const log = logFrom(...BEFORE, SCORED, 'fourth,FX,13.600,5.700,7.900,0.000');
    expect(board(meetFrom(FINAL, log)).slice(3)).toEqual(['4 last 13.666', '5 fourth 13.600']);
  });
});

// 2020 Games, women's all-around after three rotations: 43.733, 43.566, 43.532; the third's beam
// score rose from 13.566 to 13.666: 43.632, second. Official sheet [text], scores as in
// boards.test.ts.
describe('2020 Games, women’s all-around after three rotations', () => {
  const FINAL = `
discipline: wag
scoring: open
gymnasts: [{ id: first }, { id: raised }, { id: other }]
rotations:
  - { VT: [first, raised, other] }
  - { UB: [first, raised, other] }
  - { BB: [first, raised, other] }
  - { FX: [other, first, raised] }
`;
  const THREE = [
    ...rowsOf('first', WOMEN, '14.600 15.300 13.833'),
    ...rowsOf('raised', WOMEN, '15.300 14.666 13.566'),
    ...rowsOf('other', WOMEN, '14.500 14.866 14.200'),
  ];
  const INQUIRY = 'raised,BB,13.666';
  const FLOOR = rowsOn('FX', { other: '13.400', first: '13.700' });

  it('before the inquiry she is third', () => {
    expect(board(meetFrom(FINAL, logFrom(...THREE)), { after: 3 })).toEqual([
      '1 first 43.733',
      '2 other 43.566',
      '3 raised 43.532',
    ]);
  });

  it('the inquiry takes her past the second', () => {
    expect(board(meetFrom(FINAL, logFrom(...THREE, INQUIRY)), { after: 3 })).toEqual([
      '1 first 43.733',
      '2 raised 43.632',
      '3 other 43.566',
    ]);
  });

  it('taken back it would put her third again', () => {
    const meet = meetFrom(FINAL, logFrom(...THREE, INQUIRY, 'raised,BB,void'));
    expect(board(meet, { after: 3 })[2]).toBe('3 raised 43.532');
  });

  it('an inquiry answered during the next rotation still belongs to the board before it', () => {
    const meet = meetFrom(FINAL, logFrom(...THREE, ...FLOOR, INQUIRY));
    expect(board(meet, { after: 3 })[1]).toBe('2 raised 43.632');
  });

  it('the tenth was worth a tenth: 13.901 to draw level without it, 13.801 with it', () => {
    const without = meetFrom(FINAL, logFrom(...THREE, ...FLOOR));
    expect(spoken(without, needOf(without, 'raised', 'win'))).toMatchObject({
      level: '13.901',
      ahead: '13.901',
      onGrid: '13.933',
      tieGoesTo: 'her',
    });
    const raised = meetFrom(FINAL, logFrom(...THREE, INQUIRY, ...FLOOR));
    expect(spoken(raised, needOf(raised, 'raised', 'win'))).toMatchObject({
      level: '13.801',
      ahead: '13.801',
      onGrid: '13.833',
      tieGoesTo: 'her',
    });
  });
});

// The same final with the four whose scores on all apparatus are known, as in boards.test.ts, to its
// end. That she went up last of them on floor is ours; so is the question what would have been: 13.566
// on beam and all else as it was.
describe('2020 Games, women’s all-around, to its end', () => {
  const FINAL = `
discipline: wag
scoring: open
gymnasts: [{ id: first }, { id: raised }, { id: third }, { id: fourth }]
rotations:
  - { VT: [first, raised, third, fourth] }
  - { UB: [first, raised, third, fourth] }
  - { BB: [first, raised, third, fourth] }
  - { FX: [fourth, third, first, raised] }
`;
  const BEFORE_HERS = [
    ...rowsOf('first', WOMEN, '14.600 15.300 13.833'),
    ...rowsOf('raised', WOMEN, '15.300 14.666 13.566'),
    ...rowsOf('third', WOMEN, '14.633 14.900 13.700'),
    ...rowsOf('fourth', WOMEN, '14.500 14.866 14.200'),
    ...rowsOn('FX', { fourth: '13.400', third: '13.966', first: '13.700' }),
  ];
  const INQUIRY = 'raised,BB,13.666';
  const HERS = 'raised,FX,13.666';
  const levels = (log: readonly string[]) => {
    const meet = meetFrom(FINAL, logFrom(...log));
    return (['medal', 'place:2', 'win'] as const).map(
      (target) => spoken(meet, needOf(meet, 'raised', target)).level,
    );
  };

  // 56.966, 57.199 and 57.433 less 43.532, and less 43.632.
  it('the last up needs a tenth less for third, second and first by the inquiry', () => {
    expect(levels(BEFORE_HERS)).toEqual(['13.434', '13.667', '13.901']);
    expect(levels([...BEFORE_HERS, INQUIRY])).toEqual(['13.334', '13.567', '13.801']);
  });

  it('taken back it asks for the tenth again', () => {
    const log = [...BEFORE_HERS, INQUIRY, 'raised,BB,void'];
    expect(levels(log)).toEqual(levels(BEFORE_HERS));
  });

  it('her 13.666 makes her second with the inquiry, and third without it by 0.001', () => {
    expect(board(meetFrom(FINAL, logFrom(...BEFORE_HERS, INQUIRY, HERS)))).toEqual([
      '1 first 57.433',
      '2 raised 57.298',
      '3 third 57.199',
      '4 fourth 56.966',
    ]);
    const without = ['1 first 57.433', '2 third 57.199', '3 raised 57.198', '4 fourth 56.966'];
    expect(board(meetFrom(FINAL, logFrom(...BEFORE_HERS, HERS)))).toEqual(without);
    const backAgain = logFrom(...BEFORE_HERS, INQUIRY, HERS, 'raised,BB,void');
    expect(board(meetFrom(FINAL, backAgain))).toEqual(without);
  });
});
