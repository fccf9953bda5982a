/** Following files that others write. */
import { type FSWatcher, statSync, watch } from 'node:fs';
import { dirname } from 'node:path';

/** How often files are looked at where the system does not tell that they changed. */
const EVERY_MS = 50;

/**
 * Calls `changed` soon after one of the files is not what it was: written, replaced, new or gone. Returns
 * what ends it. Network folders often tell nothing, so the files are looked at as well.
 * @param paths - The files, which need not be there yet.
 * @param changed - Called without saying which of them it was.
 * @returns Ends it.
 * @example
 * const end = follow(['harbour.scores.csv'], () => console.log('a new score'));
 * end() // → undefined
 */
export function follow(paths: readonly string[], changed: () => void): () => void {
  let seen = lookOf(paths);
  const look = () => {
    const now = lookOf(paths);
    if (now === seen) return;
    seen = now;
    changed();
  };
  const folders = [...new Set(paths.map((p) => dirname(p)))];
  const watchers = folders.flatMap((folder) => watching(folder, look));
  const timer = setInterval(look, EVERY_MS);
  return () => {
    clearInterval(timer);
    for (const watcher of watchers) watcher.close();
  };
}

/** The folder, since a file that is replaced is another file. */
function watching(folder: string, look: () => void): FSWatcher[] {
  try {
    const watcher = watch(folder, look);
    watcher.on('error', () => watcher.close());
    return [watcher];
  } catch {
    return [];
  }
}

/** Changes whenever somebody has written to one of the files, or changed who may. */
export function lookOf(paths: readonly string[]): string {
  return paths.map(lookAt).join('\n');
}

function lookAt(path: string): string {
  try {
    const { ino, size, mtimeNs, ctimeNs } = statSync(path, { bigint: true });
    return `${ino} ${size} ${mtimeNs} ${ctimeNs}`;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code ?? '';
  }
}
