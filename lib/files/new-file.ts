/** A new meet file; one that exists is never touched. */
import { dirname, isAbsolute, relative } from 'node:path';
import { LastRotationError } from '../error.js';
import type { NewMeet, NewMeetOptions } from '../meet/startlist.js';
import { newMeet } from '../rules/reading.js';
import { earlierOf } from './meet-file.js';
import { writeSynced } from './replace.js';
import { LARGEST, readText } from './text.js';

/**
 * Writes a meet file made from a start list, or an empty one.
 * @param meetPath - Where to; a file that is there already is never touched.
 * @param startListPath - A CSV of who takes part (docs/files.md); null for a file to write over.
 * @param options - What is known of the meet besides; `kind` chooses its contests.
 * @throws `file-exists`: the meet file is there already
 * @throws `file-missing`, `file-unreadable`, `file-too-large`: of the start list or the meet of the first day
 * @throws the code of a problem: the start list, or the meet of the first day, cannot be used: the first
 *   thing that is wrong with it
 * @throws `bad-usage`: `kind` and `carried` do not go together, or a kind that needs a start list has none
 * @throws `not-written`: the disk refuses it
 * @example
 * createMeetFile('quay.yaml', null, { discipline: 'mag' }).gymnasts // → 2
 * createMeetFile('harbour.yaml', null) // → throws file-exists
 */
export function createMeetFile(
  meetPath: string,
  startListPath: string | null,
  options: NewMeetOptions = {},
): NewMeet {
  const source =
    startListPath === null
      ? null
      : {
          file: startListPath,
          text: readText(startListPath, LARGEST.meet, 'name a start list that exists').text,
        };
  const made = newMeet(source, { ...options, ...firstDay(meetPath, options.carried ?? null) });
  if (made.text === null) {
    const [first, ...others] = made.problems.filter((p) => p.severity === 'error');
    throw new LastRotationError(first?.message ?? 'cannot be used', {
      kind: 'file',
      code: first?.code ?? 'syntax',
      file: startListPath,
      line: first?.line ?? null,
      mend: first?.mend ?? null,
      others,
    });
  }
  write(meetPath, made.text);
  return made;
}

/** The meet that is carried in, by a path of its own, as the new meet file has to name it. */
function firstDay(
  meetPath: string,
  path: string | null,
): Pick<NewMeetOptions, 'carried' | 'earlier'> {
  if (path === null) return {};
  const earlier = earlierOf(meetPath);
  const beside = relative(dirname(meetPath), path).replaceAll('\\', '/');
  const carried = isAbsolute(path) ? path : beside;
  if (earlier(carried) !== null) return { carried, earlier };
  throw new LastRotationError('is not there', {
    kind: 'file',
    code: 'file-missing',
    file: path,
    mend: 'name the meet file of the first day',
  });
}

function write(path: string, text: string): void {
  try {
    writeSynced(path, 'wx', text);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw code === 'EEXIST'
      ? new LastRotationError('exists already, and is never overwritten', {
          kind: 'usage',
          code: 'file-exists',
          file: path,
          mend: 'name another with --meet',
        })
      : new LastRotationError(`could not be written (${code ?? error})`, {
          kind: 'writing',
          code: 'not-written',
          file: path,
          mend: 'name a file you may write with --meet',
        });
  }
}
