/** Templates from a file; and what is made of a meet into one: lines, a page, a picture. */
import { closeSync, lstatSync, openSync, readSync, realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import type { ErrorCode } from '../codes.js';
import { LastRotationError } from '../error.js';
import { readTemplates, soundTemplates, type Templates } from '../graphics/templates.js';
import { replaceFile } from './replace.js';
import { LARGEST, readText } from './text.js';

/**
 * Reads templates.
 * @param path - A file of templates (docs/graphics.md).
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the file
 * @throws the code of a problem: the first thing that is wrong in it
 * @example
 * writeMadeFile('lines.yaml', SHIPPED_TEMPLATES, []);
 * readTemplatesFile('lines.yaml').of.need.length > 0 // → true
 * readTemplatesFile('nowhere.yaml') // → throws file-missing
 */
export function readTemplatesFile(path: string): Templates {
  const { text } = readText(path, LARGEST.templates, 'name a file of templates that exists');
  return soundTemplates(readTemplates({ file: path, text }));
}

/** What is said where a file may not be written. */
export interface MadeOptions {
  /** Where another file can be named: `--out` where nothing else is said. */
  readonly option?: string;
  /** How what is made begins: a file that begins otherwise is somebody else's, and is left alone. */
  readonly begins?: string | null;
}

/**
 * Writes a file whole and at once: whoever reads it sees what it was or what it is.
 * @param path - Where to.
 * @param text - All that the file is to hold.
 * @param sources - Files the text was made from, which are never written over.
 * @param options - How to name another file, and how files begin that may be written over.
 * @throws `own-source`: it is one of `sources`
 * @throws `file-exists`: it begins otherwise than `begins`
 * @throws `not-written`: no ordinary file, or the disk refuses it
 * @example
 * const text = graphicsAs([graphics(meet, { who: ['brondt'] })], 'text', 3);
 * writeMadeFile('lines.txt', text, ['harbour.yaml']);
 * writeMadeFile('harbour.yaml', text, ['harbour.yaml']) // → throws own-source
 * writeMadeFile('lines.txt', '<svg/>', [], { begins: '<svg' }) // → throws file-exists
 */
export function writeMadeFile(
  path: string,
  text: string,
  sources: readonly string[],
  { option = '--out', begins = null }: MadeOptions = {},
): void {
  const target = real(path);
  const refused = (kind: 'usage' | 'writing', code: ErrorCode, message: string) =>
    new LastRotationError(message, { kind, code, file: path, mend: `name another with ${option}` });
  if (sources.some((source) => real(source) === target)) {
    throw refused('usage', 'own-source', 'is one of the files that this is made from');
  }
  const there = lstatSync(target, { throwIfNoEntry: false });
  if (there !== undefined && !there.isFile()) {
    throw refused('writing', 'not-written', 'is not a file that can be written');
  }
  if (begins !== null && there !== undefined && there.size > 0 && !beginsWith(target, begins)) {
    throw refused('usage', 'file-exists', 'is there already, and is something else');
  }
  replaceFile(target, text);
}

function beginsWith(path: string, begins: string): boolean {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(Buffer.byteLength(begins));
    readSync(file, bytes, 0, bytes.length, 0);
    return bytes.toString() === begins;
  } finally {
    closeSync(file);
  }
}

/** Behind links, so that a link stays one. */
function real(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return resolve(path);
  }
}
