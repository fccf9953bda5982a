/** A command in a real terminal, typed at as a person would. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { COMMAND, ROOT } from './cli.js';

/** In milliseconds; only a desk that hangs takes longer. */
const MOST_WAIT = 120_000;

/** The system's own first: what a version manager puts before it starts many times as slowly. */
export const PYTHON = ['/usr/bin/python3'].find(existsSync) ?? 'python3';

export const HAS_TERMINAL =
  spawnSync(PYTHON, ['-c', 'import pty, os; os.waitstatus_to_exitcode']).status === 0;

export interface Terminal {
  /** Types a line, and gives what is shown up to the next prompt or question. */
  readonly type: (line: string) => Promise<string>;
  /** Types without waiting. */
  readonly keys: (text: string) => void;
  /** Waits until something is shown, and a prompt again, and gives everything shown since the last line typed. */
  readonly shows: (text: string) => Promise<string>;
  readonly kill: () => void;
  readonly ended: Promise<number | null>;
}

export async function openTerminal(args: readonly string[], cwd: string): Promise<Terminal> {
  const child = spawn(
    PYTHON,
    [join(ROOT, 'test/support/terminal.py'), process.execPath, COMMAND, ...args],
    { cwd, env: { ...process.env, NO_COLOR: '1', TERM: 'xterm' } },
  );
  let shown = '';
  let pid = '';
  let from = 0;
  child.stdout.setEncoding('utf8').on('data', (data: string) => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: what moves the cursor is no text.
    shown += data.replace(/\u001b\[[0-9;?]*[A-Za-z]/g, '').replaceAll('\r', '');
  });
  child.stderr.on('data', (data) => {
    pid += String(data);
  });
  child.stdin.on('error', () => undefined);
  const until = async (what: string, done: (text: string) => boolean) => {
    for (const limit = Date.now() + MOST_WAIT; !done(shown.slice(from)); ) {
      if (Date.now() > limit) throw new Error(`${what}; shown: ${shown.slice(from)}`);
      await new Promise((resolve) => setTimeout(resolve, 2));
    }
    return shown.slice(from);
  };
  const asks = (text: string) => /› $|\(y\/n\) $/.test(text);
  await until('no prompt', asks);
  return {
    type: (line) => {
      from = shown.length;
      child.stdin.write(`${line}\r`);
      // What the desk says unasked may come before the line is read.
      return until(`no prompt after ${line}`, (text) => text.includes(`${line}\n`) && asks(text));
    },
    keys: (text) => {
      child.stdin.write(text);
    },
    shows: (text) => until(`${text} is not shown`, (now) => now.includes(text) && asks(now)),
    kill: () => process.kill(Number(pid), 'SIGKILL'),
    ended: new Promise((resolve) => child.on('close', resolve)),
  };
}
