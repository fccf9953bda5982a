/** `new --kind`: the contests usual for each kind of meet, line-ups, finals, routes, sessions, a second day. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  MEET_KINDS,
  type NewMeetOptions,
  newMeet,
  type Problem,
  readMeet,
  record,
  standings,
} from '../../lib/index.js';
import { times } from '../support/times.js';

const made = (csv: string, options: NewMeetOptions = {}) =>
  newMeet({ file: 'start.csv', text: csv }, options);

const said = (problems: readonly Problem[]) =>
  problems.map((p) => `${p.severity} ${p.code} ${p.line}: ${p.message}`);

/** The made meet, read again, with nothing to be said of it but that ranges are missing. */
function soundFrom(csv: string, options: NewMeetOptions = {}) {
  const { text, problems } = made(csv, options);
  expect(said(problems)).toEqual([]);
  const earlier = options.earlier ?? (() => null);
  const read = readMeet({ meet: { file: 'meet.yaml', text: text ?? '' }, earlier });
  expect(said(read.problems.filter((p) => p.code !== 'missing-range')), text ?? '').toEqual([]);
  if (read.meet === null) throw new Error(text ?? 'no text');
  return read.meet;
}

const FAMILIES = [
  'Abeling',
  'Bramwick',
  'Corrigane',
  'Dunleavon',
  'Esterly',
  'Fenwold',
  'Garrowby',
];

/** So many of each team, with families that tell them apart. */
function teams(names: readonly string[], size: number, more = (_: number, __: number) => '') {
  return names.flatMap((team, t) =>
    FAMILIES.slice(0, size).map((family, i) => `Ann ${family}${team},${team}${more(t, i)}`),
  );
}

const csvOf = (head: string, rows: readonly string[]) => `${head}\n${rows.join('\n')}\n`;

/** What decides of a contest, without what every contest has. */
function contestsOf(meet: ReturnType<typeof soundFrom>) {
  return meet.contests.map(({ id, settings, advance }) => ({ id, settings, advance }));
}

describe('a qualification', () => {
  const names = ['NQY', 'HBR', 'LTH', 'PTM', 'FJD', 'CLV', 'RVR', 'BRG', 'SND'];
  const subdivided = (t: number) => `,${t < 5 ? 1 : 2},${['VT', 'UB', 'BB', 'FX', 'bye'][t % 5]}`;

  it('has 24, 8 on each apparatus and 8 teams go through, two of one team, in sessions', () => {
    const meet = soundFrom(csvOf('name,team,subdivision,group', teams(names, 4, subdivided)), {
      kind: 'qualification',
    });
    const on = (code: string) => ({ id: code, settings: { on: code, vaults: 1 } });
    const eight = { places: 8, perTeam: 2, reserves: 3, ties: 'rules' };
    expect(contestsOf(meet)).toEqual([
      { id: 'all-around', settings: {}, advance: { ...eight, places: 24, reserves: 4 } },
      ...['VT', 'UB', 'BB', 'FX'].map((code) => ({ ...on(code), advance: eight })),
      {
        id: 'team',
        settings: { up: 4, count: 3 },
        advance: { places: 8, perTeam: null, reserves: 0, ties: 'rules' },
      },
    ]);
    expect(new Set(meet.rotations.map((r) => r.session))).toEqual(new Set([1, 2]));
    // Five stations with a bye, and four without.
    expect(meet.rotations.filter((r) => r.session === 1)).toHaveLength(5);
    expect(meet.rotations.filter((r) => r.session === 2)).toHaveLength(4);
  });

  it('has no reserves that are not there, and nobody go through where everyone would', () => {
    const { contests } = soundFrom(
      csvOf(
        'name',
        teams(['NQY', 'HBR'], 5).map((r) => r.slice(0, -4)),
      ),
      {
        kind: 'qualification',
      },
    );
    expect(contests.map((c) => [c.id, c.advance?.places, c.advance?.reserves])).toEqual([
      ['all-around', undefined, undefined],
      ...['VT', 'UB', 'BB', 'FX'].map((code) => [code, 8, 2]),
    ]);
    expect(contests.every((c) => c.advance?.perTeam == null)).toBe(true);
  });

  it('has nobody go through where as many compete as there are places', () => {
    const rows = teams(['NQY', 'HBR'], 4);
    const { contests } = soundFrom(csvOf('name,team', rows), { kind: 'qualification' });
    expect(contests.every((c) => c.advance === null)).toBe(true);
    const more = soundFrom(csvOf('name,team', [...rows, 'Cleo Jessamin,HBR']), {
      kind: 'qualification',
    });
    expect(more.contests.filter((c) => c.advance !== null).map((c) => c.id)).toEqual([
      ...['VT', 'UB', 'BB', 'FX'],
    ]);
  });

  it('writes its sessions in their order, whatever that of the list', () => {
    const list = 'name,session,group\nAnn Abeling,2,VT\nBea Bramwick,1,UB\nCleo Corrigane,1,VT\n';
    const { text } = made(list);
    expect(text?.match(/session: \d, start: \w+/g)).toEqual([
      'session: 1, start: UB',
      'session: 1, start: VT',
      'session: 2, start: VT',
    ]);
  });

  it('ranks two vaults where the list has somebody for a second, and only those who do it', () => {
    const rows = teams(['NQY', 'HBR', 'LTH'], 4, (_, i) => (i < 2 ? ',x' : ','));
    const meet = soundFrom(csvOf('name,team,second vault', rows), { kind: 'qualification' });
    expect(meet.contests.find((c) => c.id === 'VT')?.settings).toEqual({ on: 'VT', vaults: 2 });
    const twice = meet.gymnasts.filter((g) => g.on.includes('VT2')).map((g) => g.name);
    expect(twice).toEqual(
      ['NQY', 'HBR', 'LTH'].flatMap((t) => [`Ann Abeling${t}`, `Ann Bramwick${t}`]),
    );
    expect(
      meet.gymnasts.every((g) => ['VT', 'UB', 'BB', 'FX'].every((c) => g.on.includes(c))),
    ).toBe(true);
    expect(standings(meet, { contest: 'VT' }).rows).toHaveLength(6);
  });
});

describe('line-ups', () => {
  // Dunleavon is the second on vault and nowhere else; Esterly is a reserve.
  const positions = (t: number, i: number) =>
    [',1,3,1,1', ',3,2,2,2', ',,1,3,3', ',2,,,', ',,,,'][i] + (t === 0 ? ',VT' : ',UB');
  const csv = csvOf('name,team,vault,BB,UB,floor,group', teams(['NQY', 'HBR'], 5, positions));

  it('are made of positions, and a reserve is in none and in no group', () => {
    const meet = soundFrom(csv);
    expect(meet.teams[0]?.lineup).toEqual({
      VT: ['abelingnqy', 'dunleavonnqy', 'bramwicknqy'],
      UB: ['abelingnqy', 'bramwicknqy', 'corriganenqy'],
      BB: ['corriganenqy', 'bramwicknqy', 'abelingnqy'],
      FX: ['abelingnqy', 'bramwicknqy', 'corriganenqy'],
    });
    expect(meet.gymnasts.find((g) => g.id === 'esterlynqy')?.on).toEqual([]);
    // That nobody has a range is said once: a reserve needs none.
    const { problems } = readMeet({ meet: { file: 'meet.yaml', text: made(csv).text ?? '' } });
    expect(said(problems)).toHaveLength(1);
    expect(meet.rotations[0]?.stations.map((s) => s.order)).toEqual([
      ['abelingnqy', 'dunleavonnqy', 'bramwicknqy'],
      ['abelinghbr', 'bramwickhbr', 'corriganehbr'],
    ]);
  });

  it.each([
    [2, 'team', 2, 2],
    [3, 'team', 3, 3],
    [4, 'team', 4, 3],
    [5, 'team', 5, 4],
    [3, 'team-final', 3, 3],
    [5, 'dual', 5, 5],
    [6, 'dual', 6, 5],
    [4, 'dual', 4, 4],
  ] as const)('%i in them, %s: %i up and %i count', (size, kind, up, count) => {
    const row = (_: number, i: number) => `,${i + 1}`.repeat(4);
    const rows = teams(['NQY', 'HBR'], size, row);
    const meet = soundFrom(csvOf('name,team,VT,UB,BB,FX', rows), { kind });
    expect(meet.contests.find((c) => c.id === 'team')?.settings).toEqual({ up, count });
  });

  it('are for men as well, by the names of their apparatus', () => {
    const heads = 'floor,pommel horse,rings,vault,p-bars,high bar';
    const row = (_: number, i: number) => `,${i + 1}`.repeat(6);
    const rows = teams(['NQY', 'HBR'], 3, row);
    const meet = soundFrom(csvOf(`name,team,${heads}`, rows), { discipline: 'mag', kind: 'dual' });
    expect(Object.keys(meet.teams[1]?.lineup ?? {})).toEqual(['FX', 'PH', 'SR', 'VT', 'PB', 'HB']);
    const stations = meet.rotations.map((r) =>
      r.stations.map((s) => `${s.apparatus} ${s.order[0]}`),
    );
    const [nqy, hbr] = ['abelingnqy', 'abelinghbr'];
    expect(stations.slice(0, 2)).toEqual([
      [`FX ${nqy}`, `PH ${hbr}`],
      [`FX ${hbr}`, `PH ${nqy}`],
    ]);
    expect(stations).toHaveLength(6);
  });
});

describe('a dual meet', () => {
  it('is out of ten, and two teams change over on vault and bars, beam and floor', () => {
    const meet = soundFrom(csvOf('name,team', teams(['NQY', 'HBR'], 6)), { kind: 'dual' });
    expect(meet.scoring.system).toBe('ten');
    expect(contestsOf(meet).map((c) => [c.id, c.settings])).toEqual([
      ['team', { up: 6, count: 5 }],
      ['all-around', {}],
      ...['VT', 'UB', 'BB', 'FX'].map((on) => [on, { on, vaults: 1 }]),
    ]);
    const who = meet.rotations.map((r) =>
      r.stations.map((s) => `${s.apparatus} ${s.order[0]?.slice(-3)}`),
    );
    expect(who).toEqual([
      ['VT nqy', 'UB hbr'],
      ['VT hbr', 'UB nqy'],
      ['BB nqy', 'FX hbr'],
      ['BB hbr', 'FX nqy'],
    ]);
    expect(
      soundFrom(csvOf('name,team', teams(['NQY', 'HBR'], 6)), { kind: 'dual', scoring: 'open' })
        .scoring.system,
    ).toBe('open');
  });

  it('of three or four teams goes round, and a route of the list is taken as it is', () => {
    const four = soundFrom(csvOf('name,team', teams(['A', 'B', 'C', 'D'], 6)), { kind: 'dual' });
    expect(four.rotations[0]?.stations.map((s) => s.order[0])).toEqual([
      ...['abelinga', 'abelingb', 'abelingc', 'abelingd'],
    ]);
    const routes = ['VT UB BB FX bye', 'bars; beam; floor; bye; vault', 'bye VT UB BB FX'];
    const rows = teams(['A', 'B', 'C'], 6, (t) => `,${routes[t]}`);
    const three = soundFrom(csvOf('name,team,group', rows), { kind: 'dual' });
    const at = (n: number) =>
      three.rotations[n]?.stations.map((s) => `${s.apparatus} ${s.order[0]}`);
    expect(three.rotations).toHaveLength(5);
    expect(at(0)).toContain('VT abelinga');
    expect(at(0)).toContain('null abelingc');
    // The order has turned three times by then; a bye turns nothing.
    expect(at(4)).toContain('VT dunleavonb');
  });

  it('says that more are on an apparatus than may go up as a rule', () => {
    const { text, problems } = made(csvOf('name,team', teams(['NQY', 'HBR'], 7)), { kind: 'dual' });
    expect(said(problems)).toEqual([]);
    expect(text).toContain('As a rule 6 go up and 5 count. Here 7 of a team are on an apparatus');
    expect(text).toContain('{ kind: team, up: 7, count: 5 }');
  });
});

describe('finals', () => {
  const csv = `name,country,VT,VT2,UB,BB,FX
Ann Abeling,NQY,2,x,1,,
Bea Bramwick,HBR,1,x,,2,3
Cleo Corrigane,LTH,3,,2,1,1
Dita Dunleavon,PTM,,,3,,2
Eve Esterly,FJD,,,,,
`;

  it('are one apparatus after another, in the order of their columns, without a word', () => {
    const meet = soundFrom(csv);
    expect(contestsOf(meet).map((c) => c.settings)).toEqual([
      { on: 'VT', vaults: 2 },
      ...['UB', 'BB', 'FX'].map((on) => ({ on, vaults: 1 })),
    ]);
    expect(meet.rotations.map((r) => r.stations)).toEqual([
      [{ apparatus: 'VT', order: ['bramwick', 'abeling', 'corrigane'] }],
      [{ apparatus: 'UB', order: ['abeling', 'corrigane', 'dunleavon'] }],
      [{ apparatus: 'BB', order: ['corrigane', 'bramwick'] }],
      [{ apparatus: 'FX', order: ['corrigane', 'dunleavon', 'bramwick'] }],
    ]);
    // A second vault comes right after the first, and she who has none is not ranked on vault.
    expect(meet.routines.slice(0, 3).map((r) => `${r.gymnast} ${r.apparatus}`)).toEqual([
      'bramwick VT',
      'bramwick VT2',
      'abeling VT',
    ]);
    const ranked = standings(meet, { contest: 'VT' }).rows.map((r) => r.id);
    expect(ranked).toEqual(['bramwick', 'abeling']);
    expect(meet.gymnasts.find((g) => g.id === 'esterly')?.on).toEqual([]);
    // Only where it does not follow from the orders is it written: she does one vault of two.
    expect(made(csv).text?.match(/ on: \[.*\]/g)).toEqual([' on: [VT, UB, BB, FX]']);
  });

  it('have two vaults for everyone where that is asked for', () => {
    const meet = soundFrom('name,VT,FX\nAnn Abeling,1,\nBea Bramwick,2,1\n', { vaults: 2 });
    expect(meet.gymnasts.map((g) => g.on)).toEqual([
      ['VT', 'VT2'],
      ['VT', 'VT2', 'FX'],
    ]);
    expect(meet.contests.map((c) => c.id)).toEqual(['VT', 'FX']);
  });

  it('of a list with teams are asked for', () => {
    const list = 'name,team,UB,FX\nAnn Abeling,NQY,1,2\nBea Bramwick,NQY,2,1\n';
    expect(soundFrom(list, { kind: 'finals' }).contests.map((c) => c.id)).toEqual(['UB', 'FX']);
    expect(soundFrom(list, { kind: 'finals' }).rotations).toHaveLength(2);
  });
});

describe('day two', () => {
  const dayOne = {
    meet: {
      file: 'one.yaml',
      text: `discipline: wag
scoring: open
contests: [{ kind: all-around, id: title }, { kind: team, up: 2, count: 2 }, { kind: apparatus, on: BB }]
gymnasts: [{ id: ann, name: Ann Abeling, team: NQY }, { id: abl, name: Bea Abeling, team: NQY }]
`,
    },
    log: {
      file: 'one.scores.csv',
      text: 'gymnast,apparatus,score\nann,BB,13.500\nabl,BB,12.000\n',
    },
  };
  const options: NewMeetOptions = {
    carried: 'one.yaml',
    earlier: (name) => (name === 'one.yaml' ? dayOne : null),
  };

  it('has the contests of the first day with what was done in them, and its ids by name', () => {
    const meet = soundFrom('name,team\nbea abeling,NQY\nAnn Abeling,NQY\n', options);
    expect(meet.gymnasts.map((g) => g.id)).toEqual(['abl', 'ann']);
    expect(contestsOf(meet).map((c) => [c.id, c.settings])).toEqual([
      ['title', {}],
      ['team', { up: 2, count: 2 }],
      ['BB', { on: 'BB', vaults: 1 }],
    ]);
    const totals = (contest: string) => standings(meet, { contest }).rows.map((r) => r.total);
    expect(totals('title')).toEqual([13_500, 12_000]);
    expect(totals('team')).toEqual([25_500]);
    expect(totals('BB')).toEqual([13_500, 12_000]);
  });

  it('gives an id of the first day to nobody where two have the name', () => {
    const { text, problems } = made('name\nAnn Abeling\nAnn Abeling\n', options);
    expect(problems.filter((p) => p.severity === 'error')).toEqual([]);
    expect(text).toContain('id: annabeling1');
    expect(text).toContain('id: annabeling2');
  });

  it('warns of who was not there', () => {
    const { text, problems } = made('name\nAnn Abeling\nCleo Corrigane\n', options);
    expect(text).not.toBeNull();
    expect(said(problems)).toEqual([
      'warning nothing-carried null: corrigane had no total in the contest `title` of the earlier day',
      'warning nothing-carried null: corrigane had no total in the contest `BB` of the earlier day',
    ]);
  });

  it('wants a first day that is there and sound', () => {
    expect(() => made('name\nAnn\n', { kind: 'day-two' })).toThrow(/totals of the first/);
    expect(() => made('name\nAnn\n', { ...options, kind: 'dual' })).toThrow(/into a day-two/);
    const bad = {
      meet: { file: 'one.yaml', text: 'discipline: wag\nscoring: opn\ngymnasts: []\n' },
    };
    expect(() => made('name\nAnn\n', { carried: 'one.yaml', earlier: () => bad })).toThrow(
      /scoring/,
    );
    expect(
      said(made('name\nAnn\n', { carried: 'two.yaml', earlier: () => null }).problems),
    ).toEqual([
      'error file-missing null: the meet of the earlier day, two.yaml, is not there, or leads back to this one',
    ]);
  });
});

describe('a kind without a list', () => {
  it('is refused, but for an all-around', () => {
    for (const kind of MEET_KINDS.filter((k) => k !== 'all-around')) {
      expect(() => newMeet(null, { kind })).toThrow(
        /is made from a start list|totals of the first/,
      );
    }
    expect(newMeet(null, { kind: 'all-around' }).contests).toEqual(['all-around']);
  });
});

describe('what is wrong in a list is told, all at once and line by line', () => {
  it.each<[what: string, csv: string, expected: string[]]>([
    [
      'positions',
      'name,team,VT,UB\nAnn Abeling,A,1,one\nBea Bramwick,A,1,2\nCleo Corrigane,,2,\nDita Dunleavon,B,0,1.5\n',
      [
        '2: position on bars "one" is no number',
        '3: Bea Bramwick is number 1 on VT of A, as Ann Abeling in line 2 is',
        '4: Cleo Corrigane has a position on VT, but no team',
        '5: position on vault "0" is no number',
        '5: position on bars "1.5" is no number',
      ],
    ],
    [
      'finals',
      'name,VT\nAnn Abeling,1\nBea Bramwick,1\n',
      ['3: Bea Bramwick is number 1 on VT, as Ann Abeling in line 2 is'],
    ],
    [
      'sessions',
      'name,session,group\nAnn Abeling,1,VT\nBea Bramwick,two,VT\nCleo Corrigane,,VT\nDita Dunleavon,2,\n',
      [
        '3: session "two" is no number',
        '4: no session for Cleo Corrigane',
        '5: no group for Dita Dunleavon',
      ],
    ],
    [
      'routes',
      'name,group\nAnn Abeling,UB VT FX BP\nBea Bramwick,VT UB VT FX\nCleo Corrigane,valt bars beam\n',
      [
        '2: "BP" in the route is no apparatus',
        '3: VT is twice in the route',
        '4: "valt" in the route is no apparatus',
      ],
    ],
    ['sessions without groups', 'name,session\nAnn Abeling,1\n', ['2: no group for Ann Abeling']],
  ])('%s', (_, csv, expected) => {
    const { text, problems } = made(csv);
    expect(text).toBeNull();
    expect(problems.map((p) => `${p.line}: ${p.message}`)).toEqual(expected);
    for (const { severity, mend } of problems) {
      expect(severity).toBe('error');
      expect(mend).not.toBe('');
    }
  });

  it('with the near word, by code or by name', () => {
    const { problems } = made('name,group\nAnn,UB VT FX BP\nBea,bars valt\nCleo,flor\n');
    expect(problems.map((p) => p.mend)).toEqual([
      'did you mean `BB`?',
      'did you mean `vault`?',
      'did you mean `floor`?',
    ]);
  });

  it('a second vault that nothing counts is left out, and said', () => {
    const { text, problems } = made('name,VT2\nAnn Abeling,\nBea Bramwick,x\n');
    expect(said(problems)).toEqual([
      'note not-counted 3: a second vault is left out: no contest of this meet counts it',
    ]);
    expect(text).not.toContain('VT2');
  });
});

describe('whatever a list may hold', () => {
  const row = fc.record({
    team: fc.constantFrom('', 'A', 'A', 'B'),
    session: fc.constantFrom('', '1', '2', 'x'),
    group: fc.constantFrom('', 'VT', 'UB', 'bye', 'UB VT FX BB', 'VT UB BB FX', 'VT VT'),
    on: fc.constantFrom('', '', 'VT', 'VT FX', 'UB BB'),
    VT: fc.constantFrom('', '1', '2', '3'),
    VT2: fc.constantFrom('', 'x'),
    FX: fc.constantFrom('', '1', '2', '3'),
  });
  const keys = fc.subarray(['team', 'session', 'group', 'on', 'VT', 'VT2', 'FX'] as const);

  it('it is refused with a mend, or made into a sound meet that takes a score', () => {
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 1, maxLength: 7 }),
        keys,
        fc.option(fc.constantFrom(...MEET_KINDS.filter((k) => k !== 'day-two')), { nil: null }),
        fc.constantFrom(1, 2),
        (rows, columns, kind, vaults) => {
          const lines = rows.map((r, i) =>
            [`Ann ${FAMILIES[i]}`, ...columns.map((k) => r[k])].join(),
          );
          const { text, problems } = made(csvOf(['name', ...columns].join(), lines), {
            kind,
            vaults: vaults === 2 ? 2 : 1,
          });
          if (text === null) {
            const errors = problems.filter((p) => p.severity === 'error');
            expect(errors).not.toEqual([]);
            for (const p of errors) expect(p.mend).not.toBe('');
            return;
          }
          const { meet, problems: found } = readMeet({ meet: { file: 'meet.yaml', text } });
          expect(said(found.filter((p) => p.severity === 'error')), text).toEqual([]);
          const warnings = found.filter(
            (p) => p.severity === 'warning' && p.code !== 'missing-range',
          );
          // What `check` will warn of has been said before.
          for (const w of warnings) expect(problems.map((p) => p.message)).toContain(w.message);
          const first = meet?.routines[0];
          if (meet == null || first === undefined) return;
          const { gymnast, apparatus } = first;
          expect(record(meet, { gymnast, apparatus, score: '9.500' }).recorded.accepted).toBe(true);
        },
      ),
      { numRuns: times(200), seed: 20261127 },
    );
  });
});
