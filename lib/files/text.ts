/** Reading a text file as it comes: any encoding people have, no more than is sensible. */
import { closeSync, lstatSync, openSync, readSync, realpathSync } from 'node:fs';
import { LastRotationError } from '../error.js';
import { TOOL_HEADERS } from '../meet/log.js';

export interface Text {
  readonly text: string;
  /** `western`: neither of the others, so read as the old Western code page; accents may be wrong. */
  readonly encoding: 'utf-8' | 'utf-16' | 'western';
}

const MEBIBYTE = 1024 * 1024;

/** Far more than anybody needs, little enough to read in a moment. */
export const LARGEST = {
  meet: 3 * MEBIBYTE,
  templates: MEBIBYTE,
  log: 16 * MEBIBYTE,
  /** Some hundred thousand routines. */
  history: 64 * MEBIBYTE,
} as const;

/** Reads a file; null when there is none. Throws when it cannot be read or is too large. */
export function readTextIfAny(path: string, most: number): Text | null {
  let bytes: Buffer;
  if (isNamedPipe(path)) throw unreadable(path, 'is a named pipe, not a file');
  try {
    bytes = readBytes(path, most);
  } catch (error) {
    if (isMissing(error)) return null;
    throw whyUnread(path, error);
  }
  return decode(bytes);
}

/** Whether the system says that there is no such file. */
export function isMissing(error: unknown): boolean {
  return (error as NodeJS.ErrnoException).code === 'ENOENT';
}

/** What else the system says of a file that was to be read, as an error of ours. */
export function whyUnread(path: string, error: unknown): LastRotationError {
  if (error instanceof LastRotationError) return error;
  const { code } = error as NodeJS.ErrnoException;
  const why = code === 'EISDIR' ? 'is a folder, not a file' : `cannot be read (${code ?? error})`;
  return unreadable(path, why);
}

function unreadable(file: string, message: string): LastRotationError {
  const mend = 'name a file you may read';
  return new LastRotationError(message, { kind: 'file', code: 'file-unreadable', file, mend });
}

/** To open one would wait for ever. A pipe without a name, such as a shell hands on, has an end. */
function isNamedPipe(path: string): boolean {
  try {
    return lstatSync(realpathSync(path)).isFIFO();
  } catch {
    return false;
  }
}

/** Reads a file that must be there. */
export function readText(path: string, most: number, mend: string): Text {
  const text = readTextIfAny(path, most);
  if (text !== null) return text;
  throw missing(path, mend);
}

export function missing(file: string, mend: string): LastRotationError {
  const kind = 'file';
  return new LastRotationError('there is no such file', { kind, code: 'file-missing', file, mend });
}

/** In pieces and up to a limit, so that an endless file costs nothing. */
function readBytes(path: string, most: number): Buffer {
  const file = openSync(path, 'r');
  try {
    const pieces: Buffer[] = [];
    let size = 0;
    for (;;) {
      const piece = Buffer.allocUnsafe(256 * 1024);
      const count = readSync(file, piece, 0, piece.length, null);
      if (count === 0) return Buffer.concat(pieces);
      size += count;
      if (size > most) {
        throw new LastRotationError(`is larger than ${most / MEBIBYTE} MiB`, {
          kind: 'file',
          code: 'file-too-large',
          file: path,
          mend: 'is it the right file?',
        });
      }
      pieces.push(piece.subarray(0, count));
    }
  } finally {
    closeSync(file);
  }
}

/** UTF-8, or UTF-16 by its mark, or else what old spreadsheets write. */
function decode(bytes: Buffer): Text {
  const mark = bytes.subarray(0, 2).toString('hex');
  if (mark === 'fffe' || mark === 'feff') {
    const decoder = new TextDecoder(mark === 'fffe' ? 'utf-16le' : 'utf-16be');
    return { text: decoder.decode(bytes), encoding: 'utf-16' };
  }
  // The tool's own log may be cut off within a character; that row is set aside, the others stand.
  const ownLog = OWN_LOGS.some((own) => bytes.subarray(0, own.length).equals(own));
  try {
    const text = new TextDecoder('utf-8', { fatal: !ownLog }).decode(bytes);
    return { text, encoding: 'utf-8' };
  } catch {
    return { text: new TextDecoder('windows-1252').decode(bytes), encoding: 'western' };
  }
}

const OWN_LOGS = TOOL_HEADERS.map((header) => Buffer.from(`${header}\n`));
