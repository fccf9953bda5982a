/** What tells whether a file is the same file. */
import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { LastRotationError } from '../error.js';

const PIECE = 256 * 1024;

/**
 * The SHA-256 of the bytes of a file, in hexadecimal.
 * @param path - Any file.
 * @throws `file-missing`: it is not there, or cannot be read
 * @example
 * writeMadeFile('lines.txt', '', []);
 * sha256OfFile('lines.txt').slice(0, 8) // → 'e3b0c442'
 * sha256OfFile('nowhere.csv') // → throws file-missing
 */
export function sha256OfFile(path: string): string {
  const hash = createHash('sha256');
  try {
    const file = openSync(path, 'r');
    try {
      const piece = Buffer.alloc(PIECE);
      for (let count = 1; count > 0; ) {
        count = readSync(file, piece, 0, PIECE, null);
        hash.update(piece.subarray(0, count));
      }
    } finally {
      closeSync(file);
    }
  } catch {
    throw new LastRotationError('there is no such file, or it cannot be read', {
      kind: 'file',
      code: 'file-missing',
      file: path,
      mend: 'name a file that exists',
    });
  }
  return hash.digest('hex');
}
