/** The score log: what is read, what is refused, what is set aside, and never a word misread. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Meet, type Problem, readMeet } from '../../lib/index.js';
import { standingRows } from '../../lib/meet/course.js';
import { LOG_HEADER, parseLog, writeRow } from '../../lib/meet/log.js';
import { withTold } from '../../lib/meet/recording.js';
import { readRow } from '../../lib/meet/rows.js';
import { logFrom } from '../support/meet.js';
import { times } from '../support/times.js';

const WAG = `discipline: wag
scoring: open
gymnasts:
  - { id: ann, name: Ann Ashdown }
  - { id: bea, name: Bea Birkwell }
  - { id: Zoë, name: Zoë Zimmerlein }
`;
const TEN = WAG.replace('open', 'ten');
const AT = '2026-05-16T14:02:52.280Z';
const LATER = '2026-05-16T14:03:31.719Z';

interface Read {
  /** `ann VT` → `13.900`, with D, E and ND where there are any. */
  readonly results: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly errors: readonly Problem[];
  readonly codes: readonly string[];
  readonly dialect: ReturnType<typeof readMeet>['dialect'];
}

/** What is read of a log, by itself: where one of its rows is an error, there is no meet with it. */
function read(log: string, yaml = WAG): Read {
  const file = { file: 'meet.yaml', text: yaml };
  const source = { file: 'meet.scores.csv', text: log };
  const { meet: whole, problems, dialect } = readMeet({ meet: file, log: source });
  const { meet: alone } = readMeet({ meet: file });
  if (alone === null) throw new Error('no meet');
  const list = { file: source.file, problems: [] };
  const rows = parseLog(log, list).rows.flatMap(({ line, values }) => {
    const row = readRow(alone, values);
    return 'wrong' in row ? [] : [{ ...row, line }];
  });
  const { meet } = withTold(alone, standingRows([], rows).told);
  expect(whole === null).toBe(problems.some((p) => p.severity === 'error'));
  if (whole !== null) expect(whole.results).toEqual(meet.results);
  const said = problems.filter((p) => p.file === 'meet.scores.csv' && p.code !== 'awaited');
  return {
    results: resultsOf(meet),
    problems: said,
    errors: problems.filter((p) => p.severity === 'error'),
    codes: said.map((p) => `${p.severity} ${p.code} ${p.line}`),
    dialect,
  };
}

function resultsOf(meet: Meet): Record<string, string> {
  const units = (n: number) => (n / 10 ** meet.scoring.decimals).toFixed(meet.scoring.decimals);
  return Object.fromEntries(
    meet.routines.flatMap((r) => {
      const result = meet.results[r.index] ?? null;
      if (result === null) return [];
      const parts =
        typeof result === 'string'
          ? result
          : [
              units(result.score),
              ...(result.d === null ? [] : [`d${units(result.d)}`]),
              ...(result.e === null ? [] : [`e${units(result.e)}`]),
              ...(result.nd === 0 ? [] : [`nd${units(result.nd)}`]),
            ].join(' ');
      return [[`${r.gymnast} ${r.apparatus}`, parts]];
    }),
  );
}

/** A log in the tool's own manner. */
function toolLog(...rows: readonly string[]): string {
  return `${LOG_HEADER}\n${rows.map((r) => `${r}\n`).join('')}`;
}

describe('a log as people and spreadsheets write it', () => {
  const wanted = { 'ann VT': '14.233 d5.400 e8.833', 'bea UB': '13.900 d5.000 e9.000 nd0.100' };

  it.each<[what: string, log: string]>([
    [
      'as the tool writes it',
      toolLog(`ann,VT,14.233,5.400,8.833,0.000,,,${AT}`, `bea,UB,13.900,5.000,9.000,0.100,,,${AT}`),
    ],
    [
      'any order of columns',
      'note,e,score,apparatus,nd,gymnast,d\n,8.833,14.233,VT,,ann,5.400\n,9.000,13.900,UB,0.1,bea,5\n',
    ],
    [
      'columns in capitals, with blanks',
      ' Gymnast , APPARATUS ,Score,D,E,ND\nann,VT,14.233,5.400,8.833,\nbea,UB,13.900,5.000,9.000,0.100\n',
    ],
    [
      'a byte order mark',
      '\uFEFFgymnast,apparatus,score,d,e,nd\nann,VT,14.233,5.400,8.833,\nbea,UB,13.900,5.000,9.000,0.100\n',
    ],
    [
      'CRLF',
      'gymnast,apparatus,score,d,e,nd\r\nann,VT,14.233,5.400,8.833,\r\nbea,UB,13.900,5.000,9.000,0.100\r\n',
    ],
    [
      'CR alone',
      'gymnast,apparatus,score,d,e,nd\rann,VT,14.233,5.400,8.833,\rbea,UB,13.900,5.000,9.000,0.100\r',
    ],
    [
      'semicolons and decimal commas',
      'gymnast;apparatus;score;d;e;nd\nann;VT;14,233;5,4;8,833;\nbea;UB;13,9;5;9;0,1\n',
    ],
    [
      'tabs and decimal commas',
      'gymnast\tapparatus\tscore\td\te\tnd\nann\tVT\t14,233\t5,4\t8,833\t\nbea\tUB\t13,9\t5\t9\t0,1\n',
    ],
    [
      'decimal commas in quotes',
      'gymnast,apparatus,score,d,e,nd\nann,VT,"14,233","5,4","8,833",\nbea,UB,"13,900",5,9,"0,1"\n',
    ],
    [
      'everything in quotes',
      '"gymnast","apparatus","score","d","e","nd"\n"ann","VT","14.233","5.400","8.833",""\n"bea","UB","13.900","5","9","0.1"\n',
    ],
    [
      'blank lines and lines of commas of blanks',
      '\n\ngymnast,apparatus,score,d,e,nd\n\nann,VT,14.233,5.400,8.833,\n   \nbea,UB,13.900,5.000,9.000,0.100\n\n\n',
    ],
    [
      'rows of empty cells, as spreadsheets write them under a table',
      ',,,,,\ngymnast,apparatus,score,d,e,nd\nann,VT,14.233,5.400,8.833,\n,,,,,\n , , ,,,\nbea,UB,13.900,5.000,9.000,0.100\n,,\n"","","","","",""\n,,,,,',
    ],
    [
      'rows of empty cells, divided by semicolons',
      'gymnast;apparatus;score;d;e;nd\nann;VT;14,233;5,4;8,833;\n;;;;;\nbea;UB;13,9;5;9;0,1\n;;;;;\n',
    ],
    [
      'rows of empty cells in a log the tool began',
      `${toolLog(`ann,VT,14.233,5.400,8.833,0.000,,,${AT}`, ',,', ',,,,,,,,', `bea,UB,13.900,5.000,9.000,0.100,,,${AT}`)},,,`,
    ],
    [
      'blanks round the values',
      'gymnast,apparatus,score,d,e,nd\n ann , VT , 14.233 , 5.400,8.833 ,\nbea,UB,13.900,5.000,9.000,0.100\n',
    ],
    [
      'small codes and other cases',
      'gymnast,apparatus,score,d,e,nd\nANN,vt,14.233,5.400,8.833,\nBea,Ub,13.900,5.000,9.000,0.100\n',
    ],
    [
      'fewer decimals',
      'gymnast,apparatus,score,d,e,nd\nann,VT,14.233,5.4,8.833,0\nbea,UB,13.9,5,9,.1\n'.replace(
        ',.1',
        ',0.1',
      ),
    ],
    [
      'E left out',
      'gymnast,apparatus,score,d,nd\nann,VT,14.233,5.400,\nbea,UB,13.900,5.000,0.100\n',
    ],
    [
      'D left out',
      'gymnast,apparatus,score,e,nd\nann,VT,14.233,8.833,\nbea,UB,13.900,9.000,0.100\n',
    ],
    [
      'rows cut short where nothing more is to say',
      'gymnast,apparatus,score,d,e,nd,note\nann,VT,14.233,5.400,8.833\nbea,UB,13.900,5.000,9.000,0.100\n',
    ],
    [
      'extra empty columns at the end',
      'gymnast,apparatus,score,d,e,nd,,\nann,VT,14.233,5.400,8.833,,,\nbea,UB,13.900,5.000,9.000,0.100,,\n',
    ],
    [
      'notes with everything in them',
      'gymnast,apparatus,score,d,e,nd,note\nann,VT,14.233,5.400,8.833,,"said ""wow"", twice; then\nmore\r\n and more"\nbea,UB,13.900,5.000,9.000,0.100,"a\n\n,b"\n',
    ],
    [
      'no last end of line',
      'gymnast,apparatus,score,d,e,nd\nann,VT,14.233,5.400,8.833,\nbea,UB,13.900,5.000,9.000,0.100',
    ],
  ])('%s', (_, log) => {
    const { results, errors } = read(log);
    expect(errors).toEqual([]);
    expect(results).toEqual(wanted);
  });

  it('a row of empty cells is an empty line: nothing is said of it, and the next row stands behind it', () => {
    const { results, problems, dialect } = read('gymnast,apparatus,score\nann,VT,14.233\n,,');
    expect(results).toEqual({ 'ann VT': '14.233' });
    expect(problems).toEqual([]);
    expect(dialect?.before).toBe('\n');
  });

  it('a row that lacks only the gymnast is no empty one', () => {
    expect(read('gymnast,apparatus,score\n,VT,14.233\n').codes).toEqual([
      'error unknown-gymnast 2',
    ]);
  });

  it('only three columns are needed, and ND not given is 0', () => {
    const { results, problems } = read(
      'gymnast,apparatus,score\nann,VT,14.233\nbea,UB,dns\nZoë,FX,13.9\n',
    );
    expect(results).toEqual({ 'ann VT': '14.233', 'bea UB': 'DNS', 'Zoë FX': '13.900' });
    expect(problems.filter((p) => p.severity !== 'note')).toEqual([]);
  });

  it('an empty log, and one of a header alone, are logs', () => {
    for (const log of [
      '',
      '\n',
      '\uFEFF',
      LOG_HEADER,
      `${LOG_HEADER}\n`,
      'score,apparatus,gymnast\n',
    ]) {
      expect(read(log).errors).toEqual([]);
      expect(read(log).results).toEqual({});
    }
  });

  it('a column that is not used is noted, and a misspelt one suggested', () => {
    const log = 'gymnast,apparatus,score,country,nnote\nann,VT,14.233,XY,hm\n';
    expect(read(log).results).toEqual({ 'ann VT': '14.233' });
    const said = read(log).problems.filter((p) => p.code === 'unknown-column');
    expect(said.map((p) => [p.severity, p.line])).toEqual([
      ['note', 1],
      ['note', 1],
    ]);
    expect(said[0]?.message).toContain('country');
    expect(said[1]?.mend).toContain('`note`');
  });

  it.each([
    ['gymnast,aparatus,score\nann,VT,14.233\n', '`apparatus`'],
    ['gymnast,apparatus,scor\nann,VT,14.233\n', '`score`'],
    ['ginnast;apparatus;score\nann;VT;14.233\n', '`gymnast`'],
    ['gymnast,apparatus\nann,VT\n', 'score'],
    ['ann,VT,14.233\n', 'gymnast,apparatus,score'],
  ])('a first line without a column that must be there: %j', (log, mend) => {
    const { errors, results, dialect } = read(log);
    expect(errors[0]).toMatchObject({ code: 'missing-column', line: 1, file: 'meet.scores.csv' });
    expect(errors[0]?.mend).toContain(mend);
    expect(results).toEqual({});
    expect(dialect).toBeNull();
  });

  it('a column twice is refused', () => {
    expect(read('gymnast,apparatus,score,Score\nann,VT,14.233,13\n').codes).toEqual([
      'error column-twice 1',
    ]);
  });

  it('any log in any manner means the same', () => {
    fc.assert(
      fc.property(logInAnyManner, ({ text, expected }) => {
        const { results, errors } = read(text);
        expect(errors).toEqual([]);
        expect(results).toEqual(expected);
      }),
      { numRuns: times(200), seed: 20260521 },
    );
  });
});

const COLUMNS = ['gymnast', 'apparatus', 'score', 'd', 'e', 'nd', 'note', 'at'] as const;
type Column = (typeof COLUMNS)[number];

const noteText = fc.oneof(
  fc.constantFrom(
    '',
    '',
    'fall',
    'inquiry, accepted',
    'said "wow"',
    'a;b',
    '=1+1',
    'two\nlines',
    "it's",
    '-',
    '#',
  ),
  fc.string({ unit: 'grapheme', maxLength: 10 }).map((s) => s.trim()),
);

const someRow = fc.record({
  gymnast: fc.constantFrom('ann', 'bea', 'Zoë'),
  apparatus: fc.constantFrom('VT', 'UB', 'BB', 'FX'),
  d: fc.integer({ min: 40, max: 65 }).map((n) => n * 100),
  e: fc.integer({ min: 6000, max: 9800 }),
  nd: fc.constantFrom(0, 0, 0, 100, 300),
  note: noteText,
});

/** A log as somebody may have written it, and what it must mean. */
const logInAnyManner = fc
  .record({
    rows: fc.array(someRow, { maxLength: 8 }),
    optional: fc.subarray(['d', 'e', 'nd', 'note', 'at'] as const),
    order: fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }),
    delimiter: fc.constantFrom(',', ';', '\t'),
    newline: fc.constantFrom('\n', '\r\n'),
    comma: fc.boolean(),
    quoteAll: fc.boolean(),
    bom: fc.boolean(),
    blanks: fc.array(fc.nat(9), { maxLength: 3 }),
    ended: fc.boolean(),
    upper: fc.boolean(),
  })
  .map(
    ({ rows, optional, order, delimiter, newline, comma, quoteAll, bom, blanks, ended, upper }) => {
      const used: Column[] = ['gymnast', 'apparatus', 'score', ...optional];
      const columns = [...used].sort(
        (a, b) => (order[COLUMNS.indexOf(a)] ?? 0) - (order[COLUMNS.indexOf(b)] ?? 0),
      );
      const has = (c: Column) => columns.includes(c);
      const decimal = (n: number) => {
        const text = (n / 1000).toFixed(3);
        return comma ? text.replace('.', ',') : text;
      };
      const field = (text: string) =>
        quoteAll || new RegExp(`[${delimiter}"\\r\\n]`).test(text) || /^\s|\s$/.test(text)
          ? `"${text.replaceAll('"', '""')}"`
          : text;
      const expected: Record<string, string> = {};
      const lines = rows.map(({ gymnast, apparatus, d, e, nd: given, note }, i) => {
        const nd = has('nd') ? given : 0;
        const score = d + e - nd;
        const values: Record<Column, string> = {
          gymnast: upper ? gymnast.toUpperCase() : gymnast,
          apparatus: upper ? apparatus : apparatus.toLowerCase(),
          score: decimal(score),
          d: decimal(d),
          e: decimal(e),
          nd: decimal(nd),
          note,
          at: i % 2 === 0 ? '' : '16/05/2026 14:02',
        };
        const known = has('d') || has('e');
        expected[`${gymnast} ${apparatus}`] = [
          (score / 1000).toFixed(3),
          ...(known ? [`d${(d / 1000).toFixed(3)}`, `e${(e / 1000).toFixed(3)}`] : []),
          ...(nd === 0 ? [] : [`nd${(nd / 1000).toFixed(3)}`]),
        ].join(' ');
        return columns.map((c) => field(values[c])).join(delimiter);
      });
      const all = [columns.map((c) => (upper ? c.toUpperCase() : c)).join(delimiter), ...lines];
      for (const at of blanks) all.splice(Math.min(at, all.length), 0, at % 2 === 0 ? '' : '  ');
      const text = `${bom ? '\uFEFF' : ''}${all.join(newline)}${ended ? newline : ''}`;
      return { text, expected };
    },
  );

describe('decimal commas', () => {
  it.each([
    ['only the three columns', 'gymnast,apparatus,score\nann,VT,14,233\n'],
    ['d after the score', 'gymnast,apparatus,score,d,e,nd,note\nann,VT,14,233\n'],
    ['all three with commas', 'gymnast,apparatus,score,d,e,nd,note\nann,VT,14,233,5,400,8,833\n'],
    ['score and D with commas', 'gymnast,apparatus,score,d,e,nd,note\nann,VT,14,233,5,400\n'],
    [
      'the tool’s own columns',
      `${LOG_HEADER}\nann,VT,13.000,,,,,,${AT}\nbea,VT,14,233,,,,,,${AT}\n`,
    ],
    ['score first', 'score,gymnast,apparatus\n14,233,ann,VT\n'],
    ['e after the score', 'gymnast,apparatus,score,e\nann,VT,14,233\n'],
  ])('without quotes are refused, not misread: %s', (_, log) => {
    const { errors, results } = read(log);
    expect(errors).not.toEqual([]);
    expect(results['ann VT'] ?? results['bea VT'] ?? '13.000').toBe('13.000');
    for (const p of errors) expect(`${p.message} ${p.mend}`.length).toBeGreaterThan(20);
  });

  // Once wrong: read as 14.000 (9.000), with the thousandths as a note, a deduction, a time or an E.
  it.each([
    ['a note after the score', 'gymnast,apparatus,score,note\nann,VT,14,233\n', WAG],
    [
      'the columns of the Mill Lane example',
      'gymnast,apparatus,score,note\nann,VT,9,675\nbea,VT,9,700,fall\n',
      TEN,
    ],
    ['a deduction after the score', 'gymnast,apparatus,score,nd\nann,VT,14,233\n', WAG],
    ['a time after the score', 'gymnast,apparatus,score,at\nann,VT,14,233\n', WAG],
    ['e after the score, out of ten', 'gymnast,apparatus,score,e\nann,VT,9,675\n', TEN],
    ['a column of no use after the score', 'gymnast,apparatus,score,country\nann,VT,14,233\n', WAG],
    ['the whole of all three, no ND', 'gymnast,apparatus,d,score\nann,VT,5,14,233\n', WAG],
  ])('without quotes are refused, not misread: %s', (_, log, yaml) => {
    const { errors, results } = read(log, yaml);
    expect(results['ann VT']).toBeUndefined();
    expect(errors).not.toEqual([]);
  });

  it('whole numbers are scores where nothing else could be meant', () => {
    expect(read('gymnast,apparatus,score,d,e\nann,VT,14,5,9\n').results).toEqual({
      'ann VT': '14.000 d5.000 e9.000',
    });
    expect(read('gymnast;apparatus;score;d\nann;VT;14;5\n').results).toEqual({
      'ann VT': '14.000 d5.000 e9.000',
    });
  });
});

describe('what rows mean', () => {
  it('a later row supersedes an earlier one', () => {
    const log = logFrom('ann,VT,14.000,5.0,9.0', 'bea,VT,13.000', 'ann,VT,14.100,5.1,9.0,,inquiry');
    expect(read(log).results).toEqual({
      'ann VT': '14.100 d5.100 e9.000',
      'bea VT': '13.000',
    });
  });

  it('void takes back the row that stands, and the one before it counts again', () => {
    const rows = ['ann,VT,14.000', 'ann,VT,14.100', 'ann,VT,DNF', 'ann,VT,void', 'ann,VT,void'];
    const after = (n: number) => read(logFrom(...rows.slice(0, n))).results['ann VT'] ?? null;
    expect([1, 2, 3, 4, 5].map(after)).toEqual(['14.000', '14.100', 'DNF', '14.100', '14.000']);
    const more = (...extra: string[]) => read(logFrom(...rows, ...extra));
    expect(more('ann,VT,VOID').results).toEqual({});
    expect(more('ann,VT,void').codes).not.toContain('warning nothing-to-void 7');
    expect(more('ann,VT,void', 'ann,VT,void').results).toEqual({});
    expect(more('ann,VT,void', 'ann,VT,void').codes).toContain('warning nothing-to-void 8');
    expect(more('ann,VT,void', 'ann,VT,void', 'ann,VT,12.000').results).toEqual({
      'ann VT': '12.000',
    });
    // It reaches her other routines and other gymnasts as little as a score does.
    expect(more('bea,VT,13.000', 'ann,UB,13.100', 'ann,VT,void').results).toEqual({
      'bea VT': '13.000',
      'ann UB': '13.100',
    });
  });

  it('DNS and DNF stand like scores, whatever their case', () => {
    expect(
      read(logFrom('ann,VT,DNS', 'ann,UB,dnf', 'ann,BB,Dns', 'bea,VT,DNS', 'bea,VT,13.000'))
        .results,
    ).toEqual({ 'ann VT': 'DNS', 'ann UB': 'DNF', 'ann BB': 'DNS', 'bea VT': '13.000' });
  });

  it('any rows in any order end as a plain reading of the rules ends', () => {
    const op = fc.record({
      gymnast: fc.constantFrom('ann', 'bea'),
      apparatus: fc.constantFrom('VT', 'UB'),
      what: fc.constantFrom('void', 'void', 'DNS', 'DNF', '13.000', '13.033', '13.066'),
    });
    fc.assert(
      fc.property(fc.array(op, { maxLength: 25 }), (ops) => {
        // Plainly: each void strikes out the last row of its routine that is not struck out.
        const struck = new Set<number>();
        ops.forEach((o, i) => {
          if (o.what !== 'void') return;
          struck.add(i);
          const last = ops.findLastIndex(
            (p, j) =>
              j < i && p.gymnast === o.gymnast && p.apparatus === o.apparatus && !struck.has(j),
          );
          if (last >= 0) struck.add(last);
        });
        const expected: Record<string, string> = {};
        ops.forEach((o, i) => {
          if (!struck.has(i)) expected[`${o.gymnast} ${o.apparatus}`] = o.what;
        });
        const rows = ops.map((o) => `${o.gymnast},${o.apparatus},${o.what}`);
        expect(read(logFrom(...rows)).results).toEqual(expected);
      }),
      { numRuns: times(120), seed: 20260522 },
    );
  });

  it('a row from before there was a status counts below a first line that names one', () => {
    const old = `ann,VT,14.233,5.400,8.833,0.000,fine,${AT}`;
    expect(read(toolLog(old)).results).toEqual({ 'ann VT': '14.233 d5.400 e8.833' });
    expect(read(toolLog(old)).errors).toEqual([]);
  });

  it('the same row twice is noted, and counts once', () => {
    const { results, codes } = read(logFrom('ann,VT,14.000', 'ann,VT,14.000'));
    expect(codes).toContain('note row-twice 3');
    expect(results).toEqual({ 'ann VT': '14.000' });
    const once = read(logFrom('ann,VT,14.000', 'ann,VT,14.000', 'ann,VT,void'));
    expect(once.results).toEqual({ 'ann VT': '14.000' });
  });

  it('E is worked out from D, D from E, with the deductions in', () => {
    expect(read(logFrom('ann,VT,14.000,5.600,,0.100')).results).toEqual({
      'ann VT': '14.000 d5.600 e8.500 nd0.100',
    });
    expect(read(logFrom('ann,VT,14.000,,8.500,0.100')).results).toEqual({
      'ann VT': '14.000 d5.600 e8.500 nd0.100',
    });
    expect(read(logFrom('ann,VT,0.000,1.000,0.500,2.000')).results).toEqual({
      'ann VT': '0.000 d1.000 e0.500 nd2.000',
    });
  });

  it('D + E - ND that is not the score is refused, with the sum', () => {
    const { errors, results } = read(logFrom('ann,VT,14.500,5.600,8.800,0.100'));
    expect(errors).toMatchObject([{ code: 'wrong-score', line: 2 }]);
    expect(errors[0]?.message).toContain('14.300');
    expect(errors[0]?.message).toContain('14.500');
    expect(results).toEqual({});
  });

  it.each([
    ['ann,VT,17.001', WAG, '17.000'],
    ['ann,VT,17.001,9.000', WAG, '17.000'],
    ['ann,VT,18.001', `${WAG}ceiling: 18.000\n`, '18.000'],
    ['ann,VT,16.001,6.000', WAG, '16.000'],
    ['ann,VT,16.001,,10.001', WAG, '16.000'],
    ['ann,VT,10.001', TEN, '10.000'],
    ['ann,VT,20.001', WAG.replace('wag', '[{ code: VT, limit: 20.000 }]'), '20.000'],
    ['ann,VT,19.001,9', WAG.replace('wag', '[{ code: VT, limit: 20.000 }]'), '19.000'],
  ])('over the limit is refused: %s', (row, yaml, limit) => {
    const { errors, results } = read(logFrom(row), yaml);
    expect(errors).toHaveLength(1);
    // Both figures.
    expect(errors[0]?.message).toContain(row.split(',')[2]);
    expect(errors[0]?.message).toContain(limit);
    expect(results).toEqual({});
  });

  it('at the limit is a score', () => {
    expect(read(logFrom('ann,VT,16.000,6.000')).results['ann VT']).toBe('16.000 d6.000 e10.000');
    expect(read(logFrom('ann,VT,10.000'), TEN).results['ann VT']).toBe('10.000');
    expect(read(logFrom('ann,VT,17.000')).results['ann VT']).toBe('17.000');
    expect(read(logFrom('ann,VT,21.5'), `${WAG}ceiling: 21.5\n`).results['ann VT']).toBe('21.500');
  });

  it('a score far from all that is in her range, or with an E over 10, is accepted with a note', () => {
    const ranged = WAG.replace(
      'Ann Ashdown',
      'Ann Ashdown, ranges: { VT: { low: 13, high: 14.5 } }',
    );
    for (const row of ['ann,VT,1.433', 'ann,VT,9.966', 'bea,VT,16.000,6.000,,0.100']) {
      expect(read(logFrom(row), ranged).codes, row).toEqual(['note odd-score 2']);
    }
    for (const row of ['ann,VT,10.000', 'ann,VT,17.000', 'bea,VT,1.433']) {
      expect(read(logFrom(row), ranged).codes, row).toEqual([]);
    }
  });

  it('a score off the grid is accepted with a note', () => {
    const { results, codes } = read(logFrom('ann,VT,14.267', 'bea,VT,14.266'));
    expect(results).toEqual({ 'ann VT': '14.267', 'bea VT': '14.266' });
    expect(codes).toEqual(['note odd-score 2']);
    expect(read(logFrom('ann,VT,9.9375', 'bea,VT,9.9'), `${TEN}decimals: 4\n`)).toMatchObject({
      errors: [],
      results: { 'ann VT': '9.9375' },
    });
  });

  it.each<[row: string, code: string, mend: string]>([
    ['anne,VT,14.000', 'unknown-gymnast', '`ann`'],
    [',VT,14.000', 'unknown-gymnast', 'ann'],
    ['ann,XX,14.000', 'unknown-apparatus', '`FX`'],
    ['ann,flor,14.000', 'unknown-apparatus', '`floor`'],
    ['ann,VT2,14.000', 'unknown-apparatus', '`VT`'],
    ['ann,,14.000', 'unknown-apparatus', 'VT, UB'],
    ['ann,VT,', 'wrong-score', '13.500'],
    ['ann,VT,14.00000', 'wrong-score', 'at most 3'],
    ['ann,VT,-14', 'wrong-score', '13.500'],
    ['ann,VT,14000', 'wrong-score', 'point'],
    ['ann,VT,1.4e1', 'wrong-score', '13.500'],
    ['ann,VT,DNQ', 'wrong-score', 'DNS'],
    ['ann,VT,14.000,x', 'wrong-score', '13.500'],
    ['ann,VT,5.000,6.000', 'wrong-score', 'D'],
    ['ann,VT,14.000,5.0,9.0,0.0,note,more', 'too-many-values', 'quotes'],
    ['ann,VT,14.000,5.0,9.0,0.0,"note', 'open-quote', 'close'],
  ])('is refused, with its line and a mend: %s', (row, code, mend) => {
    const { errors, results } = read(logFrom('bea,VT,13.000', row));
    expect(errors).toMatchObject([{ code, line: 3, file: 'meet.scores.csv' }]);
    expect(errors[0]?.mend).toContain(mend);
    expect(results).toEqual({ 'bea VT': '13.000' });
  });

  it('who does not compete there is told so', () => {
    const yaml = `${WAG}  - { id: cleo, on: [UB] }\n`;
    const { errors, problems, results } = read(logFrom('cleo,VT,13.000', 'ann,VT,14.000'), yaml);
    const [gone] = problems.filter((p) => p.severity === 'warning');
    expect(gone).toMatchObject({ code: 'not-her-apparatus', line: 2 });
    expect(gone?.mend).toContain('UB');
    // What is no part of the plan any more stops nothing.
    expect([errors, results]).toEqual([[], { 'ann VT': '14.000' }]);
  });

  it('all wrong rows are reported in one go, and line numbers count blank lines and long notes', () => {
    const log = `gymnast,apparatus,score,note\n\nann,VT,14.000,"a\nb\nc"\nanne,VT,13.000,\n\nbea,VT,13.0000,\nbea,XX,13.000,\n`;
    expect(read(log).codes).toEqual([
      'error unknown-gymnast 6',
      'error wrong-score 8',
      'error unknown-apparatus 9',
    ]);
  });

  // Once wrong: an inch mark in a note makes a quoted value of all that follows, up to the next one.
  it('a quote within a value is part of it', () => {
    const log =
      'gymnast,apparatus,score,note\nann,VT,14.000,5" step\nbea,VT,13.000,\nann,UB,13.900,6" step\n';
    expect(read(log).results).toEqual({
      'ann VT': '14.000',
      'bea VT': '13.000',
      'ann UB': '13.900',
    });
  });
});

describe('a last line that was left half written, in a log the tool began', () => {
  const first = `bea,UB,13.900,5.000,9.000,0.100,,"hm, well",${AT}`;
  const last = `ann,VT,14.233,5.400,8.833,0.000,,"said ""so"", twice",${LATER}`;
  const before = toolLog(first);
  const standing = { 'bea UB': '13.900 d5.000 e9.000 nd0.100' };
  const whole = { ...standing, 'ann VT': '14.233 d5.400 e8.833' };
  const cuts = Array.from({ length: last.length - 1 }, (_, i) => i + 1);
  const next = {
    gymnast: 'ann',
    apparatus: 'FX',
    score: '13.000',
    d: '',
    e: '',
    nd: '',
    status: '',
    note: '',
    at: LATER,
  };

  it('counts when its time is whole', () => {
    expect(read(`${before}${last}\n`)).toMatchObject({ results: whole, problems: [] });
    expect(read(`${before}${last}`)).toMatchObject({ results: whole, problems: [] });
  });

  it('is set aside and reported at every other place, and for good when a row follows', () => {
    for (const cut of cuts) {
      const torn = `${before}${last.slice(0, cut)}`;
      const { results, codes, errors, dialect } = read(torn);
      expect(results, torn).toEqual(standing);
      expect(codes, torn).toEqual(['warning half-written 3']);
      expect(errors).toEqual([]);
      if (dialect === null) throw new Error(torn);
      let text = `${torn}${dialect.before}`;
      for (const apparatus of ['BB', 'FX', 'UB']) {
        const { dialect: manner } = read(text);
        if (manner === null) throw new Error(text);
        text += writeRow({ ...next, apparatus }, manner);
      }
      const later = read(text);
      expect(later.errors, text).toEqual([]);
      expect(later.results, text).toEqual({
        ...standing,
        'ann BB': '13.000',
        'ann FX': '13.000',
        'ann UB': '13.000',
      });
      expect(later.codes, text).toEqual(['note set-aside 3']);
    }
  });

  it('never counts for another score, whatever somebody else writes behind it', () => {
    const rests = [
      '\n',
      '\r\n',
      `\nann,FX,13.000,,,,,,${LATER}\n`,
      `\n\n${first}\n`,
      '\nann,BB,12.000,,,,,,\n',
    ];
    for (const cut of cuts) {
      for (const rest of rests) {
        const { results, codes } = read(`${before}${last.slice(0, cut)}${rest}`);
        const score = results['ann VT'];
        // Only with every value there may it stand; and where it does not, that is said.
        if (score === undefined) expect(codes.join()).toMatch(/half-written 3|error/);
        else {
          expect(score).toBe(whole['ann VT']);
          expect(cut).toBeGreaterThanOrEqual(last.length - LATER.length);
        }
      }
    }
  });

  it('run into the next row, it is an error or set aside, and no other score', () => {
    const other = `bea,FX,13.000,,,,,,${LATER}`;
    for (const cut of cuts) {
      const { results, errors, codes } = read(`${before}${last.slice(0, cut)}${other}\n`);
      expect(results['ann VT']).toBeUndefined();
      if (errors.length === 0) {
        expect(results).toEqual(standing);
        expect(codes.join()).toMatch(/^warning (half-written|unknown-gymnast) 3$/);
      }
    }
  });

  it('is set aside when it is the first row too', () => {
    for (const cut of cuts) {
      const { results, codes, dialect } = read(`${LOG_HEADER}\n${last.slice(0, cut)}`);
      expect(results).toEqual({});
      expect(codes).toEqual(['warning half-written 2']);
      expect(dialect?.begunByTool).toBe(true);
    }
  });

  it('a header left half written is set aside, and the next row begins with a new one', () => {
    for (let cut = 1; cut <= LOG_HEADER.length; cut++) {
      const torn = LOG_HEADER.slice(0, cut);
      const { errors, results, dialect, codes } = read(torn);
      expect(errors, torn).toEqual([]);
      expect(results).toEqual({});
      expect(codes).toEqual(cut === LOG_HEADER.length ? [] : ['warning half-written 1']);
      if (dialect === null) throw new Error(torn);
      const header = dialect.needsHeader ? `${LOG_HEADER}${dialect.newline}` : '';
      const text = `${torn}${dialect.before}${header}${writeRow(next, dialect)}`;
      expect(read(text), text).toMatchObject({ errors: [], results: { 'ann FX': '13.000' } });
      const twice = read(text).dialect;
      if (twice === null) throw new Error(text);
      const more = read(`${text}${writeRow({ ...next, apparatus: 'UB' }, twice)}`);
      expect(more.results).toEqual({ 'ann FX': '13.000', 'ann UB': '13.000' });
      expect(more.errors).toEqual([]);
    }
  });

  it('rows added by hand below the tool’s own, with all their commas, count', () => {
    expect(read(`${before}ann,VT,14.233,5.400,8.833,,,,\n`).results).toEqual(whole);
  });

  it('a row added by hand below the tool’s own, without its commas, is not silently dropped', () => {
    const { results, codes } = read(`${before}ann,VT,14.233\n`);
    if (results['ann VT'] === undefined) expect(codes.join()).toMatch(/(warning|error) .* 3/);
  });

  // Once wrong: a note with a line break, as a spreadsheet may leave it, sets the whole row aside.
  it('a long note put in later does not take its row away', () => {
    const log = `${before}ann,VT,14.233,5.400,8.833,0.000,,"one\ntwo",${LATER}\n`;
    expect(read(log).results).toEqual(whole);
  });

  // Once wrong: a note that ends like our own mark takes its row away.
  it('a note in the words of the mark is a note', () => {
    const log = 'gymnast,apparatus,score,note\nann,VT,14.233,x <half written: set aside>\n';
    expect(read(log).results).toEqual({ 'ann VT': '14.233' });
  });
});

describe('a last line without an end, in a log begun by hand', () => {
  it.each([
    ['without at', 'gymnast,apparatus,score\nann,VT,14.000\nbea,VT,13.9'],
    ['of the header alone and one row', 'gymnast,apparatus,score\nbea,VT,13.9'],
    ['with the tool’s columns, but no times', `${LOG_HEADER}\nann,VT,14.000,,,,,,\nbea,VT,13.9`],
    ['with at first', `at,gymnast,apparatus,score\n${AT},ann,VT,14.000\n,bea,VT,13.9`],
    ['with semicolons', 'gymnast;apparatus;score;note\nbea;VT;13,9'],
  ])('is a row, with a note: %s', (_, log) => {
    const { results, codes, errors, dialect } = read(log);
    expect(errors).toEqual([]);
    expect(results['bea VT']).toBe('13.900');
    expect(codes.filter((c) => c.includes('no-end-of-line'))).toHaveLength(1);
    expect(dialect?.before).toBe('\n');
  });

  it('keeps its own end of line', () => {
    expect(read('gymnast,apparatus,score\r\nann,VT,14.000').dialect).toMatchObject({
      before: '\r\n',
      newline: '\r\n',
      begunByTool: false,
    });
  });
});
