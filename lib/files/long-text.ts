/** A long text file in pieces, so that it is never in memory as a whole. */
import { closeSync, openSync, readSync, statSync } from 'node:fs';

const PIECE = 16 * 1024;

/** How many bytes a file has; null where it is none that can be gone through twice. */
export function sizeOfFile(path: string): number | null {
  try {
    const found = statSync(path);
    return found.isFile() ? found.size : null;
  } catch {
    return null;
  }
}

/** The encoding of a text by its mark; without one, UTF-8 as long as that fits. */
export function markedEncoding(path: string): 'utf-16le' | 'utf-16be' | 'utf-8' {
  const [first] = bytesOf(path);
  const mark = first?.subarray(0, 2).toString('hex');
  return mark === 'fffe' ? 'utf-16le' : mark === 'feff' ? 'utf-16be' : 'utf-8';
}

/** The pieces of a text. Throws a `TypeError` where it is not in that encoding. */
export function* piecesOf(
  path: string,
  encoding: string,
  onRead: (bytes: number) => void = () => {},
): Generator<string> {
  const decoder = new TextDecoder(encoding, { fatal: true });
  let read = 0;
  for (const bytes of bytesOf(path)) {
    read += bytes.length;
    onRead(read);
    yield decoder.decode(bytes, { stream: true });
  }
  yield decoder.decode();
}

function* bytesOf(path: string): Generator<Buffer> {
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const piece = Buffer.allocUnsafe(PIECE);
      const count = readSync(file, piece, 0, PIECE, null);
      if (count === 0) return;
      yield piece.subarray(0, count);
    }
  } finally {
    closeSync(file);
  }
}
