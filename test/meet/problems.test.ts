/** The meet file: every problem in one go, each with its line, the offending value and a mend. */
import { describe, expect, it } from 'vitest';
import { problemsOf, readAll } from '../support/meet.js';

const BASE = `discipline: wag
scoring: open
gymnasts:
  - { id: ann, name: Ann Ashdown }
  - { id: bea, name: Bea Birkwell }
`;

interface Expected {
  readonly line: number;
  readonly code: string;
  readonly message: string;
  readonly mend: string;
}

/**
 * The errors a text must give, from comments at the end of its lines:
 * `#! code | part of the message | part of the mend`, several divided by `;;`.
 */
function expectedOf(text: string): Expected[] {
  return text.split('\n').flatMap((line, i) => {
    const comment = /#! (.*)$/.exec(line)?.[1];
    return (comment?.split(';;') ?? []).map((one) => {
      const [code = '', message = '', mend = ''] = one.split('|').map((part) => part.trim());
      return { line: i + 1, code, message, mend };
    });
  });
}

/** Every error of a text is one of those its comments announce, and the other way round. */
function expectAnnounced(text: string): void {
  const errors = problemsOf(text).filter((p) => p.severity === 'error');
  const expected = expectedOf(text);
  expect(expected.length).toBeGreaterThan(0);
  const left = [...errors];
  for (const { line, code, message, mend } of expected) {
    const at = left.findIndex(
      (p) =>
        p.line === line && p.code === code && p.message.includes(message) && p.mend.includes(mend),
    );
    expect(
      left[at],
      `line ${line} ${code} "${message}" in\n${left.map((p) => `${p.line} ${p.code} ${p.message} | ${p.mend}`).join('\n')}`,
    ).toBeDefined();
    left.splice(at, 1);
  }
  expect(left).toEqual([]);
  for (const p of errors) {
    expect(p.message.trim()).not.toBe('');
    expect(p.mend.trim()).not.toBe('');
    expect(p.file).toBe('meet.yaml');
  }
}

function errorsOf(text: string, log = '') {
  return problemsOf(text, log).filter((p) => p.severity === 'error');
}

describe('many mistakes at once, each with its line', () => {
  it('wrong words, numbers and keys', () => {
    expectAnnounced(`tittle: Harbour Invitational           #! unknown-key | tittle | \`title\`
discipline: wag
scoring: open
panel: { counting: 3, step: 0.1, of: 4 } #! unknown-key | \`of\` | counting, step
fall: 1,0000                           #! wrong-score | "1,0000" has 4 decimals | at most 3
medals: three                          #! wrong-value | "three" | whole number
startOrder: turn                       #! wrong-value | "turn" | rotate, fixed
ties: [best-scores, exekution]         #! wrong-value | "exekution" | best-scores, execution
contests:
  - all-around
  - { kind: team, up: 3 }              #! missing-key | count | kind: team
  - { kind: apparatus, on: UB, tys: [] } #! unknown-key | tys | ties, medals
usual:
  VT: { low: 12.9000, likely: 13.500, high: 14.000, falls: 1.5 } #! wrong-score | "12.9000" | at most 3 ;; wrong-value | "1.5" | 0 to 1
  UB: { low: 12.500, likley: 13.300 }  #! unknown-key | likley | \`likely\`
  BB: 13.000                           #! wrong-value | "13.000" | low, likely
teams:
  - { id: NQY, name: North Quay, carried: minus } #! wrong-score | "minus" | 13.500
  - HBR                                #! wrong-value | "HBR" | id: NQY
gymnasts:
  - { id: ann, name: Ann, carried: -1 } #! wrong-score | "-1" | 13.500
  - { name: Bea }                      #! missing-key | id | adeyemi
  - id: cleo
    teem: NQY                          #! unknown-key | teem | \`team\`
    on: VT                             #! wrong-value | "VT" | [VT, FX]
    ranges:
      VT: { low: 13.x, likely: 13.500 } #! wrong-score | "13.x" | 13.500
      UB:
        low: 13.000
        hi: 14.000                     #! unknown-key | hi | low, likely
        falls: often                   #! wrong-value | "often" | 0 to 1
groups:
  - { start: VT, order: [ann, an, cleo] } #! unknown-gymnast | \`an\` in group 1 | \`ann\`
  - { start: VTT, order: [] }          #! unknown-apparatus | VTT | \`VT\`
`);
  });

  it('names that do not fit together', () => {
    expectAnnounced(`discipline: wag
scoring: open
contests:
  - all-around
  - { kind: apparatus, on: UB }
  - { kind: apparatus, on: UB }        #! contest-twice | UB | id
  - { kind: apparatus, on: FLX }       #! unknown-apparatus | FLX | \`FX\`
  - { kind: apparatus, on: BB, vaults: 2 } #! wrong-value | BB | VT
  - { kind: team, up: 2, count: 3 }    #! wrong-value | only 2 | at most
  - { kind: apparatus, on: FX, id: all-around } #! contest-twice | all-around | id
teams:
  - { id: NQY, name: North Quay }
  - { id: HBR, name: Harbour Row }
  - { id: NQY, name: North Key }       #! team-twice | NQY | keep
gymnasts:
  - { id: adeyemi, team: NQY }
  - { id: brondt, team: NQI }          #! unknown-team | NQI | \`NQY\`
  - { id: tanakura, on: [VT, UX] }       #! unknown-apparatus | UX | \`UB\`
  - { id: adeyemi }                    #! gymnast-twice | adeyemi | id of its own
  - { id: reserve, on: [] }
  - { id: okaforde }
groups:
  - start: VT
    order:
      - adeyemi
      - bront                          #! unknown-gymnast | bront | \`brondt\`
      - brondt
  - start: UB
    order:
      - tanakura
      - adeyemi                        #! gymnast-in-two-groups | adeyemi | one place
      - okaforde
      - okaforde                         #! gymnast-in-two-groups | okaforde | one place
  - start: VT                          #! start-twice | VT | elsewhere
    order: []
  - start: HB                          #! unknown-apparatus | HB | UB
    order: []
`);
  });

  it('who is in no group', () => {
    expectAnnounced(`${BASE}  - { id: cleo }                       #! gymnast-in-no-group | cleo | on: []
  - { id: reserve, on: [] }
groups: [{ start: VT, order: [ann, bea] }]
`);
  });

  // Once wrong: the line of who is in no group is counted without the entries left out before her.
  it('who is in no group, after an entry that is wrong itself', () => {
    expectAnnounced(`discipline: wag
scoring: open
gymnasts:
  - { id: ann }
  - { id: ann }                        #! gymnast-twice | ann | one entry
  - { id: bea }
  - { id: cleo }                       #! gymnast-in-no-group | cleo | on: []
groups: [{ start: VT, order: [ann, bea] }]
`);
  });

  it('ranges out of order and over the limit', () => {
    expectAnnounced(`discipline: wag
scoring: open
usual:
  FX: { low: 13.000, likely: 12.000 }  #! wrong-range | low 13.000 is above likely 12.000 | order
gymnasts:
  - id: ann
    ranges:
      VT: { low: 14.000, likely: 13.900, high: 14.300 } #! wrong-range | 14.000 is above likely 13.900 | order
      UB: { low: 14.000, high: 13.900 } #! wrong-range | low 14.000 is above high 13.900 | order
      BB: { low: 14.000, likely: 14.500, high: 17.001, d: 5.0 } #! wrong-range | 17.001 is over the limit of 17.000 | lower
      FX: { likely: 14.500, high: 15.001, d: 5.0 }
  - { id: bea }
`);
    expectAnnounced(`discipline: wag
scoring: ten
gymnasts:
  - id: ann
    ranges:
      VT: { low: 9.500, likely: 9.800, high: 10.001 } #! wrong-range | 10.001 is over the limit of 10.000 | lower
      UB: { low: 9.500, likely: 9.800, high: 10.000 }
`);
  });

  it('a ceiling that is none, or has no place in the scoring', () => {
    for (const ceiling of ['-1', '99.001', '100', '17.0001', 'high', '[17]']) {
      expect(errorsOf(`${BASE}ceiling: ${ceiling}\n`), ceiling).toMatchObject([{ line: 6 }]);
    }
    expectAnnounced(`${BASE}ceiling: 99.001 #! wrong-value | is above 99 | 17.000\n`);
    expectAnnounced(`${BASE}ceiling: 1e1 #! wrong-score | not a score | 13.500\n`);
    expectAnnounced(`discipline: wag
scoring: ten
ceiling: 9.900 #! wrong-value | in ten no score is above 10.000 | away
gymnasts: [{ id: ann }]
`);
    for (const ceiling of ['0', '16.9', '99', '99,000']) {
      expect(errorsOf(`${BASE}ceiling: ${ceiling}\n`), ceiling).toEqual([]);
    }
  });

  it('what is merged from two places is checked together', () => {
    const [problem, ...more] = errorsOf(`discipline: wag
scoring: open
usual:
  VT: { low: 12.000, likely: 13.000, high: 13.500 }
gymnasts:
  - id: ann
    ranges:
      VT: { likely: 13.600 }
  - { id: bea }
`);
    expect(more).toEqual([]);
    expect(problem).toMatchObject({ code: 'wrong-range', line: 8 });
    expect(problem?.message).toContain('likely 13.600 is above high 13.500');
  });

  it('rotations written out', () => {
    expectAnnounced(`discipline: wag
scoring: open
contests:
  - { kind: apparatus, on: VT, vaults: 2 }
  - { kind: apparatus, on: UB }
gymnasts:
  - { id: ann, on: [VT, VT2] }         #! not-her-apparatus | ann | UB
  - { id: bea, on: [UB, VT] }          #! not-in-rotations | VT | on
  - { id: cleo }
rotations:
  - VT:
      - ann
      - clea                           #! unknown-gymnast | clea | \`cleo\`
  - UB: [ann, bea, cleo]
    FX: [ann]                          #! unknown-apparatus | FX | UB
    VT2: [ann]                         #! unknown-apparatus | right after | delete it
  - UB: [cleo]                         #! routine-twice | cleo | one place
`);
  });

  it('groups with byes', () => {
    expectAnnounced(`${BASE}groups:                                #! station-missing | BB, FX | start: BB
  - { start: VT, order: [ann] }
  - { start: bye, order: [bea] }
  - { start: UB, order: [] }
`);
  });

  it('teams that send too many', () => {
    expectAnnounced(`discipline: wag
scoring: open
contests: [{ kind: team, up: 1, count: 1 }]
gymnasts:                              #! too-many-up | NQY has 2 on VT | on ;; too-many-up | UB | on
  - { id: ann, team: NQY, on: [VT, UB] }
  - { id: bea, team: NQY, on: [VT, UB, BB] }
`);
  });

  it('the meet file, the ranges file and the log are read in one go, in that order', () => {
    const { problems } = readAll(
      `${BASE}ranges: season.yaml\nmedals: 0\n`,
      'gymnast,apparatus,score\nanne,VT,13.900\nann,VT,12.99999\n',
      'ann:\n  VT: { low: 13.9999 }\nbeea:\n  VT: { low: 13.900 }\n',
    );
    expect(
      problems.filter((p) => p.severity !== 'note').map((p) => [p.file, p.line, p.code]),
    ).toEqual([
      ['meet.yaml', 7, 'wrong-value'],
      ['season.yaml', 2, 'wrong-score'],
      ['season.yaml', 3, 'unknown-gymnast'],
      ['meet.scores.csv', 2, 'unknown-gymnast'],
      ['meet.scores.csv', 3, 'wrong-score'],
    ]);
  });

  it('a ranges file that is not there', () => {
    expectAnnounced(
      `${BASE}ranges: season.yaml                    #! file-missing | season.yaml | beside\n`,
    );
  });

  it('groups and rotations', () => {
    expectAnnounced(`${BASE}groups: [{ start: VT, order: [ann, bea] }]
rotations: [{ VT: [ann, bea] }]        #! groups-and-rotations | both | one
`);
  });

  // Once wrong: a wrong value of a key that must be there is reported a second time as missing.
  it.each([
    ['discipline', `discipline: wgg\nscoring: open\ngymnasts: [{ id: ann }]\n`],
    ['scoring', `discipline: wag\nscoring: opn\ngymnasts: [{ id: ann }]\n`],
    ['the kind of a contest', `${BASE}contests: [{ kind: rings }]\n`],
    ['a number', `${BASE}panel: { counting: 0, step: 0.1 }\n`],
    ['an order', `${BASE}groups: [{ start: VT, order: ann }]\nmedals: 3\n`],
    ['an apparatus code', `${BASE.replace('wag', '[{ code: VT2 }, { code: UB }]')}`],
    ['an empty list of apparatus', `discipline: []\nscoring: open\ngymnasts: [{ id: ann }]\n`],
  ])('a wrong value is reported once: %s', (_, text) => {
    expect(errorsOf(text)).toHaveLength(1);
  });

  // Once wrong: with a wrong discipline, scoring or decimals nothing else is looked at.
  it.each([
    'discipline: wgg\nscoring: open\n',
    'discipline: wag\nscoring: opn\n',
    'discipline: wag\nscoring: open\ndecimals: 5\n',
    'scoring: open\n',
  ])('a wrong word at the top does not hide the other problems: %j', (top) => {
    const text = `${top}gymnasts: [{ id: ann }, { id: ann }]\ngroups: [{ start: VT, order: [an] }]\n`;
    expect(errorsOf(text).map((p) => p.code)).toEqual(
      expect.arrayContaining(['gymnast-twice', 'unknown-gymnast']),
    );
  });

  // Once wrong: of two wrong ranges on one line only the first is said.
  it('two wrong ranges on one line are two problems', () => {
    const text = `discipline: wag\nscoring: open\ngymnasts: [{ id: ann, ranges: { VT: { low: 14.000, high: 13.000 }, UB: { low: 14.000, high: 13.000 } } }]\n`;
    expect(errorsOf(text).map((p) => p.message)).toEqual([
      expect.stringContaining('VT of ann'),
      expect.stringContaining('UB of ann'),
    ]);
  });

  // Once wrong: the check on the order hides the one against the limit.
  it('a range out of order and over the limit is both', () => {
    const text = `discipline: wag\nscoring: ten\ngymnasts:\n  - id: ann\n    ranges: { VT: { low: 9.900, likely: 9.800, high: 10.500 } }\n`;
    const said = errorsOf(text).map((p) => p.message);
    expect(said.join('\n')).toContain('is above likely');
    expect(said.join('\n')).toContain('over the limit');
  });

  // Once wrong: an apparatus nobody has, in a range, goes unnoticed, and the range with it.
  it.each([
    ['usual', `${BASE}usual:\n  VTT: { low: 13.000 }\n`, 7],
    [
      'own ranges',
      `discipline: wag\nscoring: open\ngymnasts:\n  - id: ann\n    ranges:\n      FLX: { low: 13.000 }\n`,
      6,
    ],
  ])('an apparatus that is none in %s', (_, text, line) => {
    const found = problemsOf(text).filter((p) => p.code === 'unknown-apparatus');
    expect(found.map((p) => p.line)).toEqual([line]);
  });

  // Once unnoticed.
  it('an apparatus that is none in a ranges file', () => {
    const { problems } = readAll(`${BASE}ranges: r.yaml\n`, '', 'ann:\n  FLX: { low: 13.000 }\n');
    expect(problems.filter((p) => p.code === 'unknown-apparatus')).toMatchObject([
      { file: 'r.yaml', line: 2 },
    ]);
  });

  // Once wrong: codes are read whatever their case, and the later of two silently wins.
  it.each([
    ['usual', `${BASE}usual:\n  VT: { low: 12.000 }\n  vt: { low: 13.000 }\n`],
    ['rotations', `${BASE}rotations:\n  - VT: [ann]\n    vt: [bea]\n`],
  ])('one apparatus twice, in two cases: %s', (_, text) => {
    expect(errorsOf(text)).not.toEqual([]);
  });

  // Once wrong: keys that every object has are skipped by the check for unknown keys.
  it.each(['constructor', '__proto__', 'prototype'])('the unknown key %s', (key) => {
    expect(errorsOf(`${BASE}${key}: x\n`)).toMatchObject([{ code: 'unknown-key', line: 6 }]);
  });
  it.each(['toString', 'hasOwnProperty', 'valueOf'])('the unknown key %s', (key) => {
    expect(errorsOf(`${BASE}${key}: x\n`)).toMatchObject([{ code: 'unknown-key', line: 6 }]);
  });

  // Once wrong: the mend is "known here" and no word more.
  it('an unknown key far from any other is answered with the keys there are', () => {
    const [problem] = errorsOf(`${BASE}weather: fine\n`);
    expect(problem?.mend).toContain('contests');
  });

  // Once wrong: two letters the other way round are two changes, which is too many for a short word.
  it.each([
    ['titel', 'title'],
    ['tiels', 'ties'],
    ['gropus', 'groups'],
  ])('%s is a near miss of %s', (word, key) => {
    expect(errorsOf(`${BASE}${word}: x\n`)[0]?.mend).toContain(`\`${key}\``);
  });

  // Once wrong: a second problem without a message, a mend or a code of ours.
  it.each(['decimals: [3]', 'decimals: { a: 3 }'])('%s', (line) => {
    const errors = errorsOf(`${BASE}${line}\n`);
    for (const p of errors) {
      expect(p.code).toMatch(/^[a-z-]+$/);
      expect(p.message).not.toBe('');
      expect(p.mend).not.toBe('');
    }
    expect(errors).toHaveLength(1);
  });

  it('decimals that are none', () => {
    expect(errorsOf(`${BASE}decimals: 5\n`)).toMatchObject([
      { line: 6, message: '`decimals` cannot be "5"', mend: 'choose from: 3, 4' },
    ]);
  });

  // Once wrong: the message repeats an endless key or id in full.
  it.each([
    ['a key', `${BASE}${'x'.repeat(100_000)}: 1\n`],
    ['an id', `${BASE}groups: [{ start: VT, order: [ann, bea, ${'x'.repeat(100_000)}] }]\n`],
  ])('a message is short whatever stands in the file: %s', (_, text) => {
    for (const p of errorsOf(text)) {
      expect(p.message.length).toBeLessThan(500);
      expect(p.mend.length).toBeLessThan(500);
    }
  });
});

describe('empty values are not written yet', () => {
  it('keys with nothing after them count as missing', () => {
    expectAnnounced(`discipline: wag
scoring:                               #! missing-key | scoring | 
title:
contests:
teams:
usual:
groups:
gymnasts:
  - id:                                #! missing-key | id | adeyemi
    name: Nobody
  - id: ann
    name:
    team:
    on:
    ranges:
      VT:
      UB: { low: , likely: ~, high: null }
`);
  });

  it('a half-finished file is sound where nothing required is missing', () => {
    const text = `discipline: wag\nscoring: open\ntitle:\nusual:\nties:\ngroups:\ngymnasts:\n  - id: ann\n    ranges:\n      VT:\n`;
    expect(errorsOf(text)).toEqual([]);
  });

  // Once wrong: an entry with nothing in it is said to stand on line 1.
  it('an empty entry is reported on its own line', () => {
    expectAnnounced(`discipline: wag
scoring: open
gymnasts:
  - id: ann
  -                                    #! wrong-value | entry 2 of \`gymnasts\` | adeyemi
  - id: bea
`);
  });

  it('{} is an entry without an id', () => {
    expectAnnounced(`discipline: wag
scoring: open
gymnasts:
  - id: ann
  - {}                                 #! missing-key | id | adeyemi
`);
  });

  // Once wrong: a name in quotes is a name, also where bare it would be nothing.
  it.each(['null', '~'])('"%s" in quotes is a text', (text) => {
    const { meet, problems } = readAll(
      `discipline: wag\nscoring: open\ngymnasts:\n  - { id: "${text}", name: '${text}' }\n`,
    );
    expect(problems.filter((p) => p.severity === 'error')).toEqual([]);
    expect(meet?.gymnasts).toMatchObject([{ id: text, name: text }]);
  });

  it('no gymnasts, and none of the keys', () => {
    expect(errorsOf('discipline: wag\nscoring: open\ngymnasts: []\n')).toMatchObject([
      { code: 'no-gymnasts', line: 3 },
    ]);
    for (const text of ['', '\n\n', '# a meet\n', '\uFEFF', '{}']) {
      expect(errorsOf(text).map((p) => p.message)).toEqual([
        '`discipline` is missing',
        '`scoring` is missing',
        '`gymnasts` is missing',
      ]);
    }
  });
});

describe('texts that are no meet file', () => {
  it.each([
    ['a text', 'hello\n'],
    ['a list', '- a\n- b\n'],
    ['a number', '13.900'],
  ])('%s', (_, text) => {
    expect(problemsOf(text)).toMatchObject([{ severity: 'error', code: 'wrong-value', line: 1 }]);
    expect(readAll(text).meet).toBeNull();
  });

  it.each<[what: string, text: string, line: number | null, message: RegExp]>([
    ['a tab', 'discipline: wag\nscoring: open\ngymnasts:\n\t- { id: ann }\n', 4, /tab/],
    ['a tab deeper in', 'discipline: wag\ngymnasts:\n  - id: ann\n\t  name: x\n', 4, /tab/],
    ['too little indented', 'gymnasts:\n  - id: ann\n   name: x\n', 3, /indentation/],
    ['too far indented', 'gymnasts:\n  - id: ann\n    name: x\n     team: y\n', 4, /indentation/],
    ['no comma', 'gymnasts:\n  - { id: ann name: Ann }\n', 2, /comma/],
    ['several documents', `${BASE}---\n${BASE}`, null, /several documents/],
    ['a key twice', `${BASE}medals: 3\nmedals: 4\n`, 7, /medals is there twice/],
    ['a key twice in braces', 'gymnasts:\n  - { id: ann, id: bea }\n', 2, /id is there twice/],
    ['an alias of nothing', `${BASE}title: *ann\n`, 6, /\*ann stands for nothing/],
  ])('%s', (_, text, line, message) => {
    const [first] = errorsOf(text);
    expect(first?.code).toBe('syntax');
    expect(first?.message).toMatch(message);
    expect(first?.mend).not.toBe('');
    expect(first?.line).toBe(line);
  });

  // Once wrong: said to be a matter of indentation, on the line after.
  it.each<[what: string, text: string, line: number, message: RegExp]>([
    ['an unclosed bracket', `title: x\nties: [best-scores\n${BASE}`, 2, /bracket|closed/],
    ['an unclosed bracket at the end', `${BASE}ties: [best-scores\n`, 6, /bracket|closed/],
    ['an unclosed quote at the end', `${BASE}title: "Harbour\n`, 6, /quote|closed/],
    ['an unclosed brace', `title: x\nteams: [{ id: NQY]\n${BASE}`, 2, /bracket|closed|comma/],
    ['an unclosed quote', `title: "Harbour\n${BASE}`, 1, /quote|closed/],
    ['an unclosed single quote', `title: 'Harbour\n${BASE}`, 1, /quote|closed/],
    ['a colon in a title', `title: Harbour: the final\n${BASE}`, 1, /quotes|colon/],
  ])('%s is called by its name', (_, text, line, message) => {
    const [first] = errorsOf(text);
    expect(`${first?.message} ${first?.mend}`).toMatch(message);
    expect(first?.line).toBe(line);
  });

  // Once wrong: reported one line too late.
  it('a missing colon is reported on its line', () => {
    expect(errorsOf('discipline: wag\nscoring open\ngymnasts: [{ id: ann }]\n')).toMatchObject([
      { code: 'syntax', line: 2 },
    ]);
  });
});

describe('the same meet however it is written', () => {
  const json = {
    discipline: 'wag',
    scoring: 'open',
    title: 'Harbour “Invitational”',
    gymnasts: [
      { id: 'ann', name: 'Ann Ashdown', carried: 13.5 },
      { id: 'bea', name: 'Bea / Birkwell', on: ['VT', 'FX'], carried: 0 },
    ],
    groups: [{ start: 'VT', order: ['ann', 'bea'] }],
  };
  const yaml = `discipline: wag
scoring: open
title: Harbour “Invitational”
gymnasts:
  - { id: ann, name: Ann Ashdown, carried: 13.5 }
  - { id: bea, name: Bea / Birkwell, on: [VT, FX], carried: 0 }
groups:
  - { start: VT, order: [ann, bea] }
`;
  const { meet } = readAll(yaml);

  it.each([
    ['JSON on one line', JSON.stringify(json)],
    ['JSON with blanks', JSON.stringify(json, null, 2)],
    ['JSON with tabs', JSON.stringify(json, null, '\t')],
    ['JSON with escapes', JSON.stringify(json).replaceAll('/', '\\/').replace('“', '\\u201c')],
    ['CRLF', yaml.replaceAll('\n', '\r\n')],
    ['CR', yaml.replaceAll('\n', '\r')],
    ['a byte order mark', `\uFEFF${yaml}`],
    ['a byte order mark and CRLF', `\uFEFF${yaml.replaceAll('\n', '\r\n')}`],
    ['a document mark', `---\n${yaml}...\n`],
    ['no last end of line', yaml.trimEnd()],
    ['comments and blank lines', yaml.replaceAll('\n', ' # so\n\n')],
    ['codes in small letters', yaml.replace('VT, FX', 'vt, fx').replace('start: VT', 'start: vt')],
    ['anchors', yaml.replace('order: [ann', 'order: [*a').replace('id: ann', 'id: &a ann')],
    [
      'another order of keys',
      yaml.split('\n').slice(0, 3).reverse().concat(yaml.split('\n').slice(3)).join('\n'),
    ],
    ['tags', yaml.replace('discipline: ', 'discipline: !!str ')],
    ['a decimal comma', yaml.replace('carried: 13.5', "carried: '13,500'")],
  ])('%s', (_, text) => {
    expect(errorsOf(text)).toEqual([]);
    expect(readAll(text).meet).toEqual(meet);
  });

  it('JSON that is wrong is reported like YAML', () => {
    const text = JSON.stringify({ ...json, medals: 'three' }, null, 2);
    const line = text.split('\n').findIndex((l) => l.includes('medals')) + 1;
    expect(errorsOf(text)).toMatchObject([{ code: 'wrong-value', line }]);
  });

  it('numbers stay as written: an id 007 is not 7, and 12.50 keeps its decimals', () => {
    const text = `discipline: wag\nscoring: open\ngymnasts: [{ id: 007 }, { id: 7 }, { id: 0x7 }, { id: yes, name: 2026-05-16 }]\n`;
    expect(readAll(text).meet?.gymnasts).toMatchObject([
      { id: '007' },
      { id: '7' },
      { id: '0x7' },
      { id: 'yes', name: '2026-05-16' },
    ]);
    expect(errorsOf(`${BASE}fall: 1.0000\n`)).toMatchObject([{ code: 'wrong-score' }]);
    expect(errorsOf(`${BASE}decimals: 4\nfall: 1.0000\n`)).toEqual([]);
  });

  it('every apparatus may be of a list of its own', () => {
    const text = (more: string) => `discipline:
  - { code: HP, name: hoop, limit: 20.000 }
  - { code: bl, name: ball }${more}
scoring: open
gymnasts: [{ id: ann }]
`;
    expect(errorsOf(text(''))).toEqual([]);
    expect(readAll(text('')).meet?.apparatus).toEqual([
      { code: 'HP', name: 'hoop', limit: 20000, follows: null },
      { code: 'BL', name: 'ball', limit: null, follows: null },
    ]);
    for (const code of ['VT2', 'ALL', 'no way', 'NINELETTE']) {
      const [problem] = errorsOf(text(`\n  - { code: ${code} }`));
      expect(problem).toMatchObject({ code: 'wrong-value', line: 4 });
      expect(problem?.message).toContain(code.toUpperCase());
    }
  });
});

it('a value that cannot be seen does not cut off what is said of it', () => {
  const [problem] = errorsOf(`${BASE}title: "a\\0b"\n`);
  expect(problem).toMatchObject({ code: 'wrong-value', line: 6 });
  expect(problem?.mend).toContain('visible characters');
});
