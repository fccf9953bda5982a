/** The durable append: on disk before it is said, all of it or nothing, in the log's own manner. */

import { spawn, spawnSync } from 'node:child_process';
import fs, {
  chmodSync,
  existsSync,
  mkdirSync,
  readFileSync,
  rmdirSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openMeet, readMeetFiles, record } from '../../lib/files/index.js';
import { LastRotationError, standings } from '../../lib/index.js';
import { LOG_HEADER } from '../../lib/meet/log.js';
import { COMMAND, folder, run } from '../support/cli.js';

/** What is done to files, in order, and what goes wrong on demand. */
const disk = {
  calls: [] as string[],
  failing: {} as { writeSync?: (call: number) => number | string; fsyncSync?: string },
  writes: 0,
};
const { openSync, writeSync, fsyncSync, closeSync } = fs;
const real = { openSync, writeSync, fsyncSync, closeSync };
const fail = (code: string) => Object.assign(new Error(code), { code });
const watched = {
  openSync: (...args: Parameters<typeof real.openSync>) => {
    const file = real.openSync(...args);
    disk.calls.push(`open ${String(args[0]).split('/').at(-1)} ${args[1] ?? 'r'} = ${file}`);
    return file;
  },
  writeSync: (file: number, bytes: Buffer, from = 0) => {
    const how = disk.failing.writeSync?.(disk.writes++);
    if (typeof how === 'string') throw fail(how);
    const most = typeof how === 'number' ? how : bytes.length - from;
    disk.calls.push(`write ${file}`);
    return real.writeSync(file, bytes, from, Math.min(most, bytes.length - from));
  },
  fsyncSync: (file: number) => {
    if (disk.failing.fsyncSync !== undefined) throw fail(disk.failing.fsyncSync);
    real.fsyncSync(file);
    disk.calls.push(`sync ${file}`);
  },
  closeSync: (file: number) => {
    real.closeSync(file);
    disk.calls.push(`close ${file}`);
  },
};

/** Puts functions in the place of Node's own, for whoever has imported them by name as well. */
function replaced(functions: object): void {
  Object.assign(fs, functions);
  syncBuiltinESMExports();
}
beforeAll(() => replaced(watched));
afterAll(() => replaced(real));

const MEET = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX }, { kind: apparatus, on: UB }]
gymnasts: [{ id: ann }, { id: bea }, { id: cleo }]
`;

let place: ReturnType<typeof folder>;
let meet: string;
let log: string;

beforeEach(() => {
  place = folder();
  meet = join(place.path, 'meet.yaml');
  log = join(place.path, 'meet.scores.csv');
  writeFileSync(meet, MEET);
});
afterEach(() => {
  disk.failing = {};
  place.clean();
});

function board(): Record<string, number> {
  const { rows } = standings(openMeet(meet));
  return Object.fromEntries(rows.filter((r) => r.done > 0).map((r) => [r.id, r.total]));
}

async function refused(told: Parameters<typeof record>[1]): Promise<LastRotationError> {
  try {
    await record(meet, told);
  } catch (error) {
    if (error instanceof LastRotationError) return error;
    throw error;
  }
  throw new Error('not refused');
}

const ann = { gymnast: 'ann', apparatus: 'FX', score: '13.500' };

describe('on disk before it is said', () => {
  it('the row is written at the end, then synced, then closed; a new log’s folder is synced too', async () => {
    disk.calls.length = 0;
    await record(meet, ann);
    const opened = disk.calls.findIndex((c) => c.startsWith('open meet.scores.csv a'));
    const file = disk.calls[opened]?.split('= ')[1];
    const own = disk.calls.slice(opened);
    const at = (call: string) => own.indexOf(`${call} ${file}`);
    expect(at('write')).toBeGreaterThan(0);
    expect(at('sync')).toBeGreaterThan(at('write'));
    expect(at('close')).toBeGreaterThan(at('sync'));
    expect(own.filter((c) => c.startsWith('write'))).toHaveLength(1);
    expect(own.filter((c) => c.startsWith('sync'))).toHaveLength(2);

    disk.calls.length = 0;
    await record(meet, { ...ann, score: '13.600' });
    expect(disk.calls.filter((c) => c.startsWith('sync'))).toHaveLength(1);
  });

  it('a write in small pieces is still one row', async () => {
    disk.failing = { writeSync: () => 3 };
    await record(meet, ann);
    expect(board()).toEqual({ ann: 13500 });
  });

  it.each<[what: string, failing: typeof disk.failing, said: string]>([
    ['full at once', { writeSync: () => 'ENOSPC' }, 'disk is full'],
    ['full half-way', { writeSync: (n) => (n % 2 === 0 ? 9 : 'ENOSPC') }, 'disk is full'],
    ['over quota half-way', { writeSync: (n) => (n % 2 === 0 ? 20 : 'EDQUOT') }, 'quota'],
    ['broken at the sync', { fsyncSync: 'EIO' }, 'EIO'],
  ])('%s: nothing is left, it is said, and the next row stands', async (_, failing, said) => {
    for (const begun of [false, true]) {
      if (begun) await record(meet, { ...ann, gymnast: 'bea' });
      const before = begun ? readFileSync(log, 'utf8') : '';
      disk.writes = 0;
      disk.failing = failing;
      const error = await refused(ann);
      disk.failing = {};
      expect(error).toMatchObject({ kind: 'writing', code: 'not-written', file: log });
      expect(error.message).toContain('nothing was recorded');
      expect(error.message).toContain(said);
      expect(error.mend).not.toBe('');
      expect(existsSync(log) ? readFileSync(log, 'utf8') : '').toBe(before);
    }
    await record(meet, { ...ann, score: '13.700' });
    expect(board()).toEqual({ ann: 13700, bea: 13500 });
  });
});

describe('in the log’s own manner', () => {
  it.each<[what: string, log: string, added: string]>([
    ['the tool’s own', `${LOG_HEADER}\n`, 'ann,FX,13.500,5.500,8.100,0.100,,"so, so",'],
    [
      'shuffled',
      'note,nd,e,d,score,apparatus,gymnast\n',
      '"so, so",0.100,8.100,5.500,13.500,FX,ann\n',
    ],
    [
      'semicolons and CRLF',
      'gymnast;apparatus;score;d;e;nd;note\r\n',
      'ann;FX;13.500;5.500;8.100;0.100;so, so\r\n',
    ],
    [
      'tabs and a column of no use',
      'country\tgymnast\tapparatus\tscore\td\te\tnd\tnote\n',
      '\tann\tFX\t13.500\t5.500\t8.100\t0.100\tso, so\n',
    ],
    [
      'no last end of line',
      'nd,e,d,note,gymnast,apparatus,score',
      '\n0.100,8.100,5.500,"so, so",ann,FX,13.500\n',
    ],
    [
      'no last end of line, CRLF',
      'gymnast,apparatus,score,d,e,nd,note\r\nbea,UB,13',
      '\r\nann,FX,13.500,5.500,8.100,0.100,"so, so"\r\n',
    ],
    [
      'a mark and capitals',
      '\uFEFFGymnast,Apparatus,Score,D,E,ND,Note\n',
      'ann,FX,13.500,5.500,8.100,0.100,"so, so"\n',
    ],
  ])('%s', async (_, before, added) => {
    writeFileSync(log, before);
    await record(meet, { ...ann, score: '13,5', d: '5.5', e: '8,1', nd: '0.1', note: 'so, so' });
    const text = readFileSync(log, 'utf8');
    expect(text.startsWith(before)).toBe(true);
    expect(text.slice(before.length).startsWith(added)).toBe(true);
    expect(board()).toEqual({ ann: 13500 });
    await record(meet, { gymnast: 'bea', apparatus: 'FX', score: '13.6' });
    expect(board()).toEqual({ ann: 13500, bea: 13600 });
  });

  it.each(['d', 'e', 'nd', 'note'] as const)(
    'a value it has no column for is refused, naming %s',
    async (column) => {
      const text = 'gymnast,apparatus,score\nbea,FX,13.000\n';
      writeFileSync(log, text);
      const error = await refused({ ...ann, [column]: column === 'note' ? 'fall' : '5.000' });
      expect(error).toMatchObject({ kind: 'usage', code: 'missing-column', file: log, line: 1 });
      expect(`${error.message} ${error.mend}`).toContain(` ${column}`);
      expect(readFileSync(log, 'utf8')).toBe(text);
      const ran = run(['record', 'ann', 'FX', '13.5', `--${column}`, '5.000', '--meet', meet]);
      expect(ran.code).toBe(2);
      expect(ran.err).toContain(column);
    },
  );

  it('a note keeps to one line whatever is in it', async () => {
    await record(meet, { ...ann, note: 'one\ntwo\r\n\tthree\u0007 "four", five' });
    expect(readFileSync(log, 'utf8').trimEnd().split('\n')).toHaveLength(2);
    expect(board()).toEqual({ ann: 13500 });
  });

  it('a note in the words of our own mark takes no row away', async () => {
    writeFileSync(log, 'gymnast,apparatus,score,note\n');
    await record(meet, { ...ann, note: 'x <half written: set aside>' });
    await record(meet, { ...ann, gymnast: 'bea' });
    expect(board()).toEqual({ ann: 13500, bea: 13500 });
  });

  // Once wrong: blanks within an id become one on writing; the row is nobody's and the log unsound.
  it.each([
    ['two blanks', 'dee  lee'],
    ['a blank that does not break', 'dee\u00a0lee'],
    ['a wide blank', 'dee\u3000lee'],
  ])('an id is written as it is: %s', async (_, id) => {
    writeFileSync(meet, `${MEET}`.replace('{ id: cleo }', `{ id: ${JSON.stringify(id)} }`));
    await record(meet, { ...ann, gymnast: id });
    expect(board()).toEqual({ [id]: 13500 });
  });

  it.each(['a,b', 'say "so"', 'x;y', '=1+1', '-1', "o'neil", '#1', 'Ω'])(
    'an id of any characters is found again: %s',
    async (id) => {
      writeFileSync(meet, MEET.replace('{ id: cleo }', `{ id: ${JSON.stringify(id)} }`));
      await record(meet, { ...ann, gymnast: id });
      expect(board()).toEqual({ [id]: 13500 });
    },
  );

  it('a refused score writes nothing, not even a log', async () => {
    for (const [told, code] of [
      [{ ...ann, score: '13.5000' }, 'wrong-score'],
      [{ ...ann, score: '16.1', d: '6' }, 'wrong-score'],
      [{ ...ann, score: '13', d: '5', e: '9' }, 'wrong-score'],
      [{ ...ann, gymnast: 'nobody' }, 'unknown-gymnast'],
      [{ ...ann, apparatus: 'BB' }, 'unknown-apparatus'],
      [{ ...ann, score: 'void' }, 'nothing-to-void'],
      [{ ...ann, apparatus: 'all' }, 'wrong-score'],
    ] as const) {
      expect((await refused(told)).code).toBe(code);
      expect(existsSync(log)).toBe(false);
    }
    await expect(record(meet, ann, { contest: 'nope' })).rejects.toMatchObject({
      code: 'unknown-contest',
    });
    expect(existsSync(log)).toBe(false);
  });
});

describe('at one time', () => {
  it('a fresh lock of a process that is gone is taken over, and the row is written', async () => {
    mkdirSync(`${log}.lock`);
    // Whoever waits two seconds for a sign of life has half a second to go.
    const lately = new Date(Date.now() - 1500);
    utimesSync(`${log}.lock`, lately, lately);
    await record(meet, ann);
    expect(board()).toEqual({ ann: 13500 });
    expect(existsSync(`${log}.lock`)).toBe(false);
  });

  // Once wrong: the row is on disk, but the command says "there is no such file" and exits with 2.
  it('a meet file that vanishes while the log is waited for does not turn a row into an error', async () => {
    mkdirSync(`${log}.lock`);
    const alive = setInterval(() => {
      const now = new Date();
      utimesSync(`${log}.lock`, now, now);
    }, 100);
    const ended = new Promise<{ code: number | null; err: string }>((resolve) => {
      const child = spawn(process.execPath, [
        COMMAND,
        'record',
        'ann',
        'FX',
        '13.500',
        '--meet',
        meet,
      ]);
      let err = '';
      child.stderr.on('data', (data) => {
        err += String(data);
      });
      child.on('close', (code) => resolve({ code, err }));
    });
    await new Promise((resolve) => setTimeout(resolve, 700));
    rmSync(meet);
    clearInterval(alive);
    rmdirSync(`${log}.lock`);
    const { code, err } = await ended;
    const written = existsSync(log) && readFileSync(log, 'utf8').includes('ann,FX,13.500');
    // Written and said, or refused and not written.
    expect({ code, written, err }).toMatchObject(written ? { code: 0, err: '' } : { code: 2 });
  });
});

const isRoot = process.getuid?.() === 0;

describe('where nothing may be written', () => {
  // Once wrong: where the lock cannot be made, it is tried for a quarter of a minute before it is said.
  // Here and now other commands take as long as the machine lets them; ten times as long was no wait.
  function soon(begun: number): void {
    const taken = Date.now() - begun;
    const from = Date.now();
    // In a process of its own, as what it is compared with may be.
    spawnSync(process.execPath, [COMMAND, 'check', '--meet', meet]);
    expect(taken).toBeLessThan(10 * (Date.now() - from));
  }

  function said(ran: ReturnType<typeof run>, reason: RegExp): void {
    expect(ran.code).toBe(3);
    expect(ran.err).toMatch(reason);
    expect(ran.err).toContain('nothing was recorded');
    expect(ran.err).not.toContain('    at ');
    expect(ran.out).toBe('');
  }

  it('a file that may grow no further: the row torn by the system never counts', (context) => {
    for (const room of [5, 30]) {
      writeFileSync(log, `${LOG_HEADER}\n${'\n'.repeat(1024 - LOG_HEADER.length - 1 - room)}`);
      const script = `trap '' XFSZ; ulimit -f 1 && exec "$0" "$@"`;
      const args = [COMMAND, 'record', 'ann', 'FX', '13.500', '--meet', meet];
      const ran = spawnSync('bash', ['-c', script, process.execPath, ...args], {
        encoding: 'utf8',
      });
      if (ran.error !== undefined) return context.skip('there is no bash');
      // Ended by the system in the middle of the row, or told that the row did not fit.
      expect(ran.signal === 'SIGXFSZ' || ran.status === 3, ran.stderr).toBe(true);
      expect(ran.stdout).toBe('');
      expect(board()).toEqual({});
      // A lock that is left is waited for elsewhere.
      if (existsSync(`${log}.lock`)) utimesSync(`${log}.lock`, 0, 0);
      const next = run(['record', 'bea', 'FX', '13.600', '--meet', meet]);
      expect(next).toMatchObject({ code: 0, err: '' });
      expect(board()).toEqual({ bea: 13600 });
    }
  });

  it('a file that may not be changed', (context) => {
    writeFileSync(log, `${LOG_HEADER}\n`);
    const locked = isRoot && spawnSync('chattr', ['+i', log]).status === 0;
    if (!locked) return context.skip('only root can make such a file, where the disk can');
    try {
      said(run(['record', 'ann', 'FX', '13.500', '--meet', meet]), /may not be written/);
    } finally {
      spawnSync('chattr', ['-i', log]);
    }
  });

  it('a disk for reading only', (context) => {
    const bind = isRoot && spawnSync('mount', ['--bind', place.path, place.path]).status === 0;
    if (!bind) return context.skip('only root can make such a disk');
    try {
      const readOnly = spawnSync('mount', ['-o', 'remount,ro,bind', place.path]).status === 0;
      if (!readOnly) return context.skip('this system cannot make such a disk');
      const begun = Date.now();
      said(run(['record', 'ann', 'FX', '13.500', '--meet', meet]), /read-only/);
      soon(begun);
      const made = run(['new', '--meet', join(place.path, 'other.yaml')]);
      expect(made.code).toBe(3);
      expect(made.err).toContain('other.yaml');
    } finally {
      spawnSync('umount', [place.path]);
    }
    expect(existsSync(log)).toBe(false);
  });

  it('a folder of somebody else’s', (context) => {
    const uid = isRoot ? 65534 : undefined;
    const args = [COMMAND, 'record', 'ann', 'FX', '13.500', '--meet', meet];
    chmodSync(place.path, 0o555);
    const begun = Date.now();
    const ran = spawnSync(process.execPath, args, {
      encoding: 'utf8',
      ...(uid === undefined ? {} : { uid, gid: uid }),
    });
    chmodSync(place.path, 0o755);
    if (ran.error !== undefined) return context.skip('nobody else can run it here');
    said({ code: ran.status, out: ran.stdout, err: ran.stderr }, /may not be written/);
    expect(existsSync(log)).toBe(false);
    soon(begun);
  });

  it('with --json it is one object on standard error', (context) => {
    if (!existsSync('/dev/full')) return context.skip('there is no /dev/full');
    mkdirSync(join(place.path, 'gone'));
    const other = join(place.path, 'gone', 'meet.yaml');
    writeFileSync(other, MEET);
    fs.symlinkSync('/dev/full', join(place.path, 'gone', 'meet.scores.csv'));
    // An endless log cannot be read; the error is about the file, and of the usual shape.
    const ran = run(['record', 'ann', 'FX', '13.500', '--meet', other, '--json']);
    expect([2, 3]).toContain(ran.code);
    expect(ran.out).toBe('');
    expect(Object.keys((JSON.parse(ran.err) as { error: object }).error).sort()).toEqual([
      'code',
      'file',
      'line',
      'mend',
      'message',
    ]);
  });
});

it('the files are left as they are by everything that only reads', () => {
  writeFileSync(log, `${LOG_HEADER}\nann,FX,13.500,,,,,,2026-05-16T14:02:52.280Z\nbea,FX,13`);
  const before = [meet, log].map((f) => [readFileSync(f, 'utf8'), statSync(f).mtimeMs]);
  for (const args of [
    ['standings'],
    ['check'],
    ['needs'],
    ['outcomes', 'bea'],
    ['suppose', 'bea', 'FX', '13'],
  ]) {
    run([...args, '--meet', meet]);
  }
  expect([meet, log].map((f) => [readFileSync(f, 'utf8'), statSync(f).mtimeMs])).toEqual(before);
  expect(fs.readdirSync(place.path).sort()).toEqual(['meet.scores.csv', 'meet.yaml']);
  expect(readMeetFiles(meet).logPath).toBe(log);
});
