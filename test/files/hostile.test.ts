/** Files and words made to do harm: refused or shown, in bounded time and memory, and never raw. */
import {
  closeSync,
  mkdirSync,
  openSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { needs, standings, suppose } from '../../lib/index.js';
import { folder, ranAtCost, run } from '../support/cli.js';

const SOUND = 'discipline: wag\nscoring: open\ngymnasts:\n  - { id: ann }\n  - { id: bea }\n';
const HEADER = 'gymnast,apparatus,score,note\n';

let place: ReturnType<typeof folder>;
let meet: string;
let log: string;

beforeEach(() => {
  place = folder();
  meet = join(place.path, 'meet.yaml');
  log = join(place.path, 'meet.scores.csv');
});
afterEach(() => place.clean());

/** In MiB; a file as large as is taken becomes a tree of values before it can be refused. */
const MOST_MEMORY = 1200;

/** Of the processor; reading and refusing 200 MB takes a second or two. */
const MOST_SECONDS = 20;

/** Refused with words, soon and cheaply. */
function expectRefused(args: readonly string[], words: RegExp): void {
  const ran = ranAtCost(args);
  // It took the process with it.
  if (ran === null) throw new Error(`${args.join(' ')}: no answer`);
  const { code, out, err, seconds, mebibytes } = ran;
  expect({ code, soon: seconds < MOST_SECONDS, memory: mebibytes < MOST_MEMORY }).toEqual({
    code: 2,
    soon: true,
    memory: true,
  });
  expect(out + err).toMatch(words);
  expect(out + err).not.toMatch(/ {4}at |something went wrong inside|RangeError|heap/);
}

/** Writes a file in pieces. */
function writeLarge(path: string, head: string, mebibytes: number, piece: string): void {
  const file = openSync(path, 'w');
  const million = Buffer.from(piece.repeat(Math.ceil((1024 * 1024) / piece.length)));
  writeSync(file, head);
  for (let i = 0; i < mebibytes; i++) writeSync(file, million);
  closeSync(file);
}

describe('far too large', () => {
  it('a line of 200 MB in the meet file', () => {
    writeLarge(meet, 'title: ', 200, 'x');
    expectRefused(['check', '--meet', meet], /larger than/);
    rmSync(meet);
  });

  it('a line of 200 MB in the log', () => {
    writeFileSync(meet, SOUND);
    writeLarge(log, HEADER, 200, 'x');
    expectRefused(['standings', '--meet', meet], /larger than/);
    expectRefused(['record', 'ann', 'VT', '13.000', '--meet', meet], /larger than/);
    rmSync(log);
  });

  it('a ranges file of 50 MB, and a start list of 50 MB', () => {
    writeFileSync(meet, `${SOUND}ranges: r.yaml\n`);
    writeLarge(join(place.path, 'r.yaml'), 'ann: ', 50, 'x');
    expectRefused(['check', '--meet', meet], /larger than/);
    expectRefused(['new', join(place.path, 'r.yaml'), '--meet', `${meet}2`], /larger than/);
  });

  it('files without an end', (context) => {
    try {
      symlinkSync('/dev/zero', log);
      readFileSync('/dev/null');
    } catch {
      return context.skip('there is no such file here');
    }
    writeFileSync(meet, SOUND);
    expectRefused(['standings', '--meet', meet], /larger than/);
    expectRefused(['standings', '--meet', '/dev/zero'], /larger than/);
    expectRefused(['new', '/dev/zero', '--meet', `${meet}2`], /larger than/);
  });

  it('a folder where a file should be', () => {
    expectRefused(['check', '--meet', place.path], /folder/);
    writeFileSync(meet, `${SOUND}ranges: sub\n`);
    mkdirSync(join(place.path, 'sub'));
    expectRefused(['check', '--meet', meet], /folder/);
    mkdirSync(log);
    expectRefused(['standings', '--meet', meet], /folder/);
    expectRefused(['new', place.path, '--meet', `${meet}2`], /folder/);
  });
});

/** A sixteenth of what is taken; all of it in the soak, since it takes its time. */
const SHARE = process.env.LARGE_FILES === '1' ? 1 : 1 / 16;

describe('as large as is taken, and made to be slow', () => {
  const MOST = 3 * 1024 * 1024 - 1000;
  const full = (piece: string, most = MOST) =>
    piece.repeat(Math.floor((most * SHARE) / piece.length));

  it.each<[what: string, text: () => string]>([
    ['100,000 open brackets', () => `x: ${'['.repeat(100_000)}`],
    ['100,000 nested brackets', () => `x: ${'['.repeat(100_000)}${']'.repeat(100_000)}`],
    ['100,000 nested braces', () => `${'{a: '.repeat(100_000)}${'}'.repeat(100_000)}`],
    ['100,000 nested dashes', () => `${'- '.repeat(100_000)}x`],
    ['100,000 question marks', () => `${'? '.repeat(100_000)}x`],
    [
      'ten to the fortieth values by names',
      () =>
        `a0: &a0 [x, x]\n${Array.from({ length: 40 }, (_, i) => `a${i + 1}: &a${i + 1} [${Array(10).fill(`*a${i}`).join(', ')}]`).join('\n')}`,
    ],
    ['a name within itself', () => `${SOUND}x: &a [*a]\n`],
    [
      'a name within itself at the root',
      () => '&a { discipline: *a, scoring: open, gymnasts: *a }',
    ],
    ['a name of nothing 300,000 times', () => `${SOUND}x: [${full('*b,', 1e6)}]`],
    ['one key again and again', () => SOUND + full('k: 1\n')],
    ['one quote after another', () => `title: ${full('"')}`],
    ['documents without number', () => full('---\n')],
    ['a key without an end', () => `${SOUND}${full('x')}: 1`],
    ['a score without an end', () => `${SOUND}fall: ${full('9')}`],
    ['a text over a million lines', () => `${SOUND}decimals: "${full('x\n\n ')}"`],
  ])('a meet file of %s', (_, text) => {
    writeFileSync(meet, text());
    expectRefused(['check', '--meet', meet], /error|nothing|nested|values|twice/);
  });

  // Once wrong: work grows with the square of the number of keys: 20,000 take 8 s, 100,000 minutes.
  it('a meet file of as many keys as there may be', () => {
    writeFileSync(
      meet,
      SOUND + Array.from({ length: 90_000 * SHARE }, (_, i) => `k${i}: 1\n`).join(''),
    );
    expectRefused(['check', '--meet', meet], /k0/);
  });

  it('a meet file of as many gymnasts as there may be', () => {
    const many = Array.from(
      { length: 20_000 * SHARE },
      (_, i) => `  - { id: g${i}, on: [VT] }\n`,
    ).join('');
    writeFileSync(meet, `discipline: wag\nscoring: opn\ngymnasts:\n${many}`);
    expectRefused(['check', '--meet', meet], /opn/);
  });

  it.each<[what: string, text: () => string]>([
    [
      'a quote that is never closed',
      () => `${HEADER}ann,VT,13,"x\n${full('bea,VT,13.000,\n', 8e6)}`,
    ],
    ['rows of nobody', () => `${HEADER}${full('nobody,VT,13.000,\n', 4e6)}`],
    ['one row of four million values', () => `${HEADER}${full('x,', 8e6)}`],
    ['quotes alone', () => `${HEADER}${full('"', 15e6)}`],
    ['quotes and commas', () => `${HEADER}${full('"",', 15e6)}`],
    // Once wrong: as many problems as lines.
    ['quotes and lines', () => `${HEADER}${full('"\n', 4e6)}`],
    ['NULs', () => `${HEADER}${full('\u0000', 15e6)}`],
  ])('a log of %s', (_, text) => {
    writeFileSync(meet, SOUND);
    writeFileSync(log, text());
    expectRefused(['standings', '--meet', meet], /meet\.scores\.csv:\d/);
  });

  // Once wrong: a note for each of a million columns of no use, and a search for its like.
  it('a log of four million columns', () => {
    writeFileSync(meet, SOUND);
    writeFileSync(log, `gymnast,apparatus,${full('x,', 8e6)}\n`);
    expectRefused(['standings', '--meet', meet], /score/);
    writeFileSync(log, `gymnast,apparatus,score,${full('x,', 8e6)}\nann,VT,x\n`);
    expectRefused(['standings', '--meet', meet], /score/);
  });

  it('an answer in one line stays short', () => {
    writeFileSync(meet, `${SOUND}${'x'.repeat(100_000)}: 1\n`);
    expect(run(['standings', '--meet', meet]).err.length).toBeLessThan(2000);
    writeFileSync(meet, SOUND);
    writeFileSync(log, `${HEADER}${'x'.repeat(100_000)},VT,13.000,\n`);
    expect(run(['standings', '--meet', meet]).err.length).toBeLessThan(2000);
  });

  // Once wrong: words of the command line are repeated in full.
  it.each([
    [['needs', 'x']],
    [['record', 'x', 'VT', '13']],
    [['record', 'ann', 'VT', 'x']],
    [['record', 'ann', 'x', '13']],
    [['standings', '--contest', 'x']],
    [['standings', '--after', 'x']],
    [['needs', 'ann', '--for', 'x']],
    [['x']],
  ])('and so does one to a long word: %j', (args) => {
    writeFileSync(meet, SOUND);
    const long = args.map((word) => (word === 'x' ? 'x'.repeat(100_000) : word));
    const { err, code } = run([...long, '--meet', meet]);
    expect(code).toBeGreaterThan(0);
    expect(err.length).toBeLessThan(2000);
  });
});

/** What a terminal might act on: everything but the end of a line. */
const RAW =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/;

const EVIL =
  '\u001b[2J\u001b[31mred\u001b]0;title\u0007\u009b31m back\b\b\b null\u007f turned \u202eround\u202c left \u2066in\u2069 \ufeff\u200e\u200f\u061c line\u2028two\u2029three\r\nfour';

describe('words that could take a terminal over', () => {
  function expectClean(args: readonly string[]): string {
    const { out, err } = run(args);
    const at = RAW.exec(out + err);
    expect(
      at === null
        ? null
        : `${args.join(' ')}: ${JSON.stringify((out + err).slice(Math.max(0, at.index - 30), at.index + 10))}`,
    ).toBeNull();
    expect(out + err).not.toContain('    at ');
    return out + err;
  }

  it('everywhere in the meet file, refused or shown harmless', () => {
    const text = JSON.stringify(EVIL);
    const parts = {
      title: `title: ${text}\n`,
      name: `teams: [{ id: A, name: ${text} }]\n`,
      key: `${text}: x\n`,
      contest: `contests: [all-around, { kind: apparatus, on: UB, id: ${text} }]\n`,
      start: `groups: [{ start: ${text}, order: [ann, bea] }]\n`,
      ranges: `ranges: ${text}\n`,
      medals: `medals: ${text}\n`,
      usual: `usual: { ${text}: { low: ${text} } }\n`,
    };
    const others = {
      order: `groups: [{ start: VT, order: [ann, bea, ${text}] }]\n`,
      team: `teams: [{ id: ${text} }, { id: ${text} }]\n`,
    };
    for (const [together, errors] of [
      [parts, 9],
      [others, 3],
    ] as const) {
      writeFileSync(meet, `${SOUND}${Object.values(together).join('')}`);
      // One problem hides no other: each part is spoken of.
      const said = expectClean(['check', '--meet', meet]);
      expect(said.match(/^error /gm)?.length).toBe(errors);
      expectClean(['check', '--meet', meet, '--json']);
    }
  });

  it('in names and ids that are allowed: shown harmless in every table, and whole in JSON', () => {
    const name = 'Ann \u202eeve\u202c \u2067x\u2069 \u200fy';
    const team = 'A\u202e';
    writeFileSync(
      meet,
      `discipline: wag
scoring: open
title: "T \u202ex"
contests: [all-around, { kind: team, up: 2, count: 1, id: "C\u202e" }]
teams: [{ id: "${team}", name: "${name}" }]
usual:
${['VT', 'UB', 'BB', 'FX'].map((c) => `  ${c}: { low: 12.000, likely: 13.000, high: 14.000, falls: 0.1, d: 5.0 }\n`).join('')}
gymnasts: [{ id: "a\u202e", name: "${name}", team: "${team}" }, { id: bea, team: "${team}" }, { id: cleo }]
`,
    );
    writeFileSync(
      log,
      `gymnast,apparatus,score,note,\u202ecolumn\na\u202e,VT,13.000,\u001b[31m\u202e,x\n`,
    );
    const last = ['--meet', meet];
    for (const args of [
      ['check'],
      ['standings'],
      ['standings', '--contest', 'C\u202e'],
      ['standings', '--after', '1'],
      ['needs'],
      ['needs', 'a\u202e'],
      ['needs', 'bea', '--why', '--for', 'beat:a\u202e'],
      ['needs', team, '--contest', 'C\u202e'],
      ['outcomes', 'bea'],
      ['outcomes', 'a\u202e'],
      ['suppose', 'a\u202e', 'UB', '13.000'],
      ['record', 'a\u202e', 'UB', '13.000', '--note', '\u001b[31m\u202e'],
      ['record', 'a\u202e', 'UB', '13.033', '--contest', 'C\u202e'],
      ['record', 'a\u202e', 'all', 'DNS'],
      // All that is JSON is printed in one place.
      ['needs', 'a\u202e', '--json'],
      ['record', 'a\u202e', 'UB', '13.000', '--note', '\u001b[31m\u202e', '--json'],
    ]) {
      expectClean([...args, ...last]);
    }
    const { out } = run(['standings', '--json', ...last]);
    const { rows } = JSON.parse(out) as { rows: { id: string; name: string; team: string }[] };
    expect(rows.find((r) => r.id === 'a\u202e')).toMatchObject({ name, team });
  });

  it('in the log', () => {
    const quoted = `"${EVIL.replaceAll('"', '""')}"`;
    writeFileSync(meet, SOUND);
    const rows = [
      `${quoted},VT,13,`,
      `ann,${quoted},13,`,
      `ann,VT,${quoted},`,
      `ann,VT,13,${quoted}`,
      `ann,VT,13,x,${quoted}`,
    ];
    writeFileSync(log, `${HEADER}${rows.join('\n')}\n`);
    const said = expectClean(['check', '--meet', meet]);
    expect(said.match(/^error /gm)?.length).toBe(4);
    expectClean(['check', '--meet', meet, '--json']);
    writeFileSync(log, `gymnast,apparatus,score,${quoted}\n${quoted},VT,13\n`);
    expectClean(['standings', '--meet', meet]);
    expectClean(['standings', '--meet', meet, '--json']);
  });

  it('on the command line', () => {
    writeFileSync(meet, SOUND);
    const last = ['--meet', meet];
    for (const args of [
      [EVIL],
      ['standings', '--contest', EVIL, ...last],
      ['standings', '--after', EVIL, ...last],
      ['standings', '--meet', join(place.path, EVIL)],
      ['standings', `--${EVIL}`],
      ['needs', EVIL, ...last],
      ['needs', 'ann', '--for', EVIL, ...last],
      ['record', 'ann', EVIL, '13', ...last],
      ['record', 'ann', 'VT', EVIL, ...last],
      ['record', 'ann', 'VT', '13', '--d', EVIL, ...last],
      ['suppose', 'ann', 'VT', EVIL, ...last],
      ['new', EVIL, '--meet', join(place.path, 'n.yaml')],
      ['new', '--discipline', EVIL, '--meet', join(place.path, 'n.yaml')],
      ['help', EVIL],
      // An error for programs is made in one place, whatever it is about.
      ['standings', '--contest', EVIL, '--json', ...last],
      [EVIL, '--json'],
      ['new', EVIL, '--json', '--meet', join(place.path, 'n.yaml')],
    ]) {
      expectClean(args);
    }
  });
});

it.each(['__proto__', 'constructor'])(
  'an id that JavaScript keeps for itself is an id like any other: %s',
  (id) => {
    writeFileSync(
      meet,
      `discipline: wag
scoring: open
contests: [{ kind: team, up: 2, count: 1, id: ${id} }, all-around]
teams: [{ id: ${id}, name: T }, { id: other }]
ranges: r.yaml
gymnasts: [{ id: ${id}, team: ${id} }, { id: bea, team: other }]
groups: [{ start: VT, order: [${id}, bea] }]
`,
    );
    const range = '{ low: 12.000, likely: 13.000, high: 14.000, falls: 0.1 }';
    writeFileSync(
      join(place.path, 'r.yaml'),
      `${id}: { VT: ${range}, UB: ${range}, BB: ${range}, FX: ${range} }\n`,
    );
    const json = (...args: string[]) => {
      const ran = run([...args, '--json', '--meet', meet]);
      expect(ran.err).toBe('');
      return JSON.parse(ran.out) as Record<string, unknown>;
    };
    expect(json('record', id, 'VT', '13.000', '--contest', 'all-around')).toMatchObject({
      accepted: true,
      place: 1,
    });
    expect(json('standings', '--contest', 'all-around')).toMatchObject({
      rows: [{ id, total: '13.000', projected: '52.000', scores: { VT: '13.000' } }, { id: 'bea' }],
    });
    const now = openMeet(meet);
    expect(standings(now)).toMatchObject({
      contest: id,
      rows: [{ id, total: 13_000 }, { id: 'other' }],
    });
    const contest = 'all-around';
    expect(needs(now, id, { contest })).toMatchObject({ contender: id, apparatus: 'UB' });
    expect(
      suppose(now, [{ gymnast: id, apparatus: 'UB', score: 'low' }], { contest }),
    ).toMatchObject({ supposed: [{ gymnast: id, apparatus: 'UB', score: 12_000 }] });
  },
);
