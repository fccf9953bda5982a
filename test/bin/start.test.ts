/** The command starts from what Node compiled of it before, and answers the same whatever became of that. */
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { COMMAND, COVE, ROOT } from '../support/cli.js';

const NEEDS = ['needs', 'brondt', '--meet', join(ROOT, COVE)];
const DIGEST = 32;

let home = '';
let cache = '';
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'lastrotation-home-'));
  cache = join(home, 'cache', 'lastrotation');
});
afterEach(() => rmSync(home, { recursive: true, force: true }));

type Env = Readonly<Record<string, string | undefined>>;

/** Where compiled code is kept, unless a test says otherwise. */
const environment = (env: Env = {}) => ({
  ...process.env,
  NODE_DISABLE_COMPILE_CACHE: undefined,
  NODE_COMPILE_CACHE: undefined,
  HOME: home,
  XDG_CACHE_HOME: join(home, 'cache'),
  NO_COLOR: '1',
  COLUMNS: '100',
  ...env,
});

function asked(args: readonly string[] = NEEDS, env: Env = {}, node: readonly string[] = []) {
  const done = spawnSync(process.execPath, [...node, COMMAND, ...args], {
    cwd: ROOT,
    env: environment(env),
    encoding: 'utf8',
  });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

/** What is said where nothing is kept. */
const plain = asked(NEEDS, { NODE_DISABLE_COMPILE_CACHE: '1', HOME: '/', XDG_CACHE_HOME: '/' });

/** What is kept of an answer, made once: put where it belongs it is as if the answer had been given. */
const made = { name: '', data: Buffer.alloc(0) };
beforeAll(() => {
  const at = mkdtempSync(join(tmpdir(), 'lastrotation-made-'));
  expect(asked(NEEDS, { XDG_CACHE_HOME: at })).toEqual(plain);
  const [name = ''] = readdirSync(join(at, 'lastrotation'));
  Object.assign(made, { name, data: readFileSync(join(at, 'lastrotation', name)) });
  rmSync(at, { recursive: true });
});
function askedBefore(): void {
  mkdirSync(cache, { recursive: true, mode: 0o700 });
  writeFileSync(join(cache, made.name), made.data, { mode: 0o600 });
}

/** The one file that is kept. */
function kept(): string {
  const [name, ...others] = readdirSync(cache);
  if (name === undefined) throw new Error('nothing is kept');
  expect(others).toEqual([]);
  return join(cache, name);
}

/** Which file it is, that another has taken its place shows. */
const idOf = (path: string) => {
  const { ino, mtimeMs, size } = statSync(path);
  return [ino, mtimeMs, size].join();
};

/** Another digest in front, as whoever tampers with it would write it. */
function signed(data: Buffer): Buffer {
  return Buffer.concat([createHash('sha256').update(data).digest(), data]);
}

/** Compiled code that says something else, as good as Node itself makes it. */
function planted(path: string): void {
  const from = readFileSync(path).subarray(DIGEST);
  const at = from.indexOf('All else as expected');
  expect(at).toBeGreaterThan(0);
  const data = Buffer.from(from);
  data.write('All else as planted!', at, 'latin1');
  writeFileSync(path, signed(data));
}

it('says something that is worth comparing', () => {
  expect(plain).toMatchObject({ code: 0, err: '' });
  expect(plain.out).toContain('Brondt');
});

describe('what is kept', () => {
  it('is made by the first answer, and taken by the next', () => {
    expect(asked()).toEqual(plain);
    const path = kept();
    const id = idOf(path);
    expect(statSync(path).size).toBeGreaterThan(100_000);
    expect(asked()).toEqual(plain);
    expect(idOf(kept())).toBe(id);
  });

  it('is taken indeed: code that is changed there, with its digest, is what runs', () => {
    askedBefore();
    planted(kept());
    expect(asked().out).toContain('All else as planted!');
  });

  it('is closed to everybody else', () => {
    asked();
    for (const path of [cache, kept()]) expect(statSync(path).mode & 0o077).toBe(0);
  });

  it('is one file for each command and version of Node, and none for what is no command', () => {
    asked();
    asked(['help']);
    asked(['--help']);
    asked(['nonsense']);
    asked(['../../nonsense']);
    const endings = readdirSync(cache).map((name) => name.slice(17));
    const node = `${process.version}-${process.arch}`;
    expect(endings.sort()).toEqual([`${node}-help`, `${node}-needs`]);
    expect(readdirSync(join(home, 'cache'))).toEqual(['lastrotation']);
  });

  it('is left alone, and not written, where Node is told so', () => {
    expect(asked(NEEDS, { NODE_DISABLE_COMPILE_CACHE: '1' })).toEqual(plain);
    expect(existsSync(cache)).toBe(false);
  });

  it('lies under the home where no other place is named', () => {
    expect(asked(NEEDS, { XDG_CACHE_HOME: undefined })).toEqual(plain);
    const place = process.platform === 'darwin' ? 'Library/Caches' : '.cache';
    expect(readdirSync(join(home, place, 'lastrotation'))).toHaveLength(1);
  });

  it('has no place where the system does not know the user, and the answer is the same', () => {
    if (process.getuid?.() !== 0 || process.platform !== 'linux') return;
    const { stdout, status } = spawnSync(process.execPath, [COMMAND, ...NEEDS], {
      uid: 54321,
      encoding: 'utf8',
      env: { PATH: process.env.PATH, NO_COLOR: '1' },
    });
    expect([status, stdout.split('\n')[0]]).toEqual([0, plain.out.split('\n')[0]]);
  });

  it('goes when no version has written it for long', () => {
    mkdirSync(cache, { recursive: true, mode: 0o700 });
    const [old, young] = ['a', 'b'].map((c) => `${c.repeat(16)}-v20.0.0-x64-needs`);
    const theirs = 'thesis.txt';
    for (const [name = '', days] of [
      [old, 61] as const,
      [young, 59] as const,
      [theirs, 99] as const,
    ]) {
      writeFileSync(join(cache, name), '');
      const then = Date.now() / 1000 - days * 24 * 3600;
      utimesSync(join(cache, name), then, then);
    }
    asked();
    const left = readdirSync(cache);
    expect([left.length, left.includes(young ?? ''), left.includes(theirs)]).toEqual([
      3,
      true,
      true,
    ]);
  });
});

describe('the answer is the same, and nothing else is said, where what is kept', () => {
  const broken: readonly [string, (whole: Buffer) => Buffer][] = [
    ['is empty', () => Buffer.alloc(0)],
    ['is shorter than its digest', (whole) => whole.subarray(0, 10)],
    ['is cut off', (whole) => whole.subarray(0, whole.length - 1000)],
    ['has one bit wrong in the middle', (whole) => flipped(whole, whole.length >> 1)],
    ['is signed nonsense', () => signed(Buffer.from('nonsense '.repeat(1000)))],
    ['was made by another Node', (whole) => signed(flipped(whole.subarray(DIGEST), 4))],
  ];

  it.each(broken)('%s; and it is made anew', (_, wrong) => {
    askedBefore();
    const path = kept();
    const whole = readFileSync(path);
    writeFileSync(path, wrong(whole));
    const id = idOf(path);
    expect(asked()).toEqual(plain);
    expect(idOf(kept())).not.toBe(id);
    expect(readFileSync(path).subarray(DIGEST + 8, DIGEST + 12)).toEqual(
      whole.subarray(DIGEST + 8, DIGEST + 12),
    );
  });

  it('is a folder, or leads elsewhere', () => {
    askedBefore();
    const path = kept();
    rmSync(path);
    mkdirSync(path);
    expect(asked()).toEqual(plain);
    rmSync(path, { recursive: true });
    symlinkSync(join(home, 'nowhere'), path);
    expect(asked()).toEqual(plain);
  });

  it('belongs to other flags of Node', () => {
    expect(asked(NEEDS, {}, ['--max-lazy'])).toEqual(plain);
    expect(asked()).toEqual(plain);
    expect(asked(NEEDS, {}, ['--no-opt'])).toEqual(plain);
  });
});

describe('what somebody else may have written is not taken', () => {
  const others = process.platform === 'win32';

  it.skipIf(others).each([
    ['the folder is open to a group', () => chmodSync(cache, 0o770)],
    ['the folder is open to all', () => chmodSync(cache, 0o777)],
    ['the file is open to all', () => chmodSync(kept(), 0o666)],
  ])('%s', (_, open) => {
    askedBefore();
    planted(kept());
    open();
    expect(asked()).toEqual(plain);
  });

  it.skipIf(others)('the folder leads elsewhere', () => {
    askedBefore();
    planted(kept());
    const elsewhere = join(home, 'elsewhere');
    spawnSync('mv', [cache, elsewhere]);
    symlinkSync(elsewhere, cache);
    expect(asked()).toEqual(plain);
  });

  it.skipIf(process.geteuid?.() !== 0)('folder or file is another user’s (as root)', () => {
    for (const path of [() => cache, kept]) {
      rmSync(cache, { recursive: true, force: true });
      askedBefore();
      planted(kept());
      spawnSync('chown', ['12345', path()]);
      expect(asked()).toEqual(plain);
    }
  });
});

describe('where nothing can be kept', () => {
  it.each([
    ['the place is a file', () => writeFileSync(join(home, 'cache'), '')],
    ['the folder is a file', () => mkdirSync(join(home, 'cache')), 'file'],
  ])('%s', (_, make, file?: string) => {
    make();
    if (file !== undefined) writeFileSync(cache, '');
    expect(asked()).toEqual(plain);
  });

  it('there is no such place, or none that may be written', () => {
    expect(asked(NEEDS, { XDG_CACHE_HOME: '/proc/nowhere' })).toEqual(plain);
    expect(asked(NEEDS, { XDG_CACHE_HOME: 'relative', HOME: '/proc/nowhere' })).toEqual(plain);
    expect(existsSync(join(ROOT, 'relative'))).toBe(false);
  });

  it.skipIf(!existsSync('/dev/full'))('there is no room for what is asked either: said', () => {
    const said = spawnSync(
      'sh',
      ['-c', `"${process.execPath}" "${COMMAND}" --version >/dev/full`],
      {
        encoding: 'utf8',
      },
    );
    expect(said.status).toBe(3);
    expect(said.stderr).toBe('lastrotation: the answer could not be written (ENOSPC)\n');
  });
});

it('is the same for many who begin at once with nothing kept', async () => {
  const one = () =>
    new Promise((done) => {
      const child = spawn(process.execPath, [COMMAND, ...NEEDS], { cwd: ROOT, env: environment() });
      let [out, err] = ['', ''];
      child.stdout.setEncoding('utf8').on('data', (text: string) => {
        out += text;
      });
      child.stderr.setEncoding('utf8').on('data', (text: string) => {
        err += text;
      });
      child.on('close', (code) => done({ code, out, err }));
    });
  const all = await Promise.all(Array.from({ length: 6 }, one));
  for (const said of all) expect(said).toEqual(plain);
  expect(asked()).toEqual(plain);
  kept();
});

function flipped(whole: Buffer, at: number): Buffer {
  const wrong = Buffer.from(whole);
  wrong[at] = (wrong[at] ?? 0) ^ 1;
  return wrong;
}
