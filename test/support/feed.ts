/** A feed that is written to while its answers are read. */
import { spawn } from 'node:child_process';
import { COMMAND } from './cli.js';

export interface Feed {
  /** Every whole line it has answered so far. */
  readonly answers: () => string[];
  /** All that it has said on standard error. */
  readonly errors: () => string;
  readonly write: (text: string) => void;
  readonly end: () => void;
  readonly kill: () => void;
  /** The exit code; null when it was killed. */
  readonly ended: Promise<number | null>;
}

export function openFeed(meet: string): Feed {
  const child = spawn(process.execPath, [COMMAND, 'live', '--meet', meet]);
  let out = '';
  child.stdout.setEncoding('utf8').on('data', (data: string) => {
    out += data;
  });
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (data: string) => {
    err += data;
  });
  // What is written to a killed process goes nowhere.
  child.stdin.on('error', () => undefined);
  return {
    answers: () => out.split('\n').slice(0, -1),
    errors: () => err,
    write: (text) => child.stdin.write(text),
    end: () => child.stdin.end(),
    kill: () => child.kill('SIGKILL'),
    ended: new Promise((resolve) => child.on('close', resolve)),
  };
}
