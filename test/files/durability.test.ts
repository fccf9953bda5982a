/** What was acknowledged is in the log, whatever happens to the process or the disk. */
import { spawn, spawnSync } from 'node:child_process';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openMeet, readMeetFiles, record } from '../../lib/files/index.js';
import { check, standings } from '../../lib/index.js';
import { LOG_HEADER, SET_ASIDE } from '../../lib/meet/log.js';
import { COMMAND, folder, run } from '../support/cli.js';

const IDS = Array.from({ length: 30 }, (_, i) => `g${String(i).padStart(2, '0')}`);
const MEET = `discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: FX }]\ngymnasts: [${IDS.map((id) => `{ id: ${id} }`).join(', ')}]\n`;

let place: ReturnType<typeof folder>;
afterEach(() => place.clean());

function newPlace(): { meet: string; log: string } {
  place = folder();
  const meet = join(place.path, 'meet.yaml');
  writeFileSync(meet, MEET);
  return { meet, log: join(place.path, 'meet.scores.csv') };
}

/** Scores on the board by gymnast. */
function scored(meet: string): Map<string, number> {
  const { rows } = standings(openMeet(meet));
  return new Map(rows.filter((r) => r.done > 0).map((r) => [r.id, r.total]));
}

/** Runs `record` and kills it after some milliseconds; true when it said so before. */
function recordAndKill(meet: string, id: string, score: string, after: number): Promise<boolean> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [COMMAND, 'record', id, 'FX', score, '--meet', meet]);
    let said = '';
    child.stdout.on('data', (data) => {
      said += String(data);
    });
    const timer = setTimeout(() => child.kill('SIGKILL'), after);
    child.on('close', () => {
      clearTimeout(timer);
      resolve(said.includes(score));
    });
  });
}

describe('record', () => {
  it('killed at any moment, keeps every acknowledged row, and takes no half row for a score', async () => {
    const { meet, log } = newPlace();
    const acknowledged = new Map<string, number>();
    const tried = new Map<string, number>();
    const runs = Number(process.env.KILLS ?? 8);
    // How long one takes here and now; what is killed is killed somewhere in that time.
    const started = Date.now();
    expect(await recordAndKill(meet, 'g29', '12.000', 60_000)).toBe(true);
    const duration = Date.now() - started;
    acknowledged.set('g29', 12000);
    tried.set('g29', 12000);
    for (let i = 0; i < runs; i++) {
      const id = IDS[i % (IDS.length - 1)] ?? 'g00';
      const units = 13000 + i;
      tried.set(id, units);
      // Mostly around the moment when it writes, which is late in its life.
      const after = Math.round(duration * (0.5 + ((i * 37) % 100) / 150));
      const said = await recordAndKill(meet, id, (units / 1000).toFixed(3), after);
      if (said) acknowledged.set(id, units);
      else if (!acknowledged.has(id) || tried.get(id) !== acknowledged.get(id)) {
        // Not acknowledged: the row may be there whole, or not at all.
        const now = existsSync(log) ? scored(meet).get(id) : undefined;
        if (now === units) acknowledged.set(id, units);
      }
    }
    const board = scored(meet);
    for (const [id, units] of acknowledged) expect(board.get(id), id).toBe(units);
    expect(check(readMeetFiles(meet)).sound).toBe(true);
    const lines = readFileSync(log, 'utf8').trimEnd().split('\n').slice(1);
    const whole = lines.filter((l) => !l.endsWith(SET_ASIDE));
    expect(new Set(whole.map((l) => l.split(',').slice(0, 3).join())).size).toBe(whole.length);
  });

  it('eight desks at once lose nothing', async () => {
    const { meet } = newPlace();
    const ids = IDS.slice(0, 8);
    const said = await Promise.all(ids.map((id) => recordAndKill(meet, id, '13.500', 60_000)));
    expect(said).toEqual(ids.map(() => true));
    expect([...scored(meet).keys()].sort()).toEqual(ids);
    expect(readFileSync(join(place.path, 'meet.scores.csv'), 'utf8').split('\n')).toHaveLength(10);
  });

  it('a lock left by a killed process is taken over, and the row is written', async () => {
    const { meet, log } = newPlace();
    mkdirSync(`${log}.lock`);
    const old = new Date(Date.now() - 10_000);
    utimesSync(`${log}.lock`, old, old);
    await record(meet, { gymnast: 'g00', apparatus: 'FX', score: '13.500' });
    expect(scored(meet).get('g00')).toBe(13500);
  });

  it('after a torn row the next one stands, and the torn one never counts', async () => {
    const { meet, log } = newPlace();
    await record(meet, { gymnast: 'g00', apparatus: 'FX', score: '13.500' });
    appendFileSync(log, 'g01,FX,13.6');
    expect(scored(meet).has('g01')).toBe(false);
    await record(meet, { gymnast: 'g02', apparatus: 'FX', score: '13.700' });
    expect([...scored(meet).keys()].sort()).toEqual(['g00', 'g02']);
    expect(readFileSync(log, 'utf8')).toContain(`g01,FX,13.6${SET_ASIDE}\n`);
  });

  it('a log torn in its first line begins anew', async () => {
    for (const cut of [1, 7, LOG_HEADER.length - 1]) {
      const { meet, log } = newPlace();
      writeFileSync(log, LOG_HEADER.slice(0, cut));
      await record(meet, { gymnast: 'g00', apparatus: 'FX', score: '13.500' });
      expect(scored(meet).get('g00')).toBe(13500);
      place.clean();
    }
    newPlace();
  });

  it('a log begun by hand is continued in its own manner', async () => {
    const { meet, log } = newPlace();
    writeFileSync(log, 'score;gymnast;apparatus\r\n13,5;g00;FX');
    await record(meet, { gymnast: 'g01', apparatus: 'FX', score: '13,6' });
    expect(readFileSync(log, 'utf8')).toBe(
      'score;gymnast;apparatus\r\n13,5;g00;FX\r\n13.600;g01;FX\r\n',
    );
    const refused = run(['record', 'g02', 'FX', '13.5', '--d', '5.0', '--meet', meet]);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('no column for d');
    expect(scored(meet).size).toBe(2);
  });

  it('a full disk is said, with exit code 3, and leaves no half row', (context) => {
    newPlace();
    const disk = join(place.path, 'disk');
    mkdirSync(disk);
    const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', disk]);
    if (mounted.status !== 0) return context.skip('only root can make a small disk');
    try {
      const meet = join(disk, 'meet.yaml');
      const log = join(disk, 'meet.scores.csv');
      writeFileSync(meet, MEET);
      // The log ends where a page ends, so that the next byte needs a page that is not there.
      writeFileSync(log, `${LOG_HEADER}\n${'\n'.repeat(4096 - LOG_HEADER.length - 1)}`);
      const before = readFileSync(log, 'utf8');
      spawnSync('sh', ['-c', `cat /dev/zero > ${join(disk, 'full')} 2>/dev/null`]);
      const ran = run(['record', 'g00', 'FX', '13.500', '--meet', meet]);
      expect(ran.code).toBe(3);
      expect(ran.err).toContain('the disk is full');
      expect(readFileSync(log, 'utf8')).toBe(before);
    } finally {
      spawnSync('umount', [disk]);
    }
  });

  it('a log that is a folder is said, with exit code 2 or 3', () => {
    const { meet, log } = newPlace();
    mkdirSync(log);
    const ran = run(['record', 'g00', 'FX', '13.500', '--meet', meet]);
    expect([2, 3]).toContain(ran.code);
    expect(ran.err).toContain('folder');
  });

  const readOnly = existsSync('/sys/kernel');
  it.runIf(readOnly)(
    `a log where nothing may be written is said, with exit code 3${readOnly ? '' : ' (skipped: no such place here)'}`,
    () => {
      const { meet, log } = newPlace();
      symlinkSync('/sys/kernel/no-such-log.csv', log);
      const ran = run(['record', 'g00', 'FX', '13.500', '--meet', meet]);
      expect(ran.code).toBe(3);
      expect(ran.err).toContain('nothing was recorded');
    },
  );
});

describe('files that are not what they should be', () => {
  it('a file far too large is refused at once, however it is made', () => {
    const { meet, log } = newPlace();
    writeFileSync(log, `gymnast,apparatus,score\n${'x'.repeat(20 * 1024 * 1024)}`);
    const ran = run(['standings', '--meet', meet]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('larger than');
  });

  it.runIf(existsSync('/dev/zero'))('a file without an end is refused', () => {
    newPlace();
    const ran = run(['standings', '--meet', '/dev/zero']);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('larger than');
  });

  it('names within names that grow without end are refused', () => {
    const { meet } = newPlace();
    const bomb = Array.from(
      { length: 9 },
      (_, i) => `a${i + 1}: &a${i + 1} [${Array(9).fill(`*a${i}`).join(', ')}]`,
    );
    writeFileSync(meet, `a0: &a0 x\n${bomb.join('\n')}\n`);
    const ran = run(['check', '--meet', meet]);
    expect(ran.code).toBe(2);
    expect(ran.out).toContain('more values than a meet can have');
  });

  it('words that JavaScript keeps for itself are ids like any other', () => {
    const { meet, log } = newPlace();
    const ids = ['__proto__', 'constructor', 'toString'];
    writeFileSync(
      meet,
      `discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: FX }]\nranges: r.yaml\ngymnasts: [${ids.map((id) => `{ id: ${id} }`).join(', ')}]\n`,
    );
    const range = '{ FX: { low: 13.000, likely: 13.500, high: 14.000, falls: 0 } }';
    writeFileSync(join(place.path, 'r.yaml'), ids.map((id) => `${id}: ${range}\n`).join(''));
    writeFileSync(log, `gymnast,apparatus,score\n__proto__,FX,13.500\n`);
    const { rows } = standings(openMeet(meet));
    expect(rows.map((r) => [r.id, r.projected])).toEqual([
      ['__proto__', 13500],
      ['constructor', 13500],
      ['toString', 13500],
    ]);
  });

  it('what could take a terminal over is never sent to it', () => {
    const { meet, log } = newPlace();
    const evil = '\u001b]0;owned\u0007\u001b[2J\u202e\u009b31m';
    writeFileSync(meet, `${MEET.replace('id: g00', `id: g00, name: "${'A\u202eB'}"`)}`);
    writeFileSync(log, `gymnast,apparatus,score,note\ng00,FX,13.500,${evil}\n${evil},FX,1\n`);
    for (const args of [
      ['check', '--meet', meet],
      ['standings', '--meet', meet],
      ['standings', '--meet', meet, '--json'],
      ['check', '--meet', meet, '--json'],
      ['needs', evil, '--meet', 'docs/examples/harbour.yaml'],
      ['needs', evil, '--meet', 'docs/examples/harbour.yaml', '--json'],
      [evil],
      ['standings', `--${evil}`],
      ['standings', '--contest', evil, '--meet', 'docs/examples/harbour.yaml'],
    ]) {
      const { out, err } = run(args);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what must not be there.
      expect(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/.test(out + err)).toBe(false);
    }
  });

  it('new never writes over a file', () => {
    const { meet } = newPlace();
    const ran = run(['new', '--meet', meet]);
    expect(ran.code).toBe(2);
    expect(readFileSync(meet, 'utf8')).toBe(MEET);
  });
});
