/** Points where units are meant get nowhere: neither past the compiler, nor past the library. */
import { describe, expect, expectTypeOf, it } from 'vitest';
import {
  claim,
  claimOfTwo,
  formatScore,
  LastRotationError,
  type Meet,
  needChances,
  needs,
  needsOfAll,
  outcomes,
  parseScore,
  record,
  type Score,
  score,
  standings,
  suppose,
} from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const RANGE = '{ low: 13.000, likely: 13.500, high: 14.000, falls: 0.1, d: 5.5 }';
const FINAL = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
usual: { FX: ${RANGE} }
gymnasts: [{ id: ann }, { id: bea }, { id: cleo }]
`;
const meet = meetFrom(FINAL, logFrom('bea,FX,14.100'));
const ten = meetFrom(
  FINAL.replace('open', 'ten').replace(RANGE, '{ low: 9, likely: 9.5, high: 9.8 }'),
);

describe('a D score that is announced', () => {
  it('is no whole score: up to 10.000 for women and men, up to the limit in a discipline of the meet’s own', () => {
    for (const ask of [needs, outcomes]) {
      expect(() => ask(meet, 'ann', { d: '10' })).not.toThrow();
      expect(refusal(() => ask(meet, 'ann', { d: '10.001' }))).toMatchObject({
        code: 'wrong-score',
        message: 'D 10.001 cannot be a D score',
      });
    }
    const hoop = meetFrom(
      FINAL.replace('discipline: wag', 'discipline: [{ code: FX, name: hoop, limit: 20.000 }]'),
    );
    expect(() => needs(hoop, 'ann', { d: '20' })).not.toThrow();
    expect(refusal(() => needs(hoop, 'ann', { d: '20.001' }))?.code).toBe('wrong-score');
  });
});

describe('a score', () => {
  it('is made from a text, with three decimals or four', () => {
    expect(score('13.566')).toBe(13566);
    expect(score('9.9375', 4)).toBe(99375);
    expect(parseScore('13.566', 3)).toEqual({ value: score('13.566') });
    expect(refusal(() => score('13566'))).toMatchObject({ kind: 'usage', code: 'wrong-score' });
    expect(refusal(() => score('13.5666'))).toMatchObject({ code: 'wrong-score' });
  });

  it('is no other number, for the compiler', () => {
    expectTypeOf(score('13.566')).toEqualTypeOf<Score>();
    expectTypeOf<Score>().toExtend<number>();
    expectTypeOf<number>().not.toExtend<Score>();
    // @ts-expect-error: 14 would be fourteen thousandths
    const wrong: Score = 14.0;
    // @ts-expect-error: a sum is no score that somebody was given
    const sum: Score = score('13.566') + score('0.100');
    expect([wrong, sum]).toEqual([14, 13666]);
  });

  it('is what answers hold, so that one goes on into the next question', () => {
    const [need] = needs(meet, 'ann', { for: 'win' }).needs;
    if (need === undefined || need.status === null) throw new Error('no such need');
    const told = { gymnast: 'ann', apparatus: 'FX', score: need.onGrid ?? need.ahead };
    expect(standings(record(meet, told).meet).rows[0]?.id).toBe('ann');
    expect(suppose(meet, [told]).after.rows[0]?.id).toBe('ann');
    expect(needs(meet, 'ann', { for: { total: need.ahead } }).needs[0]?.ahead).toBe(need.ahead);
    expectTypeOf(need.ahead).toEqualTypeOf<Score>();
    expectTypeOf(standings(meet).rows[0]?.total).toEqualTypeOf<Score | undefined>();
  });
});

describe('wherever a score is taken, a text and a score are the same', () => {
  const win = { for: 'win' } as const;
  const both: Readonly<Record<string, (given: Score | string) => unknown>> = {
    margin: (margin) => needs(meet, 'ann', { ...win, margin }),
    d: (d) => needs(meet, 'ann', { ...win, d }),
    'd and margin of all': (margin) => needsOfAll(meet, { margin }),
    'the d of outcomes': (d) => outcomes(meet, 'ann', { d }),
    'the chances of a need': (margin) => needChances(meet, needs(meet, 'ann', win), { margin }),
    'a total': (total) => needs(meet, 'ann', { for: { total } }),
    'a supposed score': (given) =>
      suppose(meet, [{ gymnast: 'ann', apparatus: 'FX', score: given }]),
    'a recorded score': (given) =>
      record(meet, { gymnast: 'ann', apparatus: 'FX', score: given }).recorded,
    'a recorded D': (d) =>
      record(meet, { gymnast: 'ann', apparatus: 'FX', score: '13', d }).recorded,
    'a claim of two': (behind) => claimOfTwo({ behind, remaining: 1 }),
  };

  it.each(Object.entries(both))('%s', (_, ask) => {
    expect(ask(score('5.6'))).toEqual(ask('5.600'));
  });

  it.each(Object.entries(both))('and points are refused, saying what to write: %s', (_, ask) => {
    for (const [points, written] of [
      [0.1, '0.100'],
      [5.9, '5.900'],
    ] as const) {
      const error = refusal(() => ask(points as Score));
      expect(error).toMatchObject({ kind: 'usage', code: 'wrong-score' });
      expect(error?.mend).toContain(`'${written}'`);
    }
    for (const none of [-1, Number.NaN, Number.POSITIVE_INFINITY, true, {}]) {
      expect(refusal(() => ask(none as Score))?.code).toBe('wrong-score');
    }
  });

  it('a margin of 0.1 and a D of 5.9 no longer give fractions of a unit', () => {
    // Once 14100.1 and 14095.1.
    for (const options of [{ margin: 0.1 }, { d: 5.9 }]) {
      // @ts-expect-error: neither is a score
      const ask = () => needs(meet, 'ann', { for: 'win', ...options });
      expect(refusal(ask)).toMatchObject({ code: 'wrong-score' });
    }
    const [need] = needs(meet, 'ann', { for: 'win', margin: '0.1', d: '5.9' }).needs;
    expect([need?.ahead, need?.e]).toEqual([14200, 8300]);
  });

  it('a D over the limit is refused', () => {
    expect(refusal(() => needs(ten, 'ann', { d: '10.001' }))?.code).toBe('wrong-score');
    expect(() => needs(ten, 'ann', { d: '10' })).not.toThrow();
  });

  it('and nothing but whole units is printed', () => {
    expect(refusal(() => formatScore(13.566, 3))).toMatchObject({ code: 'wrong-score' });
    expect(formatScore(-101, 3)).toBe('-0.101');
  });
});

describe('a word that is not known', () => {
  it.each([{ when: 'yesterday' }, { rivals: 'hgih' }, { rest: 'as-is' }])('%j', (options) => {
    const asks: readonly ((m: Meet, o: object) => unknown)[] = [
      (m, o) => needs(m, 'ann', o),
      (m, o) => needsOfAll(m, o),
      (m, o) => outcomes(m, 'ann', o),
    ];
    for (const ask of asks) {
      const error = refusal(() => ask(meet, options));
      expect(error).toMatchObject({ kind: 'usage', code: 'wrong-option' });
    }
  });

  it('is no target, for the compiler and for the library', () => {
    // @ts-expect-error: there is no such target
    expect(refusal(() => needs(meet, 'ann', { for: 'glory' }))?.code).toBe('wrong-target');
    // @ts-expect-error: there is no such target
    expect(refusal(() => claim(meet, 'ann', { to: 'place:last' }))?.code).toBe('wrong-target');
  });
});

function refusal(ask: () => unknown): LastRotationError | null {
  try {
    ask();
  } catch (error) {
    if (error instanceof LastRotationError) return error;
    throw error;
  }
  return null;
}
