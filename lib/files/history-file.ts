/** Results histories on disk, and the ranges files made from them. */
import { badUsage, LastRotationError } from '../error.js';
import { type History, readHistory, readHistoryIn } from '../history/history.js';
import { MADE_BY_RANGES, type Ranges, rangesFile } from '../history/ranges.js';
import type { Source } from '../meet/read.js';
import { markedEncoding, piecesOf, sizeOfFile } from './long-text.js';
import { replaceFile } from './replace.js';
import { isMissing, LARGEST, missing, readText, readTextIfAny, whyUnread } from './text.js';

/** What is thrown at bytes that are not of an encoding. */
const NOT_ENCODED = 'ERR_ENCODING_INVALID_ENCODED_DATA';

const MEND = 'name a results history that exists';

/** A larger file is read in pieces, twice. */
const LONG = 4 * 1024 * 1024;

/**
 * Reads a history. `onProgress` is told how many thousandths have been read.
 * @param path - A CSV of results (docs/ranges.md).
 * @param onProgress - Told how many thousandths have been read.
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the file
 * @throws the code of a problem: its first line cannot be understood: `missing-column`, …
 * @throws `no-rows`, `few-rows`: none of its rows, or less than half, can be used
 * @throws `too-many-rows`: more than can be read
 * @example
 * readHistoryFile('nowhere.csv') // → throws file-missing
 */
export function readHistoryFile(
  path: string,
  onProgress: (done: number, of: number) => void = () => {},
): History {
  const size = sizeOfFile(path);
  if (size === null || size <= LONG || size > LARGEST.history) {
    const { text } = readText(path, LARGEST.history, MEND);
    return readHistory({ file: path, text });
  }
  const readAs = (encoding: string) => {
    let times = 0;
    const pieces = () => {
      const before = times++ * size;
      return piecesOf(path, encoding, (bytes) =>
        onProgress(Math.round((1000 * (before + bytes)) / (2 * size)), 1000),
      );
    };
    return readHistoryIn({ file: path, pieces });
  };
  const unread = (error: unknown) =>
    isMissing(error) ? missing(path, MEND) : whyUnread(path, error);
  try {
    return readAs(markedEncoding(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== NOT_ENCODED) throw unread(error);
  }
  try {
    return readAs('windows-1252');
  } catch (error) {
    throw unread(error);
  }
}

/**
 * Reads a ranges file as it is, for the library to make sense of.
 * @param path - A YAML file of ranges (docs/ranges.md).
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the file
 * @example
 * readRangesFile('nowhere.yaml') // → throws file-missing
 */
export function readRangesFile(path: string): Source {
  const mend = 'name a ranges file that exists; `ranges` makes one with --into';
  return { file: path, text: readText(path, LARGEST.history, mend).text };
}

/**
 * Writes a ranges file, whole and at once. One that was written by hand is never touched: throws then, and
 * when nothing could be written.
 * @param path - Where to; a file that `ranges` made before is written over.
 * @param made - As `ranges` gave them.
 * @param history - The history they were made from.
 * @throws `both-disciplines`: somebody stands in both disciplines, and a file is for one
 * @throws `file-exists`: a file is there that `ranges` has not made
 * @throws `file-unreadable`, `file-too-large`: of what is there
 * @throws `not-written`: the disk refuses it
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quillmore,wag,2024-05-01,Quay Cup,final,FX,13.4`;
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
