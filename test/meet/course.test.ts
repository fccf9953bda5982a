/** The evening that does not follow the plan: performed, inquiries, who steps in, who goes up later. */
import { describe, expect, it } from 'vitest';
import {
  awaited,
  chances,
  type Meet,
  needs,
  nextUp,
  readMeet,
  record,
  standings,
  underInquiry,
} from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const FINAL = `discipline: wag
scoring: open
contests: [all-around, { kind: team, up: 3, count: 2 }, { kind: apparatus, on: BB }]
gymnasts:
  - { id: fitch, name: Nia Fitch, team: NQY }
  - { id: lund, name: Kari Lund, team: NQY }
  - { id: quill, name: Ada Quill, team: SND }
  - { id: marsh, name: Bea Marsh, team: SND }
  - id: velde
    name: Lena Velde
    team: NQY
    on: []
    ranges: { BB: { low: 12.000, likely: 12.600, high: 13.000, falls: 0.1 } }
groups:
  - { start: VT, order: [fitch, lund] }
  - { start: UB, order: [quill, marsh] }
`;

function up(meet: Meet): string[] {
  return nextUp(meet).map((r) => `${r.gymnast} ${r.apparatus}`);
}

function order(meet: Meet, rotation: number, apparatus: string): readonly string[] | undefined {
  const { stations } = meet.rotations[rotation - 1] ?? { stations: [] };
  return stations.find((s) => s.apparatus === apparatus)?.order;
}

function scoresOf(meet: Meet, id: string) {
  return standings(meet).rows.find((r) => r.id === id)?.scores;
}

const evening = (...rows: string[]) => meetFrom(FINAL, logFrom(...rows));
const problemsOf = (log: string) =>
  readMeet({ meet: { file: 'm', text: FINAL }, log: { file: 'l', text: log } }).problems.filter(
    (p) => p.file === 'l',
  );

describe('a reserve who steps in', () => {
  const vault = ['fitch,VT,13.000', 'lund,VT,13.500', 'quill,UB,13.000', 'marsh,UB,12.000'];

  it('on everything from here on has her place in every order, and the other is out', () => {
    const meet = evening(...vault, 'velde,all,for:fitch');
    expect(order(meet, 2, 'UB')).toEqual(['lund', 'velde']);
    expect(order(meet, 3, 'BB')).toEqual(['velde', 'lund']);
    expect(order(meet, 1, 'VT')).toEqual(['fitch', 'lund']);
    expect(scoresOf(meet, 'fitch')).toEqual({ VT: 13000, UB: 'DNS', BB: 'DNS', FX: 'DNS' });
    expect(standings(meet).rows.at(-1)?.id).toBe('fitch');
    // She does not do every apparatus, and does not compete in the all-around.
    expect(standings(meet).rows.map((r) => r.id)).not.toContain('velde');
    expect(() => needs(meet, 'fitch')).toThrow(/out of/);
    const team = standings(meet, { contest: 'team' }).rows.find((r) => r.id === 'NQY');
    expect(team?.toCome).toEqual(['UB', 'UB', 'BB', 'BB', 'FX', 'FX']);
  });

  it('is asked about with her own range', () => {
    const meet = evening(...vault, 'velde,BB,for:fitch');
    expect(needs(meet, 'velde', { contest: 'BB' }).range).toMatchObject({
      likely: 12600,
      from: 'own',
    });
    expect(scoresOf(meet, 'fitch')).toEqual({ VT: 13000, UB: null, BB: 'DNS', FX: null });
  });

  it('scores for the team, and is replaced herself', () => {
    const meet = evening(...vault, 'velde,BB,for:fitch', 'velde,BB,12.500', 'lund,BB,13.100');
    const team = standings(meet, { contest: 'team' }).rows.find((r) => r.id === 'NQY');
    expect(team?.scores.BB).toBe(12500 + 13100);
    expect(order(evening('velde,BB,for:fitch', 'fitch,BB,for:velde'), 3, 'BB')).toEqual([
      'velde',
      'lund',
    ]);
  });

  it('may come after a withdrawal, and after she is gone from the meet file', () => {
    expect(order(evening('fitch,BB,DNS', 'velde,BB,for:fitch'), 3, 'BB')).toEqual([
      'velde',
      'lund',
    ]);
    // The plan was changed in the file, and the log still says what happened before.
    const changed = FINAL.replace('[fitch, lund]', '[lund, velde]').replace(
      'team: NQY }\n',
      'team: NQY, on: [] }\n',
    );
    const meet = meetFrom(
      changed.replace('    on: []\n', ''),
      logFrom('fitch,BB,DNS', 'velde,VT,13.000'),
    );
    expect(standings(meet).rows[0]?.id).toBe('velde');
  });

  it('from here on: what was performed then stays hers, whatever is taken back later', () => {
    const meet = evening(...vault, 'velde,all,for:fitch', 'fitch,VT,void');
    expect(scoresOf(meet, 'fitch')).toEqual({ VT: null, UB: 'DNS', BB: 'DNS', FX: 'DNS' });
    expect(order(meet, 1, 'VT')).toEqual(['fitch', 'lund']);
    const { meet: again } = record(meet, { gymnast: 'fitch', apparatus: 'VT', score: '13.100' });
    expect(scoresOf(again, 'fitch')?.VT).toBe(13100);
    const up = evening('fitch,VT,up', 'velde,all,for:fitch', 'fitch,VT,void');
    expect(scoresOf(up, 'fitch')?.VT).toBeNull();
    // Taken back before she steps in, it is to come, and is the other's.
    const before = evening('fitch,VT,13.000', 'fitch,VT,void', 'velde,all,for:fitch');
    expect(order(before, 1, 'VT')).toEqual(['velde', 'lund']);
    // A withdrawal instead of a score is no performance.
    const out = evening('fitch,VT,13.000', 'fitch,VT,DNS', 'velde,all,for:fitch');
    expect(order(out, 1, 'VT')).toEqual(['velde', 'lund']);
  });

  it('is as in the plan again when it is taken back', () => {
    const meet = evening(...vault, 'velde,all,for:fitch', 'velde,all,void');
    expect(meet.rotations).toEqual(evening(...vault).rotations);
    expect(scoresOf(meet, 'fitch')).toEqual({ VT: 13000, UB: null, BB: null, FX: null });
    const gone = `${logFrom('velde,BB,for:fitch', 'velde,BB,12.000')}velde,BB,void\nvelde,BB,void\n`;
    expect(problemsOf(gone)).toEqual([]);
  });

  it.each([
    ['who has a routine there herself', 'lund,BB,for:fitch', /lund cannot step in for fitch/],
    ['where the other is through', 'velde,VT,for:fitch', /cannot step in/],
    ['who does not go up there', 'fitch,BB,for:velde', /cannot step in/],
  ])('is refused and stops nothing: %s', (_, row, said) => {
    const rows = logFrom('fitch,VT,13.000', row);
    expect(problemsOf(rows).map((p) => `${p.severity} ${p.line} ${p.message}`)).toContainEqual(
      expect.stringMatching(new RegExp(`warning 3 ${said.source}`.replace('3 ', '3 .*'))),
    );
    const [gymnast = '', apparatus = '', score = ''] = row.split(',');
    const meet = evening('fitch,VT,13.000');
    expect(() => record(meet, { gymnast, apparatus, score })).toThrow(said);
  });
});

describe('an order that differs from the plan', () => {
  it('is the plan with one moved behind another of her rotation', () => {
    const meet = evening('fitch,VT,after:lund');
    expect(order(meet, 1, 'VT')).toEqual(['lund', 'fitch']);
    expect(order(meet, 2, 'UB')).toEqual(['lund', 'fitch']);
    expect(order(meet, 3, 'BB')).toEqual(['fitch', 'lund']);
    expect(up(meet)).toEqual(['lund VT', 'quill UB']);
    expect(order(evening('fitch,VT,after:lund', 'fitch,VT,void'), 1, 'VT')).toEqual([
      'fitch',
      'lund',
    ]);
  });

  it('is refused between two rotations', () => {
    expect(() =>
      record(evening(), { gymnast: 'fitch', apparatus: 'VT', score: 'after:quill' }),
    ).toThrow(/not in the same rotation/);
  });
});

describe('a score that is awaited', () => {
  it('is still to come, and the apparatus has moved on', () => {
    const meet = evening('fitch,VT,up');
    expect(up(meet)).toEqual(['quill UB', 'lund VT']);
    expect(awaited(meet).map((r) => r.gymnast)).toEqual(['fitch']);
    expect(standings(meet).rows.find((r) => r.id === 'fitch')?.toCome).toEqual([
      'VT',
      'UB',
      'BB',
      'FX',
    ]);
    expect(problemsOf(logFrom('fitch,VT,up'))).toMatchObject([
      { severity: 'note', code: 'awaited', message: 'the score of Nia Fitch on vault is awaited' },
    ]);
  });

  it('takes no score away', () => {
    const meet = evening('fitch,VT,13.000', 'fitch,VT,up');
    expect(scoresOf(meet, 'fitch')?.VT).toBe(13000);
    expect(awaited(meet)).toEqual([]);
    expect(() => record(meet, { gymnast: 'fitch', apparatus: 'VT', score: 'up' })).toThrow(
      /already has a result on VT/,
    );
  });
});

describe('a withdrawal from everything in one row', () => {
  it('is from what has no score yet, performed or not', () => {
    const meet = evening('fitch,VT,13.000', 'fitch,UB,up', 'fitch,all,DNS');
    expect(scoresOf(meet, 'fitch')).toEqual({ VT: 13000, UB: 'DNS', BB: 'DNS', FX: 'DNS' });
    expect(awaited(meet)).toEqual([]);
    expect(scoresOf(evening('fitch,all,DNS', 'fitch,all,void'), 'fitch')).toEqual({
      VT: null,
      UB: null,
      BB: null,
      FX: null,
    });
  });
});

describe('the routine that is asked', () => {
  it('is the one she is up on where an earlier one is only awaited', () => {
    const rows = ['lund,VT,13.000', 'quill,UB,13.000', 'marsh,UB,13.000'];
    // Fitch was passed over on vault; on bars rotation 2 has not begun.
    expect(needs(evening(...rows), 'fitch').apparatus).toBe('VT');
    // It has: Lund went first, and Fitch is next there.
    expect(
      needs(
        evening(
          ...rows,
          'lund,UB,after:fitch',
          'lund,UB,void',
          'fitch,UB,after:lund',
          'lund,UB,13.000',
        ),
        'fitch',
      ).apparatus,
    ).toBe('UB');
  });
});

describe('a score under inquiry', () => {
  it('leaves nothing certain that a change of it could undo, in either sense', () => {
    const two = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
gymnasts: [{ id: ann }, { id: bea }, { id: cleo, ranges: { FX: { low: 10, likely: 11, high: 12, falls: 0 } } }]
`;
    const settled = (status: string) => {
      const rows = `gymnast,apparatus,score,status\nann,FX,14.000,${status}\nbea,FX,11.500,\n`;
      return needs(meetFrom(two, rows), 'cleo').settled.map((s) => `${s.target} ${s.by}`);
    };
    expect(settled('')).toContain('win ranges');
    expect(settled('inquiry')).not.toContain('win ranges');
    // Of Ann herself nothing is certain while hers may change, though she leads by three points.
    const rows = 'gymnast,apparatus,score,status\nann,FX,15.000,inquiry\nbea,FX,11.500,\n';
    const { contenders } = chances(meetFrom(two, rows));
    expect(contenders.find((c) => c.id === 'ann')?.settled.map((x) => x.target)).toEqual(['medal']);
  });

  const row = 'fitch,VT,13.000,5.000,8.000,,inquiry';
  const log = (...rows: string[]) =>
    `gymnast,apparatus,score,d,e,nd,status\n${rows.map((r) => `${r}\n`).join('')}`;
  const kept = meetFrom(FINAL, log('fitch,VT,13.000,5.000', row));

  it('counts, and is marked', () => {
    expect(scoresOf(kept, 'fitch')?.VT).toBe(13000);
    expect(underInquiry(kept).map((r) => `${r.gymnast} ${r.apparatus}`)).toEqual(['fitch VT']);
    expect(problemsOf(log(row)).map((p) => p.code)).toEqual(['under-inquiry']);
    const short = meetFrom(FINAL, log('fitch,VT,13.000,5.000', 'fitch,VT,,,,,inquiry'));
    expect(short.results).toEqual(kept.results);
  });

  it('is told in a word, changed, confirmed, and taken back, each as what it is', () => {
    const first = record(meetFrom(FINAL), { gymnast: 'fitch', apparatus: 'VT', score: '13' });
    const told = (meet: Meet, score: string) =>
      record(meet, { gymnast: 'fitch', apparatus: 'VT', score });
    const inquiry = told(first.meet, 'inquiry');
    expect(inquiry.recorded).toMatchObject({ kind: 'inquiry', was: 13000, now: 13000 });
    expect(inquiry.recorded.row).toMatchObject({ score: '13.000', status: 'inquiry' });
    expect(underInquiry(inquiry.meet)).toHaveLength(1);
    const changed = told(inquiry.meet, '13.1');
    expect(changed.recorded).toMatchObject({ kind: 'changed', was: 13000, now: 13100 });
    expect(underInquiry(changed.meet)).toEqual([]);
    const confirmed = told(inquiry.meet, 'confirmed');
    expect(confirmed.recorded).toMatchObject({ kind: 'confirmed', was: 13000, now: 13000 });
    expect(underInquiry(confirmed.meet)).toEqual([]);
    const back = told(changed.meet, 'void');
    expect(back.recorded).toMatchObject({ kind: 'taken-back', was: 13100, now: 13000 });
    expect(underInquiry(back.meet)).toHaveLength(1);
    expect(told(first.meet, '13.2').recorded.kind).toBe('corrected');
    expect(() => told(meetFrom(FINAL), 'inquiry')).toThrow(/no score on VT yet/);
  });
});

describe('what a row changed', () => {
  const FX = `discipline: mag
scoring: open
contests: [{ kind: apparatus, on: FX }]
gymnasts: [{ id: ora }, { id: pell }, { id: quo }]
`;

  it('is nothing where only the order changed', () => {
    const meet = meetFrom(FX, logFrom('ora,FX,13.000'));
    const { recorded } = record(meet, { gymnast: 'quo', apparatus: 'FX', score: 'after:ora' });
    expect([recorded.changes, recorded.settled, recorded.unsettled]).toEqual([[], [], []]);
    const back = record(
      record(meet, { gymnast: 'quo', apparatus: 'FX', score: 'after:ora' }).meet,
      {
        gymnast: 'quo',
        apparatus: 'FX',
        score: 'void',
      },
    );
    expect(back.recorded).toMatchObject({
      kind: 'taken-back',
      took: 'after',
      was: null,
      now: null,
    });
  });

  it('is told as certain no longer when it is taken back', () => {
    const meet = meetFrom(FX, logFrom('ora,FX,13.000', 'pell,FX,12.000'));
    const won = record(meet, { gymnast: 'quo', apparatus: 'FX', score: '11' });
    expect(won.recorded.settled).toContainEqual({
      id: 'ora',
      target: 'win',
      status: 'secured',
      by: 'limit',
    });
    const undone = record(won.meet, { gymnast: 'quo', apparatus: 'FX', score: 'void' });
    expect(undone.recorded.unsettled).toContainEqual({
      id: 'ora',
      target: 'win',
      status: 'secured',
      by: 'limit',
    });
  });

  it('says which scores count no more when a stand-in is taken back', () => {
    const meet = evening('velde,BB,for:fitch', 'velde,BB,12.500');
    const { recorded } = record(meet, { gymnast: 'velde', apparatus: 'BB', score: 'void' });
    expect(recorded.warnings).toEqual([]);
    const all = evening('velde,all,for:fitch', 'velde,BB,12.500');
    const undone = record(all, { gymnast: 'velde', apparatus: 'all', score: 'void' });
    expect(undone.recorded.warnings.join()).toContain('a row of velde on BB counts no more');
  });

  it('is no more routines for a team whose reserve steps in', () => {
    const meet = evening(
      'fitch,VT,13.000',
      'velde,BB,for:fitch',
      'velde,BB,12.500',
      'quill,UB,13.000',
    );
    const team = standings(meet, { contest: 'team' }).rows.find((r) => r.id === 'NQY');
    expect([team?.done, team?.toCome.length]).toEqual([2, 6]);
  });

  it('is refused where it would pass over who has not been up', () => {
    const meet = evening('fitch,VT,13.000');
    expect(() => record(meet, { gymnast: 'fitch', apparatus: 'VT', score: 'after:lund' })).toThrow(
      /has been up/,
    );
  });
});

describe('a meet as it was recorded, row by row', () => {
  it('is the meet that is read from its log', () => {
    const rows = [
      ['fitch', 'VT', '13.000'],
      ['lund', 'VT', 'up'],
      ['fitch', 'VT', 'inquiry'],
      ['quill', 'UB', 'after:marsh'],
      ['velde', 'all', 'for:fitch'],
      ['velde', 'BB', '12.000'],
      ['lund', 'VT', '13.200'],
      ['quill', 'UB', 'void'],
    ] as const;
    let meet = meetFrom(FINAL);
    const written: string[] = [];
    for (const [gymnast, apparatus, score] of rows) {
      const next = record(meet, { gymnast, apparatus, score });
      meet = next.meet;
      const { row } = next.recorded;
      written.push([row.gymnast, row.apparatus, row.score, row.status ?? ''].join(','));
    }
    const log = `gymnast,apparatus,score,status\n${written.join('\n')}\n`;
    expect(meet).toEqual(meetFrom(FINAL, log));
  });
});
