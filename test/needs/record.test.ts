/** A score recorded in memory: the next meet, and the same answer and refusals as in the log. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openMeet, record as recordInLog } from '../../lib/files/index.js';
import {
  LastRotationError,
  type Meet,
  needs,
  record,
  score,
  standings,
  suppose,
  type ToRecord,
} from '../../lib/index.js';
import { folder } from '../support/cli.js';
import { logFrom, meetFrom } from '../support/meet.js';

const WAG = `discipline: wag
scoring: open
gymnasts:
  - { id: ann, name: Ann Ashdown, ranges: { VT: { low: 13, likely: 13.5, high: 14, falls: 0, d: 5 } } }
  - { id: bea, name: Bea Birkwell }
  - { id: cleo, name: Cleo Cole, on: [UB] }
`;
const TEN = WAG.replace('open', 'ten').replace(/, ranges.*(?= })/, '');

describe('a recorded score', () => {
  it('is in the next meet, and not in the one before', () => {
    const meet = meetFrom(WAG);
    const { meet: next, recorded } = record(meet, {
      gymnast: 'ann',
      apparatus: 'VT',
      score: '13.5',
    });
    expect(standings(meet).rows.map((r) => r.total)).toEqual([0, 0]);
    expect(standings(next).rows.map((r) => r.total)).toEqual([13500, 0]);
    expect(recorded).toMatchObject({
      row: { gymnast: 'ann', apparatus: 'VT', score: '13.500', d: null, at: null },
      accepted: true,
      contest: 'all-around',
      total: 13500,
      place: 1,
      changes: [{ id: 'ann', from: null, to: 1 }],
    });
  });

  it('may be a score, a text, or a word, whatever its D, E and ND are', () => {
    const meet = meetFrom(WAG);
    const told = { gymnast: 'ann', apparatus: 'VT' };
    const texts = record(meet, { ...told, score: '13.5', d: '5.0', e: '8.6', nd: '0.1' });
    const scores = record(meet, {
      ...told,
      score: score('13.5'),
      d: score('5'),
      e: score('8.6'),
      nd: score('0.1'),
    });
    expect(scores).toEqual(texts);
    expect(record(meet, { ...told, score: 'dns' }).meet.results[0]).toBe('DNS');
  });

  it('far from everything in her range is taken with a warning, and refused where care is asked for', () => {
    const meet = meetFrom(WAG);
    const of = (text: string) => ({ gymnast: 'ann', apparatus: 'VT', score: text });
    const warned = (text: string) => record(meet, of(text)).recorded.warnings;
    const below = '1.433 is more than three points below her low of 13.000';
    expect(warned('1.433')).toContain(below);
    expect(warned('1.433').filter((w) => w.includes('13.000'))).toEqual([below]);
    expect(record(meet, of('1.433')).meet.results[0]).toMatchObject({ score: 1433 });
    const refused = (text: string) => {
      try {
        record(meet, of(text), { careful: true });
      } catch (error) {
        if (error instanceof LastRotationError) return [error.code, error.message, error.mend];
      }
      return null;
    };
    expect(refused('1.433')).toEqual([
      'far-from-range',
      below,
      'check the decimal point; if it is right, say --yes',
    ]);
    // Three points are still within reason, whatever else is said of it.
    expect(['10.000', '9.999', '17.000'].map((s) => refused(s)?.[0] ?? null)).toEqual([
      null,
      'far-from-range',
      null,
    ]);
    expect(refused('DNS')).toBeNull();
    const low = meetFrom(WAG.replace('high: 14', 'high: 13.9'));
    expect(record(low, of('16.900'), { careful: true }).recorded.accepted).toBe(true);
    expect(() => record(low, of('16.901'), { careful: true })).toThrow(
      '16.901 is more than three points above her best of 13.900',
    );
  });

  it('supersedes what stood, and void takes it back, as often as there are rows', () => {
    const told = { gymnast: 'ann', apparatus: 'VT' };
    let meet = meetFrom(WAG, logFrom('ann,VT,13.100', 'ann,VT,13.200'));
    const stands = () => standings(meet).rows.find((r) => r.id === 'ann')?.total;
    const step = (text: string) => {
      const done = record(meet, { ...told, score: text });
      meet = done.meet;
      return done.recorded.warnings;
    };
    expect(step('13.300')).toContain('supersedes 13.200 of ann on VT');
    const seen = [stands()];
    for (let i = 0; i < 3; i++) {
      step('void');
      seen.push(stands());
    }
    expect(seen).toEqual([13300, 13200, 13100, 0]);
    expect(() => step('void')).toThrow(/no row on VT to take back/);
  });

  it('of all withdraws her from what is to come', () => {
    const meet = meetFrom(WAG, logFrom('ann,VT,13.100'));
    const { recorded, meet: next } = record(meet, {
      gymnast: 'ann',
      apparatus: 'all',
      score: 'DNS',
    });
    expect(recorded.rows.map((r) => `${r.apparatus} ${r.score}`)).toEqual([
      'UB DNS',
      'BB DNS',
      'FX DNS',
    ]);
    expect(() => needs(next, 'ann')).toThrow(/out of all-around/);
  });

  it('gives the meet that is read from its log, usual ranges and all', () => {
    let meet = meetFrom(WAG);
    const rows = [
      'ann,VT,13.100',
      'bea,UB,12.000,4.5',
      'bea,VT,DNF',
      'ann,VT,13.700',
      'ann,VT,void',
    ];
    for (const row of rows) {
      const [gymnast = '', apparatus = '', text = '', d = ''] = row.split(',');
      ({ meet } = record(meet, { gymnast, apparatus, score: text, d }));
    }
    expect(meet).toEqual(meetFrom(WAG, logFrom(...rows)));
  });
});

describe('a score that is refused', () => {
  it.each<[yaml: string, told: ToRecord, code: string, said: RegExp]>([
    [WAG, { gymnast: 'anne', apparatus: 'VT', score: '13' }, 'unknown-gymnast', /`ann`/],
    [
      WAG,
      { gymnast: 'ann', apparatus: 'XX', score: '13' },
      'unknown-apparatus',
      /no part of this meet/,
    ],
    [WAG, { gymnast: 'cleo', apparatus: 'VT', score: '13' }, 'not-her-apparatus', /UB/],
    [WAG, { gymnast: 'ann', apparatus: 'VT', score: '16.1', d: '6' }, 'wrong-score', /16\.000/],
    [
      WAG,
      { gymnast: 'ann', apparatus: 'VT', score: '14', d: '5', e: '8' },
      'wrong-score',
      /13\.000/,
    ],
    [WAG, { gymnast: 'ann', apparatus: 'VT', score: '14.0001' }, 'wrong-score', /4 decimals/],
    [WAG, { gymnast: 'ann', apparatus: 'VT', score: 'void' }, 'nothing-to-void', /no row/],
    [
      WAG,
      { gymnast: 'ann', apparatus: 'all', score: '13' },
      'wrong-score',
      /only for a withdrawal/,
    ],
    [TEN, { gymnast: 'ann', apparatus: 'VT', score: '10.001' }, 'wrong-score', /10\.000/],
    [TEN, { gymnast: 'ann', apparatus: 'VT', score: score('10.001') }, 'wrong-score', /10\.000/],
    [WAG, wrong({ score: 13.566 }), 'wrong-score', /'13\.566'/],
    [WAG, wrong({ score: -1 }), 'wrong-score', /is not a score/],
    [WAG, wrong({ score: Number.NaN }), 'wrong-score', /is not a score/],
    [WAG, wrong({ score: '13', d: 5.9 }), 'wrong-score', /d: 5\.9 .*'5\.900'/],
  ])('%#: is refused alike in memory and in the log', async (yaml, told, code, said) => {
    const inMemory = refusal(() => record(meetFrom(yaml), told));
    expect(`${inMemory?.message} ${inMemory?.mend}`).toMatch(said);
    expect(inMemory?.code).toBe(code);
    const file = join(place.path, 'meet.yaml');
    writeFileSync(file, yaml);
    const inLog = await recordInLog(file, told).catch((error: unknown) => error);
    expect(inLog).toMatchObject({ code, message: inMemory?.message, mend: inMemory?.mend });
  });

  function wrong(parts: object): ToRecord {
    return { gymnast: 'ann', apparatus: 'VT', ...parts } as ToRecord;
  }
});

let place: ReturnType<typeof folder>;
beforeAll(() => {
  place = folder('harbour.yaml', 'harbour.scores.csv');
});
afterAll(() => place.clean());

describe('the demo meet', () => {
  const harbour = (): Meet => openMeet(join(place.path, 'harbour.yaml'));
  const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.1' };

  it('is answered alike in memory and in the log', async () => {
    const before = harbour();
    const { meet, recorded } = record(before, told);
    const inLog = await recordInLog(join(place.path, 'harbour.yaml'), told);
    expect(inLog.row.at).toMatch(/^\d{4}-/);
    const withoutTime = (row: object) => ({ ...row, at: null });
    expect({ ...inLog, row: withoutTime(inLog.row), rows: inLog.rows.map(withoutTime) }).toEqual(
      recorded,
    );
    expect(harbour()).toEqual(meet);
    const log = readFileSync(join(place.path, 'harbour.scores.csv'), 'utf8');
    expect(log).toMatch(/\nbrondt,BB,14\.100,[^\n]*\n$/);
  });

  it('supposes a score as it would be recorded', () => {
    const meet = harbour();
    const one = { gymnast: 'brondt', apparatus: 'FX', score: score('13.9') };
    const options = { chances: false } as const;
    const supposed = suppose(meet, [one], options);
    expect(supposed).toEqual(suppose(meet, [{ ...one, score: '13.900' }], options));
    const { rows } = standings(record(meet, one).meet);
    expect(supposed.after.rows.map((r) => r.total)).toEqual(rows.map((r) => r.total));
    const refused = refusal(() => suppose(meet, [{ ...one, score: 13.9 as never }], options));
    expect(refused?.mend).toContain("'13.900'");
  });

  it('takes no longer than an answer while somebody salutes', () => {
    const meet = harbour();
    const from = process.cpuUsage();
    for (let i = 0; i < 40; i++) record(meet, told);
    const { user, system } = process.cpuUsage(from);
    expect(meet.gymnasts).toHaveLength(24);
    // In microseconds of the processor, which others that use the machine do not add to: 500 as a rule.
    expect((user + system) / 40).toBeLessThan(10_000);
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
