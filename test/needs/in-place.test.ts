/**
 * A score in its place, what is safe, and who has finished: three gymnasts on one apparatus, with sums that
 * are worked by hand. Each scores 9.000 unless she falls (20 of 100 do, 4 of them twice): 9.000 with 0.8,
 * 8.000 with 0.16, 7.000 with 0.04; 8.760 on average. The grid is 0.500, nobody scores over 10.000.
 */
import { describe, expect, it } from 'vitest';
import {
  type Meet,
  needChances,
  needs,
  type Report,
  record,
  reports,
  scoreInPlace,
  written,
} from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const RANGE = 'ranges: { VT: { low: 9, likely: 9, high: 9, falls: 0.2 } }';
const MEET = `
discipline: wag
scoring: open
ceiling: 10
panel: { counting: 1, step: 0.5 }
medals: 2
contests: [{ kind: apparatus, on: VT, ties: [] }]
gymnasts:
  - { id: ann, name: Ann Ashdown, ${RANGE} }
  - { id: bea, name: Bea Birkwell, ${RANGE} }
  - { id: cleo, name: Cleo Cole, ${RANGE} }
`;

const meetAfter = (...rows: string[]) => meetFrom(MEET, logFrom(...rows));

function recorded(meet: Meet, gymnast: string, score: string) {
  const done = record(meet, { gymnast, apparatus: 'VT', score });
  return { ...done, inPlace: scoreInPlace(meet, done.meet, done.recorded) };
}

const linesOf = (report: Report) =>
  report.flat().flatMap((block) => ('text' in block ? [block.text] : []));

const near = (value: number) => expect.closeTo(value, 10);

describe('a score in its place', () => {
  const { inPlace } = recorded(meetAfter('ann,VT,8.5'), 'bea', '9');

  it('was what she needed, or was not', () => {
    // Ahead of Ann's 8.500 it takes 9.000; Cleo as expected has 9.000, which 9.000 shares; a medal is two.
    expect(inPlace?.needed.map((n) => [n.target, n.onGrid, n.got])).toEqual([
      ['lead', 9000, 'ahead'],
      ['win', 9500, 'level'],
      ['medal', 9000, 'ahead'],
    ]);
  });

  it('is measured against her range', () => {
    expect(inPlace).toMatchObject({ expected: 8760, overBy: 240, underBy: null, rangeFrom: 'own' });
    // 9.000 beats the 20 of a hundred with a fall; 8.000 only the 4 with two.
    expect(inPlace?.percentile).toEqual(near(20));
    const eight = recorded(meetAfter('ann,VT,8.5'), 'bea', '8').inPlace;
    expect(eight).toMatchObject({ overBy: null, underBy: 760, percentile: near(4) });
    expect(recorded(meetAfter(), 'bea', '9.5').inPlace?.percentile).toBe(100);
  });

  it('and against all scores there tonight', () => {
    expect(inPlace?.tonight).toEqual({
      place: 1,
      tied: false,
      of: 2,
      best: { ids: ['ann'], score: 8500 },
      behind: null,
      ahead: 500,
    });
    expect(recorded(meetAfter('ann,VT,8.5'), 'bea', '8.5').inPlace?.tonight).toMatchObject({
      place: 1,
      tied: true,
      behind: 0,
    });
    expect(recorded(meetAfter(), 'bea', '8.5').inPlace?.tonight).toMatchObject({
      of: 1,
      best: null,
    });
  });

  it('says what it did to the chances', () => {
    // Before: she wins with 9.000 (0.8), and is second with 8.000 where Cleo has no 9.000 (0.16 · 0.2), with
    // 7.000 where Cleo has that too (0.04 · 0.04). After: nobody can have more than 9.000.
    expect(inPlace?.worth).toEqual({ advance: null, win: near(0.2), medal: near(1 - 0.8336) });
    // Ann won where both fell: 0.2 · 0.2.
    expect(inPlace?.chances?.map((c) => [c.id, c.win.before, c.win.after])).toEqual([
      ['bea', near(0.8), 1],
      ['cleo', near(0.8), near(0.8)],
      ['ann', near(0.04), 0],
    ]);
  });

  it('is judged as if it had come at once where it was changed', () => {
    const first = recorded(meetAfter('ann,VT,8.5'), 'bea', '7').meet;
    expect(recorded(first, 'bea', '9').inPlace).toEqual(inPlace);
  });

  it('is none where a row brought no score', () => {
    const meet = meetAfter('ann,VT,8.5');
    for (const word of ['DNS', 'up', 'inquiry', 'void']) {
      const gymnast = word === 'DNS' || word === 'up' ? 'bea' : 'ann';
      expect(recorded(meet, gymnast, word).inPlace).toBeNull();
    }
  });

  it('is written out with its scores as texts', () => {
    const { recorded: told } = record(meetAfter('ann,VT,8.5'), {
      gymnast: 'bea',
      apparatus: 'VT',
      score: '9',
    });
    const json = written('record', { ...told, inPlace }, 3).inPlace;
    expect(json).toMatchObject({
      score: '9.000',
      total: '9.000',
      expected: '8.760',
      overBy: '0.240',
    });
    expect(json?.tonight.best?.score).toBe('8.500');
    expect(json?.needed[1]).toMatchObject({
      onGrid: '9.500',
      mark: { id: 'cleo', total: '9.000' },
    });
  });

  it('is said in as many lines as a desk has time for', () => {
    const { meet, recorded: told, inPlace: place } = recorded(meetAfter('ann,VT,8.5'), 'bea', '8');
    expect(linesOf(reports.said(meet, told, place))).toEqual([
      'Bea Birkwell, vault 8.000: 8.000, 2nd so far',
      'She needed 9.000 to lead: not enough; if the others score as expected, 9.000 for a medal: not enough.',
      'Ann Ashdown: a medal is secured, whatever anyone scores.',
      'Bea Birkwell: the title is out of reach, whatever anyone scores.',
      '8.000 is 0.760 below her average here, better than 4 of a hundred such routines of hers.',
      '2nd on vault tonight so far, 0.500 from the best. Chance to win: Birkwell down from 80.0% to 0%, Ashdown up to 20.0%.',
    ]);
    // She won with 9.000 (0.8), with 8.000 where the others have no 9.000 (0.16 · 0.2 · 0.2), and where all
    // have 7.000 (0.04 · 0.04 · 0.04); now where both others fall (0.2 · 0.2).
    const first = recorded(meetAfter(), 'ann', '8.5');
    expect(linesOf(reports.said(first.meet, first.recorded, first.inPlace))).toEqual([
      'Ann Ashdown, vault 8.500: 8.500, 1st so far',
      '8.500 is 0.260 below her average here, better than 20 of a hundred such routines of hers.',
      'The first score on vault tonight. Chance to win: Ashdown down from 80.6% to 4.0%.',
    ]);
  });
});

describe('the score from which on nobody can pass her', () => {
  it('whatever they score, and within their ranges', () => {
    const { safe } = needs(meetAfter('ann,VT,8.5'), 'bea', { safe: true });
    // Cleo can have 10.000 by the limit and 9.000 by her range; who is level has not passed her.
    expect(safe).toMatchObject([
      { by: 'limit', status: 'beyond', score: 10000, threat: { id: 'cleo', total: 10000 } },
      { by: 'ranges', status: 'needs', score: 9000, threat: { id: 'cleo', total: 9000 } },
    ]);
    expect(safe?.map((s) => s.reach)).toEqual([0, near(0.8)]);
    // Without Cleo it is Ann's 8.500 in both senses.
    const last = needs(meetAfter('ann,VT,8.5', 'cleo,VT,DNS'), 'bea', { safe: true }).safe;
    expect(last?.map((s) => [s.by, s.score, s.threat?.id])).toEqual([
      ['limit', 8500, 'ann'],
      ['ranges', 8500, 'ann'],
    ]);
  });

  it('any, none, and nothing where it was not asked', () => {
    const alone = needs(meetAfter('ann,VT,DNS', 'cleo,VT,DNS'), 'bea', { safe: true }).safe;
    expect(alone?.map((s) => [s.status, s.score, s.threat])).toEqual([
      ['secured', 0, null],
      ['secured', 0, null],
    ]);
    const behind = meetFrom(
      MEET.replace('on: VT, ties', 'on: VT, vaults: 2, ties').replaceAll(
        'falls: 0.2 } }',
        'falls: 0.2 }, VT2: { low: 9, likely: 9, high: 9, falls: 0.2 } }',
      ),
      logFrom('ann,VT,9.5'),
    );
    // (0.000 to 10.000 + 9.000) / 2 is 9.500 at most; Ann can still have (9.500 + 10.000) / 2.
    const none = needs(behind, 'bea', { safe: true }).safe?.[0];
    expect(none).toMatchObject({ status: 'impossible', score: null, rest: 'likely' });
    expect(none?.threat).toMatchObject({ id: 'cleo', total: 10000, toCome: ['VT', 'VT2'] });
    expect(linesOf(reports.needs(behind, needs(behind, 'bea', { safe: true })))[2]).toBe(
      'Whatever the others score, with her other routines as expected, no score on vault is safe: Cleo Cole can reach 10.000.',
    );
    expect(needs(meetAfter(), 'bea').safe).toBeNull();
  });

  it('an inquiry may still change a score', () => {
    const meet = record(meetAfter('ann,VT,8.5'), {
      gymnast: 'ann',
      apparatus: 'VT',
      score: 'inquiry',
    }).meet;
    const out = record(meet, { gymnast: 'cleo', apparatus: 'VT', score: 'DNS' }).meet;
    expect(needs(out, 'bea', { safe: true }).safe?.map((s) => s.score)).toEqual([10000, 10000]);
  });

  it('in sentences', () => {
    const meet = meetAfter('ann,VT,8.5');
    const sheet = needs(meet, 'bea', { safe: true });
    expect(linesOf(reports.needs(meet, sheet)).slice(2, 4)).toEqual([
      'Whatever the others score, Bea Birkwell is safe from 10.000 on, above her best of 9.000; the last threat is Cleo Cole, who can reach 10.000.',
      'As long as the others stay within their ranges, falls included, Bea Birkwell is safe from 9.000 on, a score she reaches 80% of the time; the last threat is Cleo Cole, who can reach 9.000.',
    ]);
  });
});

describe('who has finished', () => {
  const meet = meetAfter('ann,VT,8.5', 'bea,VT,9');
  const sheet = needs(meet, 'ann');

  it('is told her chances, who can catch her, and what she needed', () => {
    expect(sheet).toMatchObject({
      apparatus: null,
      needs: [],
      place: 2,
      total: 8500,
      gymnast: 'ann',
    });
    // She keeps the second place where Cleo falls; Bea is ahead and has nothing to come.
    const { finished } = sheet;
    expect(finished?.chances).toMatchObject({ win: 0, medal: near(0.2) });
    expect(finished?.catchers).toMatchObject([
      { id: 'cleo', apparatus: 'VT', within: 'ranges', chance: near(0.8), need: { onGrid: 9000 } },
    ]);
    // Alone on the board any score led; at the end two had 9.000 as expected, which is shared.
    expect(finished?.last).toMatchObject({
      apparatus: 'VT',
      score: 8500,
      expected: 8760,
      underBy: 260,
    });
    expect(finished?.last?.needed.map((n) => [n.target, n.onGrid, n.got])).toEqual([
      ['win', 9500, 'short'],
      ['medal', 9500, 'short'],
    ]);
    expect(needChances(meet, sheet)).toEqual([]);
  });

  it('who can only be caught with more than a range reaches, and who cannot be', () => {
    const top = needs(meetAfter('ann,VT,9'), 'ann');
    expect(top.finished?.catchers.map((c) => [c.id, c.within, c.chance])).toEqual([
      ['bea', 'limit', 0],
      ['cleo', 'limit', 0],
    ]);
    expect(needs(meetAfter('ann,VT,10'), 'ann').finished?.catchers).toEqual([]);
    const over = needs(meetAfter('ann,VT,9', 'bea,VT,8', 'cleo,VT,7'), 'bea');
    expect(over.finished).toMatchObject({ isFinal: true, chances: { win: 0, medal: 1 } });
  });

  it('is refused where she is out, or where the named apparatus is done', () => {
    expect(() => needs(meetAfter('ann,VT,DNF'), 'ann')).toThrow('Ann Ashdown is out of VT');
    expect(() => needs(meet, 'ann', { on: 'VT' })).toThrow('Ann Ashdown has nothing to come on VT');
  });

  it('in sentences', () => {
    expect(linesOf(reports.needs(meet, sheet)).slice(0, 6)).toEqual([
      'Ann Ashdown has finished (vault)',
      '8.500, 2nd so far',
      'The last score, 8.500 on vault, is 0.260 below her average here, better than 20 of a hundred such routines of hers.',
      'By what was expected of the others then, she needed 9.500 to win and for a medal: not enough.',
      'Her chances: to win 0%, of a medal 20.0%; 2nd 20.0%, 3rd 80.0%.',
      'Who can still pass Ann Ashdown, and with what:',
    ]);
  });
});
