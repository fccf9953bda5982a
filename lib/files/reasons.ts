/** Why a file could not be written, in words, by the code of the system. */

export interface Reason {
  readonly message: string;
  /** As the beginning of a sentence that may go on. */
  readonly mend: string;
}

const REASONS: Readonly<Record<string, readonly [message: string, mend: string]>> = {
  ENOSPC: ['the disk is full', 'free some space'],
  EDQUOT: ['the disk quota is used up', 'free some space'],
  EFBIG: ['the file may not grow any more', 'raise the limit'],
  EACCES: ['it may not be written', 'change its permissions'],
  EPERM: ['it may not be written', 'change its permissions'],
  EROFS: ['it lies on a read-only disk', 'copy the meet to a disk you can write to'],
  EISDIR: ['there is a folder of that name', 'move it away'],
  ENOENT: ['its folder is gone', 'bring it back'],
};

export function reasonOf(error: unknown): Reason {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  const [message, mend] = REASONS[code] ?? [String(code === '' ? error : code), 'try again'];
  return { message, mend };
}
