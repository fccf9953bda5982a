/** Results histories, dirty as they come: what can be used is used, the rest is said with its line. */
import { describe, expect, it } from 'vitest';
import { readDate } from '../../lib/history/date.js';
import { readHistoryIn } from '../../lib/history/history.js';
import { isBefore, readRound } from '../../lib/history/round.js';
import { LastRotationError, readHistory } from '../../lib/index.js';

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,d,e,nd';
const read = (text: string) => readHistory({ file: 'results.csv', text });
const rows = (...lines: string[]) => read(`${HEADER}\n${lines.join('\n')}\n`);
const why = (...lines: string[]) => rows(GOOD, ...lines).leftOut;
const GOOD = 'ann,wag,2026-03-01,Spring Cup,final,VT,13.500,5.000,8.500,0';

describe('a history', () => {
  it('is read row by row', () => {
    const { routines, leftOut, decimals, scoring } = rows(GOOD);
    expect(routines).toEqual([
      {
        line: 2,
        gymnast: 'ann',
        discipline: 'wag',
        date: '2026-03-01',
        competition: 'Spring Cup',
        round: { name: 'final', stage: 'final', contest: 'apparatus', day: null },
        apparatus: 'VT',
        score: 13500,
        d: 5000,
        e: 8500,
        nd: 0,
        noc: null,
        place: null,
        rotation: null,
      },
    ]);
    expect({ leftOut, decimals, scoring }).toEqual({ leftOut: [], decimals: 3, scoring: 'open' });
  });

  it('may have its columns in any order, semicolons, decimal commas, a BOM and CRLF', () => {
    const text =
      '\uFEFFscore;apparatus;gymnast;discipline;date;round;competition;rotation\r\n' +
      '13,5;vt;Ann;WAG;01.03.2026;Final;Spring Cup;2\r\n' +
      '12.75;BB;Ann;women;2026/3/1;qualification;Spring Cup;\r\n';
    const { routines, leftOut } = read(text);
    expect(leftOut).toEqual([]);
    expect(routines.map((r) => [r.score, r.apparatus, r.date, r.round.stage, r.rotation])).toEqual([
      [13500, 'VT', '2026-03-01', 'final', 2],
      [12750, 'BB', '2026-03-01', 'qualification', null],
    ]);
  });

  it('passes over empty lines and rows of empty cells', () => {
    const { routines, leftOut } = rows(GOOD, '', ',,,,,,,,,', GOOD.replace('ann', 'bea'), ',,');
    expect([routines.map((r) => r.gymnast), leftOut]).toEqual([['ann', 'bea'], []]);
  });

  it('takes two spellings for one gymnast, and says so', () => {
    const { routines, notes } = rows(
      'Müller Ida,wag,2026-03-01,Spring Cup,final,VT,13.5,,,',
      'muller  ida,wag,2026-03-01,Spring Cup,final,BB,12.5,,,',
      'Muller-Ida,wag,2026-03-01,Spring Cup,final,FX,12.5,,,',
    );
    expect(new Set(routines.map((r) => r.gymnast))).toEqual(new Set(['Müller Ida']));
    expect(notes).toEqual([
      { line: 3, why: 'muller ida is taken to be Müller Ida (line 2)' },
      { line: 4, why: 'Muller-Ida is taken to be Müller Ida (line 2)' },
    ]);
  });

  it('says which rotation cannot be read, and uses the row without it', () => {
    const { routines, leftOut, notes } = read(
      `gymnast,discipline,date,competition,round,apparatus,score,rotation
ann,wag,2026-03-01,Spring Cup,final,VT,13.5,second
ann,wag,2026-03-01,Spring Cup,final,BB,13.5,0
ann,wag,2026-03-01,Spring Cup,final,FX,13.5,3
ann,wag,2026-03-01,Spring Cup,final,UB,13.5,
`,
    );
    expect(routines.map((r) => r.rotation)).toEqual([null, null, 3, null]);
    expect(leftOut).toEqual([]);
    expect(notes).toEqual([
      { line: 2, why: '"second" is not a rotation, and is ignored' },
      { line: 3, why: '"0" is not a rotation, and is ignored' },
    ]);
  });

  it.each([
    [GOOD, 'the same routine as line 2'],
    [GOOD.replace('13.500,5.000,8.500', '13.400,5.000,8.400'), /another score for the routine/],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,13.600,5.000,8.500,0', /is 13.500, not 13.600/],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,135.00,5.0,,', /over the limit of 15.000/],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,13.5,5.0,10.5,2', /E 10.500 is over 10.000/],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,13.5,13.0,0.5,0', /cannot be a D score/],
    ['ann,wag,2026-03-02,Spring Cup,final,PH,13.5,,,', /"PH" is not an apparatus of wag/],
    ['ann,acro,2026-03-02,Spring Cup,final,VT,13.5,,,', /"acro" is not a discipline/],
    ['ann,wag,03/02/2026,Spring Cup,final,VT,13.5,,,', /not a clear date/],
    ['ann,wag,2026-02-30,Spring Cup,final,VT,13.5,,,', 'there is no such day as 2026-02-30'],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,DNS,,,', 'no score (DNS)'],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,,,,', 'no score'],
    [',wag,2026-03-02,Spring Cup,final,VT,13.5,,,', 'no gymnast'],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,about 13,,,', /"about 13" is not a score/],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,13,5,,,,,,', /"13,5" may be one score/],
    ['ann,wag,2026-03-02,Spring Cup,final,VT,13.5,5.0,8.5,0,6,1', /12 values for 10 columns/],
  ])('leaves out %j', (line, reason) => {
    const left = why(line);
    expect(left).toMatchObject([{ line: 3 }]);
    if (typeof reason === 'string') expect(left[0]?.why).toBe(reason);
    else expect(left[0]?.why).toMatch(reason);
  });

  it('counts a first and a second vault apart, and a broken-off routine of nothing', () => {
    const { routines } = rows(
      GOOD,
      'ann,wag,2026-03-01,Spring Cup,final,VT2,13.000,4.6,8.4,0',
      'bea,wag,2026-03-01,Spring Cup,final,VT,0.000,5.0,8.0,0',
    );
    expect(routines.map((r) => r.apparatus)).toEqual(['VT', 'VT2', 'VT']);
  });

  it('out of ten is told by its scores, four decimals by theirs', () => {
    expect(rows('ann,wag,2026-03-01,Dual,final,VT,9.875,,,')).toMatchObject({ scoring: 'ten' });
    expect(rows('ann,wag,2026-03-01,Dual,final,VT,9.8750,,,')).toMatchObject({ decimals: 4 });
  });

  it.each([
    ['', /there is nothing in it/],
    ['gymnast,discipline,date,competition,round,apparatus\n', /no column score/],
    [`${HEADER}\n`, /there is no row in it/],
    [`${HEADER}\nann,wag,soon,Cup,final,VT,13.5,,,\n`, /no row can be used: "soon"/],
  ])('%j cannot be used', (text, message) => {
    expect(() => read(text)).toThrow(LastRotationError);
    expect(() => read(text)).toThrow(message);
  });
});

describe('a round', () => {
  it.each([
    ['AAfinal', 'final', 'all-around'],
    ['AAqual', 'qualification', 'all-around'],
    ['All-around final', 'final', 'all-around'],
    ['TeamFinal', 'final', 'team'],
    ['TeamQual', 'qualification', 'team'],
    ['final', 'final', 'apparatus'],
    ['Event final', 'final', 'apparatus'],
    ['qual', 'qualification', null],
    ['Preliminaries', 'qualification', null],
    ['day 2', 'final', null],
    ['Senior AA final', 'final', 'all-around'],
    ['AA final - day 1', 'final', 'all-around'],
    ['Women’s individual all around', 'final', 'all-around'],
    ['AA qualification', 'qualification', 'all-around'],
  ])('%s is of the %s, for %s', (text, stage, contest) => {
    expect(readRound(text)).toMatchObject({ stage, contest });
  });
});

describe('a history in pieces', () => {
  const text = [
    HEADER,
    ...Array.from({ length: 40 }, (_, i) => GOOD.replace('ann', `g${i % 35}é`).replace('VT', 'BB')),
    '"Quill, ""Ada""\nAnn",wag,27/09/2022,"Cup, the",AA final,VT,13.5000,,,',
    '"open,wag',
    '',
  ].join('\r\n');

  it.each([1, 2, 3, 7, 100])('of %i letters says the same', (size) => {
    const pieces = () =>
      Array.from({ length: Math.ceil(text.length / size) }, (_, i) =>
        text.slice(i * size, (i + 1) * size),
      );
    const whole = read(text);
    expect(whole).toMatchObject({ decimals: 4 });
    expect(whole.routines.length).toBe(36);
    expect(whole.leftOut.length).toBe(6);
    expect(readHistoryIn({ file: 'results.csv', pieces })).toEqual(whole);
  });
});

describe('the order of rounds', () => {
  it.each([
    ['qualification', 'TeamFinal', true],
    ['TeamFinal', 'AAfinal', true],
    ['AA final', 'final', true],
    ['final', 'AAfinal', false],
    ['AA final', 'All-around final', false],
    ['AA day 1', 'AA day 2', true],
    ['AA day 2', 'AA day 1', false],
    ['day 1', 'AAfinal', false],
  ])('%s before %s: %j', (one, other, before) => {
    expect(isBefore(readRound(one), readRound(other))).toBe(before);
  });
});

describe('what any person would read', () => {
  it('columns by other names, apparatus by theirs, and says so of the columns', () => {
    const { routines, leftOut, notes } = read(
      `Athlete,Nation,Gender,Date,Meet,Phase,App,D Score,E Score,Penalty,Total,Rank
Ann,NQY,women,27 Sep 2022,Quay Cup,Senior AA final,UE,5.0,8.0,0.1,12.9,3
Ann,NQY,women,"September 27, 2022",Quay Cup,Senior AA final,Balance Beam,5.0,8.0,0,13.0,3
Ben,NQY,men,27 Sept 2022,Quay Cup,Senior AA final,High Bar,5.0,8.0,0,13.0,3
`,
    );
    expect(leftOut).toEqual([]);
    expect(routines.map((r) => [r.gymnast, r.date, r.apparatus, r.score, r.noc, r.place])).toEqual([
      ['Ann', '2022-09-27', 'UB', 12900, 'NQY', 3],
      ['Ann', '2022-09-27', 'BB', 13000, 'NQY', 3],
      ['Ben', '2022-09-27', 'HB', 13000, 'NQY', 3],
    ]);
    expect(routines.every((r) => r.round.contest === 'all-around' && r.nd !== null)).toBe(true);
    expect(notes.map((n) => n.why)).toContain('the column Total is read as score');
  });

  it('all that is missing is named at once', () => {
    expect(() => read('gymnast,date,competition\nann,2026-03-01,Cup\n')).toThrow(
      'the first line has no columns discipline, round, apparatus, score',
    );
  });

  const dated = (...dates: string[]) =>
    rows(...dates.map((date, i) => `ann,wag,${date},Cup ${i},final,VT,13.5,,,`));

  it('dates with slashes, where one of them tells what stands first', () => {
    const { routines, notes } = dated('27/09/2022', '03/02/2023');
    expect(routines.map((r) => r.date)).toEqual(['2022-09-27', '2023-02-03']);
    expect(notes[0]).toMatchObject({ line: 2 });
    expect(notes[0]?.why).toMatch(/^"27\/09\/2022" is read as day, month, year/);
    expect(dated('09/27/2022', '03/02/2023').routines.map((r) => r.date)).toEqual([
      '2022-09-27',
      '2023-03-02',
    ]);
  });

  it('and not where none does, or two contradict each other', () => {
    expect(() => dated('03/02/2023')).toThrow(/not a clear date/);
    expect(() => dated('27/09/2022', '09/27/2022')).toThrow(/not a clear date/);
  });

  it('a history of which most is lost is refused', () => {
    const bad = GOOD.replace('VT', 'PH');
    const lines = (n: number) => Array.from({ length: n }, (_, i) => bad.replace('ann', `g${i}`));
    expect(() => rows(GOOD, ...lines(2))).toThrow(/only 1 of 3 rows can be used: "PH" is not/);
    expect(rows(GOOD, ...lines(1)).routines.length).toBe(1);
    // Who did not start, or stands there twice, is no loss.
    const dns = GOOD.replace('13.500,5.000,8.500,0', 'DNS,,,');
    expect(rows(GOOD, GOOD, GOOD, dns, dns).routines.length).toBe(1);
  });
});

describe('a date', () => {
  it.each([
    ['2026-03-01', '2026-03-01'],
    ['2026-3-1', '2026-03-01'],
    ['2026/03/01', '2026-03-01'],
    ['1.3.2026', '2026-03-01'],
    ['2026-03-01T18:00', '2026-03-01'],
  ])('%s is %s', (text, date) => {
    expect(readDate(text)).toEqual({ date });
  });
});
