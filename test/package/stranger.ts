/** The package as a stranger gets it: packed as for publishing, installed into an empty project. */
import { execFile } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Ran, ROOT } from '../support/cli.js';
import { runFolder } from '../support/run-folder.js';

export interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly bin: Readonly<Record<string, string>>;
  readonly exports: Readonly<Record<string, unknown>>;
  readonly dependencies: Readonly<Record<string, string>>;
}

export interface Packed {
  readonly tarball: string;
  /** Where it is unpacked: `…/node_modules/lastrotation`. */
  readonly path: string;
  /** Relative to `path`, with forward slashes. */
  readonly files: readonly string[];
  readonly manifest: Manifest;
}

let packed: Promise<Packed> | null = null;

/** What is built, packed once for all test files of a process, and not built again. */
export function pack(): Promise<Packed> {
  packed ??= packAnew();
  return packed;
}

async function packAnew(): Promise<Packed> {
  const home = mkdtempSync(join(runFolder(), 'package-'));
  await well('npm', ['pack', '--ignore-scripts', '--pack-destination', home], ROOT);
  const tarball = readdirSync(home).find((name) => name.endsWith('.tgz'));
  if (tarball === undefined) throw new Error('npm pack has packed nothing');
  const path = join(home, 'node_modules', 'lastrotation');
  mkdirSync(path, { recursive: true });
  await well('tar', ['-xzf', join('..', '..', tarball), '--strip-components=1'], path);
  return {
    tarball: join(home, tarball),
    path,
    files: filesIn(path),
    manifest: JSON.parse(readFileSync(join(path, 'package.json'), 'utf8')) as Manifest,
  };
}

/** Bea has 13.500 on floor, Ada is still to come, and ties are shared. */
export const MEET = {
  yaml: `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
usual: { FX: { low: 12.500, likely: 13.200, high: 13.800, falls: 0.05 } }
gymnasts:
  - { id: bea, name: Bea Birch }
  - { id: ada, name: Ada Ashdown }
`,
  log: 'gymnast,apparatus,score\nbea,FX,13.500\n',
} as const;

/** What Ada needs to win: 13.500 is level, and 13.533 the next score three judges can give. */
export const ADA_TO_WIN = { level: '13.500', ahead: '13.501', onGrid: '13.533', mark: 'bea' };

export interface Project {
  readonly path: string;
  /** Why the package could not be installed: there is no network. */
  readonly unreachable: string | null;
  readonly run: (command: string, ...args: readonly string[]) => Promise<Ran>;
  readonly write: (name: string, text: string) => void;
  readonly clean: () => void;
}

/** A project of its own with the package installed, which is done once, and a meet to try it on. */
export async function project(packed: Packed, manifest: object): Promise<Project> {
  installed ??= installAnew(packed.tarball);
  const { home, unreachable } = await installed;
  if (unreachable !== null) console.warn(`Skipped: ${unreachable}.`);
  const { path, clean } = emptyFolder();
  cpSync(home, path, { recursive: true, verbatimSymlinks: true });
  const write = (name: string, text: string) => writeFileSync(join(path, name), text);
  const asInstalled = JSON.parse(readFileSync(join(path, 'package.json'), 'utf8'));
  write('package.json', JSON.stringify({ ...asInstalled, ...manifest }));
  write('meet.yaml', MEET.yaml);
  write('meet.scores.csv', MEET.log);
  const run = (command: string, ...args: readonly string[]) => start(command, args, path);
  return { path, unreachable, run, write, clean };
}

interface Installed {
  readonly home: string;
  readonly unreachable: string | null;
}

let installed: Promise<Installed> | null = null;

async function installAnew(tarball: string): Promise<Installed> {
  const home = mkdtempSync(join(runFolder(), 'stranger-'));
  writeFileSync(join(home, 'package.json'), JSON.stringify({ private: true }));
  return { home, unreachable: await install(tarball, home) };
}

const NO_NETWORK =
  /\b(ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|EHOSTUNREACH|ERR_SOCKET_TIMEOUT)\b/;

async function install(tarball: string, home: string): Promise<string | null> {
  const quiet = ['--prefer-offline', '--no-audit', '--no-fund'];
  const hasty = ['--fetch-retries=1', '--fetch-retry-mintimeout=500', '--fetch-timeout=30000'];
  const done = await start('npm', ['install', ...quiet, ...hasty, tarball], home);
  if (done.code === 0) return null;
  const [code] = NO_NETWORK.exec(done.err) ?? [];
  if (code === undefined) throw new Error(`npm install failed:\n${done.err}`);
  return `no network to install the package's dependencies from (${code})`;
}

async function well(command: string, args: readonly string[], cwd: string): Promise<void> {
  const done = await start(command, args, cwd);
  if (done.code !== 0) throw new Error(`${command} ${args.join(' ')}:\n${done.err}`);
}

function start(command: string, args: readonly string[], cwd: string): Promise<Ran> {
  const options = { cwd, env: ownEnvironment(), shell: process.platform === 'win32' };
  return new Promise((resolve) => {
    execFile(command, args, options, (error, out, err) => {
      const code = error === null ? 0 : typeof error.code === 'number' ? error.code : null;
      resolve({ code, out, err: code === null ? `${error}\n${err}` : err });
    });
  });
}

/**
 * Without what the npm that runs the tests says about this project and not about the stranger's;
 * and npx runs what is installed, or nothing.
 */
function ownEnvironment(): NodeJS.ProcessEnv {
  const ours = /^(npm_(package|lifecycle|command|config_local_prefix)|INIT_CWD$|LASTROTATION_)/;
  const env = Object.entries(process.env).filter(([name]) => !ours.test(name));
  const plain = { NO_COLOR: '1', FORCE_COLOR: '0', COLUMNS: '100', npm_config_yes: 'false' };
  return { ...Object.fromEntries(env), ...plain };
}

function emptyFolder(): { path: string; clean: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'lastrotation-package-'));
  return { path, clean: () => rmSync(path, { recursive: true, force: true }) };
}

function filesIn(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .map((name) => name.replaceAll('\\', '/'))
    .sort();
}
