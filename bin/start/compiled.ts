/**
 * What Node has compiled of the command, kept from one run to the next in a folder of the user's own. It saves
 * a third of a short answer's time, and is never needed: whatever is wrong with it, the command is compiled anew.
 *
 * It is code. So only what nobody else can have written is taken: a file of the user's in a folder of the
 * user's, both closed to others. And it is only taken whole: Node itself looks at little more than the length.
 */
import { createHash } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fstatSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  type Stats,
  writeFileSync,
} from 'node:fs';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';

/** A file of compiled code. */
export interface Place {
  readonly folder: string;
  readonly name: string;
}

/** Bytes of the digest in front of what is kept. */
const DIGEST = 32;

/** What no version has written for so long is removed, in milliseconds. */
const OLD = 60 * 24 * 3600 * 1000;

/**
 * Where the code for these words of a command line is kept, null for nowhere. Each command has a file of its own,
 * with what it runs through and no more, for each version of the command and of Node.
 */
export function placeFor(code: string, [, , word = '']: readonly string[]): Place | null {
  const { env, version, arch, versions } = process;
  if (env.NODE_DISABLE_COMPILE_CACHE || versions.bun || versions.deno) return null;
  const [, build] = /^\/\/ (\w{16})\n/.exec(code.slice(0, 32)) ?? [];
  const folder = folderOf(env);
  if (build === undefined || folder === null) return null;
  const command = /^[a-z]{1,16}$/.test(word) ? word : 'help';
  return { folder, name: `${build}-${version}-${arch}-${command}` };
}

/** The folder in which the programs of this user keep such things; null where there is none. */
function folderOf(env: NodeJS.ProcessEnv): string | null {
  const given = env.XDG_CACHE_HOME ?? '';
  const base = isAbsolute(given) ? given : usualFolder(env);
  return isAbsolute(base) ? join(base, 'lastrotation') : null;
}

function usualFolder({ LOCALAPPDATA = '' }: NodeJS.ProcessEnv): string {
  if (process.platform === 'win32') return LOCALAPPDATA;
  try {
    return join(homedir(), process.platform === 'darwin' ? 'Library/Caches' : '.cache');
  } catch {
    // A user whom the system does not know has no home.
    return '';
  }
}

/** What is kept, or nothing where there is nothing that can be trusted. */
export function keptCompiled({ folder, name }: Place): Buffer | undefined {
  let file: number | null = null;
  try {
    if (!isOurs(lstatSync(folder))) return undefined;
    const path = join(folder, name);
    // A pipe of that name would never open.
    if (!lstatSync(path).isFile()) return undefined;
    file = openSync(path, 'r');
    if (!isOurs(fstatSync(file))) return undefined;
    const kept = readFileSync(file);
    const data = kept.subarray(DIGEST);
    return digestOf(data).equals(kept.subarray(0, DIGEST)) ? data : undefined;
  } catch {
    return undefined;
  } finally {
    if (file !== null) closeSync(file);
  }
}

/** Keeps it, whole or not at all: another process may be reading, or doing the same. */
export function keepCompiled({ folder, name }: Place, compiled: () => Buffer): void {
  const path = join(folder, name);
  const made = `${path}.${process.pid}`;
  const isWritten = succeeds(() => {
    // One after the other: in a place that takes no folders, such as /proc, Node tries for ever to make several.
    for (const path of [dirname(folder), folder]) {
      if (!existsSync(path)) mkdirSync(path, { mode: 0o700 });
    }
    if (!isOurs(lstatSync(folder))) return;
    const data = compiled();
    writeFileSync(made, Buffer.concat([digestOf(data), data]), { flag: 'wx', mode: 0o600 });
    renameSync(made, path);
    removeOld(folder);
  });
  if (!isWritten) succeeds(() => rmSync(made, { force: true }));
}

function removeOld(folder: string): void {
  for (const name of readdirSync(folder)) {
    if (!/^\w{16}-v[^/]*-[a-z]{1,16}(\.\d+)?$/.test(name)) continue;
    const path = join(folder, name);
    if (Date.now() - lstatSync(path).mtimeMs > OLD) rmSync(path, { force: true });
  }
}

/** Whether nobody but this user can have written it. Where there are no users, the folder is theirs by its place. */
function isOurs({ uid, mode }: Stats): boolean {
  const { geteuid } = process;
  return geteuid === undefined || (uid === geteuid() && (mode & 0o022) === 0);
}

function digestOf(data: Uint8Array): Buffer {
  return createHash('sha256').update(data).digest();
}

/** Nothing about what is kept is worth a word to who asked something else. */
function succeeds(what: () => void): boolean {
  try {
    what();
    return true;
  } catch {
    return false;
  }
}
