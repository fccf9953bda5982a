/** Results histories on disk, and the ranges files made from them. */
import { badUsage, LastRotationError } from '../error.js';
import { type History, readHistory } from '../history/history.js';
import { MADE_BY_RANGES, type Ranges, rangesFile } from '../history/ranges.js';
import { replaceFile } from './replace.js';
import { LARGEST, readText, readTextIfAny } from './text.js';

/**
 * Reads a history. Throws when it is not there, far too large, or nothing in it can be used.
 * @example
 * readHistoryFile('nowhere.csv') // → throws file-missing
 */
export function readHistoryFile(path: string): History {
  const { text } = readText(path, LARGEST.history, 'name a results history that exists');
  return readHistory({ file: path, text });
}

/**
 * Writes a ranges file, whole and at once. One that was written by hand is never touched: throws
 * then, and when nothing could be written.
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quill,wag,2024-05-01,Quay Cup,final,FX,13.4`;
 * const history = readHistory({ file: 'results.csv', text });
 * writeRangesFile('quay.ranges.yaml', ranges(history), history);
 * writeRangesFile('harbour.yaml', ranges(history), history) // → throws file-exists
 */
export function writeRangesFile(path: string, made: Ranges, { decimals }: History): void {
  const there = readTextIfAny(path, LARGEST.history);
  if (there !== null && !there.text.startsWith(MADE_BY_RANGES)) {
    const { message, code, mend } = badUsage(
      'file-exists',
      'exists already, and was not made by `ranges`',
      'name another with --into',
    );
    throw new LastRotationError(message, { kind: 'usage', code, file: path, mend });
  }
  replaceFile(path, rangesFile(made, decimals));
}
