/** A disk of a few pages that can be filled and emptied again, where this user may mount one. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';

export interface SmallDisk {
  readonly path: string;
  readonly fill: () => void;
  readonly free: () => void;
  readonly unmount: () => void;
}

/** Null where only somebody else may make one. */
export function smallDisk(folder: string): SmallDisk | null {
  const path = join(folder, 'disk');
  mkdirSync(path);
  const options = ['-t', 'tmpfs', '-o', 'size=128k', 'tmpfs', path];
  if (spawnSync('mount', options).status !== 0) return null;
  const ballast = join(path, 'ballast');
  return {
    path,
    fill: () => void spawnSync('sh', ['-c', `cat /dev/zero > '${ballast}' 2>/dev/null`]),
    free: () => rmSync(ballast, { force: true }),
    unmount: () => void spawnSync('umount', [path]),
  };
}
