/** Named pipes where files should be: to open one would wait for ever. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { COMMAND, folder } from '../support/cli.js';

const MEET = 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n';

const place = folder();
afterAll(place.clean);
const at = (name: string) => join(place.path, name);
const hasPipes = spawnSync('mkfifo', [at('pipe')]).status === 0;

/** In milliseconds; only a command that hangs takes longer. */
const MOST_WAIT = 60_000;

/** Runs the command; killed, and the code null, when it hangs. */
function run(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [COMMAND, ...args], {
    encoding: 'utf8',
    timeout: MOST_WAIT,
  });
  return { code: status, out: stdout, err: stderr };
}

beforeAll(() => {
  symlinkSync(at('pipe'), at('link.yaml'));
  mkdirSync(at('log'));
  spawnSync('mkfifo', [at('log/meet.scores.csv')]);
  for (const name of ['log/meet.yaml', 'sound.yaml']) writeFileSync(at(name), MEET);
  writeFileSync(at('ranges.yaml'), `${MEET}ranges: pipe\n`);
});

describe.runIf(hasPipes)('a named pipe is said to be no ordinary file', () => {
  it.each([
    ['as the meet file', ['standings', '--meet', 'pipe']],
    ['behind a link', ['standings', '--meet', 'link.yaml']],
    ['as the log', ['standings', '--meet', 'log/meet.yaml']],
    ['as the log that a score goes to', ['record', 'ann', 'VT', '13.5', '--meet', 'log/meet.yaml']],
    ['as the ranges file', ['standings', '--meet', 'ranges.yaml']],
    ['as templates', ['graphics', '--templates', 'pipe', '--meet', 'sound.yaml']],
    ['as a start list', ['new', 'pipe', '--meet', 'new.yaml']],
    ['as a results history', ['ranges', 'pipe']],
  ])('%s', (_, words) => {
    const files = /\.yaml$|^pipe$/;
    const { code, out, err } = run(...words.map((w) => (files.test(w) ? at(w) : w)));
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('is a named pipe, not a file\n  name a file');
  });

  it('one without a name, as a shell hands it on, is read to its end', async () => {
    const child = spawn('sh', [
      '-c',
      `printf '${MEET.replaceAll('\n', '\\n')}' | "${process.execPath}" "${COMMAND}" check --json --meet /dev/stdin`,
    ]);
    let out = '';
    child.stdout.on('data', (data) => {
      out += String(data);
    });
    await new Promise((resolve) => child.on('close', resolve));
    expect(JSON.parse(out)).toMatchObject({ sound: true });
  });

  it('in the library too', () => {
    expect(() => openMeet(at('pipe'))).toThrow('is a named pipe');
  });
});
