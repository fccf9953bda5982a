/**
 * Colours: by the option, else by NO_COLOR (no-color.org: present and not empty, and overridden by an option), else
 * by FORCE_COLOR, else on a terminal only.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMAND, ROOT, run } from '../support/cli.js';
import { HAS_TERMINAL } from '../support/terminal.js';

const BOARD = ['standings', '--meet', 'docs/examples/harbour.yaml'];

type Env = Record<string, string>;

/** Whether what is printed has colours, at a terminal or into a pipe. */
function isColoured(where: 'terminal' | 'pipe', env: Env, more: readonly string[] = []): boolean {
  const { NO_COLOR: _, FORCE_COLOR: __, LASTROTATION_MEET: ___, ...rest } = process.env;
  const command = [process.execPath, COMMAND, ...BOARD, ...more];
  const words =
    where === 'pipe' ? command : ['python3', join(ROOT, 'test/support/terminal.py'), ...command];
  const [program = '', ...args] = words;
  const { stdout, status } = spawnSync(program, args, {
    cwd: ROOT,
    env: { ...rest, TERM: 'xterm', ...env },
    input: '',
    encoding: 'utf8',
  });
  expect([status, stdout.includes('Tanakura')]).toEqual([0, true]);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a colour begins so.
  return /\u001b\[\d/.test(stdout);
}

const CASES: readonly [env: Env, more: string[], terminal: boolean, pipe: boolean][] = [
  [{}, [], true, false],
  [{ TERM: 'dumb' }, [], false, false],
  [{ NO_COLOR: '1' }, [], false, false],
  [{ NO_COLOR: '' }, [], true, false],
  [{ FORCE_COLOR: '1' }, [], true, true],
  [{ FORCE_COLOR: '3', TERM: 'dumb' }, [], true, true],
  [{ FORCE_COLOR: '0' }, [], false, false],
  [{ FORCE_COLOR: 'false' }, [], false, false],
  [{ FORCE_COLOR: '' }, [], true, false],
  [{ NO_COLOR: '1', FORCE_COLOR: '1' }, [], false, false],
  [{}, ['--no-color'], false, false],
  [{}, ['--color'], true, true],
  [{ FORCE_COLOR: '1' }, ['--no-color'], false, false],
  [{ NO_COLOR: '1' }, ['--color'], true, true],
  [{}, ['--color', '--no-color'], false, false],
];

describe.each(CASES)('%j %j', (env, more, terminal, pipe) => {
  it.skipIf(!HAS_TERMINAL)(`at a terminal: ${terminal}`, () => {
    expect(isColoured('terminal', env, more)).toBe(terminal);
  });

  it(`into a pipe: ${pipe}`, () => {
    expect(isColoured('pipe', env, more)).toBe(pipe);
  });
});

it('JSON has none, whatever is asked', () => {
  const { out } = run([...BOARD, '--json', '--color'], { env: { FORCE_COLOR: '1' } });
  expect(JSON.parse(out)).toMatchObject({ contest: 'all-around' });
});

it('every command takes the options, before its name and after, and says so', () => {
  expect(run(['--no-color', ...BOARD]).code).toBe(0);
  for (const command of ['needs', 'check', 'new', 'ranges', 'serve', 'completion']) {
    const { out } = run([command, '--help']);
    expect(out).toContain('--no-color');
    expect(out).toContain('--color ');
  }
});
