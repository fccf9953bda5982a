/** What no score is above, and what a D score that is only expected does not rule out. */
import { describe, expect, it } from 'vitest';
import {
  chances,
  graphics,
  needs,
  outcomes,
  type Report,
  record,
  reports,
  score,
  standings,
} from '../../lib/index.js';
import { limitAt } from '../../lib/meet/meet.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** Ann has finished; Bea goes up last, and is expected to show 4.6. */
const FINAL = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX }]
gymnasts:
  - { id: ann, name: Ann Ashdown }
  - { id: bea, name: Bea Birkwell, ranges: { FX: { low: 12.9, likely: 13.4, high: 13.9, falls: 0.1, d: 4.6 } } }
`;
const ANN = 'ann,FX,14.700,5.6';

const textOf = (report: Report) => JSON.stringify(report);

describe('the limit of a routine to come', () => {
  const limits = (yaml: string) => {
    const meet = meetFrom(yaml);
    return meet.routines.map((r) => limitAt(meet, r.index));
  };

  it('is the ceiling, 17.000 where the meet says nothing, whatever D is expected', () => {
    expect(limits(FINAL)).toEqual([17_000, 17_000]);
    expect(limits(`${FINAL}ceiling: 16.5\n`)).toEqual([16_500, 16_500]);
    expect(limits(`${FINAL}decimals: 4\n`)).toEqual([170_000, 170_000]);
    expect(meetFrom(`${FINAL}ceiling: 16,5\n`).scoring.ceiling).toBe(16_500);
  });

  it('is 10.000 in ten, and an apparatus’ own limit before all else', () => {
    expect(limits(FINAL.replace('open', 'ten').replace(/, ranges.*(?= })/, ''))).toEqual([
      10_000, 10_000,
    ]);
    const own = `discipline: [{ code: HP, limit: 20.000 }, { code: BL }]
scoring: open
ceiling: 18
gymnasts: [{ id: ann }]
`;
    expect(limits(own)).toEqual([20_000, 18_000]);
  });
});

describe('what is certain', () => {
  const meet = meetFrom(FINAL, logFrom(ANN));
  const settled = (of: typeof meet) =>
    chances(of).contenders.flatMap((c) =>
      c.settled.map((s) => `${c.id} ${s.target} ${s.status} ${s.by}`),
    );

  it('is nothing that another D than expected could undo', () => {
    // With the D she is expected to show Bea has no more than 14.600.
    expect(settled(meet).filter((s) => s.endsWith('limit') && s.includes('win'))).toEqual([]);
    const { lines } = graphics(meet, { kinds: ['settled'] });
    expect(lines.map((l) => l.text)).toContain(
      'Ann Ashdown is sure of first place if every score stays within its range.',
    );
    expect(lines.filter((l) => /first place, whatever/.test(l.text ?? ''))).toEqual([]);
    const after = record(meet, { gymnast: 'bea', apparatus: 'FX', score: '14.8', d: '5.6' }).meet;
    expect(standings(after).rows[0]?.id).toBe('bea');
  });

  it('is what no score up to the ceiling undoes', () => {
    const low = meetFrom(`${FINAL}ceiling: 14.7\n`, logFrom('ann,FX,14.700,5.6'));
    // Bea can still tie, and with another D have the tie.
    expect(settled(low)).not.toContain('ann win secured limit');
    const floor = FINAL.replace('discipline: wag', 'discipline: [{ code: FX }]');
    const ahead = (carried: string) =>
      meetFrom(
        floor.replace('ann, name', `ann, carried: ${carried}, name`).replace(/contests:.*\n/, ''),
        logFrom('ann,FX,14.700'),
      );
    expect(settled(ahead('2.301'))).toContain('ann win secured limit');
    expect(settled(ahead('2.299'))).not.toContain('ann win secured limit');
  });

  it('is no tie that only an expected D decides, by the ranges either', () => {
    // At her best Bea draws level with 13.900, and by the D she is expected to show has the higher E.
    const tie = meetFrom(FINAL, logFrom('ann,FX,13.900,4.5'));
    expect(settled(tie).filter((s) => s.includes('win'))).toEqual([]);
    const best = meetFrom(FINAL, logFrom('ann,FX,13.901,4.5'));
    expect(settled(best)).toContain('ann win secured ranges');
  });
});

describe('every score up to the ceiling', () => {
  const meet = meetFrom(FINAL, logFrom(ANN));

  it('is in one band, and has one line', () => {
    const { bands } = outcomes(meet, 'bea');
    expect(bands.map((b) => [b.from, b.to, b.place])).toEqual([
      [14_700, 17_000, 1],
      [0, 14_699, 2],
    ]);
    const { lines } = graphics(meet, { kinds: ['outcome'] });
    expect(lines.map((l) => [l.from, l.to, l.text])).toEqual([
      [14_701, 17_000, 'Bea Birkwell on floor, 14.701 or better: 1st place.'],
      [
        14_700,
        14_700,
        'Bea Birkwell on floor, 14.700: level with Ann Ashdown, 1st to 2nd, decided on execution.',
      ],
      [0, 14_699, 'Bea Birkwell on floor, 14.699 or less: 2nd place. Chance >99.9%.'],
    ]);
    expect(textOf(reports.outcomes(meet, outcomes(meet, 'bea')))).toContain('0.000 to 14.699');
    const alone = meetFrom(FINAL.replace(/ {2}- { id: ann.*\n/, ''));
    expect(textOf(reports.outcomes(alone, outcomes(alone, 'bea')))).toContain('any score');
  });

  it('may be needed: what goes by the limit is the status', () => {
    const [win] = needs(meet, 'bea', { for: 'win' }).needs;
    expect(win).toMatchObject({ status: 'beyond', ahead: 14_700, onGrid: 14_700, e: 10_100 });
    const at = (total: string) => needs(meet, 'bea', { for: { total: score(total) } }).needs[0];
    expect(at('17')).toMatchObject({ status: 'beyond', onGrid: 17_000 });
    expect(at('17.001')).toMatchObject({ status: 'impossible', onGrid: null, e: 12_401 });
    const high = meetFrom(`${FINAL}ceiling: 14.700\n`, logFrom('ann,FX,14.700'));
    // Without Ann's E the tie is shared.
    expect(needs(high, 'bea', { for: 'win' }).needs[0]).toMatchObject({
      status: 'level-only',
      level: 14_700,
    });
  });

  it('of rivals at the limit is the ceiling, known or not which D they show', () => {
    const open = meetFrom(FINAL.replace(', d: 4.6', ''));
    const [win] = needs(open, 'ann', { for: 'win', rivals: 'limit' }).needs;
    expect(win).toMatchObject({ status: 'level-only', mark: { id: 'bea', total: 17_000 } });
  });
});

describe('the D she is expected to show', () => {
  const sheetOf = (log: string, options = {}) => {
    const meet = meetFrom(FINAL, logFrom(log));
    return textOf(reports.needs(meet, needs(meet, 'bea', { for: 'win', ...options })));
  };
  const WORDS = 'not with the D she is expected to show';

  it('is said not to be enough where even an E of 10.000 is not', () => {
    expect(sheetOf('ann,FX,14.700,5.6')).toContain(WORDS);
    // E 10.000 does it.
    expect(sheetOf('ann,FX,14.600,5.6')).not.toContain(WORDS);
    expect(sheetOf('ann,FX,14.601,5.6')).toContain(WORDS);
    // No score does it at all, and no D.
    expect(sheetOf('ann,FX,14.700,5.6', { for: 'total:17.001' })).not.toContain(WORDS);
  });

  it('is the one that is asked about', () => {
    expect(sheetOf('ann,FX,15.601,5.7', { d: '5.6' })).toContain('not with a D of 5.600');
    expect(sheetOf('ann,FX,14.700,5.6', { d: '5.6' })).not.toContain('not with');
    expect(() => sheetOf('ann,FX,14.700,5.6', { d: '17.001' })).toThrow(
      'D 17.001 cannot be a D score',
    );
  });

  it('is nobody’s in particular where words have no gender', () => {
    const own = FINAL.replace('discipline: wag', 'discipline: [{ code: FX }]');
    const meet = meetFrom(own, logFrom('ann,FX,14.700,5.6'));
    expect(textOf(reports.needs(meet, needs(meet, 'bea', { for: 'win' })))).toContain(
      'not with the D they are expected to show',
    );
  });
});
