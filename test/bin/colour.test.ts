/**
 * Colours: by the option, else by NO_COLOR (no-color.org: present and not empty, and overridden by an option), else
 * by FORCE_COLOR, else on a terminal only.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMAND, COVE, ROOT, run } from '../support/cli.js';
import { HAS_TERMINAL, PYTHON } from '../support/terminal.js';

const BOARD = ['standings', '--meet', COVE];

type Env = Record<string, string>;

/** Whether what is printed into a pipe has colours. */
function isColouredInPipe(env: Env, more: readonly string[]): boolean {
  const { code, out } = run([...BOARD, ...more], {
    env: { NO_COLOR: '', FORCE_COLOR: '', TERM: 'xterm', ...env },
  });
  return colouredIn(code, out);
}

/** What stands after each of several commands in one terminal, with how it ended. */
const END = 'ended with';

/** Whether what is printed at a terminal has colours, in several cases. */
function areColouredAtTerminal(
  cases: readonly (readonly [Env, string[], ...unknown[]])[],
): boolean[] {
  const quoted = (word: string) => `'${word.replaceAll("'", "'\\''")}'`;
  const lines = cases.map(([env, more]) => {
    const set = Object.entries({ TERM: 'xterm', ...env }).map(
      ([name, value]) => `${name}=${value}`,
    );
    const command = ['env', ...set, process.execPath, COMMAND, ...BOARD, ...more];
    return `${command.map(quoted).join(' ')}; echo ${quoted(END)} $?`;
  });
  const { NO_COLOR: _, FORCE_COLOR: __, LASTROTATION_MEET: ___, ...rest } = process.env;
  const terminal = join(ROOT, 'test/support/terminal.py');
  const { stdout } = spawnSync(PYTHON, [terminal, 'sh', '-c', lines.join('\n')], {
    cwd: ROOT,
    env: rest,
    input: '',
    encoding: 'utf8',
  });
  const shown = stdout.split(new RegExp(`${END} (\\d+)\\s+`));
  return cases.map((_case, k) => colouredIn(Number(shown[2 * k + 1]), shown[2 * k] ?? ''));
}

function colouredIn(code: number | null, text: string): boolean {
  expect([code, text.includes('Tanakura')]).toEqual([0, true]);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a colour begins so.
  return /\u001b\[\d/.test(text);
}

/** What says no, or yes, or nothing, so that it is as the place would have it. */
const CASES: readonly [env: Env, more: string[], says: 'no' | 'yes' | 'nothing'][] = [
  [{}, [], 'nothing'],
  [{ TERM: 'dumb' }, [], 'no'],
  [{ NO_COLOR: '1' }, [], 'no'],
  [{ NO_COLOR: '' }, [], 'nothing'],
  [{ FORCE_COLOR: '1' }, [], 'yes'],
  [{ FORCE_COLOR: '3', TERM: 'dumb' }, [], 'yes'],
  [{ FORCE_COLOR: '0' }, [], 'no'],
  [{ FORCE_COLOR: 'false' }, [], 'no'],
  [{ FORCE_COLOR: '' }, [], 'nothing'],
  [{ NO_COLOR: '1', FORCE_COLOR: '1' }, [], 'no'],
  [{}, ['--no-color'], 'no'],
  [{}, ['--color'], 'yes'],
  [{ FORCE_COLOR: '1' }, ['--no-color'], 'no'],
  [{ NO_COLOR: '1' }, ['--color'], 'yes'],
  [{}, ['--color', '--no-color'], 'no'],
];

// A terminal has colours by itself and a pipe has none: a no shows at a terminal, and a yes in a pipe.
describe('what is coloured', () => {
  it.skipIf(!HAS_TERMINAL)('at a terminal, unless somebody says no', () => {
    const cases = CASES.filter(([, , says]) => says !== 'yes');
    const coloured = areColouredAtTerminal(cases);
    const told = cases.map(([env, more], k) => ({ env, more, isColoured: coloured[k] }));
    expect(told).toEqual(
      cases.map(([env, more, says]) => ({ env, more, isColoured: says === 'nothing' })),
    );
  });

  it.each(CASES.filter(([, , says]) => says !== 'no'))(
    'into a pipe: %j %j says %s',
    (env, more, says) => expect(isColouredInPipe(env, more)).toBe(says === 'yes'),
  );
});

it('JSON has none, whatever is asked', () => {
  const { out } = run([...BOARD, '--json', '--color'], { env: { FORCE_COLOR: '1' } });
  expect(JSON.parse(out)).toMatchObject({ contest: 'all-around' });
});

it('every command takes the options, before its name and after, and says so', () => {
  expect(run(['--no-color', ...BOARD]).code).toBe(0);
  for (const command of ['needs', 'new', 'completion']) {
    const { out } = run([command, '--help']);
    expect(out).toContain('--no-color');
    expect(out).toContain('--color ');
  }
});
