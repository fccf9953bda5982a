/** A folder for what one run of the tests makes for several of its files; it goes when the run is over. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const NAME = 'LASTROTATION_RUN_FOLDER';

/** Before all tests, once, in the process that starts the others. */
export function setup(): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'lastrotation-tests-'));
  process.env[NAME] = folder;
  // What Node compiled of the command is kept there, and not in the home of whoever runs the tests.
  process.env.XDG_CACHE_HOME = folder;
  return () => rmSync(folder, { recursive: true, force: true });
}

export function runFolder(): string {
  const folder = process.env[NAME];
  if (folder === undefined) throw new Error(`${NAME} is not set: see vitest.config.ts`);
  return folder;
}
