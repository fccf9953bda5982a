/** `graphics`: lines on the screen, in a file that others read, and after every score. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  appendFileSync,
  existsSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import Papa from 'papaparse';
import { afterAll, describe, expect, it } from 'vitest';
import { answer, COMMAND, COVE_FILES, folder, run } from '../support/cli.js';

const HARBOUR = ['--meet', 'docs/examples/harbour.yaml'];

interface Line {
  kind: string;
  id: string;
  about: { id: string; name: string }[];
  apparatus: string | null;
  from: string | null;
  to: string | null;
  text: string | null;
  length: number;
  limit: number;
  chance: number | null;
  awaited: string[];
  underInquiry: string[];
}

interface Answer {
  contest: string;
  stale: string | null;
  lines: Line[];
}

/** Of the contract, and what the words say besides (docs/graphics.md). */
const KEYS = [
  ...[
    'id',
    'kind',
    'about',
    'target',
    'status',
    'apparatus',
    'rotation',
    'from',
    'to',
    'place',
    'session',
  ],
  ...['tied', 'tieBy', 'score', 'was', 'total', 'gap', 'chance', 'text', 'length', 'limit'],
  ...['by', 'done', 'wasPlace', 'worst', 'levelWith', 'places'],
  ...['awaited', 'underInquiry', 'upBefore'],
].sort();

describe('for programs', () => {
  const all = answer<Answer>(['graphics', ...HARBOUR]);

  it('has the keys of the contract', () => {
    expect(Object.keys(all)).toEqual([
      ...['schema', 'contest', 'sequence', 'rows', 'at', 'stale', 'lines'],
      'awaited',
      'underInquiry',
      'caution',
    ]);
    expect(all.stale).toBeNull();
    for (const line of all.lines) expect(Object.keys(line).sort()).toEqual(KEYS);
    expect(new Set(all.lines.map((c) => c.kind))).toEqual(
      new Set(['need', 'standing', 'like-for-like', 'change', 'outcome']),
    );
  });

  it('gives the bands of an outcome, and no band to anything else', () => {
    for (const { kind, from, chance } of all.lines) {
      if (kind !== 'need') expect(from === null).toBe(kind !== 'outcome');
      if (kind === 'outcome') expect(from).toMatch(/^\d+\.\d{3}$/);
      if (kind !== 'need') expect(chance === null).toBe(kind !== 'outcome');
    }
    const { bands } = answer<{ bands: { from: string; place: number }[] }>([
      'outcomes',
      'brondt',
      ...HARBOUR,
    ]);
    const hers = all.lines.filter((c) => c.kind === 'outcome' && c.about[0]?.id === 'brondt');
    const starts = hers.map((c) => c.from);
    for (const { from } of bands) expect(starts).toContain(from);
    expect(hers.reduce((sum, c) => sum + (c.chance ?? 0), 0)).toBeCloseTo(1, 9);
  });

  it('prepares the medals when asked, the likeliest first', () => {
    const { lines } = answer<Answer>(['graphics', '--kind', 'medals', ...HARBOUR]);
    const chances = lines.map((c) => c.chance ?? 0);
    expect(chances.length).toBeGreaterThan(1);
    expect(chances).toEqual([...chances].sort((a, b) => b - a));
    expect(lines[0]?.text).toMatch(/^1st .*, 2nd .*, 3rd .*\. Chance \d/);
  });

  it('say how many go up before her, where they are more than two', () => {
    const { out } = run(['graphics', 'tanakura', '--kind', 'need', ...HARBOUR]);
    expect(out.split('\n')[0]).toBe(
      'Any score on floor puts Suzu Tanakura in the lead so far, with 4 routines to others’ 2 (before 3 others’ scores).',
    );
  });

  it('keeps to the gymnasts and kinds asked for', () => {
    const asked = ['graphics', 'brondt', 'silvane', '--kind', 'need', 'outcome', ...HARBOUR];
    const { lines } = answer<Answer>(asked);
    expect(new Set(lines.flatMap((c) => c.about.map((a) => a.id)))).toEqual(
      new Set(['brondt', 'silvane']),
    );
    expect(new Set(lines.map((c) => c.kind))).toEqual(new Set(['need', 'outcome']));
  });

  it('writes the same as CSV, with every value in one field', () => {
    const { out } = run(['graphics', '--format', 'csv', ...HARBOUR]);
    const { data, errors } = Papa.parse<Record<string, string>>(out, {
      header: true,
      skipEmptyLines: true,
    });
    expect(errors).toEqual([]);
    expect(data.map((r) => r.text)).toEqual(all.lines.map((c) => c.text));
    expect(data.map((r) => r.about?.split(' '))).toEqual(
      all.lines.map((c) => c.about.map((a) => a.id)),
    );
    expect(data.map((r) => r.id)).toEqual(all.lines.map((c) => c.id));
    expect(data.map((r) => r.from || null)).toEqual(all.lines.map((c) => c.from));
  });
});

describe('templates of one’s own', () => {
  const { path, clean } = folder('harbour.yaml', 'harbour.scores.csv');
  afterAll(clean);
  const meet = ['--meet', 'harbour.yaml'];
  const file = (text: string) => writeFileSync(join(path, 'lines.yaml'), text);
  const told = (...args: string[]) =>
    run(['graphics', '--templates', 'lines.yaml', ...args, ...meet], { cwd: path });

  it('come before the shipped ones, shortened as little as it takes', () => {
    file('standing:\n  - { text: "{place} {name} {total}", length: 23 }\n');
    const lines = told('--kind', 'standing').out.split('\n');
    expect(lines[0]).toBe('1st S. Tanakura 43.566');
    expect(lines[3]).toBe('4th Z. Novakine 41.299');
  });

  it('say what does not fit, and cut nothing', () => {
    file('standing:\n  - { text: "{place} {name}", length: 11 }\n');
    const { out, err, code } = told('brondt', 'tanakura', '--kind', 'standing');
    expect(code).toBe(0);
    expect(out).toBe('14th Brondt\n');
    expect(err).toBe('no standing line for Suzu Tanakura: longer than 11, however shortened\n');
    const { lines } = JSON.parse(told('tanakura', '--kind', 'standing', '--json').out) as Answer;
    expect(lines).toMatchObject([{ text: null, length: 0, limit: 11 }]);
  });

  it.each([
    ['stand:\n  - { text: "x" }\n', 1, '`stand` is not a known key', 'standing'],
    [
      'need:\n  - { text: "{nam} leads" }\n',
      2,
      '"{nam}" is no field of need',
      'did you mean `name`?',
    ],
    [
      'need:\n  - text: "{name} leads"\n    lenght: 3\n',
      3,
      '`lenght` is not a known key',
      '`length`',
    ],
    ['need:\n  - text: "{name"\n', 2, 'brace', '{name}'],
    ['need:\n  - text: x\n    when: { target: winn }\n', 3, '"winn"', 'choose from: lead, win'],
    ['need:\n  - text: x\n    when: { place: first }\n', 3, '`place` is not a known key', 'target'],
    ['need:\n  - length: 12\n', 2, '`text` is missing', '{name}'],
    ['need:\n  - { text: x, length: 0 }\n', 2, '`length` cannot be "0"', 'from 1 to'],
    ['need: nothing\n', 1, 'should be a list', 'text, length'],
    ['- need\n', 1, 'no file of templates', 'need'],
    ['need: [\n', 2, '', ''],
    ['words: { she: "a{b" , her: x }\n', 1, 'braces', ''],
    ['constructor: 3\n', 1, 'not a known key', ''],
  ])('say what is wrong with %j', (text, line, message, mend) => {
    file(text);
    const { code, out, err } = told();
    expect(code).toBe(2);
    expect(out).toBe('');
    const [first = '', second = ''] = err.split('\n');
    if (message !== '') expect(first.startsWith(`lines.yaml:${line}: `)).toBe(true);
    expect(first).toContain(message);
    expect(second).toContain(mend);
    expect(err.split('\n').length).toBeLessThanOrEqual(3);
  });

  it('may be begun from the shipped ones', () => {
    const shipped = run(['graphics', '--shipped']).out;
    file(shipped);
    expect(told().out).toBe(run(['graphics', ...meet], { cwd: path }).out);
  });

  it('bring words of their own', () => {
    file('words: { she: they, her: their }\nstanding:\n  - { text: "{name}, {her} {place}" }\n');
    expect(told('brondt', '--kind', 'standing').out).toBe('Ida Brondt, their 14th\n');
  });
});

describe('bad usage', () => {
  it.each([
    [['graphics', '--kind', 'medal'], 2, 'did you mean `medals`?'],
    [['graphics', '--format', 'xml'], 2, 'text, csv, json'],
    [['graphics', 'nobody'], 1, 'lastrotation check'],
    [['graphics', '--templates', 'none.yaml'], 2, 'name a file of templates'],
    [['graphics', '--contest', 'XX'], 2, 'did you mean'],
    [['graphics', '--out', '/nowhere/x.json'], 3, 'name a file you may write'],
    [['graphics', '--out', '/dev/null'], 3, '--out'],
    [['graphics', '--out', 'docs/examples/harbour.yaml'], 2, '--out'],
    [['graphics', '--out', 'docs/examples/harbour.scores.csv'], 2, '--out'],
  ])('%j', (args, code, mend) => {
    const ran = run([...args, ...HARBOUR]);
    expect([ran.code, ran.out]).toEqual([code, '']);
    expect(ran.err).toContain(mend);
  });
});

describe('--out', () => {
  const running: ChildProcess[] = [];
  const { path, clean } = folder(...COVE_FILES);
  afterAll(() => {
    for (const child of running) child.kill('SIGKILL');
    clean();
  });
  const out = join(path, 'lines.json');
  const log = join(path, 'cove.scores.csv');
  const read = () => JSON.parse(readFileSync(out, 'utf8')) as Answer;

  async function following(...args: string[]): Promise<ChildProcess> {
    const all = [COMMAND, 'graphics', '--meet', join(path, 'cove.yaml'), '--follow', ...args];
    const child = spawn(process.execPath, all, { stdio: ['ignore', 'ignore', 'pipe'] });
    running.push(child);
    while (!existsSync(out)) await pause(5);
    return child;
  }

  it('is whole whenever it is read, has every score, and ends when told', async () => {
    const child = await following('--json', '--out', out);
    const errors: string[] = [];
    child.stderr?.on('data', (data: Buffer) => errors.push(String(data)));
    const waits: number[] = [];
    let reads = 0;
    for (let i = 0; i < 15; i++) {
      const score = `12.${String(300 + i)}`;
      const at = new Date().toISOString();
      appendFileSync(log, `brondt,BB,${score},,,,,,${at}\n`);
      const since = performance.now();
      // As fast as this process can, while the other one writes.
      for (;;) {
        reads++;
        const { contest, lines } = read();
        expect(contest).toBe('all-around');
        if (lines[0]?.text?.includes(score)) break;
        await pause(0);
        if (errors.length > 0) throw new Error(`${score} never came: ${errors}`);
      }
      waits.push(performance.now() - since);
      await pause(i % 3 === 0 ? 60 : 0);
    }
    waits.sort((a, b) => a - b);
    console.log(
      `graphics --follow: ${reads} reads, all whole; a score is there after ${waits[7]?.toFixed(0)} ms (median), ${waits.at(-1)?.toFixed(0)} ms (worst of 15)`,
    );
    expect(readdirSync(path).filter((f) => f.endsWith('.part'))).toEqual([]);

    // What cannot be read for a while leaves the lines as they are, and they say since when.
    const before = read();
    appendFileSync(log, 'nobody,BB,12.000,,,,,,\n');
    while (errors.join('') === '') await pause(5);
    expect(errors.join('')).toContain('nobody');
    while (read().stale === null) await pause(5);
    expect(read()).toEqual({ ...before, stale: expect.any(String) });

    child.kill('SIGTERM');
    const code = await new Promise((done) => child.on('exit', done));
    expect(code).toBe(0);
  }, 60_000);

  it('goes through a link, and leaves the link', () => {
    const { path: other, clean: done } = folder(...COVE_FILES);
    symlinkSync(join(other, 'there.txt'), join(other, 'here.txt'));
    writeFileSync(join(other, 'there.txt'), 'old');
    const meet = join(other, 'cove.yaml');
    expect(run(['graphics', '--meet', meet, '--out', join(other, 'here.txt')]).code).toBe(0);
    expect(readFileSync(join(other, 'there.txt'), 'utf8')).toContain('Suzu Tanakura has 43.566');
    done();
  });
});
