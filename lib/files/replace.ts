/** Writing a file whole and at once: whoever reads it sees the old one or the new one. */
import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { LastRotationError } from '../error.js';
import { reasonOf } from './reasons.js';

/** Throws, and leaves the file as it was, when it cannot be written. */
export function replaceFile(path: string, text: string): void {
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    writeSynced(beside, 'w', text);
    renameSync(beside, path);
  } catch (error) {
    removeIfAny(beside);
    const { message, mend } = reasonOf(error);
    throw new LastRotationError(`could not be written: ${message}`, {
      kind: 'writing',
      code: 'not-written',
      file: path,
      mend: `${mend}, or name a file you may write`,
    });
  }
}

function removeIfAny(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // Where its folder is none any more, it is gone too.
  }
}

/** Writes a whole file, all of it on the disk when this returns. Throws what the system says. */
export function writeSynced(path: string, flag: 'w' | 'wx', text: string): void {
  const file = openSync(path, flag);
  try {
    writeFileSync(file, text);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}
