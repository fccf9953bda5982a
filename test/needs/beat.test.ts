/** To beat one rival where a third is level too, and the boards that prove a need; worked out by hand. */
import { describe, expect, it } from 'vitest';
import { type Need, type NeedsOptions, needs, reports } from '../../lib/index.js';
import { logFrom, meetFrom, spoken } from '../support/meet.js';

/** A final on floor where ada is up last and will show this D, ties by E and then by D. */
function final(d: string, ...rows: readonly string[]) {
  return meetFrom(
    `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [execution, difficulty] }]
gymnasts:
  - { id: bea }
  - { id: cleo }
  - { id: ada, ranges: { FX: { low: 12.000, likely: 13.000, high: 14.000, falls: 0, d: ${d} } } }
`,
    logFrom(...rows),
  );
}

const needOf = (meet: ReturnType<typeof final>, options: NeedsOptions) =>
  needs(meet, 'ada', options).needs[0];

describe('to beat bea, whose 13.000 is from D 5.0 and E 8.0', () => {
  const BEA = 'bea,FX,13.000,5.000,8.000,,';
  const toBeat = (d: string, ...rows: readonly string[]) => {
    const meet = final(d, ...rows);
    return spoken(meet, needOf(meet, { for: 'beat:bea' }));
  };

  // With D 4.8 a 13.000 has E 8.2, with D 5.4 it has E 7.6.
  it('a 13.000 with D 4.8 is enough by its E, one with D 5.4 is not', () => {
    const other = 'cleo,FX,12.000,5.000,7.000,,';
    expect(toBeat('4.800', BEA, other)).toMatchObject({
      level: '13.000',
      ahead: '13.000',
      tieGoesTo: 'her',
      tieBy: 'execution',
    });
    expect(toBeat('5.400', BEA, other)).toMatchObject({
      level: '13.000',
      ahead: '13.001',
      tieGoesTo: 'rival',
      tieBy: 'execution',
    });
  });

  it('is not made harder by a third on 13.000 with a higher E than hers', () => {
    expect(toBeat('4.800', BEA, 'cleo,FX,13.000,4.500,8.500,,')).toMatchObject({
      ahead: '13.000',
      tieGoesTo: 'her',
      tieBy: 'execution',
    });
    // But to win is.
    const meet = final('4.800', BEA, 'cleo,FX,13.000,4.500,8.500,,');
    expect(spoken(meet, needOf(meet, { for: 'win' }))).toMatchObject({
      ahead: '13.001',
      tieGoesTo: 'rival',
      tieBy: 'execution',
    });
  });

  // One tie is resolved as a whole: cleo's D and E are not recorded, so neither rule is applied to any
  // of the three on 13.000, and bea shares with ada.
  it('is shared at 13.000 where a third on it has no D and no E', () => {
    const meet = final('4.800', BEA, 'cleo,FX,13.000,,,,');
    const need = needOf(meet, { for: 'beat:bea' });
    expect(spoken(meet, need)).toMatchObject({
      level: '13.000',
      ahead: '13.001',
      tieGoesTo: 'shared',
      tieBy: null,
    });
    expect(need?.skipped).toEqual(['execution', 'difficulty']);
  });

  it('is as before where the third without D and E has another total', () => {
    expect(toBeat('4.800', BEA, 'cleo,FX,13.001,,,,')).toMatchObject({
      ahead: '13.000',
      tieGoesTo: 'her',
    });
  });

  // Level on E too: 13.000 from D 5.0 is E 8.0 for both, so the D is equal as well.
  it('is shared where nothing tells them apart, whoever else is level', () => {
    expect(toBeat('5.000', BEA, 'cleo,FX,13.000,4.500,8.500,,')).toMatchObject({
      level: '13.000',
      ahead: '13.001',
      tieGoesTo: 'shared',
      tieBy: null,
    });
  });
});

describe('the boards that prove a need', () => {
  /** Place and total of everybody, at the score and one unit below; who has done nothing has no place. */
  const boardsOf = (need: Need | undefined) => {
    const lines = (board: NonNullable<Need['boards']>['below']) =>
      board?.rows.map((r) => `${r.place ?? '-'}${r.tied ? '=' : ''} ${r.id} ${r.total}`) ?? null;
    const { boards = null } = need ?? {};
    return { at: lines(boards?.at ?? null), below: lines(boards?.below ?? null) };
  };
  const why = (d: string, ...rows: readonly string[]) =>
    needOf(final(d, ...rows), { for: 'win', why: true });

  it('around a mark of 0: one unit is ahead of it, and 0.000 is level with it', () => {
    // Nobody has a D or an E on record, so a tie is shared.
    const need = why('5.000', 'bea,FX,0.000,,,,', 'cleo,FX,DNS,,,,');
    expect(need).toMatchObject({ status: 'needs', level: 0, ahead: 1, tieGoesTo: 'shared' });
    expect(boardsOf(need)).toEqual({
      at: ['1 ada 1', '2 bea 0', '- cleo 0'],
      below: ['1= bea 0', '1= ada 0', '- cleo 0'],
    });
  });

  it('around a mark of one unit: two are ahead of it, and one is level', () => {
    const need = why('5.000', 'bea,FX,0.001,,,,', 'cleo,FX,DNS,,,,');
    expect(need).toMatchObject({ status: 'needs', level: 1, ahead: 2, tieGoesTo: 'shared' });
    expect(boardsOf(need)).toEqual({
      at: ['1 ada 2', '2 bea 1', '- cleo 0'],
      below: ['1= bea 1', '1= ada 1', '- cleo 0'],
    });
  });

  // With the higher D the tie at one unit is hers, so one unit is the lowest; below it is 0.000.
  it('at one unit: the board below is that of 0.000', () => {
    const meet = meetFrom(
      `discipline: wag
scoring: ten
contests: [{ kind: apparatus, on: FX, ties: [difficulty] }]
gymnasts:
  - { id: bea }
  - { id: ada, ranges: { FX: { low: 9.000, likely: 9.500, high: 10.000, falls: 0, d: 5.000 } } }
`,
      logFrom('bea,FX,0.001,4.000,0.000,3.999,'),
    );
    const need = needOf(meet, { for: 'win', why: true });
    expect(need).toMatchObject({ level: 1, ahead: 1, tieGoesTo: 'her', tieBy: 'difficulty' });
    expect(boardsOf(need)).toEqual({ at: ['1 ada 1', '2 bea 1'], below: ['1 bea 1', '2 ada 0'] });
  });

  it('where 0.000 is enough there is none below it', () => {
    const meet = final('5.000', 'bea,FX,DNS,,,,', 'cleo,FX,DNS,,,,');
    const need = needOf(meet, { for: 'win', why: true });
    expect(need).toMatchObject({ status: 'secured', ahead: 0 });
    expect(boardsOf(need)).toEqual({ at: ['1 ada 0', '- bea 0', '- cleo 0'], below: null });
  });

  it('are not given where nobody asks for them', () => {
    const meet = final('5.000', 'bea,FX,0.000,,,,', 'cleo,FX,DNS,,,,');
    expect(needOf(meet, { for: 'win' })?.boards).toBeNull();
  });
});

it('on a board of --why, who shares a place while an E is not known yet is not said to be ahead', () => {
  const hers = (d: string) => `{ BB: { low: 13, likely: 13.5, high: 14, falls: 0${d} } }`;
  const meet = meetFrom(
    `discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: BB }]\ngymnasts:
  - { id: ana, ranges: ${hers(', d: 5.0')} }
  - { id: bo, ranges: ${hers('')} }
  - { id: cy, ranges: ${hers(', d: 5.4')} }\n`,
    logFrom('ana,BB,13.500,5.000,,,'),
  );
  const sheet = needs(meet, 'cy', { for: 'win', why: true });
  // E: ana 8.500, cy 13.500 - 5.400 = 8.100; bo's cannot be known.
  const below = sheet.needs[0]?.boards?.below?.rows.map((r) => [r.id, r.place, r.tied, r.tieBy]);
  expect(below).toEqual([
    ['ana', 1, true, null],
    ['bo', 1, true, null],
    ['cy', 3, false, null],
  ]);
  const text = reports
    .needs(meet, sheet)
    .flat()
    .flatMap((b) => (b.kind === 'sentence' ? [b.text] : []));
  expect(text).toContain('ana, bo and cy are level on 13.500; ana and bo share 1st.');
});
