/** The command as built, run as a user runs it. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { keptCommand, type RanAtCost } from './kept.js';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const COMMAND = join(ROOT, 'dist/cli/lastrotation.cjs');
export const EXAMPLES = join(ROOT, 'docs/examples');

/**
 * A final of six in the third of four rotations, for whatever takes no large field: no answer about it takes
 * long. Those in it are in the demo meet too, with the same scores.
 */
export const COVE = 'test/support/cove.yaml';
/** Its files, for a folder of one's own. */
export const COVE_FILES = ['cove.yaml', 'cove.scores.csv'].map((f) =>
  join(ROOT, 'test/support', f),
);

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

interface RunOptions {
  readonly cwd?: string;
  readonly env?: Record<string, string>;
  readonly input?: string;
}

/** What the command said of meets that no test changes: several ask the same. */
const known = new Map<string, Ran>();

/** Commands that only read, asked about nothing but a file of the examples or the final of six. */
const READING = [
  ...['standings', 'needs', 'outcomes', 'chances', 'suppose', 'claim', 'story', 'check'],
  'graphics',
];
const isUnchanged = (arg: string) => arg.startsWith('docs/examples/') || arg === COVE;
const isHelp = (args: readonly string[]) => args[0] === 'help' || args.includes('--help');

/** Runs the command in a folder; colours and widths do not depend on who runs the tests. */
export function run(args: readonly string[], options: RunOptions = {}): Ran {
  const isKept =
    options.cwd === undefined &&
    ((READING.includes(args[0] ?? '') && args.some(isUnchanged)) || isHelp(args)) &&
    !args.some((arg) => /^--(svg|out|history|follow|templates)/.test(arg));
  if (!isKept) return ranNow(args, options);
  const key = JSON.stringify([args, options]);
  const found = known.get(key) ?? ranNow(args, options);
  known.set(key, found);
  return found;
}

/** These go on until they are stopped, or are answered before the command is there. */
const ALONE = ['serve', '--version'];
let kept: ReturnType<typeof keptCommand> | null = null;

function ranNow(args: readonly string[], options: RunOptions): Ran {
  const ran = ALONE.includes(args[0] ?? '') ? null : ranAtCost(args, options);
  if (ran !== null) return { code: ran.code, out: ran.out, err: ran.err };
  const done = spawnSync(process.execPath, [COMMAND, ...args], {
    ...surroundings(options),
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

/** Runs the command and says what it cost; null where it took the process with it. */
export function ranAtCost(args: readonly string[], options: RunOptions = {}): RanAtCost | null {
  kept ??= keptCommand(COMMAND);
  return kept({ args, ...surroundings(options) });
}

/** The folder, the environment and the input of a run. */
function surroundings(options: RunOptions) {
  const { LASTROTATION_MEET: _, ...own } = process.env;
  const env = { ...own, NO_COLOR: '1', COLUMNS: '100', ...options.env };
  return { cwd: options.cwd ?? ROOT, env, input: options.input ?? '' };
}

/** Runs with --json and reads the answer. */
export function answer<T = Record<string, unknown>>(
  args: readonly string[],
  options: { cwd?: string } = {},
): T {
  const ran = run([...args, '--json'], options);
  if (ran.err !== '') throw new Error(ran.err);
  return JSON.parse(ran.out) as T;
}

/** A folder of its own, with copies of some files, of the examples where no path is given; removed by `clean`. */
export function folder(...examples: readonly string[]): { path: string; clean: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'lastrotation-'));
  for (const name of examples) cpSync(resolve(EXAMPLES, name), join(path, basename(name)));
  return { path, clean: () => rmSync(path, { recursive: true, force: true }) };
}
