/** A shell in a real terminal, in which `lastrotation` is the command as built. */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { COMMAND, ROOT } from './cli.js';
import { PYTHON } from './terminal.js';

/** In milliseconds; only a shell that hangs takes longer. */
const MOST_WAIT = 60_000;

export function hasShell(name: string): boolean {
  return spawnSync(name, ['--version']).status === 0;
}

/** The environment of a shell in a folder, with the command on its path. */
export function shellEnv(folder: string, more: Record<string, string> = {}): NodeJS.ProcessEnv {
  const bin = join(folder, 'bin');
  mkdirSync(bin, { recursive: true });
  const command = join(bin, 'lastrotation');
  writeFileSync(command, `#!/bin/sh\nexec "${process.execPath}" "${COMMAND}" "$@"\n`);
  chmodSync(command, 0o755);
  const { LASTROTATION_MEET: _, ...env } = process.env;
  const path = `${bin}${delimiter}${env.PATH ?? ''}`;
  // A shell that keeps no history writes nothing when it ends.
  const shell = { HOME: folder, HISTFILE: '', TERM: 'xterm' };
  return { ...env, PATH: path, ...shell, NO_COLOR: '1', ...more };
}

export interface Shell {
  /** Presses keys, and gives what is shown from then on once it contains a text. */
  readonly press: (keys: string, until: string) => Promise<string>;
  /** Leaves the shell, and waits until it is gone. */
  readonly end: () => Promise<void>;
}

export function openShell(words: readonly string[], cwd: string, env: NodeJS.ProcessEnv): Shell {
  const child = spawn(PYTHON, [join(ROOT, 'test/support/terminal.py'), ...words], { cwd, env });
  let shown = '';
  child.stdout.setEncoding('utf8').on('data', (data: string) => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: what moves the cursor is no text.
    shown += data.replace(/\u001b[[\]][0-9;?]*[A-Za-z]|[\r\u0007]/g, '');
  });
  child.stdin.on('error', () => undefined);
  return {
    press: async (keys, until) => {
      const from = shown.length;
      child.stdin.write(keys);
      for (const limit = Date.now() + MOST_WAIT; !shown.slice(from).includes(until); ) {
        if (Date.now() > limit) throw new Error(`no ${until} in: ${shown.slice(from)}`);
        await new Promise((resolve) => setTimeout(resolve, 5));
      }
      return shown.slice(from);
    },
    end: async () => {
      const gone = new Promise((resolve) => child.once('close', resolve));
      child.stdin.write('\u0015exit\r');
      child.stdin.end();
      setTimeout(() => child.kill('SIGKILL'), 2000).unref();
      await gone;
    },
  };
}
