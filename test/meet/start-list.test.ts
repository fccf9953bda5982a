/** `new`: whatever start list a meet file is made from, the file passes `check`, or the list is refused. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type NewMeetOptions, newMeet, type Problem, readMeet } from '../../lib/index.js';
import { times } from '../support/times.js';

function made(csv: string | null, options: NewMeetOptions = {}) {
  return newMeet(csv === null ? null : { file: 'start.csv', text: csv }, options);
}

/** The made meet, read again. Fails the test when the list was refused, or the meet is not sound. */
function soundFrom(csv: string | null, options: NewMeetOptions = {}) {
  const { text, problems } = made(csv, options);
  expect(problems.filter((p) => p.severity === 'error')).toEqual([]);
  if (text === null) throw new Error('no text');
  const { meet, problems: found } = readMeet({ meet: { file: 'meet.yaml', text } });
  expect(
    found.filter((p) => p.severity === 'error'),
    text,
  ).toEqual([]);
  if (meet === null) throw new Error(text);
  return meet;
}

/** Refused with a line of the list and a mend, or made into a sound meet. */
function expectHonest(csv: string, options: NewMeetOptions = {}): void {
  const { text, problems } = made(csv, options);
  const errors = problems.filter((p) => p.severity === 'error');
  if (text === null) {
    expect(errors).not.toEqual([]);
    for (const p of errors) expectKind(p);
    return;
  }
  expect(errors).toEqual([]);
  const { problems: found } = readMeet({ meet: { file: 'meet.yaml', text } });
  expect(
    found.filter((p) => p.severity === 'error').map((p) => p.message),
    JSON.stringify(csv),
  ).toEqual([]);
}

function expectKind(p: Problem): void {
  expect(p.file).toBe('start.csv');
  expect(p.message.trim()).not.toBe('');
  expect(p.mend.trim()).not.toBe('');
}

/** What of a gymnast is null where the list does not say it. */
const NOT_SAID = {
  ...{ family: null, short: null, say: null, country: null, bib: null },
  unnamed: false,
};

describe('a good start list', () => {
  it('gives gymnasts, teams, groups in start order, apparatus and points carried in', () => {
    const meet = soundFrom(
      `name,team,group,on,carried,id
Wren Adeyemi,North Quay,VT,,56.250,
Ida Brondt,HBR,UB,"VT, UB FX",,ida
"O'Neil, Pat",North Quay,1,,,
Zoë Brückenø,,ub,VT;UB,"56,1",
Reserve,HBR,BB,,,
`,
      { title: 'Harbour: the "final"' },
    );
    expect(meet.title).toBe('Harbour: the "final"');
    expect(meet.gymnasts).toEqual([
      {
        ...NOT_SAID,
        id: 'adeyemi',
        name: 'Wren Adeyemi',
        team: 'North Quay',
        on: ['VT', 'UB', 'BB', 'FX'],
        carried: 56250,
      },
      {
        ...NOT_SAID,
        id: 'ida',
        name: 'Ida Brondt',
        team: 'HBR',
        on: ['VT', 'UB', 'FX'],
        carried: 0,
      },
      {
        ...NOT_SAID,
        id: 'oneil',
        name: "O'Neil, Pat",
        team: 'North Quay',
        on: ['VT', 'UB', 'BB', 'FX'],
        carried: 0,
      },
      {
        ...NOT_SAID,
        id: 'bruckeno',
        name: 'Zoë Brückenø',
        team: null,
        on: ['VT', 'UB'],
        carried: 56100,
      },
      {
        ...NOT_SAID,
        id: 'reserve',
        name: 'Reserve',
        team: 'HBR',
        on: ['VT', 'UB', 'BB', 'FX'],
        carried: 0,
      },
    ]);
    expect(meet.rotations[0]?.stations).toEqual([
      { apparatus: 'VT', order: ['adeyemi', 'oneil'] },
      { apparatus: 'UB', order: ['ida', 'bruckeno'] },
      { apparatus: 'BB', order: ['reserve'] },
    ]);
  });

  it.each([
    ['semicolons', 'name;team;carried\nAnn Ashdown;A;13,55\n'],
    ['tabs', 'name\tteam\tcarried\nAnn Ashdown\tA\t13,55\n'],
    ['CRLF and a byte order mark', '\uFEFFname,team,carried\r\nAnn Ashdown,A,13.55\r\n'],
    ['capitals and blanks', ' Team , NAME , Carried \nA , Ann Ashdown , 13.55 \n'],
    ['no last end of line', 'name,team,carried\nAnn Ashdown,A,13.550'],
    ['quotes over two lines', 'name,team,carried\n"Ann\nAshdown",A,13.55\n'],
    ['blank lines', '\nname,team,carried\n\nAnn  Ashdown,A,13.55\n\n'],
  ])('%s', (_, csv) => {
    expect(soundFrom(csv).gymnasts).toMatchObject([
      { id: 'ashdown', name: 'Ann Ashdown', team: 'A', carried: 13550 },
    ]);
  });

  it('empty lines and rows of empty cells are passed over', () => {
    const meet = soundFrom('name;team\n\nWren Adeyemi;NQY\n;\nIda Brondt;HBR\n;;\n');
    expect(meet.gymnasts.map((g) => g.name)).toEqual(['Wren Adeyemi', 'Ida Brondt']);
  });

  it('says what she is called, how it is spoken, her country and her start number', () => {
    const meet = soundFrom(
      `Start Number,name,family,short,say,NOC
007,Ana Robledo Cruz,Robledo Cruz,"Robledo, A.",roh-BLEH-doh,nqy
B-12,Ida Brondt,,,,HBR
,Mei Tan,,,,
`,
    );
    expect(meet.gymnasts).toMatchObject([
      {
        id: 'robledocruz',
        family: 'Robledo Cruz',
        short: 'Robledo, A.',
        say: 'roh-BLEH-doh',
        country: 'NQY',
        bib: '007',
      },
      { ...NOT_SAID, id: 'brondt', country: 'HBR', bib: 'B-12' },
      { ...NOT_SAID, id: 'tan' },
    ]);
  });

  it.each([
    ['country,bib', ['NQY', '14']],
    ['Nation,Number', ['NQY', '14']],
    ['NAT,No.', ['NQY', '14']],
    ['noc,start number', ['NQY', '14']],
  ])('country and start number under the heads %s', (heads, [country, bib]) => {
    const [gymnast] = soundFrom(`name,${heads}\nAda Quill,NQY,14\n`).gymnasts;
    expect(gymnast).toMatchObject({ country, bib });
  });

  it('of two such columns the one of that very name is meant, else the first', () => {
    const { problems } = made('no,name,bib,nation,noc\n1,Ada Quill,214,NQY,HBR\n');
    expect(problems.map((p) => p.message)).toEqual([
      'the column no is not used',
      'the column noc is not used',
    ]);
    const [gymnast] = soundFrom('no,name,bib,nation,noc\n1,Ada Quill,214,NQY,HBR\n').gymnasts;
    expect(gymnast).toMatchObject({ bib: '214', country: 'NQY' });
  });

  it('leaves out a country or a start number a meet file would refuse, and says so once', () => {
    const csv =
      'name,nation,bib\nAda Quill,Northquay,1\nBea Harrow,HBR,123456789\nCleo Marsh,Lower Thorn,\nDita Vale,,\n';
    expect(made(csv).problems).toMatchObject([
      {
        severity: 'note',
        line: 2,
        message: 'the country "Northquay" is left out, as in 1 other row: it is not three letters',
        mend: 'write three letters, such as NQY',
      },
      { severity: 'note', line: 3, message: 'the bib "123456789" is left out: it is too long' },
    ]);
    expect(soundFrom(csv).gymnasts.map((g) => [g.country, g.bib])).toEqual([
      [null, '1'],
      ['HBR', null],
      [null, null],
      [null, null],
    ]);
  });

  it('gives ids by the family name wherever it stands', () => {
    const names = [
      'BRONDT Ida',
      'Vale, Dita',
      'Ken Ashby Jr.',
      'Fenna de Wit',
      'Lou de Wit',
      '한소미',
      'Rosa Ortega y Luz',
    ];
    const csv = `name\n${names.map((name) => `"${name}"`).join('\n')}\n`;
    expect(soundFrom(csv).gymnasts.map((g) => g.id)).toEqual([
      ...['brondt', 'vale', 'ashby', 'fwit', 'lwit', '한소미', 'ortegaluz'],
    ]);
  });

  it('apparatus may be written by their names, in any case', () => {
    const meet = soundFrom(
      'name,group,on\nAda,Vault,"vault, uneven bars"\nBea,bars,Vault Beam FLOOR\nCleo,BEAM,[Balance Beam; fx]\n',
    );
    expect(meet.rotations[0]?.stations.map((s) => s.apparatus)).toEqual(['VT', 'UB', 'BB']);
    expect(meet.gymnasts.map((g) => g.on)).toEqual([
      ['VT', 'UB'],
      ['VT', 'BB', 'FX'],
      ['BB', 'FX'],
    ]);
    const men = soundFrom('name,on\nAda,"p-bars, high bar, pommel horse"\n', { discipline: 'mag' });
    expect(men.gymnasts[0]?.on).toEqual(['PH', 'PB', 'HB']);
  });

  it('groups start by code or by number, in Olympic order, and anyone may have a bye', () => {
    const men = soundFrom('name,group\nA,1\nB,6\nC,pb\nD,2\nE,3\nF,VT\n', { discipline: 'mag' });
    const starts = men.rotations[0]?.stations.map((s) => `${s.apparatus} ${s.order}`);
    expect(starts).toEqual(['FX a', 'PH d', 'SR e', 'VT f', 'PB c', 'HB b']);
    const byes = soundFrom('name,group\nA,VT\nB,bye\nC,UB\nD,BB\nE,BYE\nF,FX\n');
    expect(byes.rotations).toHaveLength(5);
  });

  it('without a list there is an example to write over, in either discipline and scoring', () => {
    for (const discipline of ['wag', 'mag'] as const) {
      for (const scoring of ['open', 'ten'] as const) {
        const meet = soundFrom(null, { discipline, scoring, title: 'X' });
        expect(meet.gymnasts).toHaveLength(2);
        expect(meet.scoring.system).toBe(scoring);
        expect(meet.apparatus).toHaveLength(discipline === 'wag' ? 4 : 6);
      }
    }
  });

  it('what is commented out in it is sound as well', () => {
    for (const scoring of ['open', 'ten'] as const) {
      const { text } = made(null, { scoring });
      const opened = (text ?? '')
        .replaceAll(/^# (usual:|groups:|medals: 3|contests: .*)/gm, '$1')
        .replaceAll(/^# {3}(\S+: \{.*|- all-around|- \{ kind: apparatus.*|- \{ start.*)/gm, '  $1');
      const { meet, problems } = readMeet({ meet: { file: 'meet.yaml', text: opened } });
      expect(problems, opened).toEqual([]);
      expect(meet?.contests.map((c) => c.id)).toEqual(['all-around', 'VT']);
      expect(meet?.rotations[0]?.stations[0]?.order).toEqual(['first', 'second']);
    }
  });

  it('any names and teams come through as they are', () => {
    const text = fc
      .oneof(
        fc.string({ unit: 'grapheme', minLength: 1, maxLength: 16 }),
        fc.constantFrom(
          'Anna: Bell',
          '# one',
          "O'Neil",
          '"Pat"',
          '[x]',
          '{y}',
          '- dash',
          '? q',
          '&a',
          '*b',
          '!c',
          '%d',
          '@e',
          '`f',
          '| g',
          '> h',
          'yes',
          'true',
          '007',
          '1e3',
          'C:\\x',
          'x #y',
          'a, b',
          '=1+1',
          '😀',
          '<<',
          '---',
        ),
      )
      .map((s) => s.replace(/\s+/g, ' ').trim())
      // Control characters and the words for nothing are further down.
      .filter(
        (s) =>
          s !== '' &&
          !/\p{Cc}|\uFEFF|[\ud800-\udfff](?![\udc00-\udfff])/u.test(s) &&
          !/^(null|~)$/i.test(s),
      );
    fc.assert(
      fc.property(
        fc.array(fc.record({ name: text, team: text }), { minLength: 1, maxLength: 8 }),
        fc.constantFrom(',', ';', '\t'),
        (rows, delimiter) => {
          const quoted = (s: string) => `"${s.replaceAll('"', '""')}"`;
          const csv =
            ['name', 'team'].join(delimiter) +
            rows.map((r) => `\n${quoted(r.name)}${delimiter}${quoted(r.team)}`).join('');
          const meet = soundFrom(csv);
          expect(meet.gymnasts.map((g) => ({ name: g.name, team: g.team }))).toEqual(rows);
          expect(new Set(meet.gymnasts.map((g) => g.id)).size).toBe(rows.length);
        },
      ),
      { numRuns: times(120), seed: 20260523 },
    );
  });
});

describe('ids that are made of names', () => {
  const idsOf = (...names: string[]) =>
    soundFrom(`name\n${names.join('\n')}\n`).gymnasts.map((g) => g.id);

  it('are the family name of one who has it alone', () => {
    expect(idsOf('Ada Bell', 'Liv Lund', 'Zoë Brückenø')).toEqual(['bell', 'lund', 'bruckeno']);
  });

  it('have an initial before it for everyone who shares it', () => {
    // Once `okafor` and `rokafor`, and `okafor` was Mina's whoever was meant.
    expect(idsOf('Mina Okafor', 'Ruth Okafor')).toEqual(['mokafor', 'rokafor']);
    expect(idsOf('Ruth Ökafor', 'Mina OKAFOR')).toEqual(['rokafor', 'mokafor']);
  });

  it('have more of the given name where initials are equal, and no more than tells them apart', () => {
    expect(idsOf('Mina Bell', 'Maya Bell', 'Ruth Bell')).toEqual(['mibell', 'mabell', 'rbell']);
    expect(idsOf('Ann Bell', 'Anna Bell')).toEqual(['annbell', 'annabell']);
  });

  it('have a figure behind them where whole names are equal, the first too', () => {
    expect(idsOf('Ada Bell', 'Bea Bell', 'Bea Bell', 'Bell', 'Bell')).toEqual([
      'abell',
      'beabell1',
      'beabell2',
      'bell1',
      'bell2',
    ]);
  });

  it('are nobody else’s family name', () => {
    expect(idsOf('Ada Bell', 'Bea Bell', 'Cleo Abell')).toEqual(['adbell', 'bbell', 'abell']);
    expect(idsOf('Cleo Bell1', 'Bell', 'Bell')).toEqual(['bell1', 'bell2', 'bell3']);
  });

  it('keep out of the way of those that are given', () => {
    const ids = soundFrom('id,name\n,Ada Bell\nbell,Liv Lund\nabell,Rosa Reed\n').gymnasts;
    expect(ids.map((g) => g.id)).toEqual(['adbell', 'bell', 'abell']);
  });

  it('are there for names without a letter', () => {
    expect(idsOf('王 小', '-')).toEqual(['王小', 'gymnast']);
  });

  it('are distinct, of equal rank, and nobody else’s family name, whatever the names', () => {
    const given = fc.constantFrom('', 'A', 'Ann', 'Anna', 'Bea', 'Bo', 'Éva');
    const family = fc.constantFrom('Bell', 'BELL', 'Abell', 'Annbell', 'Bell1', 'Abell2', 'Éva');
    fc.assert(
      fc.property(fc.array(fc.tuple(given, family), { minLength: 1, maxLength: 9 }), (names) => {
        const families = names.map(([, f]) => f.toLowerCase().replace('é', 'e'));
        const ids = idsOf(...names.map((n) => n.join(' ')));
        expect(new Set(ids).size).toBe(names.length);
        for (const [i, id] of ids.entries()) {
          const isShared = families.filter((f) => f === families[i]).length > 1;
          expect(id === families[i], id).toBe(!isShared);
          expect(families.filter((f, j) => j !== i && f === id)).toEqual([]);
        }
      }),
      { numRuns: times(100), seed: 20261015 },
    );
  });
});

describe('a start list that cannot be used is refused, with line and mend', () => {
  it.each<[what: string, csv: string, code: string, line: number | null]>([
    ['empty', '', 'empty-file', null],
    ['a header alone', 'name,team\n', 'no-gymnasts', null],
    ['no column for names', 'who,team\nAnn,A\n', 'missing-column', 1],
    ['a misspelt column', 'nme,team\nAnn,A\n', 'missing-column', 1],
    ['a row without a name', 'name,team\nAnn,A\n,B\n', 'missing-name', 3],
    ['an id twice', 'id,name\na,Ann\na,Bea\n', 'gymnast-twice', 3],
    ['a group that is none', 'name,group\nAnn,VT\nBea,XX\n', 'unknown-group', 3],
    ['a number too high', 'name,group\nAnn,VT\nBea,5\n', 'unknown-group', 3],
    ['too many values', 'name,team\nAnn,A\nBell, Bea,B\n', 'too-many-values', 3],
    ['an open quote', 'name,team\nAnn,A\n"Bea,B\n', 'open-quote', 3],
  ])('%s', (_, csv, code, line) => {
    const { text, problems } = made(csv);
    expect(text).toBeNull();
    expect(problems.filter((p) => p.severity === 'error')).toMatchObject([{ code, line }]);
    for (const p of problems) expectKind(p);
  });

  it('an apparatus that may be two', () => {
    for (const csv of ['name,on\nAnn,"bars, VT"\n', 'name,group\nAnn,bars\n']) {
      const { text, problems } = made(csv, { discipline: 'mag' });
      expect(text).toBeNull();
      expect(problems[0]?.message).toContain('"bars" may be parallel bars or high bar');
      expect(problems[0]?.line).toBe(2);
    }
  });

  it('all wrong rows in one go', () => {
    const csv = 'id,name,group\na,Ann,VT\na,Bea,VT\n,,VT\nd,Dot,XX\n';
    expect(made(csv).problems.map((p) => p.line)).toEqual([3, 4, 5]);
  });
});

describe('a dirty start list', () => {
  it.each([
    ['brackets in on', 'name,on\nAda,"[VT, FX]"\n'],
    ['codes with blanks and commas round them', 'name,on\nAda," VT , FX "\n'],
  ])('%s', (_, csv) => {
    // Either is fine, as long as it is said.
    expect(() => expectHonest(csv)).not.toThrow(TypeError);
  });

  // Once wrong: `new` says it wrote the file, and `check` then finds it unsound.
  it.each<[what: string, csv: string]>([
    ['a surname that is a word for nothing', 'name\nAda Null\nBea Null\n'],
    ['an id that is a word for nothing', 'id,name\n~,Bea\n'],
    ['a team that is a word for nothing', 'name,team\nAda,null\nBea,A\n'],
    ['a control character in a name', 'name,team\nAda\u0007 Bell,A\n'],
    ['a control character in a team', 'name,team\nAda Bell,A\u0000B\n'],
    ['a control character in an id', 'id,name\na\u001bb,Ada Bell\n'],
    ['an apparatus that is none', 'name,on\nAda,XX\n'],
    ['a second vault nobody asked for', 'name,on\nAda,VT VT2\n'],
    ['no apparatus, in words', 'name,on\nAda,-\n'],
    ['YAML in on', 'name,on\nAda,"VT], carried: 99, x: [a"\n'],
    ['brackets in on', 'name,on\nAda,"[VT, FX]"\n'],
    ['a comma too many in on', 'name,on\nAda,",VT"\n'],
    ['carried in that is no score', 'name,carried\nAda,abc\n'],
    ['carried in with too many decimals', 'name,carried\nAda,13.55555\n'],
    ['YAML in carried', 'name,carried\nAda,"1 }, { id: x"\n'],
    ['a thousands separator in carried', 'name,carried\nAda,"1,056.250"\n'],
    ['groups for some only', 'name,group\nAda,VT\nBea,\n'],
    ['a bye, and too few groups', 'name,group\nAda,VT\nBea,bye\n'],
  ])('is refused, or made into a sound meet: %s', (_, csv) => {
    expectHonest(csv);
  });

  // Once unnoticed.
  it.each([['a\nb'], ['\u001b[31m'], ['null'], ['~'], [' ']])(
    'a title that cannot stand: %j',
    (title) => {
      expectHonest('name\nAda\n', { title });
    },
  );

  // Once wrong: a list of names can put keys of its own into the meet file.
  it('cannot write keys of the meet file', () => {
    const { text } = made('name,on\nAda,"VT], carried: 99, team: [x"\nBea,VT\n');
    if (text === null) return;
    const { meet } = readMeet({ meet: { file: 'meet.yaml', text } });
    expect(meet?.gymnasts[0]?.carried ?? 0).toBe(0);
  });

  // Once unnoticed.
  it('whatever stands in it, it is refused or made into a sound meet', () => {
    const value = fc.oneof(
      fc.constantFrom(
        '',
        '',
        'VT',
        'VT, FX',
        'VT2',
        'bye',
        '1',
        '9',
        'null',
        '~',
        '13.5',
        '-1',
        'Ann Bell',
        '[',
        '}',
        '"',
        '#',
        ': ',
        '\u0007',
        '\n',
        'é',
      ),
      fc.string({ unit: 'grapheme', maxLength: 8 }),
    );
    const row = fc.record({
      id: value,
      name: value,
      family: value,
      short: value,
      say: value,
      nation: value,
      no: value,
      team: value,
      group: fc.constantFrom('', '', 'VT', '2', 'bye', 'x'),
      on: value,
      carried: value,
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 5 }), (rows) => {
        const quoted = (s: string) => `"${s.replaceAll('"', '""')}"`;
        const keys = Object.keys(rows[0] ?? {}) as (keyof (typeof rows)[number])[];
        expectHonest(
          `${keys.join()}\n${rows.map((r) => keys.map((k) => quoted(r[k])).join()).join('\n')}\n`,
        );
      }),
      { numRuns: times(150), seed: 20260524 },
    );
  });
});
