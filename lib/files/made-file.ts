/** Templates from a file; and what is made of a meet into one: lines, a page, a picture. */
import { lstatSync, realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import type { ErrorCode } from '../codes.js';
import { LastRotationError } from '../error.js';
import { readTemplates, soundTemplates, type Templates } from '../graphics/templates.js';
import { replaceFile } from './replace.js';
import { LARGEST, readText } from './text.js';

/**
 * Reads templates. Throws with the first problem of the file, when it is not there or too large.
 * @example
 * writeMadeFile('lines.yaml', SHIPPED_TEMPLATES, []);
 * readTemplatesFile('lines.yaml').of.need.length > 0 // → true
 * readTemplatesFile('nowhere.yaml') // → throws file-missing
 */
export function readTemplatesFile(path: string): Templates {
  const { text } = readText(path, LARGEST.templates, 'name a file of templates that exists');
  return soundTemplates(readTemplates({ file: path, text }));
}

/**
 * Writes a file whole and at once: whoever reads it sees what it was or what it is. Throws when it is
 * one of the files that the answer came from, no ordinary file, or cannot be written. `option` is where another
 * can be named.
 * @example
 * const text = graphicsAs([graphics(meet, { who: ['brandt'] })], 'text', 3);
 * writeMadeFile('lines.txt', text, ['harbour.yaml']);
 * writeMadeFile('harbour.yaml', text, ['harbour.yaml']) // → throws own-source
 */
export function writeMadeFile(
  path: string,
  text: string,
  sources: readonly string[],
  option = '--out',
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
  replaceFile(target, text);
}

/** Behind links, so that a link stays one. */
function real(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return resolve(path);
  }
}
