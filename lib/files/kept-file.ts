/** A file that is written again and again, and until it succeeds. */
import { LastRotationError } from '../error.js';
import type { FileNews } from './followed.js';
import { type MadeOptions, writeMadeFile } from './made-file.js';

/** How long after a failure it is tried again. */
const AGAIN_MS = 500;

/** A file that is written until it succeeds. */
export interface KeptFile {
  /** Writes this, and if that fails, tries until it succeeds or something newer is to be written. */
  readonly write: (text: string, sources: readonly string[]) => void;
  /** Tries no more. */
  readonly close: () => void;
}

/**
 * Keeps a file up to date with the newest text. What goes wrong is said once and not again until something
 * else does; that it is well again is said too.
 * @param path - The file to keep.
 * @param say - Told what goes wrong, once, and that it is well again.
 * @param options - What is said where the file may not be written.
 * @example
 * let news = 0;
 * const file = keepFile('lines.txt', () => news++);
 * file.write('Ida Brondt leads.', ['harbour.yaml']) // → undefined
 * news // → 0
 * file.close() // → undefined
 */
export function keepFile(
  path: string,
  say: (news: FileNews) => void,
  options: MadeOptions = {},
): KeptFile {
  let timer: NodeJS.Timeout | null = null;
  let failed: string | null = null;
  const stop = () => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
  };
  const write: KeptFile['write'] = (text, sources) => {
    stop();
    try {
      writeMadeFile(path, text, sources, options);
    } catch (error) {
      timer = setTimeout(() => write(text, sources), AGAIN_MS);
      const wrong = triedAgain(error);
      if (wrong.message !== failed) say({ wrong });
      failed = wrong.message;
      return;
    }
    if (failed !== null) say({ what: 'well-again', file: path, message: 'is written again' });
    failed = null;
  };
  return { write, close: stop };
}

function triedAgain(error: unknown): Error {
  if (!(error instanceof LastRotationError)) {
    return error instanceof Error ? error : new Error(String(error));
  }
  const { message, kind, code, file, line, mend } = error;
  const until = 'until then it is tried again and again';
  return new LastRotationError(message, {
    kind,
    code,
    file,
    line,
    mend: mend === null ? until : `${mend}; ${until}`,
  });
}
