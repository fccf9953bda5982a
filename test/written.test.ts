/** What is written out is typed by the answer it is made from. */
import { describe, expect, expectTypeOf, it } from 'vitest';
import {
  type Chances,
  type Need,
  needs,
  type OpenNeed,
  type Recorded,
  record,
  type Score,
  type Standings,
  type StandingsRow,
  standings,
  type Target,
  type UnansweredNeed,
  type Written,
  written,
} from '../lib/index.js';
import { logFrom, meetFrom } from './support/meet.js';

const FINAL = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
usual: { FX: { low: 13.000, likely: 13.500, high: 14.000, falls: 0.1, d: 5.5 } }
gymnasts: [{ id: ann }, { id: bea }]
`;
const meet = meetFrom(FINAL, logFrom('bea,FX,13.433'));

describe('a score becomes a text, everything else stays', () => {
  it('in a board', () => {
    const [row] = written('standings', standings(meet), 3).rows;
    expect(row).toMatchObject({ place: 1, total: '13.433', done: 1, scores: { FX: '13.433' } });
    expectTypeOf<Written<StandingsRow>['total']>().toEqualTypeOf<string>();
    expectTypeOf<Written<StandingsRow>['behind']>().toEqualTypeOf<string | null>();
    expectTypeOf<Written<StandingsRow>['done']>().toEqualTypeOf<number>();
    expectTypeOf<Written<StandingsRow>['scores']>().toEqualTypeOf<
      Readonly<Record<string, string | null>>
    >();
    expectTypeOf<Written<Standings>['rows'][number]>().toEqualTypeOf<Written<StandingsRow>>();
  });

  it('in a sheet of needs, whatever their status', () => {
    const [need] = written('needs', needs(meet, 'ann', { for: 'win' }), 3).needs;
    expect(need).toMatchObject({ status: 'needs', ahead: '13.434', onGrid: '13.466' });
    expect(need?.status === 'needs' ? need.mark : null).toEqual({ id: 'bea', total: '13.433' });
    expectTypeOf<Written<OpenNeed>['ahead']>().toEqualTypeOf<string>();
    expectTypeOf<Written<OpenNeed>['onGrid']>().toEqualTypeOf<string | null>();
    expectTypeOf<Written<OpenNeed>['target']>().toEqualTypeOf<Target>();
    expectTypeOf<Written<UnansweredNeed>['ahead']>().toEqualTypeOf<null>();
    expectTypeOf<Written<Need>['reach']>().toEqualTypeOf<number | null>();
  });

  it('in what a row changed, and in chances', () => {
    const { recorded } = record(meet, { gymnast: 'ann', apparatus: 'FX', score: '13.5' });
    expect(written('record', recorded, 3)).toEqual({ ...recorded, now: '13.500', total: '13.500' });
    expectTypeOf<Written<Recorded>['total']>().toEqualTypeOf<string | null>();
    expectTypeOf<Written<Recorded>['place']>().toEqualTypeOf<number | null>();
    expectTypeOf<Written<Chances>['contenders'][number]['total']>().toEqualTypeOf<{
      readonly p5: string;
      readonly p50: string;
      readonly p95: string;
    } | null>();
    expectTypeOf<Written<Chances>['contenders'][number]['win']>().toEqualTypeOf<number>();
  });

  it('and one answer is not taken for another', () => {
    // @ts-expect-error: a board is no sheet
    expect(written('needs', standings(meet), 3)).toBeDefined();
  });
});

describe('a need tells by its status what there is of it', () => {
  it('for the compiler', () => {
    const read = (need: Need): Score | null => {
      switch (need.status) {
        case 'secured':
          expectTypeOf(need.onGrid).toEqualTypeOf<Score>();
          expectTypeOf(need.e).toEqualTypeOf<null>();
          return need.level;
        case 'needs':
        case 'beyond':
          expectTypeOf(need.onGrid).toEqualTypeOf<Score | null>();
          expectTypeOf(need.mark.total).toEqualTypeOf<Score>();
          return need.ahead;
        case 'impossible':
        case 'level-only':
          expectTypeOf(need.onGrid).toEqualTypeOf<null>();
          return need.level;
        case null:
          expectTypeOf(need.ahead).toEqualTypeOf<null>();
          expectTypeOf(need.missing[0].gymnast).toEqualTypeOf<string>();
          return need.ahead;
      }
    };
    const [need] = needs(meet, 'ann', { for: 'win' }).needs;
    expect(need && read(need)).toBe(13434);
    // @ts-expect-error: she may be out of reach, or nobody's range known
    const onGrid: Score | undefined = need?.onGrid;
    expect(onGrid).toBe(13466);
  });

  it('and the library keeps to it', () => {
    const asked = { secured: 'place:3', needs: 'win', beyond: 'total:14.5' } as const;
    const own = FINAL.replace('{ id: ann }', '{ id: ann, ranges: { FX: { high: 14.000 } } }');
    const known = meetFrom(own, logFrom('bea,FX,13.433'));
    for (const [status, target] of Object.entries(asked)) {
      const [need] = needs(known, 'ann', { for: target }).needs;
      expect(need?.status).toBe(status);
    }
    const reach = (target: Target) => needs(known, 'ann', { for: target }).needs[0];
    expect(reach('total:17')).toMatchObject({ status: 'beyond', onGrid: 17000, ahead: 17000 });
    expect(reach('total:17.001')).toMatchObject({ status: 'impossible', onGrid: null });
    const [ten] = needs(
      meetFrom(FINAL.replace('open', 'ten').replace(/usual.*\n/, ''), logFrom('bea,FX,10.000')),
      'ann',
      { for: 'win' },
    ).needs;
    expect(ten).toMatchObject({ status: 'level-only', onGrid: null, level: 10000, ahead: 10001 });
  });
});
